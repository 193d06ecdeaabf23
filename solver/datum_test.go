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
	// Read once more before it was sharpened, and corrected after: that counts, and half its runout
	// with it; a slip that was voided does not, nor what was read later.
	d = begun()
	d.p.Blades = slices.Clone(d.p.Blades)
	d.p.Blades[2].Runout = given.Typed(0) // looked at, and none
	again := model.Record{Kind: model.Remeasured, Blade: "general", Plate: thrice(2.24), Kerf: thrice(3.2), Runout: given.Typed(0.02)}
	d.do(again)
	right, slip := again, again
	right.Kind, right.Of, right.Kerf = model.Correction, d.p.Records[len(d.p.Records)-1].Ref(), thrice(3.24)
	slip.Kerf = thrice(3.4)
	d.do(slip)
	void := model.Record{Kind: model.Void, Of: d.p.Records[len(d.p.Records)-1].Ref(), Why: "slip"}
	d.sharpened("general", 3.0, model.DatumStays).do(right).do(void)
	d.do(model.Record{Kind: model.Remeasured, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3), Runout: given.Typed(0.3)})
	if row := d.row(t, "fine"); (row.Want - given.MM(2.74+0.01-2.5)).Abs() > given.MM(0.001) {
		t.Errorf("2.74 and half of 0.02: %v is wanted", row.Want)
	}
	// A reference that is not on the rack foretells nothing, nor does one that nobody had read.
	gone := begun().mount("rip", "r20").rip(model.ForBlade, 120, 120).sharpened("general", 3.0, model.DatumStays)
	gone.p.Blades = slices.Clone(gone.p.Blades)
	gone.p.Blades[0].Retired = true
	unread := begun().mount("rip", "r20").rip(model.ForBlade, 120, 120).sharpened("general", 3.0, model.DatumStays)
	unread.p.Blades = slices.Clone(unread.p.Blades)
	unread.p.Blades[0].Kerf = nil
	for _, d := range []*days{gone, unread} {
		if row := d.row(t, "fine"); len(row.Stack) > 0 || row.Offset != 0 {
			t.Errorf("%v by nothing: %v", row.Stack, row.Reasons)
		}
	}
}
