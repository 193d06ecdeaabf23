package stages

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	honest "example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/wizard/procedure"
)

// TestAStripIsKeptOnce: a strip that stands apart is looked at and kept. It is not asked about
// in a later run, nor by the other shift that takes the records in (solver.md 3: void it with
// its reason and rip another, or keep it; no verdict before).
func TestAStripIsKeptOnce(t *testing.T) {
	h := newSetUp(t)
	strips := 0
	for range 200 {
		v, own := h.p.View(), map[string]string{"apart found": "Keep"}
		if v.Place.Step == "apart" {
			break
		}
		if v.Place.Step == "strip" {
			own, strips = map[string]string{"strip readings": wider(t, honest.Answer(v, v.Fields[0], h.saw, nil), model.Length(strips)*160_000)}, strips+1
		}
		h.step(own)
	}
	if v := h.p.View(); !strings.Contains(v.Picture(nil).Sentence(), "Strip 2 is ") {
		t.Errorf("the strips are not beside the question: %s", v.Picture(nil).Sentence())
	}
	for _, r := range h.p.Report() {
		if r.Code == "verdict" {
			t.Errorf("a verdict before the question about a strip: %s", r.Text)
		}
	}
	before := h.p.Profile()
	if step := h.p.View().Place.Step; step != "apart" {
		t.Fatalf("nothing is asked about a strip 0.16 mm apart: it stands at %s", step)
	}
	if says := h.p.View().Do[0]; !strings.HasPrefix(says, "Take strip 2. ") {
		t.Errorf("which of them stands apart is not named: %s", says)
	}
	if told := h.p.Report(); len(told) != 1 || told[0].Code != "odd-strip" {
		t.Errorf("a verdict is shown before it was looked at: %v", told)
	}
	h.step(map[string]string{"apart found": "Keep"})
	if told := h.p.Report(); len(told) > 0 && told[0].Code == "odd-strip" {
		t.Errorf("it was kept, and is told again: %v", told)
	}
	after := h.p.Profile()
	if last := after.Records[len(after.Records)-1]; last.Kind != model.Kept {
		t.Errorf("the last record is %s", last.Kind)
	}
	if f := after.Validate(); len(f) > 0 {
		t.Errorf("the file would not be read again: %v", f)
	}
	other := before
	other.Records = append(slices.Clip(before.Records), model.Record{At: h.at.Add(1), By: "AB", Kind: model.Note, Text: "fog"})
	merged, _ := profiles.Merge(other, after)
	for name, p := range map[string]model.Profile{"a later run": after, "the other shift": merged} {
		o := procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24", Seed: 7}
		if asked := procedure.New(p, House(o), solver.Judge, o).Plan().Questioned; len(asked) != 0 {
			t.Errorf("%s: it is asked about again: %v", name, asked)
		}
	}
}

// TestAnyStripThatStandsApartIsAskedAbout: one of the reference, once there are three, and one of a
// pair, as well as one of a blade that is compared (solver.md 3: before any verdict is shown). Something
// is found on it: it says nothing, and another takes its place while the blade is still on.
func TestAnyStripThatStandsApartIsAskedAbout(t *testing.T) {
	proving := func(blade string) func(t *testing.T) *hand {
		return func(t *testing.T) *hand {
			h := setUp(t)
			h.at = h.at.AddDate(0, 0, 40)
			h.again(procedure.Options{Mode: procedure.Prove, Blade: blade, Seed: 3})
			return h
		}
	}
	for name, v := range map[string]struct {
		begin func(t *testing.T) *hand
		strip string // the row that rips it
		apart int    // which of them
		stage int
	}{
		"the first of the reference": {newSetUp, "reference", 1, 9},
		"the last of the reference":  {newSetUp, "reference", 3, 9},
		"of a pair":                  {proving("rip-24"), "proof", 2, 10},
	} {
		t.Run(name, func(t *testing.T) {
			h, n := v.begin(t), 0
			for h.p.View().Place.Step != "apart" && !h.p.Finished() {
				at, own := h.p.View(), map[string]string{}
				if at.Place.Step == v.strip {
					if n++; n == v.apart {
						own[v.strip+" readings"] = wider(t, honest.Answer(at, at.Fields[0], h.saw, nil), 300_000)
					}
				}
				h.step(own)
			}
			asked := h.p.View()
			if asked.Place.Step != "apart" || asked.Place.Blade != h.p.State().On.Blade || asked.Stage != v.stage || n != 3 {
				t.Fatalf("%s in stage %d after %d strips: %s", asked.Place, asked.Stage, n, strings.Join(h.way, ", "))
			}
			if !strings.HasPrefix(asked.Do[0], fmt.Sprintf("Take strip %d. ", v.apart)) || !strings.Contains(asked.Picture(nil).Sentence(), fmt.Sprintf("Strip %d is 0.", v.apart)) {
				t.Errorf("%v, beside %s", asked.Do, asked.Picture(nil).Sentence())
			}
			if strings.Contains(asked.Picture(nil).Sentence(), "Strip 4") {
				t.Errorf("a strip is drawn that nobody ripped: %s", asked.Picture(nil).Sentence())
			}
			for _, r := range h.p.Report() {
				if r.Code == "verdict" {
					t.Errorf("a verdict before the question about a strip: %s", r.Text)
				}
			}
			strips := len(h.p.State().Strips)
			h.step(map[string]string{"apart found": "burr"})
			if records := h.p.Profile().Records; records[len(records)-1].Kind != model.Void || len(h.p.State().Strips) != strips-1 {
				t.Errorf("it counts: %+v", records[len(records)-1])
			}
			if next := h.p.View().Place.Step; v.strip == "reference" && next != "reference" {
				t.Errorf("another is to take its place: %s", next)
			}
			h.toTheEnd(nil)
			if row, _ := h.p.Plan().Row("rip-24"); row.State != model.StateReady {
				t.Errorf("%s: %v", row.State, row.Reasons)
			}
		})
	}
}

// wider are readings with so much more in each.
func wider(t *testing.T, readings string, by model.Length) string {
	ms, err := model.ParseReadings(readings, model.MM)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range ms {
		out = append(out, (m.Length + by).Of(model.MM).String())
	}
	return strings.Join(out, " ")
}
