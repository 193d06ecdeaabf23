package shop

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

// TestTablesOfAnInchShop: what is typed as a mixed number, or in thousandths, stands in the rows in
// the unit that the table names.
func TestTablesOfAnInchShop(t *testing.T) {
	in := func(text string) model.Measure {
		m, err := model.ParseLength(text, model.IN)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	var c context
	p := &c.Profile
	p.Units, p.Instruments.Micrometer = model.IN, in("0.0001")
	p.Rings = []model.Ring{{ID: "t10", Thickness: in("10 thou"), Measured: in("10.1 thou"), Outer: in("3 1/8"), Bore: in("5/8"), Count: 1}, {ID: "t2", Thickness: in("0.002"), Count: 1}}
	p.Blades = []model.Blade{{ID: "rip", Teeth: 24, Diameter: in("8 1/2")}}
	rows := ringTable(c, "").Rows
	if got := rows[slices.IndexFunc(rows, func(r picture.TableRow) bool { return r.Cells[0] == "10 thou" })].Cells; got[2] != "0.0101" || got[3] != "3 1/8" {
		t.Errorf("%q", got)
	}
	if got := rows[slices.IndexFunc(rows, func(r picture.TableRow) bool { return r.Cells[0] == "0.002 in" })].Cells; got[2] != "" || got[3] != "" {
		t.Errorf("%q", got)
	}
	if got := rackTable(c, "").Rows[0].Cells; got[2] != "8 1/2" {
		t.Errorf("%q", got)
	}
	for text, id := range map[string]string{"3/32": "k3-32", "1 1/8": "k1-1-8", "2.48 mm": "k248", "0.098": "k249"} {
		if got := knifeID(in(text), nil); got != id {
			t.Errorf("%s: %s, not %s", text, got, id)
		}
	}
}

// TestThreadsAnInch: a bare number that would be threads an inch is refused with what to type.
func TestThreadsAnInch(t *testing.T) {
	var c context
	c.Profile.Units = model.IN
	f := pitchField(c, model.Measure{})
	if err := f.Check("16"); err == nil || err.Error() != "16 in is outside 0.02 in to 0.19 in; 16 threads an inch: type 16 tpi" {
		t.Error(err)
	}
	if err := f.Check("16 tpi"); err != nil {
		t.Error(err)
	}
}

// TestTheKnifeThatWouldFitIsNamed: where a blade must not run with its knife, and another of the saw
// fits it, that one is told.
func TestTheKnifeThatWouldFitIsNamed(t *testing.T) {
	in := func(text string) model.Measure { m, _ := model.ParseLength(text, model.IN); return m }
	p := model.Profile{Units: model.IN, Knives: []model.Knife{{ID: "k3-32", Thickness: in("3/32")}, {ID: "k7-64", Thickness: in("7/64")}}}
	p.Blades = []model.Blade{{ID: "general", Plate: []model.Measure{in("0.087")}, Kerf: []model.Measure{in("0.126")}, Knife: "k3-32"}, {ID: "wide", Plate: []model.Measure{in("0.150")}, Kerf: []model.Measure{in("0.200")}, Knife: "k3-32"}}
	c := procedure.New(p, procedure.House{}, solver.Judge, procedure.Options{}).Now()
	for blade, named := range map[string]bool{"general": true, "wide": false} {
		said := knifeWords(c.For(blade), blade)
		if len(said) != 1 || said[0].Weight != model.Danger || strings.HasSuffix(said[0].Text, "; the 7/64 in knife of this saw is one") != named {
			t.Errorf("%s: %v", blade, said)
		}
	}
}
