package stages

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

// proofOut is a proof of the rip blade whose strips say that its knife stands outside the kerf
// as long as the fence stands where somebody knocked it to.
func proofOut(t *testing.T, done *hand, o procedure.Options, faces string) *hand {
	h := later(t, done, o)
	knocked := ""
	for range 150 {
		if h.p.Finished() {
			return h
		}
		v, own := h.p.View(), map[string]string{"feel faces": faces}
		if v.Place.String() == "proof rip-24" {
			if knocked == "" {
				knocked = v.Context().State.Lock
			}
			if knocked == v.Context().State.Lock {
				own["proof readings"] = "141.00 141.01 141.00"
			}
		}
		h.step(own)
	}
	t.Fatalf("it does not end: %s", strings.Join(h.way, ", "))
	return nil
}

// TestStripAgainstKnife: a strip says that the knife stands outside the kerf. It is felt behind
// that mounting before anything turns. Where it stands inside, neither is believed: fence and
// knife count as moved, the blade and every other one of that knife wait, and another pair
// under another lock settles it in the same run. Where it stands outside, the strip holds.
func TestStripAgainstKnife(t *testing.T) {
	done := setUp(t)
	h := proofOut(t, done, procedure.Options{Mode: procedure.Prove, Blade: "rip-24"}, "0.05 0.05")
	way := strings.Join(h.way, ", ")
	at := func(step string) int { return slices.Index(h.way, step) }
	if row, _ := h.p.Plan().Row("rip-24"); row.State != model.StateReady || strings.Count(way, "feel rip-24") != 1 || strings.Count(way, "proof rip-24") != 3 {
		t.Errorf("%s: %v, after %s", row.State, row.Against(), way)
	}
	if f := at("feel rip-24"); f < 0 || !strings.Contains(strings.Join(h.way[f:], ", "), "lock") || !strings.Contains(strings.Join(h.way[f:], ", "), "knife-seen") {
		t.Errorf("neither fence nor knife is looked at: %s", way)
	}
	// left off there, nothing that names the knife is ready
	p := h.p.Profile()
	felt := slices.IndexFunc(p.Records, func(r record) bool { return r.Kind == model.Felt })
	if felt < 0 {
		t.Fatal("nothing is on record of it")
	}
	p.Records = p.Records[:felt+slices.IndexFunc(p.Records[felt:], func(r record) bool { return r.Kind == model.FenceLock })]
	for _, row := range solver.Judge(p, h.at).Blades {
		b, _ := p.BladeByID(row.ID)
		if b.Knife == "k25" && row.Usable() {
			t.Errorf("%s is %s while it is not settled", row.ID, row.State)
		}
	}
	if row, _ := solver.Judge(p, h.at).Row("rip-24"); row.Owed == "" || !row.Feel {
		t.Errorf("the rip blade: %+v", row)
	}

	h = proofOut(t, done, procedure.Options{Mode: procedure.Prove, Blade: "rip-24"}, "-0.7 -0.7")
	way = strings.Join(h.way, ", ")
	if row, _ := h.p.Plan().Row("rip-24"); row.Verdict != model.Out || strings.Count(way, "feel rip-24") != 1 || strings.Count(way, "proof rip-24") != 1 {
		t.Errorf("felt outside: %s %s, after %s", row.Verdict, row.State, way)
	}

	h = proofOut(t, done, procedure.Options{Mode: procedure.Swap, Blade: "rip-24", Proves: true}, "0.05 0.05")
	if row, _ := h.p.Plan().Row("rip-24"); row.State != model.StateReady || h.p.Profile().Records[len(h.p.Profile().Records)-1].Blade != "rip-24" {
		t.Errorf("settled in a swap it is %s, after %s", row.State, strings.Join(h.way, ", "))
	}
}

