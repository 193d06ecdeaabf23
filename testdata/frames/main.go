// Command frames draws screens of the program itself as pictures, on a light and on a
// dark background, by walking through practice in a terminal:
//
//	go run ./testdata/frames
//
// It writes testdata/frames/*.svg. It needs a system with pseudo-terminals.
package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

const (
	width, height = 80, 24
	folder        = "testdata/frames"
)

// scene is a screen worth a picture: the first that has the focus on a field, with
// what was typed into it so far.
type scene struct {
	name  string
	label string
	typed string
}

var scenes = []scene{
	{"rack", "Reference blade", ""},
	{"isolate", "Start was pressed, nothing happened", ""},
	{"mount", "Teeth, the top ones toward you; rings on", ""},
	{"compare", "Widths of strip 2", ""},
	{"close", "For others, or done", ""},
}

func main() {
	if err := draw(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func draw() error {
	dir, err := os.MkdirTemp("", "frames")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "sawdatum")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	for _, ground := range []ground{dark, light} {
		c := exec.Command(program, "practice", "--seed", "1", "--"+ground.name)
		c.Dir = dir
		c.Env = []string{"HOME=" + dir, "TERM=xterm-256color", "COLORTERM=truecolor", "LANG=C.UTF-8"}
		if err := film(c, ground); err != nil {
			return err
		}
	}
	return nil
}

// film walks from scene to scene.
func film(c *exec.Cmd, g ground) error {
	t, err := terminal.Start(c, width, height, false)
	if err != nil {
		return err
	}
	defer t.Close()
	for _, s := range scenes {
		reached := func(q walk.Question) bool { return q.Label == s.label }
		if err := walk.Screen(t, walk.Hand{}.To, reached); !errors.Is(err, walk.ErrStop) {
			return fmt.Errorf("scene %s: %w", s.name, errors.Join(err, errors.New(t.Screen())))
		}
		if s.name == "compare" { // the simulated readings, so that the drawing shows the step
			time.Sleep(walk.Pause)
			if err := t.Type("\r"); err != nil {
				return err
			}
			time.Sleep(walk.Pause)
		}
		name := filepath.Join(folder, s.name+"-"+g.name+".svg")
		if err := os.WriteFile(name, []byte(picture(t.Emulator, g)), 0o644); err != nil {
			return err
		}
		fmt.Println(name, strings.Count(t.Screen(), "\n"), "lines")
	}
	return nil
}
