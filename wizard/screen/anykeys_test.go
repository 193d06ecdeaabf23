package screen

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard/procedure"
)

// TestAnyKeys types at random: honest answers, wrong ones, keys that lead away and
// back, pastes, windows of any size, suspends. Every frame fits its window, and no
// record is ever lost. SAWDATUM_KEYS says how many such runs; a few without it.
func TestAnyKeys(t *testing.T) {
	runs := 8
	if n, err := strconv.Atoi(os.Getenv("SAWDATUM_KEYS")); err == nil {
		runs = n
	}
	inches := bay.Two()
	inches.Units = model.IN
	twins := bay.Two()
	twins.Blades[1].Teeth = twins.Blades[0].Teeth
	starts := []struct {
		fixture bay.Run
		from    string // walked to first
	}{
		{bay.Run{Profile: bay.Two()}, "knife"}, {bay.Run{Profile: bay.New()}, ""}, {bay.Run{Profile: bay.Two(), Practice: true}, "unfit"}, {bay.Run{Profile: inches}, ""},
		{bay.Run{Profile: twins, Mode: procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24"}}, "power"}, {bay.Run{Profile: bay.Two(), Mode: procedure.Options{Mode: procedure.IsolateOnly}}, ""},
		{bay.Run{Profile: bay.Two()}, "strip"}, {bay.Run{Profile: twins}, "box"},
	}
	for seed := range uint64(runs) {
		start := starts[seed%uint64(len(starts))]
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				defer func() {
					if r := recover(); r != nil {
						t.Fatalf("panic: %v", r)
					}
				}()
				random := rand.New(rand.NewPCG(seed, 11))
				d := drive(t, start.fixture, 80, 24)
				if start.from != "" {
					d.walk(start.from)
				}
				for range 300 {
					before := d.root().job.Procedure.Profile().Records
					if d.any(random); d.quit || t.Failed() {
						break
					}
					if after := d.root().job.Procedure.Profile().Records; len(after) < len(before) {
						t.Fatalf("%d records, and there were %d:\n%s", len(after), len(before), d.screen())
					}
				}
			})
		})
	}
}

var ways = []tea.KeyType{tea.KeyEnter, tea.KeyTab, tea.KeyShiftTab, tea.KeyEsc, tea.KeyF1, tea.KeyF2, tea.KeyF3, tea.KeyCtrlS, tea.KeyUp, tea.KeyDown,
	tea.KeyLeft, tea.KeyHome, tea.KeyBackspace, tea.KeyDelete, tea.KeyPgUp, tea.KeyPgDown, tea.KeyCtrlU, tea.KeyCtrlV, tea.KeyCtrlZ}

var texts = []string{"0", "-3", "1e9", "120.00 120.01 120.00", "1/2", "3 1/4 in", "999999999999999999999", "none", "moved", "left", "\u202eabc", "ノコギリ", "a\u0301\u0301", strings.Repeat("9 ", 60), "=1+1", "10", "2"}

// any does one thing at random.
func (d *driver) any(random *rand.Rand) {
	switch n := random.IntN(40); {
	case n < 25:
		if v := d.view(); len(v.Fields) > 0 && d.root().over == nil && !d.root().small() {
			for range v.Fields {
				d.fill(d.focused())
				if d.enter(); d.quit || d.view().Visit != v.Visit {
					break
				}
			}
		} else {
			d.enter()
		}
		d.rest()
	case n < 33:
		d.key(ways[random.IntN(len(ways))])
	case n < 35:
		d.typing(texts[random.IntN(len(texts))])
	case n < 37:
		d.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(texts[random.IntN(len(texts))])})
	case n < 39:
		d.size(1+random.IntN(170), 1+random.IntN(55))
	default:
		d.send(tea.ResumeMsg{})
	}
	d.wait(time.Duration(random.IntN(800)) * time.Millisecond)
}
