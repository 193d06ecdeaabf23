package wizard

import (
	"slices"
	"testing"
	"testing/synctest"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/wizard/picture"
)

// TestPictureIsNeverOld: at every key and in every size what is shown is what a screen
// shows that has drawn and set nothing before, beside the places as they stand now.
func TestPictureIsNeverOld(t *testing.T) {
	for _, place := range []string{"mount", "align", "scale", "reference", "cut", "close"} {
		synctest.Test(t, func(t *testing.T) {
			d := drive(t, fixture{profile: shop(), chars: picture.Blocks}, 100, 30)
			d.walk(place)
			lines := 0
			look := func() {
				s := d.root().base.(step)
				now := s.view(d.w, d.h)
				lines += len(s.drawn.lines)
				s.drawn, s.texts, s.places = &drawn{}, wording{}, s.job.procedure.Places()
				if fresh := s.view(d.w, d.h); !slices.Equal(now, fresh) {
					t.Errorf("%s at %dx%d: shown\n%s\ninstead of\n%s", place, d.w, d.h, join(now), join(fresh))
				}
			}
			for _, f := range d.view().Fields {
				for _, r := range answer(d.root().job.procedure, d.view(), f) {
					d.typing(string(r))
					look()
				}
				d.key(tea.KeyTab)
			}
			for _, size := range [][2]int{{160, 50}, {80, 24}, {200, 60}, {100, 30}} {
				d.size(size[0], size[1])
				look()
			}
			if lines == 0 {
				t.Errorf("%s: no picture was drawn", place)
			}
		})
	}
}
