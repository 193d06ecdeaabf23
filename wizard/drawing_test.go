package wizard

import (
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
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

// TestMountDrawsWhatWasCut: after a cut that is out, the section of the next mount shows
// what that cut says of the rings that go on, not what the micrometer said; other rings are
// never called inside the tolerance.
func TestMountDrawsWhatWasCut(t *testing.T) {
	p := procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1})
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	on := func(to string, changed map[string]string) {
		for p.Place().Step != to {
			v, answers := p.View(), map[string]string{}
			for _, f := range v.Fields {
				answers[f.Key] = answer(p, v, f)
				if text, ok := changed[v.Place.Step+" "+f.Key]; ok {
					answers[f.Key] = text
				}
			}
			at = at.Add(time.Minute)
			next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: at})
			if err != nil {
				t.Fatal(err)
			}
			p = next
		}
	}
	on("out", map[string]string{"cut how": "widths", "cut readings": "120.10 120.11 120.10"}) // 0.10 mm wide
	on("mount", nil)
	v := p.View()
	row, _ := p.Plan().Blade(v.Blade)
	show := func(rings string) string { return scene{p, v, map[string]string{"rings": rings}}.draw().Sentence() }
	if got := show(""); !strings.Contains(got, "The cut face lies at the datum") || row.Residual != 0 {
		t.Errorf("a residual of %s is expected: %s", row.Residual.Of(model.MM), got)
	}
	if got := show(strings.Join(v.Rings, " ")); !strings.Contains(got, "The cut face lies at the datum") {
		t.Error(got)
	}
	if got := show(strings.Join(v.Rings[:1], " ")); strings.Contains(got, "not the rings") {
		t.Errorf("called astray while the stack is typed: %s", got)
	}
	for _, other := range []string{"0.20 0.20", "0.30 0.10 0.10"} {
		if got := show(other); !strings.Contains(got, "not the rings that go on") || strings.Contains(got, "inside the tolerance") {
			t.Errorf("%s for %v: %s", other, v.Rings, got)
		}
	}
}
