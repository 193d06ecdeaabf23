package stacking

import (
	"strings"
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// Plate and kerf to cut face and to the stack that reaches the datum: facts.md,
// geometry vectors (computed there).
func TestGeometryVectors(t *testing.T) {
	for _, v := range []struct {
		plate, kerf         float64
		far, stack27        float64
		near, stackNearTo03 float64
	}{
		{2.2, 3.2, 2.7, 0.0, 0.5, 0.2},
		{2.0, 3.0, 2.5, 0.2, 0.5, 0.2},
		{1.8, 2.4, 2.1, 0.6, 0.3, 0.0},
	} {
		b := Thickness{Plate: given.MM(v.plate), Kerf: given.MM(v.kerf)}
		if got := b.CutFace(model.Far, 0); got != given.MM(v.far) {
			t.Errorf("far cut face of %v/%v: %v, want %v mm", v.plate, v.kerf, got, v.far)
		}
		if got := b.CutFace(model.Near, 0); got != given.MM(v.near) {
			t.Errorf("near cut face of %v/%v: %v, want %v mm", v.plate, v.kerf, got, v.near)
		}
		// The offset is how much wider a part is than with the reference: the datum
		// less the cut face.
		if got := Want(model.Far, 0, given.MM(2.7)-b.CutFace(model.Far, 0)); got != given.MM(v.stack27) {
			t.Errorf("far stack of %v/%v to 2.7: %v, want %v mm", v.plate, v.kerf, got, v.stack27)
		}
		if got := Want(model.Near, 0, given.MM(0.3)-b.CutFace(model.Near, 0)); got != given.MM(v.stackNearTo03) {
			t.Errorf("near stack of %v/%v to 0.3: %v, want %v mm", v.plate, v.kerf, got, v.stackNearTo03)
		}
		if got := b.CutFace(model.Far, given.MM(v.stack27)); got != given.MM(2.7) {
			t.Errorf("far: the stack of %v/%v reaches %v, not the datum of 2.7 mm", v.plate, v.kerf, got)
		}
		if got := b.CutFace(model.Near, given.MM(v.stackNearTo03)); got != given.MM(0.3) {
			t.Errorf("near: the stack of %v/%v reaches %v, not the datum of 0.3 mm", v.plate, v.kerf, got)
		}
	}
}

// A total reading of t at the rim adds t/2 toward the fence (job.md, Geometry).
func TestRunoutMovesTheCutFaceTowardTheFence(t *testing.T) {
	b := Thickness{Plate: given.MM(2.0), Kerf: given.MM(3.0), Runout: given.MM(0.06)}
	if got := b.CutFace(model.Far, 0); got != given.MM(2.53) {
		t.Errorf("far: %v", got)
	}
	if got := b.CutFace(model.Near, 0); got != given.MM(0.53) {
		t.Errorf("near: %v", got)
	}
}

func TestResidualIsPositiveTowardTheFence(t *testing.T) {
	if got := Residual(model.Far, given.MM(0.25), given.MM(0.2)); got != given.MM(0.05) {
		t.Errorf("far, stack too high: %v, want +0.05 mm", got)
	}
	if got := Residual(model.Near, given.MM(0.25), given.MM(0.2)); got != given.MM(-0.05) {
		t.Errorf("near, stack too high: %v, want -0.05 mm", got)
	}
}

func TestReferenceChoice(t *testing.T) {
	full := Thickness{ID: "full", Name: "full blade", Plate: given.MM(2.2), Kerf: given.MM(3.2)}
	rip := Thickness{ID: "rip", Name: "rip blade", Plate: given.MM(2.0), Kerf: given.MM(3.0)}
	thin := Thickness{ID: "thin", Name: "thin blade", Plate: given.MM(1.8), Kerf: given.MM(2.4)}
	clear := Thickness{ID: "clear", Name: "clear blade", Plate: given.MM(1.4), Kerf: given.MM(2.3)} // thinnest, 0.45 mm to a side
	wide := Thickness{ID: "wide", Name: "wide blade", Plate: given.MM(2.0), Kerf: given.MM(3.3)}    // widest kerf, (P+K)/2 2.65
	show := func(l model.Length) string { return l.Show(model.MM, 0) }
	for _, c := range []struct {
		name   string
		flange model.Flange
		tilt   model.Tilt
		rack   []Thickness
		want   string
		thumb  string // the blade that the rule of thumb takes; empty: it agrees
	}{
		{"far takes the largest half of plate and kerf", model.Far, model.TiltLeft, []Thickness{thin, full, rip}, "full", ""},
		{"far, widest kerf on a thinner plate", model.Far, model.TiltLeft, []Thickness{full, wide}, "full", "wide"},
		{"near takes the smallest side clearance", model.Near, model.TiltRight, []Thickness{full, rip, thin}, "thin", ""},
		{"near, thinnest blade with more side clearance", model.Near, model.TiltRight, []Thickness{clear, thin, full}, "thin", "clear"},
		{"near without a tilt", model.Near, "", []Thickness{clear, thin}, "thin", "clear"},
		{"a saw that differs: left tilt, flange on the fence side", model.Near, model.TiltLeft, []Thickness{full, thin}, "thin", "full"},
		{"equals: the first", model.Near, model.TiltRight, []Thickness{rip, full}, "rip", ""},
		{"equals, the thumb's choice second", model.Near, model.TiltRight, []Thickness{full, rip}, "full", ""},
	} {
		got, ok := Reference(c.flange, c.rack)
		if !ok || got.ID != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got.ID, c.want)
		}
		reasons := RuleOfThumb(c.flange, c.tilt, got, c.rack, show)
		if (len(reasons) > 0) != (c.thumb != "") {
			t.Errorf("%s: reasons %v, want one about %q", c.name, reasons, c.thumb)
		} else if c.thumb != "" && !strings.Contains(reasons[0].Text, "would take the "+c.thumb+" blade") {
			t.Errorf("%s: %q does not name %q", c.name, reasons[0].Text, c.thumb)
		}
	}
	if _, ok := Reference(model.Far, nil); ok {
		t.Error("an empty rack has a reference")
	}
}

// A blade with runout may reach farther than one that is thicker by less than that.
func TestReferenceCountsRunout(t *testing.T) {
	a := Thickness{ID: "a", Plate: given.MM(2.2), Kerf: given.MM(3.2)}
	b := Thickness{ID: "b", Plate: given.MM(2.2), Kerf: given.MM(3.18), Runout: given.MM(0.05)}
	if got, _ := Reference(model.Far, []Thickness{a, b}); got.ID != "b" {
		t.Errorf("far: got %q", got.ID)
	}
	if got, _ := Reference(model.Near, []Thickness{b, a}); got.ID != "a" {
		t.Errorf("near: got %q", got.ID)
	}
}