// TestFeltOutsideIsRemembered: a knife was seen outside the kerf before power, with no strip of
// that mounting left. The next run of that blade does not put the same rings on again: what is
// wanted is reckoned from where the knife was felt, and it is felt again before power.
func TestFeltOutsideIsRemembered(t *testing.T) {
	h := newSetUp(t)
	var rings, ripped []string
	for range 300 {
		if h.p.Finished() {
			break
		}
		v, own := h.p.View(), map[string]string{"feel faces": "-0.2 -0.2", "ways way": "clean", "clean found": "dust"}
		if v.Place.String() == "strip rip-24" {
			own["strip readings"], ripped = "140.40 140.40 140.40", v.Context().State.On.Rings
		}
		if v.Place.String() == "line rip-24" && slices.Contains(h.way, "clean rip-24") {
			own["line faces"] = "-0.2 -0.2"
			rings = strings.Fields(v.Context().Need.On.Rings)
		}
		h.step(own)
	}
	if !slices.Equal(rings, ripped) { // dust was under them: they go on once more
		t.Errorf("cleaned of dust, %v go on in place of %v", rings, ripped)
	}
	row, _ := h.p.Plan().Row("rip-24")
	if len(rings) == 0 || slices.Equal(row.Stack, rings) || !row.Feel || row.Usable() {
		t.Fatalf("seen outside with %v, it is to go on with %v: %+v, after %v", rings, row.Stack, row.Reasons, h.way)
	}
	was, _ := h.p.Profile().StackHeight(rings)
	if moved := row.Height - was; moved < 150*micron || moved > 300*micron { // 0.2 mm wide, and the knife up to 0.1 mm behind the datum
		t.Errorf("felt 0.2 mm in front of the tips, its rings are %d nm higher", moved)
	}
	h = later(t, h, procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24"})
	for range 100 {
		v := h.p.View()
		if v.Place.String() != "line rip-24" {
			h.step(nil)
			continue
		}
		if on := strings.Fields(v.Context().Need.On.Rings); slices.Equal(on, rings) || v.Fields[0].Key != "faces" {
			t.Errorf("%v go on, and %s is asked first", on, v.Fields[0].Key)
		}
		return
	}
	t.Errorf("it does not go on: %s", strings.Join(h.way, ", "))
}

// TestFeltAfterNothingWasFound: a blade whose strip says that the knife stands outside came off
// before that was felt, and nothing lay there: it goes on with the same rings to be felt before
// power, and is found out only where that bears the strip out.
func TestFeltAfterNothingWasFound(t *testing.T) {
	for faces, voids := range map[string]int{"0.05 0": 1, "-0.3 -0.2": 0} {
		h := newSetUp(t)
		for range 200 {
			v, own := h.p.View(), map[string]string{"feel faces": faces, "ways way": "clean", "clean found": "nothing", "empty came": "r10"}
			if at := slices.Index(h.way, "clean rip-24"); at >= 0 && slices.Contains(h.way[at:], "feel rip-24") {
				break
			}
			if v.Place.String() == "strip rip-24" {
				own["strip readings"] = "140.30 140.30 140.30"
				h.step(own)
				var err error
				if h.p, err = h.p.Apply(procedure.Event{Kind: procedure.Begin, At: h.at, Place: procedure.Place{Step: "empty"}}); err != nil {
					t.Fatal(err)
				}
				continue
			}
			h.step(own)
		}
		got := 0
		for _, r := range h.p.Profile().Records {
			if r.Kind == model.Void {
				got++
			}
		}
		if row, _ := h.p.Plan().Row("rip-24"); got != voids || (row.Strips > 0) != (voids == 0) {
			t.Errorf("felt at %s: %d strips voided, %s with %d strips, after %s", faces, got, row.Verdict, row.Strips, strings.Join(h.way, ", "))
		}
	}
}

// TestStripMisreadBeforeTheFeel: a strip that was read wrong is corrected where the knife is to be
// felt for it, and then nothing is felt.
func TestStripMisreadBeforeTheFeel(t *testing.T) {
	h := newSetUp(t)
	for range 200 {
		v, own := h.p.View(), map[string]string{}
		if v.Place.String() == "strip rip-24" && len(stand(v.Context(), "rip-24").strips) == 0 {
			own["strip readings"] = "141.00 141.01 141.00"
		}
		if v.Place.Step == "feel" {
			break
		}
		h.step(own)
	}
	p, err := h.p.Apply(procedure.Event{Kind: procedure.Back, At: h.at})
	if err != nil || p.View().Place.String() != "strip rip-24" {
		t.Fatalf("back leads to %s: %v", p.View().Place, err)
	}
	h.p = p
	h.step(map[string]string{"strip readings": "140.15 140.16 140.15"})
	h.toTheEnd(nil)
	if row, _ := h.p.Plan().Row("rip-24"); slices.Contains(h.way, "feel rip-24") || row.State != model.StateReady {
		t.Errorf("%s after %s", row.State, strings.Join(h.way, ", "))
	}
}

// TestFeelIsDrawnByWhatIsAsked: where only the face of the knife is asked for, no gap to the tips is drawn, and
// its limit is the kerf of that blade.
func TestFeelIsDrawnByWhatIsAsked(t *testing.T) {
	h := later(t, setUp(t), procedure.Options{Mode: procedure.Prove, Blade: "rip-24"})
	for range 120 {
		if h.p.View().Place.Step == "feel" {
			break
		}
		h.step(map[string]string{"proof readings": map[string]string{"rip-24": "140.60 140.60 140.60", "general-48": "140.00 140.00 140.00"}[h.p.View().Place.Blade]})
	}
	v := h.p.View()
	row, _ := h.p.Plan().Row("rip-24")
	p, ok := v.Picture(nil).(picture.KnifeBehind)
	if !ok || !p.Held || p.Most != 0 || p.Play != row.Play || row.Play == 0 || strings.Contains(p.Sentence(), "tips") {
		t.Errorf("at %s: %+v, %s", v.Place, p, p.Sentence())
	}
}
