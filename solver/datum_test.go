package solver

import (
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// TestForetoldFromTheDatumThatStays: by plate and kerf the teeth of the reference reach
// (2.2 + 3.2)/2 = 2.70 from the flange, and those of the fine (2.2 + 2.8)/2 = 2.50, which wants 0.20.
// Sharpened to 3.0 the reference reaches 2.60 itself; the datum, which stays, does not move.
func TestForetoldFromTheDatumThatStays(t *testing.T) {
	for goes, want := range map[model.DatumGoes]float64{model.DatumStays: 0.2, model.DatumMoves: 0.1} {
		d := begun().mount("rip", "r20").rip(model.ForBlade, 120, 120).sharpened("general", 3.0, goes)
		if row := d.row(t, "fine"); (row.Want-given.MM(want)).Abs() > given.MM(0.005) || len(row.Stack) != 1 {
			t.Errorf("%s: %v of %v is wanted, want %v", goes, row.Want, row.Stack, want)
		}
		// 0.15 narrow with 0.20 on, so 0.05 is wanted; nothing but strips and rings says so.
		d = begun().mount("rip", "r20").rip(model.ForBlade, 119.853, 119.853).sharpened("general", 3.0, goes)
		if row := d.row(t, "rip"); goes == model.DatumStays && (!given.Has(row.Reasons, "off-prediction", "0.150 mm narrower") || slices.Contains(row.Ways[2].Stack, "r20")) {
			t.Errorf("%s: %v, %v", goes, row.Reasons, row.Ways)
		}
	}
	// Its own new teeth, 0.10 back, cut 0.10 wide: that is what was foretold.
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120, 120).sharpened("general", 3.0, model.DatumStays)
	d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.1, 119.1)
	if row := d.row(t, "general"); row.Basis != model.Measured || given.Has(row.Reasons, "off-prediction") {
		t.Errorf("%v", row.Reasons)
	}
	// Read once more before it was sharpened: that counts; a slip that was voided does not.
	d = begun()
	d.do(model.Record{Kind: model.Remeasured, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.24)})
	d.do(model.Record{Kind: model.Remeasured, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.4)})
	slip := d.p.Records[len(d.p.Records)-1].Ref()
	d.sharpened("general", 3.0, model.DatumStays).do(model.Record{Kind: model.Void, Of: slip, Why: "slip"})
	if row := d.row(t, "fine"); (row.Want - given.MM(0.22)).Abs() > given.MM(0.005) {
		t.Errorf("read as 3.24: %v is wanted", row.Want)
	}
}
