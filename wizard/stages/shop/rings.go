package shop

import (
	"fmt"
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

var kitWhole = procedure.Fact{Name: "kit whole", Lasts: true}

// ringsRow is gone through once a ring, or a few of a sort, until the kit is whole.
var ringsRow = row{
	Name: "rings", Stage: 4, Title: form.Said("Shim rings"),
	Done: func(c context) bool { return c.Fact(kitWhole) != "" || c.Profile.Standing != nil },
	Act: procedure.Measure{
		Part: form.Said("ring"),
		Says: func(c context, _ interlock.Bench) []string {
			if kitOffered(c) != "" {
				return []string{"All there: press enter. Else type the next."}
			}
			return []string{
				"Type what is printed on the next ring; two alike: x2.",
				"Measure it by micrometer. All are there: type whole.",
				"To mend row 2 type row 2.",
			}
		},
		Accept: func(t *taking, b interlock.Bench) {
			if id, ok := ringRowTyped(t.Context, t.Text("add")); ok {
				t.Begin(&ringMendRow, id)
				return
			}
			if strings.EqualFold(t.Text("add"), Whole) {
				t.Head(func(p *model.Profile) { p.Rings = append([]model.Ring{}, p.Rings...) })
				t.Keep(kitWhole, Whole)
				return
			}
			t.Does(interlock.Measured(b))
			addRing(t)
		},
	},
	Help: []string{
		"A ring known only by what is printed on it may be off by {hundredths|a thousandth}.",
		"Rings must reach over the relief of the flange and bear on its rim, or they tilt the blade.",
		"They go on thinnest against the flange, thickest next to the blade.",
		"Their bore is asked once, and is the arbor's diameter as a rule. One that is bored otherwise: mend its row.",
	},
	Fields: func(c context) []field {
		fields := append([]field{ringToAdd(c, "The next ring, a row, or whole", true)}, ringMeasures(c, checkAdded)...)
		if !Known(kitBore(c)) {
			fields = append(fields, ringBore(c, "Bore of all rings"))
		}
		return fields
	},
	Follows: func(c context, a answers) []reason { return ringWords(c, a) },
	Picture: func(c context, a answers) procedure.Picture {
		id, _ := ringRowTyped(c, a["add"])
		return ringTable(c, id)
	},
	Simulated: map[string]procedure.Simulated{"measured": ringSimulated},
}

// kitOffered is what is offered at the rings: whole, where the kit was on file before this run, and
// each of them measured.
func kitOffered(c context) string {
	if c.Again || len(kitSorts(c)) == 0 || slices.ContainsFunc(kitSorts(c), unmeasured) {
		return ""
	}
	return Whole
}

// KitNames are the rings of the kit with their counts; empty where there are none.
func KitNames(c context) string {
	var out []string
	for _, r := range c.Profile.Rings {
		switch {
		case r.Count == 1:
			out = append(out, r.Label())
		case r.Count > 1:
			out = append(out, fmt.Sprintf("%s x%d", r.Label(), r.Count))
		}
	}
	return strings.Join(out, ", ")
}

// ringWords tell whether a ring bears on the flange.
func ringWords(c context, a answers) []reason {
	r, err := oneRing(c, a["add"])
	outer, ok := form.Parse(c, a["outer"])
	if err != nil || !ok {
		return nil
	}
	r.Outer = outer.Of(c.Unit())
	return solver.CheckRing(r, c.Profile.Saw.FlangeDiameter.Length, c.Profile.Saw.FlangeRelief.Length, metrology.WordsOf(c.Profile))
}

// ringPicture is the ring at hand on the arbor.
func ringPicture(c context, a answers) picture.ArborSection {
	s := Section(c, "", nil)
	if r, err := oneRing(c, a["add"]); err == nil {
		height := r.Thickness.Length
		if m, ok := form.Parse(c, a["measured"]); ok {
			height = m
		}
		s.Rings = []model.Length{height}
	}
	return s
}

// ringSimulated is what a ring of the saw of practice measures.
func ringSimulated(c context, s procedure.Saw, a answers) string {
	r, err := oneRing(c, a["add"])
	if err != nil {
		return ""
	}
	for _, old := range c.Profile.Rings {
		if old.Thickness.Length == r.Thickness.Length {
			if Known(old.Measured) {
				return practice.Micrometer(c, []model.Length{old.Measured.Length})
			}
			r.ID = old.ID
		}
	}
	c = c.WithHead(func(p *model.Profile) { p.Rings = append(slices.Clone(p.Rings), r) })
	return practice.Micrometer(c, []model.Length{practice.At(c, s, "ring", r.ID).Ring(r.ID)})
}

// ringBoughtRow is a ring that was bought.
var ringBoughtRow = row{
	Name: "ring-bought", Stage: 4, Title: form.Said("A ring was bought"), When: WholeRack,
	Act: procedure.Measure{
		Part: form.Said("ring"),
		Says: form.Lined[interlock.Bench]("Type what is printed on it; x2 behind it for two alike. Micrometer on it."),
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			addRing(t)
			_, first := brought(t.Context, t.WithHead(func(*model.Profile) {}))
			takeUp(t, first...)
			t.After(stacksNow(t.Context))
		},
	},
	Why: form.Lines("A stack that was proved stays. A blade that no stack brought in may get one now."),
	Fields: func(c context) []field {
		return append(append([]field{ringToAdd(c, "The ring", false)}, ringMeasures(c, checkAdded)...), ringBore(c, "Its bore"))
	},
	Follows: func(c context, a answers) []reason { return append(ringWords(c, a), withRing(c, a)...) }, Picture: ringMoves,
	Simulated: map[string]procedure.Simulated{"measured": ringSimulated},
}

