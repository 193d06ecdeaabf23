package screen

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

// BenchmarkFrame is one key and the frame that it makes at 200x60, with a picture, a
// preview of the plan, and the list of places. The goal is under 2 ms.
func BenchmarkFrame(b *testing.B) {
	p := bay.Two()
	p.Reference, p.Standing = "", nil
	o := bay.Run{Profile: p}.Options()
	o.Run = procedure.Options{}
	for _, step := range []string{"datum", "thickness"} {
		b.Run(step, func(b *testing.B) {
			if step == "thickness" {
				o.Store.Profile.Blades = append([]model.Blade(nil), p.Blades...)
				o.Store.Profile.Blades[1].Kerf = nil
			}
			var m tea.Model = newRoot(o, frame.NewLook(true, picture.Blocks), wizard.NewWatch(nil))
			m, _ = m.Update(tea.WindowSizeMsg{Width: 200, Height: 60})
			if step == "thickness" {
				m, _ = m.Update(tea.KeyMsg{Type: tea.KeyTab})
			}
			for i := range b.N {
				k := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{rune('0' + i/2%10)}}
				if i%2 == 1 {
					k = tea.KeyMsg{Type: tea.KeyBackspace}
				}
				m, _ = m.Update(k)
				if m.View() == "" {
					b.Fatal("no frame")
				}
			}
		})
	}
}
