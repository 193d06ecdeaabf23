package shop

import (
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// kitSorts are the sorts of ring of which the kit has any.
func kitSorts(c context) (out []model.Ring) {
	for _, r := range c.Profile.Rings {
		if r.Count > 0 {
			out = append(out, r)
		}
	}
	return out
}

func unmeasured(r model.Ring) bool { return !Known(r.Measured) }

// ringRowTyped is the sort of ring that a text such as row 2 goes to.
func ringRowTyped(c context, text string) (id string, ok bool) {
	number, is := strings.CutPrefix(strings.ToLower(strings.TrimSpace(text)), "row ")
	n, err := strconv.Atoi(strings.TrimSpace(number))
	if sorts := kitSorts(c); is && err == nil && n >= 1 && n <= len(sorts) {
		return sorts[n-1].ID, true
	}
	return "", false
}

// ringTable is the kit, a row a sort; the one at work is marked.
func ringTable(c context, now string) picture.Table {
	note := c.Pick("millimetres", "inches")
	if slices.ContainsFunc(kitSorts(c), unmeasured) {
		note += "; no figure of its own: it counts as it is printed"
	}
	t := picture.Table{What: "sort of ring", Note: note, Columns: []picture.Column{
		{Head: "printed"}, {Head: "pieces", Right: true}, {Head: "measures", Right: true}, {Head: "outer", Right: true}, {Head: "on the flange"},
	}}
	s := c.Profile.Saw
	for _, r := range kitSorts(c) {
		bears, fails := "bears", false
		w := metrology.WordsOf(c.Profile)
		for _, told := range append(solver.CheckRing(r, s.FlangeDiameter.Length, s.FlangeRelief.Length, w), solver.RingSits(r, s.ArborDiameter.Length, w)...) {
			if told.Weight >= model.Warns {
				bears, fails = "LOOK AT ITS SIZE", true
			}
		}
		measures, outer := "", "" // in the unit of the table, whatever they were typed in
		if Known(r.Measured) {
			measures = practice.Micrometer(c, []model.Length{r.Measured.Length})
		}
		if Known(r.Outer) {
			outer = c.Size(r.Outer.Length)
		}
		t.Rows = append(t.Rows, picture.TableRow{
			Cells: []string{r.Label(), strconv.Itoa(r.Count), measures, outer, bears},
			Fails: fails, Whole: Known(r.Outer), Now: r.ID == now,
		})
	}
	return t
}

// ringMendRow mends a row of the kit. What is printed on a ring, and how many there are of it,
// stands fast once a record or the datum names it.
var ringMendRow = row{
	Name: "ring-mend", Stage: 4, When: never,
	Title: func(c context) string {
		r, _ := c.Profile.RingByID(c.Blade)
		return "Ring of " + r.Label()
	},
	Act: procedure.Measure{
		Part: form.Said("ring"),
		Says: form.Lined[interlock.Bench]("Type over what is wrong; enter keeps the rest.", "None of it is there after all: type 0 pieces."),
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			mendRing(t)
		},
	},
	Fields: func(c context) []field {
		r, _ := c.Profile.RingByID(c.Blade)
		measures := ringMeasures(c, func(t *taking) { checkMeasured(t, ringMended(t)) })
		bore := ringBore(c, "Its bore")
		if Known(r.Bore) {
			bore.Value = form.Typed(r.Bore)
		}
		measures[0].Value, measures[1].Value = form.TypedOne(c, r.Measured), form.Typed(r.Outer)
		printed := form.Length(c, "printed", "What is printed on it", c.Pick("0.10", "0.004"), r.Thickness, mm/100, 11*mm)
		printed.Value = r.Label()
		return append([]field{
			printed.Against(printMended),
			field{Key: "count", Label: "Pieces", Hint: "0 to 32", Kind: procedure.FieldCount, AtLeast: 0, AtMost: model.MaxRingKit, Value: strconv.Itoa(r.Count)}.Against(countMended),
		}, append(measures, bore)...)
	},
	Picture: func(c context, _ answers) procedure.Picture { return ringTable(c, c.Blade) },
}

// ringMended is a ring of the kit with what is typed over its print.
func ringMended(t *taking) model.Ring {
	r, _ := t.Profile.RingByID(t.Blade)
	r.Thickness = t.Length("printed")
	return r
}

// printMended holds what is typed for the print of a ring against the records that name it, and
// against the other sorts; countMended the pieces.
func printMended(t *taking) {
	was, _ := t.Profile.RingByID(t.Blade)
	r := ringMended(t)
	switch {
	case ringNamedOnRecord(t.Context) && r.Thickness.Length != was.Thickness.Length:
		t.Fault("printed", "a record names the ring of %s: say under other work that a ring was lost, and another bought", was.Label())
	case slices.ContainsFunc(t.Profile.Rings, func(o model.Ring) bool { return o.ID != was.ID && o.Thickness.Length == r.Thickness.Length }):
		t.Fault("printed", "a ring of %s has a row of its own: mend that one", r.Thickness)
	}
}

func countMended(t *taking) {
	was, _ := t.Profile.RingByID(t.Blade)
	if ringNamedOnRecord(t.Context) && t.Count("count") < was.Count {
		t.Fault("count", "a record names the ring of %s: say under other work that a ring was lost", was.Label())
	}
	checkPieces(t, "count", kitMended(t))
}

func ringNamedOnRecord(c context) bool {
	return ringInFile(c.Profile, c.Blade) || slices.Contains(c.Profile.Standing, c.Blade)
}

// kitMended is the kit with what is typed of the ring at hand; without it where none is left.
func kitMended(t *taking) []model.Ring {
	r := ringMended(t)
	r.Count, r.Measured, r.Outer, r.Bore = t.Count("count"), t.Length("measured"), t.Length("outer"), t.Length("bore")
	rings := slices.Clone(t.Profile.Rings)
	at := slices.IndexFunc(rings, func(r model.Ring) bool { return r.ID == t.Blade })
	if rings[at] = r; r.Count == 0 {
		rings = slices.Delete(rings, at, at+1)
	}
	return rings
}

func mendRing(t *taking) {
	was, _ := t.Profile.RingByID(t.Blade)
	inTheSaw(t, "measured", was)
	r := ringMended(t)
	r.Outer = t.Length("outer")
	checkOuter(t, r)
	rings := kitMended(t)
	t.Head(func(p *model.Profile) { p.Rings = rings })
}

// checkPieces holds a kit to the number of rings that a stack is searched among.
func checkPieces(t *taking, key string, rings []model.Ring) {
	pieces := 0
	for _, r := range rings {
		pieces += r.Count
	}
	if pieces > model.MaxRingKit {
		t.Fault(key, "%d rings are more than a stack is searched among: at most %d", pieces, model.MaxRingKit)
	}
}