// stacksNow tells which blades get other rings than they had.
func stacksNow(was context) func(context) []reason {
	return func(c context) (out []reason) {
		for _, b := range c.Plan.Blades {
			old, ok := was.Plan.Row(b.ID)
			if !ok || slices.Equal(old.Stack, b.Stack) && old.Verdict == b.Verdict {
				continue
			}
			text := fmt.Sprintf("%s: %s, where it was %s", c.Name(b.ID), c.Rings(b.Stack), was.Rings(old.Stack))
			if b.Verdict == model.Cannot {
				text = c.Name(b.ID) + ": no stack brings it in"
			}
			out = append(out, reason{Code: "stack-changes", Weight: model.Warns, Text: text})
		}
		return out
	}
}

// oneSort asks for a sort of ring that is in the kit.
func oneSort(c context, label string) field {
	f := field{Key: "ring", Label: label, Kind: procedure.FieldChoice, Unit: c.Unit()}
	for _, r := range c.Profile.Rings {
		if r.Count > 0 {
			f.Options, f.Called = append(f.Options, r.ID), append(f.Called, r.Label())
		}
	}
	f.Hint = strings.Join(f.Called, ", ")
	return f
}

func hasRings(c context) bool { return anyTime(c) && KitNames(c) != "" }

// ringInFile reports whether a record names a ring: it then stays on the list with none left.
func ringInFile(p model.Profile, id string) bool {
	return slices.ContainsFunc(p.Records, func(r record) bool { return slices.Contains(r.Rings, id) })
}

// times is how often a ring of the sort is among rings.
func times(rings []string, id string) (n int) {
	for _, r := range rings {
		if r == id {
			n++
		}
	}
	return n
}

// lostRings are the sort and the number that are typed as lost; false where they are not in the kit.
func lostRings(c context, a answers) (id string, n int, ok bool) {
	id, err := oneSort(c, "").Choice(a["ring"])
	n, bad := strconv.Atoi(strings.TrimSpace(a["lost"]))
	r, _ := c.Profile.RingByID(id)
	return id, n, err == nil && bad == nil && n >= 1 && n <= r.Count
}

