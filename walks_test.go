package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/sawdatum/profiles"
	"example.com/sawdatum/testdata/procedure"
	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

// mistakes are typed once at every question that has the label, before the answer.
var mistakes = map[string]string{
	"The word":                        "larks",
	"The start button does nothing":   "alive",
	"Teeth of this blade":             "7",
	"Teeth of the blade on the arbor": "7",
	"Initials of who did it":          "K1",
	"Rings that are on, flange first": "0.77",
	"Readings of this blade's half":   "120.00 12o.01",
	"Rings as written":                "0.77",
	"Settings and readings":           "60",
}

// clumsy answers as an honest user does who mistypes.
func clumsy() func(walk.Question) string {
	erred := map[string]bool{}
	return func(q walk.Question) string {
		if q.Opened {
			clear(erred)
		}
		if wrong, ok := mistakes[q.Label]; ok && !erred[q.Label] {
			erred[q.Label] = true
			return wrong
		}
		return walk.Answers(nil).To(q)
	}
}

// TestEveryFrameOfPractice walks through practice on the full screen, and looks at
// every frame that was drawn: what the plain face says at the same place has to stand
// on it. With -artifacts the frames are kept as text.
func TestEveryFrameOfPractice(t *testing.T) {
	t.Parallel()
	plain := start(t, 400, 60, false, "practice", "--plain", "--seed", "1")
	if err := walk.Lead(&walk.Lines{Terminal: plain}, clumsy(), walk.Never); err != nil {
		t.Fatal(err)
	}
	visits := walk.Visits(plain.Output())
	for _, size := range [][2]int{{80, 24}, {60, 20}, {160, 50}} {
		t.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(t *testing.T) {
			t.Parallel()
			term := start(t, size[0], size[1], false, "practice", "--seed", "1")
			if err := walk.Lead(&walk.Full{Terminal: term}, clumsy(), walk.Never); err != nil {
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
	if err := walk.Plain(plain, nil, walk.Never); err != nil {
		t.Fatal(err)
	}
	visits := walk.Visits(plain.Output())
	term := start(t, 80, 24, false, "practice", "--seed", "2")
	places, err := walk.Resized(&walk.Full{Terminal: term}, visits, walk.Answers(nil).To, [][2]int{{60, 20}, {160, 50}, {50, 15}, {80, 24}})
	if err != nil || places != len(visits) {
		t.Errorf("%d of %d places: %v", places, len(visits), err)
	}
}

// TestStoriesInTheTerminal tells the stories of testdata/procedure to the built
// program, in both faces.
func TestStoriesInTheTerminal(t *testing.T) {
	t.Parallel()
	shop, findings := profiles.Parse("shop.yaml", procedure.Shop)
	stories, err := procedure.All()
	if len(findings) > 0 || err != nil {
		t.Fatal(findings, err)
	}
	labels := map[string]string{}
	for _, b := range shop.Blades {
		labels[b.ID] = b.Label
	}
	faces := map[string]func(*terminal.Terminal) walk.Face{
		"plain": func(term *terminal.Terminal) walk.Face { return &walk.Lines{Terminal: term} },
		"full":  func(term *terminal.Terminal) walk.Face { return &walk.Full{Terminal: term} },
	}
	for _, story := range stories {
		for name, face := range faces {
			t.Run(story.Name+"/"+name, func(t *testing.T) {
				t.Parallel()
				saw := procedure.Shop
				if story.Has("idle") {
					if os.Getenv("SAWDATUM_IDLE") == "" {
						t.Skip("takes more than a minute: SAWDATUM_IDLE=1 runs it")
					}
					saw = bytes.Replace(saw, []byte("units:"), []byte("idle_minutes: 1\nunits:"), 1)
				}
				path := filepath.Join(t.TempDir(), "stories.yaml")
				if err := os.WriteFile(path, saw, 0o600); err != nil {
					t.Fatal(err)
				}
				teller := walk.Teller{Face: face, Labels: labels, Path: path, Begin: func(blade string) *terminal.Terminal {
					args := []string{"setup", path}
					if blade != "" {
						args = []string{"blade", path, blade}
					}
					if name == "plain" {
						return start(t, 300, 60, false, append(args, "--plain")...)
					}
					return start(t, 80, 24, false, args...)
				}}
				if err := teller.Tell(story); err != nil {
					t.Error(err)
				}
			})
		}
	}
}
