package stages

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/wizard/stages/shop"

	"example.com/sawdatum/wizard/picture"
)

// TestAnyRowOfTheRackIsMended: from the table of the rack any row can be gone to, its markings
// or its readings, and the work comes back to the table.
func TestAnyRowOfTheRackIsMended(t *testing.T) {
	w := to(t, "rack") // one blade is there
	w.answer("rack", "more", "24-tooth rip")
	w.answer("blade", "teeth", "24")
	w.answer("thickness", "plate", "2.201 2.201 2.201", "kerf", "3.001 3.001 3.001")
	w.answer("rack", "more", "1")
	if at := w.View().Place; at.Step != "blade" || at.Blade != "48-tooth-general" {
		t.Fatal("row 1 leads to", at)
	}
	w.refused("label", "another blade is called", "label", "24-tooth RIP")
	w.answer("blade", "label", "48-tooth combination", "teeth", "50")
	if b, _ := w.Profile().BladeByID("48-tooth-general"); b.Teeth != 50 || b.Label != "48-tooth combination" {
		t.Error(b)
	}
	for _, text := range []string{"row 2 kerf", "2KERF", "2 plate", "kerf 2", "2 kerf"} { // as people type it
		w.answer("rack", "more", text)
		if at := w.View().Place; at.Step != "thickness" || at.Blade != "24-tooth-rip" {
			t.Fatal(text, "leads to", at)
		}
		w.answer("thickness", "kerf", "2.991 2.991 2.991")
		w.reach("rack")
	}
	table := w.View().Picture(answers{}).(picture.Table)
	if got := table.Rows[1].Cells[:5]; !slices.Equal(got, []string{"24-tooth rip", "24", "250", "2.201", "2.991"}) {
		t.Error("the table has", got)
	}
	for _, no := range []string{"3", "0", "kerf 3", "２", "2 bore"} {
		w.refused("more", "", "more", no)
	}
}

// TestAnyRowOfTheKitIsMended: the same of the rings, which are typed as lengths: a row is named
// as one.
func TestAnyRowOfTheKitIsMended(t *testing.T) {
	w := to(t, "rings")
	w.answer("rings", "add", "0.10 x3", "measured", "0.101", "outer", "78")
	w.answer("rings", "add", "0.02", "outer", "78") // 0.20 was meant
	w.answer("rings", "add", "row 2")
	w.answer("ring-mend", "printed", "0.20", "measured", "0.199", "count", "2")
	if got := shop.KitNames(w.Now()); got != "0.10 mm x3, 0.20 mm x2" {
		t.Error(got)
	}
	if f := w.View().Fields[0]; len(f.Table) != 2 || f.Check(f.Table[1][0]) != nil || !f.Alone(f.Table[1][0]) {
		t.Error("the arrows go to", f.Table)
	}
	w.answer("rings", "add", "row 1")
	w.answer("ring-mend", "count", "0")
	table := w.View().Picture(answers{}).(picture.Table)
	if got := strings.Join(table.Rows[0].Cells, " "); len(table.Rows) != 1 || got != "0.20 mm 2 0.199 78 bears" {
		t.Error(got)
	}
	w.refused("add", "", "add", "row 2")
}

// TestTheKnifeIsAskedWhereThereAreSeveral: the only one of a saw stands behind every blade.
func TestTheKnifeIsAskedWhereThereAreSeveral(t *testing.T) {
	w := to(t, "knife-bought")
	if b, _ := w.Profile().BladeByID("24-tooth-rip"); b.Knife != "k25" {
		t.Error("the only knife is not taken:", b.Knife)
	}
	w.answer("knife-bought", "thickness", "2.2")
	w.begun("reread", "blade", "2", "what", "markings")
	w.reach("blade")
	w.refused("knife", "not one of them", "knife", "2.6")
	w.answer("blade", "knife", "2.2")
	if b, _ := w.Profile().BladeByID("24-tooth-rip"); b.Knife != "k22" {
		t.Error(b.Knife)
	}
}

// TestNothingFollowsFromAPlateOverTheTeeth: a reading that is refused has no consequences.
func TestNothingFollowsFromAPlateOverTheTeeth(t *testing.T) {
	w := to(t, "thickness")
	for tooth, want := range map[string]bool{"": true, "2.3": true, "3.2": false, "2.3 3.3": false} {
		so := w.View().Follows(answers{"plate": "2.2 2.2 2.2", "kerf": "3.2 3.2 3.2", "tooth_plate": tooth})
		if (len(so) > 0) != want {
			t.Errorf("%q beside the teeth: %v", tooth, so)
		}
	}
}
