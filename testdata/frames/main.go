// Command frames draws screens of the program itself as pictures, on a light and on a
// dark background, by walking through practice in a terminal:
//
//	go run ./testdata/frames
//
// It writes testdata/frames/*.svg. It needs a system with pseudo-terminals. With -all every
// screen of a walk goes into a folder, as a picture and as text, to be looked at:
//
//	go run ./testdata/frames -all FOLDER -size 120x36 -ground light practice --seed 1
//
// What an honest hand would not type is said with -say, such as -say 'Bore=16', or -say 'Bore=12|16|' for one after the other.
package main

import (
	"errors"
	"flag"
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
	all := flag.String("all", "", "folder for every screen of a walk")
	size := flag.String("size", "80x24", "columns and rows of the terminal, with -all")
	on := flag.String("ground", dark.name, "background, with -all: "+dark.name+" or "+light.name)
	own := map[string]string{}
	flag.Func("say", "with -all: an answer that is not the honest hand's, as `LABEL=TEXT` or PLACE, LABEL=TEXT; may be given again", func(text string) error {
		label, answer, ok := strings.Cut(text, "=")
		if own[label] = answer; !ok {
			return errors.New("no = in it")
		}
		return nil
	})
	flag.Parse()
	if err := draw(*all, *size, *on, own, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func draw(all, size, on string, own map[string]string, args []string) error {
	dir, err := os.MkdirTemp("", "frames")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program, err := terminal.Build(dir)
	if err != nil {
		return err
	}
	command := func(g ground, args ...string) *exec.Cmd {
		c := exec.Command(program, append(args, "--"+g.name)...)
		c.Dir = dir
		c.Env = []string{"HOME=" + dir, "TERM=xterm-256color", "COLORTERM=truecolor", "LANG=C.UTF-8"}
		return c
	}
	if all != "" {
		var w, h int
		if _, err := fmt.Sscanf(size, "%dx%d", &w, &h); err != nil {
			return fmt.Errorf("-size: %w", err)
		}
		g := map[string]ground{dark.name: dark, light.name: light}[on]
		return film(command(g, args...), g, [2]int{w, h}, walk.Hand{Own: own, Real: len(args) > 0 && args[0] != "practice"}, all)
	}
	for _, ground := range []ground{dark, light} {
		if err := scenery(command(ground, "practice", "--seed", "1"), ground); err != nil {
			return err
		}
	}
	return nil
}

// scenery walks from scene to scene.
func scenery(c *exec.Cmd, g ground) error {
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
