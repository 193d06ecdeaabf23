package screen

import (
	"testing"
	"testing/synctest"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/testdata/bay"
)

// TestOneKey is the last figure of the second strip's third width, with its verdict in the
// frame that it makes. The program testdata/keystroke counts what that one key costs.
func TestOneKey(t *testing.T) {
	for name, one := range map[string]bool{"without": false, "with": true} {
		t.Run(name, func(t *testing.T) {
			synctest.Test(t, func(t *testing.T) {
				d := drive(t, bay.Run{Profile: bay.Two()}, 120, 36)
				d.walk("strip")
				d.pass() // the first of two
				if d.place().Step != "strip" {
					t.Fatalf("the second strip is not asked for at %s", d.place())
				}
				d.typing("120.10 120.11 120.1")
				if !one {
					return
				}
				m, _ := d.model.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'1'}})
				if frame := m.View(); !contains(frame, "the tolerance is") {
					t.Errorf("no verdict follows:\n%s", frame)
				}
			})
		})
	}
}
