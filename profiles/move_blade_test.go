package profiles

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// TestABladeTakesItsFiguresAlong as they were read last, and nothing that the other saw's
// datum gave it.
func TestABladeTakesItsFiguresAlong(t *testing.T) {
	from, into := chosenDemo(), chosenDemo()
	from.Records = []model.Record{{At: at(0), By: "KB", Kind: model.Sharpened, Blade: "rip-24", Plate: []model.Measure{mm(2_199_000)}, Kerf: []model.Measure{mm(2_970_000)}}}
	into.Name, into.Knives = "bay-three", []model.Knife{{ID: "thick", Thickness: mm(2_500_000)}}
	into.Blades = slices.DeleteFunc(slices.Clone(into.Blades), func(b model.Blade) bool { return b.ID == "rip-24" })
	for i := range into.Blades {
		into.Blades[i].Knife = "thick"
	}
	into.Records = []model.Record{note(0, "MS", "mine")}
	before := text.Format(into)
	got, told, err := MoveBlade(into, from, "rip-24")
	if err != nil {
		t.Fatal(err)
	}
	b, there := got.BladeByID("rip-24")
	if !there || len(got.Blades) != len(into.Blades)+1 || b.Kerf[0] != mm(2_970_000) || b.Plate[0] != mm(2_199_000) || b.Knife != "thick" || b.Teeth != 24 || b.Retired || len(got.Records) != 1 || len(told) != 1 {
		t.Errorf("%+v %v", b, told)
	}
	if text.Format(into) != before {
		t.Error("the profile that it came to was changed in place")
	}
	lost := into
	lost.Records = append(slices.Clone(into.Records), model.Record{At: at(1), By: "MS", Kind: model.KnifeGone, Knife: "thick", Text: "lost"})
	if got, _, err := MoveBlade(lost, from, "rip-24"); err != nil || got.Blades[len(got.Blades)-1].Knife != "" {
		t.Errorf("it names a knife that is gone: %v", err)
	}
	into.Knives[0].Thickness = mm(2_600_000)
	if got, told, err := MoveBlade(into, from, "rip-24"); err != nil || len(told) != 2 || got.Blades[len(got.Blades)-1].Knife != "" {
		t.Errorf("another knife: %v %v", told, err)
	}
	for want, change := range map[string]func(into, from *model.Profile){
		"has no blade":      func(_, from *model.Profile) { from.Blades = from.Blades[:1] },
		"already: give one": func(into, from *model.Profile) { into.Blades = append(into.Blades, from.Blades[1]) },
		"take it back with": func(into, from *model.Profile) {
			into.Blades = append(into.Blades, from.Blades[1])
			into.Blades[len(into.Blades)-1].Retired = true
		},
		"it does not fit": func(into, _ *model.Profile) { into.Saw.ArborDiameter = mm(25_400_000) },
		"it must not run": func(into, _ *model.Profile) { into.Saw.SpindleSpeed = 7601 },
		"(same) already": func(into, from *model.Profile) {
			b := from.Blades[1]
			b.ID = "same"
			into.Blades = append(into.Blades, b)
		},
	} {
		a, b := into, from
		a.Blades, b.Blades = slices.Clone(into.Blades), slices.Clone(from.Blades)
		change(&a, &b)
		if _, _, err := MoveBlade(a, b, "rip-24"); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", want, err)
		}
	}
}
