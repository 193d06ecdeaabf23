package stages

import (
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
			ms, err := model.ParseReadings(honest.Answer(v, v.Fields[0], h.saw, nil), model.MM)
			if err != nil {
				t.Fatal(err)
			}
			var read []string
			for _, m := range ms {
				read = append(read, (m.Length + model.Length(strips)*160_000).Of(model.MM).String())
			}
			own, strips = map[string]string{"strip readings": strings.Join(read, " ")}, strips+1
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
