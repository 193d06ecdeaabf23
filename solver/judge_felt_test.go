package solver

import (
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// TestJudgeStripAgainstKnife: in one mounting the knife was checked behind the blade, and a strip
// then puts it outside the kerf: neither the blade is ready nor any other of that knife.
func TestJudgeStripAgainstKnife(t *testing.T) {
	check := func(blade string, rings ...string) model.Record {
		return model.Record{Kind: model.Line, Blade: blade, Rings: rings, Knife: "k25", TipGap: given.Typed(5), Faces: given.Readings(0.05, 0.05)}
	}
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01)
	d.mount("general").do(check("general"))
	expectRow(t, "the reference, checked", d.row(t, "general"), model.StateReady, model.In)
	d.mount("rip", "r20").do(check("rip", "r20")).rip(model.ForBlade, 120.4)
	expectRow(t, "the blade", d.row(t, "rip"), model.StateNotReady, model.Out, "strip-or-knife")
	if row := d.row(t, "rip"); !row.Feel || !row.OutKnife {
		t.Errorf("%+v", row)
	}
	expectRow(t, "the reference has the same knife", d.row(t, "general"), model.StateCheck, model.In, "knife-doubted")

	// Not of that mounting: the strip stands, and the knife too.
	d = begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).do(check("rip", "r20")).mount("rip", "r20").rip(model.ForBlade, 120.4)
	if row := d.row(t, "general"); given.Has(row.Reasons, "knife-doubted") {
		t.Errorf("another mounting: %v", row.Reasons)
	}
}

// TestJudgeFeltOutside: rings with which the knife was seen outside the kerf do not go on again.
// The knife stands 0.03 mm behind the datum and was felt 0.3 mm in front of the tips: the blade
// cuts 0.33 mm wide with 0.2 mm behind it, and on a far flange wants 0.53. Squared anew, or found
// elsewhere when it is checked, the knife was not where it was taken to stand.
func TestJudgeFeltOutside(t *testing.T) {
	seen := func() *days {
		return begun().mount("rip", "r20").do(model.Record{Kind: model.Felt, Blade: "rip", Rings: []string{"r20"}, Knife: "k25", Faces: given.Readings(-0.3, -0.3)})
	}
	checked := func(behind float64) model.Record {
		return model.Record{Kind: model.Line, Blade: "general", Rings: []string{}, Knife: "k25", TipGap: given.Typed(5), Faces: given.Readings(behind, behind)}
	}
	for what, c := range map[string]struct {
		d    *days
		want float64
		felt bool
	}{
		"never felt":            {begun(), 0.2, false},
		"felt":                  {seen(), 0.53, true},
		"checked, where it was": {seen().mount("general").do(checked(0.05)), 0.53, true},
		"checked, elsewhere":    {seen().mount("general").do(checked(0.2)), 0.2, false},
		"squared anew":          {seen().mount("general").square(0.03, 0.03, 0.03, 0.03), 0.2, false},
		"sharpened since":       {seen().do(model.Record{Kind: model.Sharpened, Blade: "rip", Plate: given.Readings(2.2, 2.2, 2.2), Kerf: given.Readings(3, 3, 3)}), 0.1, false},
	} {
		if row := c.d.row(t, "rip"); (row.Want-given.MM(c.want)).Abs() > given.MM(0.02) || row.Feel != c.felt || given.Has(row.Reasons, "felt-outside") != c.felt {
			t.Errorf("%s: it wants %v, felt %v: %v", what, row.Want, row.Feel, row.Reasons)
		}
	}
	// The only rings that the kit makes of it are those: nothing is offered.
	d := seen()
	d.p.Rings = d.p.Rings[:0:0]
	for _, r := range seen().p.Rings {
		if r.ID == "r20" {
			r.Count = 1
			d.p.Rings = append(d.p.Rings, r)
		}
	}
	if row := d.row(t, "rip"); row.Verdict != model.Cannot || row.Inside || !given.Has(row.Reasons, "felt-cannot") {
		t.Errorf("with those rings alone: %s %v %v", row.Verdict, row.Stack, row.Reasons)
	}
}

// TestJudgeFeltOutsideSince: a blade that is in by its strips is not ready once its knife was seen
// outside the kerf with those rings, and gets no other way on than other rings; a strip with
// other rings that is in makes it ready.
func TestJudgeFeltOutsideSince(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01)
	expectRow(t, "in", d.row(t, "rip"), model.StateReady, model.In)
	d.mount("rip", "r20").do(model.Record{Kind: model.Felt, Blade: "rip", Rings: []string{"r20"}, Knife: "k25", Faces: given.Readings(-0.3, -0.3)})
	row := d.row(t, "rip")
	expectRow(t, "seen outside", row, model.StateNotReady, model.Out, "felt-outside")
	if row.Inside || !row.Feel || row.Fallback.Unit != model.NoUnit || given.Has(row.Reasons, "in") {
		t.Errorf("%+v", row)
	}
	for _, w := range row.Ways {
		if w.Kind == model.WayRead || w.Kind == model.WayClean {
			t.Errorf("it offers %s", w.Text)
		}
	}
	d.square(0.03, 0.03, 0.03, 0.03)
	expectRow(t, "squared anew", d.row(t, "rip"), model.StateReady, model.In)
}
