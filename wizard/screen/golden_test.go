package screen

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"

	"example.com/sawdatum/testdata/update"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

const goldens = "../../testdata/screens"

// golden compares text with a file, or writes the file.
func golden(t *testing.T, name, text string) {
	t.Helper()
	path := filepath.Join(goldens, name+".txt")
	if *update.Goldens {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v: run the test with -update and look at the screens", err)
	}
	if string(want) != text {
		t.Errorf("%s differs; look at it, then run the test with -update. Now:\n%s", path, text)
	}
}

// frame is a screen with a headline and without blanks at the ends of lines.
func (d *driver) frame(what string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "== %dx%d, %s\n", d.w, d.h, what)
	for _, line := range strings.Split(d.model.View(), "\n") {
		b.WriteString(strings.TrimRight(ansi.Strip(line), " ") + "\n")
	}
	return b.String()
}

var goldenSizes = [][2]int{{80, 24}, {120, 36}}

// album walks the whole procedure and takes two frames of every place at both sizes:
// as it opens, and with all that is typed.
func album(t *testing.T, f bay.Run, name string, last string) {
	pages := map[string]string{}
	var order []string
	for _, size := range goldenSizes {
		d := drive(t, f, size[0], size[1])
		for n := 0; n < 150 && !d.quit; n++ {
			d.uncover()
			v := d.view()
			key := name + "/" + strings.ReplaceAll(v.Place.String(), " ", "-")
			if _, seen := pages[key]; !seen {
				order = append(order, key)
			}
			fresh := strings.Count(pages[key], fmt.Sprintf("== %dx%d", d.w, d.h)) == 0
			if fresh {
				pages[key] += d.frame("as it opens")
			}
			for range 3 * len(v.Fields) {
				d.fill(d.focused())
				if fresh && d.root().base.(step).typing.at() == len(v.Fields)-1 {
					pages[key] += d.frame("typed")
					fresh = false
				}
				if d.enter(); d.quit || d.view().Visit != v.Visit {
					break
				}
			}
			if v.Place.Step == last {
				break
			}
			d.rest()
		}
	}
	for _, key := range order {
		golden(t, key, pages[key])
	}
}

func TestGoldenPlaces(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		album(t, bay.Run{Profile: bay.Two()}, "setup", "")
	})
}

func TestGoldenHead(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		album(t, bay.Run{Profile: bay.New()}, "head", "rings")
	})
}

func TestGoldenIsolate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		album(t, bay.Run{Profile: bay.Two(), Mode: procedure.Options{Mode: procedure.IsolateOnly}}, "isolate", "")
	})
}

func TestGoldenASCII(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two(), Chars: picture.ASCII}, 80, 24)
		d.walk("strip")
		screen := d.frame("as it opens")
		golden(t, "ascii/strip", screen)
		for _, r := range screen {
			if r > 0x7e {
				t.Errorf("%q is not ASCII", r)
			}
		}
	})
}

func TestGoldenOthers(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var all string
		found := []wizard.Found{
			{Path: "bay-two.yaml", Name: "bay-two", Saw: "Bay 2 saw", Ready: 3, All: 5, By: "KB"},
			{Path: "old.yaml", Name: "old", Fault: "line 12: kerf: no wider than the plate: measure again"},
		}
		for _, list := range [][]wizard.Found{nil, found} {
			shelf := wizard.Shelf{List: func() ([]wizard.Found, error) { return list, nil }}
			d := drive(t, bay.Run{Shelf: shelf}, 80, 24)
			all += d.frame(fmt.Sprintf("start with %d profiles", len(list)))
		}
		golden(t, "start", all)

		d := drive(t, bay.Run{Profile: bay.Two(), Practice: true, Copy: func(string, model.Profile) error { return nil }}, 80, 24)
		golden(t, "tour", d.frame("practice begins"))
		d.walk("mount")
		for _, k := range []struct {
			name string
			key  int
		}{{"help", 1}, {"records", 2}, {"work", 3}} {
			d.function(k.key)
			golden(t, k.name, d.frame(k.name))
			d.function(0)
		}
		d.size(59, 20)
		golden(t, "small", d.frame("too small"))
	})
}
