package wizard

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// atGate brings a run to the isolation gate's last field, the word.
func atGate(t *testing.T, w, h int) *driver {
	d := drive(t, fixture{profile: shop()}, w, h)
	d.walk("isolate")
	return d
}

func TestGateWordPasses(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := atGate(t, 80, 24)
		d.pass()
		if d.place().Step != "arbor" {
			t.Errorf("honest answers lead to %s, want arbor", d.place())
		}
	})
}

func TestEnterAloneNeverPassesAGate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, gate := range []string{"stop", "isolate", "power"} {
			d := drive(t, fixture{profile: shop()}, 80, 24)
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
		d := drive(t, fixture{profile: shop()}, 80, 24)
		d.walk("stop")
		// all at once: the run-down, and the gate's words that an old hand knows by heart
		d.typing("6")
		d.enter()
		d.typing("unplugged")
		d.enter()
		d.typing("dead")
		d.enter()
		if d.place().Step != "isolate" {
			t.Fatalf("the run-down led to %s", d.place())
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
		for _, text := range []string{"unplugged", "dead", "KB", "larks"} {
			d.typing(text)
			d.enter()
		}
		word := d.view().Fields[3].Word
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
				k.Runes = []rune(answer(d.root().job.procedure, d.view(), f))
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
			d := drive(t, fixture{profile: shop()}, size[0], size[1])
			for range 80 {
				if d.quit {
					break
				}
				for _, f := range d.view().Fields {
					d.gateWords()
					d.typing(answer(d.root().job.procedure, d.view(), f))
					d.gateWords()
					d.enter()
				}
				d.rest()
			}
			if !d.quit {
				t.Errorf("%v: the end never came, at %s", size, d.place())
			}
		}
	})
}

// gateWords fails where a word that the gate wants, and that is not yet typed, is off
// the screen, or a line of what is to be done.
func (d *driver) gateWords() {
	d.t.Helper()
	typed, screen := d.root().base.(step).typing.values(), d.screen()
	for _, f := range d.view().Fields {
		if f.Kind == procedure.FieldWord && f.Check(typed[f.Key]) != nil && !contains(screen, "type "+f.Word) {
			d.t.Errorf("%s at %dx%d, field %d: the word %s is not on the screen:\n%s", d.place(), d.w, d.h, d.root().base.(step).typing.at(), f.Word, screen)
		}
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
			wall := d.root().watch.wall
			d.root().watch.wall = func() time.Time { return wall().Add(10 * time.Minute) }
			d.wait(tickTime + time.Second)
		},
	}
	for name, lapse := range lapses {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				d := drive(t, fixture{profile: shop()}, 80, 24)
				d.walk("arbor")
				d.wait(model.DefaultIdleMinutes*time.Minute - time.Minute)
				if !d.says("POWER isolated") {
					t.Fatalf("isolation lapsed too early:\n%s", d.screen())
				}
				d.typing("cle")
				lapse(d)
				if d.place().Step != "stop" || !d.says("POWER unknown: treat as live") {
					t.Errorf("isolation still counts, at %s:\n%s", d.place(), d.screen())
				}
			})
		})
	}
}