// loseRing takes rings out of the kit.
func loseRing(t *taking, id string, n int) {
	was := t.Context
	t.Head(func(p *model.Profile) {
		p.Rings = slices.Clone(p.Rings)
		i := slices.IndexFunc(p.Rings, func(r model.Ring) bool { return r.ID == id })
		if p.Rings[i].Count -= n; p.Rings[i].Count == 0 && !ringInFile(*p, id) {
			p.Rings = slices.Delete(p.Rings, i, i+1)
		}
	})
	t.After(stacksNow(was))
}

var ringLostRow = row{
	Name: "ring-lost", Stage: 4, Title: form.Said("A ring was lost, or is bent"), When: hasRings,
	Act: procedure.Paper{
		Says: form.Lines("Say which, and how many of it are gone."),
		Accept: func(t *taking) {
			id, n := t.Choice("ring"), t.Count("lost")
			r, _ := t.Profile.RingByID(id)
			left := r.Count - n
			switch {
			case left < 0:
				t.Fault("lost", "the kit has only %d of %s", r.Count, r.Label())
			case times(t.Profile.Standing, id) > left:
				t.Fault("ring", "the ring of %s stands behind the reference: say first, under other work, which standing stack takes its place", r.Label())
			case times(t.State.On.Rings, id) > left:
				t.Question("ring", "by the records a ring of %s is on the arbor", r.Label())
			}
			if t.Faulty() {
				return
			}
			if _, others := missing(t.Context, id, n); len(others) > 0 {
				t.Begin(&ringGoesRow, fmt.Sprintf("%s %d", id, n))
				return
			}
			loseRing(t, id, n)
		},
	},
	Why: form.Lines("A bent ring tilts the blade. A blade whose stack needs it goes back to check."),
	Follows: func(c context, a answers) []reason {
		if id, n, ok := lostRings(c, a); ok {
			return withoutRing(c, id, n)
		}
		return nil
	},
	Picture: func(c context, a answers) procedure.Picture {
		if id, n, ok := lostRings(c, a); ok {
			return movedBlades(c, ringLess(c, id, n))
		}
		return nil
	},
	Fields: func(c context) []field {
		return []field{oneSort(c, "Which ring"), {Key: "lost", Label: "How many of it", Hint: "such as 1", Kind: procedure.FieldCount, AtLeast: 1, AtMost: model.MaxRingKit, Value: "1"}}
	},
}

// inTheSaw refuses to have a ring measured that is behind a blade of a saw that may be live.
func inTheSaw(t *taking, key string, r model.Ring) {
	if on, _ := form.Before(t.Context); t.Lock.Power() != interlock.Isolated && times(strings.Fields(on.Rings), r.ID) >= r.Count {
		t.Fault(key, "%s is in the saw: isolate it and take the ring off before it is measured", r.Label())
	}
}

var ringMeasuredRow = row{
	Name: "ring-measured", Stage: 4, Title: form.Said("A ring was measured"), When: hasRings,
	Act: procedure.Measure{
		Part: form.Said("ring"),
		Says: form.Lined[interlock.Bench]("Micrometer on the ring, at three places. Type what it measures."),
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			id, m := t.Choice("ring"), t.Length("measured")
			r, _ := t.Profile.RingByID(id)
			inTheSaw(t, "ring", r)
			checkMeasured(t, r)
			t.Head(func(p *model.Profile) {
				p.Rings = slices.Clone(p.Rings)
				for i := range p.Rings {
					if p.Rings[i].ID == id {
						p.Rings[i].Measured = m
					}
				}
			})
			t.After(stacksNow(t.Context))
		},
	},
	Why: form.Lines("All of a sort count as this one does: leave out a ring that measures otherwise."),
	Fields: func(c context) []field {
		return []field{oneSort(c, "Which ring"), form.Measuring(form.Length(c, "measured", "What it measures", c.Pick("0.101", "0.0101"), model.Measure{}, mm/100, 11*mm))}
	},
	Simulated: map[string]procedure.Simulated{"measured": func(c context, s procedure.Saw, a answers) string {
		id, err := oneSort(c, "").Choice(a["ring"])
		if err != nil {
			return ""
		}
		return practice.Micrometer(c, []model.Length{practice.At(c, s, "ring", id).Ring(id)})
	}},
}
