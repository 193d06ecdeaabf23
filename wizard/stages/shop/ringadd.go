package shop

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// ringToAdd asks for a ring by its printed thickness, with how many there are of it.
func ringToAdd(c context, label string, ends bool) field {
	f := field{Key: "add", Label: label, Kind: procedure.FieldText, Hint: "such as " + c.Pick("0.10 mm x2", "0.010 in x2")}
	if ends {
		f.Hint += "; whole: no more"
		f.Value = kitOffered(c)
		for i := range kitSorts(c) {
			f.Table = append(f.Table, []string{"row " + strconv.Itoa(i+1)})
		}
	}
	return f.WithAlone(func(text string) bool {
		_, row := ringRowTyped(c, text)
		return ends && (row || strings.EqualFold(text, Whole))
	}).With(func(text string) error {
		if _, row := ringRowTyped(c, text); ends && (row || strings.EqualFold(strings.TrimSpace(text), Whole)) {
			return nil
		}
		_, err := oneRing(c, text)
		return err
	}).Against(func(t *taking) { checkPieces(t, "add", ringsWith(t.Context, ringNamed(t))) })
}

// oneRing is the ring that a text names, with its count.
func oneRing(c context, text string) (model.Ring, error) {
	rings, err := model.ParseKit(text, c.Unit())
	if err != nil {
		return model.Ring{}, errors.New(strings.TrimPrefix(err.Error(), "ring 1: "))
	}
	if len(rings) != 1 {
		return model.Ring{}, fmt.Errorf("%d sorts of ring: type one at a time, with x2 behind it for two of them", len(rings))
	}
	return rings[0], nil
}

// ringMeasures ask for what a ring really measures; the outer diameter of the one before is
// offered for the next. of is the ring as it is typed before them.
func ringMeasures(c context, against func(*taking)) []field {
	var outer model.Measure
	for _, r := range c.Profile.Rings {
		outer = r.Outer
	}
	return []field{
		form.Measuring(form.Optional(form.Length(c, "measured", "What it measures (may stay empty)", c.Pick("0.101", "0.0101"), model.Measure{}, mm/100, 11*mm))).Against(against),
		form.Optional(form.Length(c, "outer", "Outer diameter", c.Pick("78", "3"), outer, 10*mm, 300*mm)),
	}
}

// checkAdded holds what a ring to be added measures against its print, and against its sort.
func checkAdded(t *taking) {
	r := ringNamed(t)
	checkMeasured(t, r)
	checkSort(t, r)
}

// ringNamed is a ring to be added, as far as its print tells.
func ringNamed(t *taking) model.Ring {
	r, _ := oneRing(t.Context, t.Text("add"))
	return r
}

// addRing adds a ring to the kit, or to those of its sort.
func addRing(t *taking) {
	r := ringNamed(t)
	r.Measured, r.Outer, r.Bore = t.Length("measured"), t.Length("outer"), kitBore(t.Context)
	if t.Typed("bore") {
		r.Bore = t.Length("bore")
	}
	checkOuter(t, r)
	rings := ringsWith(t.Context, r)
	t.Head(func(p *model.Profile) { p.Rings = rings })
}

// ringsWith are the rings of the kit and one more, or more of its sort.
func ringsWith(c context, r model.Ring) []model.Ring {
	rings := slices.Clone(c.Profile.Rings)
	i := slices.IndexFunc(rings, func(old model.Ring) bool { return old.Thickness.Length == r.Thickness.Length })
	if i < 0 {
		r.ID = unused(r.ID, func(id string) bool { _, taken := c.Profile.RingByID(id); return taken })
		return append(rings, r)
	}
	rings[i].Count += r.Count
	rings[i].Outer, rings[i].Bore = r.Outer, r.Bore
	if Known(r.Measured) {
		rings[i].Measured = r.Measured
	}
	return rings
}

// checkSort holds a ring to be added against those of its sort: all count alike.
func checkSort(t *taking, r model.Ring) {
	for _, old := range kitSorts(t.Context) {
		if m := t.Length("measured"); old.Thickness.Length == r.Thickness.Length && Known(m) && m.Length != old.Height() {
			t.Fault("measured", "the %s in the kit counts as %s, and this one would be taken for it: leave out a ring that measures otherwise, or say first that the sort is measured anew", old.Label(), t.Show(old.Height()))
		}
	}
}

// checkMeasured asks again where a ring measures far from what is printed on it.
func checkMeasured(t *taking, r model.Ring) {
	if m := t.Length("measured"); Known(m) && (m.Length-r.Thickness.Length).Abs() > min(r.Thickness.Length/2, mm/10) {
		t.Question("measured", "%s measured for a ring of %s", m, r.Label())
	}
}
