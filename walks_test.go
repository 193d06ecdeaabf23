package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

// mistakes are typed once at every question that has the label, before the answer.
var mistakes = map[string]string{
	"The word":                                 "larks",
	"Start was pressed, nothing happened":      "alive",
	"Your initials":                            "K1",
	"Teeth, the top ones toward you; rings on": "7 none",
	"Rings that came off":                      "9",
	"Widths of strip 1":                        "140.00 14o.01",
	"Rings as written":                         "0.77",
	"Settings and readings":                    "60",
	"Locked: the scale reads":                  "14 feet",
}

// clumsy answers as an honest user does who mistypes, and notes in made which mistakes.
func clumsy(made map[string]bool) func(walk.Question) string {
	erred := map[string]bool{}
	return func(q walk.Question) string {
		if q.Opened {
			clear(erred)
		}
		if wrong, ok := mistakes[q.Label]; ok && !erred[q.Label] {
			erred[q.Label], made[q.Label] = true, true
			return wrong
		}
		return walk.Hand{}.To(q)
	}
}

// TestEveryFrameOfPractice walks through practice on the full screen, and looks at
// every frame that was drawn: what the plain face says at the same place has to stand
// on it. With -artifacts the frames are kept as text.
func TestEveryFrameOfPractice(t *testing.T) {
	t.Parallel()
	plain, made := start(t, 400, 60, false, "practice", "--plain", "--seed", "1"), map[string]bool{}
	if err := walk.Lead(&walk.Lines{Terminal: plain}, clumsy(made), walk.Never); err != nil {
		t.Fatal(err)
	}
	for label := range mistakes {
		if !made[label] {
			t.Errorf("practice never asks %q", label)
		}
	}
	visits := walk.Visits(plain.Output())
	for _, size := range [][2]int{{80, 24}, {60, 20}, {160, 50}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			t.Parallel()
			term := start(t, size[0], size[1], false, "practice", "--seed", "1")
			if err := walk.Lead(&walk.Full{Terminal: term}, clumsy(map[string]bool{}), walk.Never); err != nil {
				t.Error(err)
			}
			film := walk.Film{Width: size[0], Height: size[1], Frames: terminal.Frames(term.Output(), size[0], size[1]), Visits: visits}
			file := filepath.Join(t.ArtifactDir(), fmt.Sprintf("practice-%dx%d.txt", size[0], size[1]))
			if err := os.WriteFile(file, []byte(strings.Join(film.Frames, strings.Repeat("=", size[0])+"\n")), 0o600); err != nil {
				t.Fatal(err)
			}
			complaints := film.Look()
			for _, complaint := range complaints[:min(len(complaints), 5)] {
				t.Error(complaint)
			}
			t.Logf("%d places, %d frames, %d complaints", len(visits), len(film.Frames), len(complaints))
		})
	}
}

// TestResizedAtEveryPlace walks through practice in a window that gets every size at
// every place.
func TestResizedAtEveryPlace(t *testing.T) {
	t.Parallel()
	plain := start(t, 400, 60, false, "practice", "--plain", "--seed", "2")
	if err := walk.Plain(plain, walk.Hand{}.To, walk.Never); err != nil {
		t.Fatal(err)
	}
	visits := walk.Visits(plain.Output())
	for i := range visits { // a saw that is read once more reads otherwise
		visits[i].Do = slices.DeleteFunc(visits[i].Do, func(s string) bool { return strings.Contains(s, "plus or minus") })
	}
	term := start(t, 80, 24, false, "practice", "--seed", "2")
	places, err := walk.Resized(&walk.Full{Terminal: term}, visits, walk.Hand{}.To, [][2]int{{60, 20}, {160, 50}, {50, 15}, {80, 24}})
	if err != nil || places != len(visits) {
		t.Errorf("%d of %d places: %v", places, len(visits), err)
	}
}
