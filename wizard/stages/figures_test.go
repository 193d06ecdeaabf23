package stages

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/practice"
)

// figures are what was read of instruments in a run, in the order of the work.
func figures(p model.Profile) (out []string) {
	for _, r := range p.Records {
		if read := slices.Concat(r.Readings, r.Dial, r.Gaps, r.Faces); len(read) > 0 || r.Kind == model.HeelToe || r.Kind == model.Boards {
			out = append(out, fmt.Sprint(r.Kind, " ", r.Blade, " ", read, r.SlotFront, r.SlotRear, r.FenceFront, r.FenceRear, r.Span, r.Length, r.Lead, r.Tail, r.TipGap))
		}
	}
	return out
}

// What the saw of practice shows hangs on the seed and on what is read, and on nothing else: not
// on the clock, nor on what was read before, nor on whether the program ran through.
func TestPracticeShowsTheSameFigures(t *testing.T) {
	want := figures(setUp(t).p.Profile())
	if len(want) < 12 {
		t.Fatalf("only %d readings in a whole setup", len(want))
	}
	for name, before := range map[string]func(h *hand){
		"a slower hand": func(h *hand) { h.at = h.at.Add(7 * time.Second) },
		"each reading taken twice": func(h *hand) {
			for _, f := range h.p.View().Fields {
				h.p.View().Read(h.saw, f.Key, procedure.Answers{})
			}
		},
		"the program killed at each step": func(h *hand) { h.saw = practice.New(profiles.Demo(), 1) },
	} {
		h := newSetUp(t)
		for range 200 {
			if h.p.Finished() {
				break
			}
			before(h)
			h.step(nil)
		}
		got := figures(h.p.Profile())
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n%s\nand without it:\n%s", name, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
	h := newSetUp(t)
	h.saw = practice.New(profiles.Demo(), 2)
	h.toTheEnd(nil)
	if slices.Equal(figures(h.p.Profile()), want) {
		t.Error("another seed shows the same figures")
	}
}

// A blade that is mounted anew sits elsewhere, and the next strip of a mounting is another one.
func TestMountedAnewReadsAnew(t *testing.T) {
	h := setUp(t)
	seats, strips := map[string]bool{}, map[string]map[string]bool{}
	for range 3 {
		h.at = h.at.AddDate(0, 0, 1)
		h.again(procedure.Options{Mode: procedure.Prove, Blade: "rip-24", Seed: 3})
		h.toTheEnd(nil)
		seats[practice.DressedUp(h.p.Now()).Mounting] = true
	}
	for _, r := range h.p.Profile().Records {
		if r.Kind == model.StripCut {
			if strips[r.Mounting] == nil {
				strips[r.Mounting] = map[string]bool{}
			}
			strips[r.Mounting][fmt.Sprint(r.Readings)] = true
		}
	}
	if len(seats) < 3 || !slices.ContainsFunc(slices.Collect(maps.Values(strips)), func(of map[string]bool) bool { return len(of) > 1 }) {
		t.Errorf("three pairs: mountings %v, strips %v", seats, strips)
	}
}

// TestWhatIsOnIsDrawn: what comes off, and what somebody looks at, is drawn as the records have it,
// until something else is typed; of an arbor of which nothing is on record only what is to be.
func TestWhatIsOnIsDrawn(t *testing.T) {
	done, unseen := setUp(t).p.Now(), fresh(t, nil).p.Now()
	for _, c := range []struct {
		at    context
		drawn func(context, answers) procedure.Picture
		typed answers
		says  []string
	}{
		{done, clearRow.Picture, nil, []string{"48-tooth general"}},
		{done, clearRow.Picture, answers{"empty": "empt"}, []string{"48-tooth general"}},
		{done, clearRow.Picture, answers{"empty": " Empty"}, []string{"bare"}},
		{unseen, clearRow.Picture, nil, []string{"bare"}},
		{done, lookedAt, nil, []string{"48-tooth general"}},
		{done, lookedAt, answers{"blade": "none"}, []string{"bare"}},
		{done, lookedAt, answers{"blade": "24-tooth rip", "rings": "0.10 0.30"}, []string{"24-tooth rip", "rings of 0.101, 0.299"}},
		{done, lookedAt, answers{"blade": "24-tooth rip"}, []string{"48-tooth general"}}, // its rings are not typed yet
	} {
		said := c.drawn(c.at, c.typed).Sentence()
		for _, want := range c.says {
			if !strings.Contains(said, want) {
				t.Errorf("%v: %s", c.typed, said)
			}
		}
	}
	if lookedAt(unseen, nil) != nil {
		t.Error("nothing is on record, and something is drawn")
	}
}

// TestStackFigure: the rings that go on stand in block digits, in their order.
func TestStackFigure(t *testing.T) {
	c := fresh(t, nil).p.Now()
	for stack, want := range map[string]string{"": "", "0.10": "0.10 mm", "0.10 0.30": "0.10+0.30"} {
		rings, err := c.Profile.ParseStack(stack)
		if err != nil && stack != "" {
			t.Fatal(err)
		}
		if f := stackFigure(c, rings); f.Text != want || (f.Caption != "") != (stack != "") || f.Order != (stack != "") {
			t.Errorf("%q: %+v", stack, f)
		}
	}
	for blade, want := range map[string]string{"laminate-96": "0", "crosscut-80": "0.20 mm"} {
		if f := boxRow.Figure(setUp(t).p.Now().For(blade), nil); f.Text != want || !f.Order {
			t.Errorf("on the box of %s: %+v", blade, f)
		}
	}
}

// TestStepInThousandths: with a caliper finer than a thousandth of an inch the step stands in thousandths, which
// have room in block digits; else it has the digits of the caliper.
func TestStepInThousandths(t *testing.T) {
	for caliper, want := range map[string]procedure.Figure{
		"0.0005 in": {Text: "2.5", Caption: "narrow, mean of 2, thou"},
		"0.001 in":  {Text: "0.003", Caption: "narrow, mean of 2, in"},
		"0.01 mm":   {Text: "0.06", Caption: "narrow, mean of 2, mm"},
	} {
		m, err := model.ParseLength(caliper, model.NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		c := procedure.Context{Profile: model.Profile{Units: m.Unit, Instruments: model.Instruments{Caliper: m}}}
		if got := offFigure(c, -25*model.Thou/10, ", mean of 2"); got != want {
			t.Errorf("a caliper of %s: %+v", caliper, got)
		}
	}
}
