package screen

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard/procedure"
)

// atGate brings a run to the isolation gate's last field, the word.
func atGate(t *testing.T, w, h int) *driver {
	d := drive(t, bay.Run{Profile: bay.Two()}, w, h)
	d.walk("isolate")
	return d
}

func TestGateWordPasses(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := atGate(t, 80, 24)
		d.pass()
		if d.place().Step != "clear" {
			t.Errorf("honest answers lead to %s, want clear", d.place())
		}
	})
}

func TestEnterAloneNeverPassesAGate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, gate := range []string{"isolate", "power", "first"} {
			d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
			d.walk(gate)
			for range 30 {
				d.enter()
				d.wait(50 * time.Millisecond)
			}
			if d.place().Step != gate {
				t.Errorf("Enter alone led from %s to %s", gate, d.place())
			}
			if !d.says("nothing typed") {
				t.Errorf("%s does not say what is missing:\n%s", gate, d.screen())
			}
		}
	})
}

func TestKeysUnderWayDoNotAnswerTheNextPlace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("stop")
		// all at once: that it stands, and the gate's words that an old hand knows by heart
		d.typing("still")
		d.enter()
		d.typing("unplugged")
		d.enter()
		d.typing("dead")
		d.enter()
		if d.place().Step != "isolate" {
			t.Fatalf("that it stands led to %s", d.place())
		}
		for key, text := range d.root().base.(step).typing.values() {
			if text != "" {
				t.Errorf("%s was answered with %q by keys that were under way", key, text)
			}
		}
	})
}

func TestWrongWordSaysSo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := atGate(t, 80, 24)
		for _, text := range []string{"unplugged", "dead", "larks"} {
			d.typing(text)
			d.enter()
		}
		word := d.view().Fields[2].Word
		if d.place().Step != "isolate" || !d.says("is not the word", "type "+word) {
			t.Errorf("a wrong word is not refused in words:\n%s", d.screen())
		}
	})
}

func TestPasteNeverAnswersAGate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, k := range []tea.KeyMsg{
			{Type: tea.KeyRunes, Paste: true},
			{Type: tea.KeyRunes},
		} {
			d := atGate(t, 80, 24)
			for _, f := range d.view().Fields {
				k.Runes = []rune(d.answer(f))
				d.send(k)
				if !d.says("by hand") {
					t.Errorf("paste=%v: the refusal is not said:\n%s", k.Paste, d.screen())
				}
				d.enter()
			}
			d.rest()
			if d.place().Step != "isolate" {
				t.Errorf("paste=%v: at %s\n%s", k.Paste, d.place(), d.screen())
			}
		}
	})
}

func TestEveryGateWordIsOnTheScreen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, size := range [][2]int{{80, 24}, {60, 20}, {100, 30}, {160, 50}} {
			d := drive(t, bay.Run{Profile: bay.Two()}, size[0], size[1])
			for range 150 {
				if d.quit {
					break
				}
				v := d.view()
				for range 3 * len(v.Fields) {
					d.gateWords()
					d.fill(d.focused())
					d.gateWords()
					if d.enter(); d.quit || d.view().Visit != v.Visit {
						break
					}
				}
				d.rest()
			}
			if !d.quit {
				t.Errorf("%v: the end never came, at %s", size, d.place())
			}
		}
	})
}

// gateWords fails where the word that the focused field wants is off the screen, or a line
// of what is to be done.
func (d *driver) gateWords() {
	d.t.Helper()
	screen := d.screen()
	if f := d.focused(); f.Kind == procedure.FieldWord && !contains(screen, "type "+f.Word) {
		d.t.Errorf("%s at %dx%d: the word %s is not on the screen:\n%s", d.place(), d.w, d.h, f.Word, screen)
	}
	for _, line := range d.view().Do {
		for _, word := range strings.Fields(line) {
			if !strings.Contains(screen, word) {
				d.t.Errorf("%s at %dx%d: %q of what is to be done is not on the screen:\n%s", d.place(), d.w, d.h, word, screen)
				return
			}
		}
	}
}

func TestIdleSuspendAndClockVoidIsolation(t *testing.T) {
	lapses := map[string]func(d *driver){
		"idle": func(d *driver) { d.wait(model.DefaultIdleMinutes*time.Minute + 2*tickTime) },
		"suspend": func(d *driver) {
			d.send(tea.ResumeMsg{})
		},
		"clock": func(d *driver) {
			wall := d.root().watch.Wall
			d.root().watch.Wall = func() time.Time { return wall().Add(10 * time.Minute) }
			d.wait(tickTime + time.Second)
		},
	}
	for name, lapse := range lapses {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
				d.walk("arbor")
				d.wait(model.DefaultIdleMinutes*time.Minute - time.Minute)
				if !d.says("POWER", "isolated 07:04 KB") {
					t.Fatalf("isolation lapsed too early:\n%s", d.screen())
				}
				d.typing("cle")
				lapse(d)
				want := map[string]string{"idle": "still-dead", "clock": "still-dead"}[name]
				if want == "" {
					want = "who" // nobody knows who stands there now
				}
				if d.place().Step != want || d.says("isolated 07:04 KB") || !d.says("treat as live") {
					t.Errorf("isolation still counts, at %s:\n%s", d.place(), d.screen())
				}
			})
		})
	}
}
