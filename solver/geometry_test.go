package solver

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

func mm(v float64) model.Length {
	l, err := model.FromMillimetres(v)
	if err != nil {
		panic(err)
	}
	return l
}

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
		b := Thickness{Plate: mm(v.plate), Kerf: mm(v.kerf)}
		if got := b.CutFace(model.Far, 0); got != mm(v.far) {
			t.Errorf("far cut face of %v/%v: %v, want %v mm", v.plate, v.kerf, got, v.far)
		}
		if got := b.CutFace(model.Near, 0); got != mm(v.near) {
			t.Errorf("near cut face of %v/%v: %v, want %v mm", v.plate, v.kerf, got, v.near)
		}
		// The offset is how much wider a part is than with the reference: the datum
		// less the cut face.
		if got := Want(model.Far, 0, mm(2.7)-b.CutFace(model.Far, 0)); got != mm(v.stack27) {
			t.Errorf("far stack of %v/%v to 2.7: %v, want %v mm", v.plate, v.kerf, got, v.stack27)
		}
		if got := Want(model.Near, 0, mm(0.3)-b.CutFace(model.Near, 0)); got != mm(v.stackNearTo03) {
			t.Errorf("near stack of %v/%v to 0.3: %v, want %v mm", v.plate, v.kerf, got, v.stackNearTo03)
		}
		if got := b.CutFace(model.Far, mm(v.stack27)); got != mm(2.7) {
			t.Errorf("far: the stack of %v/%v reaches %v, not the datum of 2.7 mm", v.plate, v.kerf, got)
		}
		if got := b.CutFace(model.Near, mm(v.stackNearTo03)); got != mm(0.3) {
			t.Errorf("near: the stack of %v/%v reaches %v, not the datum of 0.3 mm", v.plate, v.kerf, got)
		}
	}
}

// A total reading of t at the rim adds t/2 toward the fence (job.md, Geometry).
func TestRunoutMovesTheCutFaceTowardTheFence(t *testing.T) {
	b := Thickness{Plate: mm(2.0), Kerf: mm(3.0), Runout: mm(0.06)}
	if got := b.CutFace(model.Far, 0); got != mm(2.53) {
		t.Errorf("far: %v", got)
	}
	if got := b.CutFace(model.Near, 0); got != mm(0.53) {
		t.Errorf("near: %v", got)
	}
}

func TestResidualIsPositiveTowardTheFence(t *testing.T) {
	if got := Residual(model.Far, mm(0.25), mm(0.2)); got != mm(0.05) {
		t.Errorf("far, stack too high: %v, want +0.05 mm", got)
	}
	if got := Residual(model.Near, mm(0.25), mm(0.2)); got != mm(-0.05) {
		t.Errorf("near, stack too high: %v, want -0.05 mm", got)
	}
}

func TestReferenceChoice(t *testing.T) {
	full := Thickness{ID: "full", Name: "full blade", Plate: mm(2.2), Kerf: mm(3.2)}
	rip := Thickness{ID: "rip", Name: "rip blade", Plate: mm(2.0), Kerf: mm(3.0)}
	thin := Thickness{ID: "thin", Name: "thin blade", Plate: mm(1.8), Kerf: mm(2.4)}
	clear := Thickness{ID: "clear", Name: "clear blade", Plate: mm(1.4), Kerf: mm(2.3)} // thinnest, 0.45 mm to a side
	wide := Thickness{ID: "wide", Name: "wide blade", Plate: mm(2.0), Kerf: mm(3.3)}    // widest kerf, (P+K)/2 2.65
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
	a := Thickness{ID: "a", Plate: mm(2.2), Kerf: mm(3.2)}
	b := Thickness{ID: "b", Plate: mm(2.2), Kerf: mm(3.18), Runout: mm(0.05)}
	if got, _ := Reference(model.Far, []Thickness{a, b}); got.ID != "b" {
		t.Errorf("far: got %q", got.ID)
	}
	if got, _ := Reference(model.Near, []Thickness{b, a}); got.ID != "a" {
		t.Errorf("near: got %q", got.ID)
	}
}
