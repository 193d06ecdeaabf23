package stages

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// cameOff asks how many rings came off, and holds it against the record.
func cameOff(c context, wanted int) field {
	f := field{Key: "off", Label: "Rings that came off", Hint: "count them: 0, 1, 2 ...", Kind: procedure.FieldCount, AtMost: 99}
	return f.With(func(text string) error {
		if text != strconv.Itoa(wanted) {
			return fmt.Errorf("by the records %d went on: look on the arbor, in the bore and on the floor", wanted)
		}
		return nil
	})
}

// othersOn follows the number of rings where somebody had put others on than the records tell.
const othersOn = " other"

// cameOffUnseen is cameOff where nobody in this run has looked: the records may be behind.
func cameOffUnseen(c context, wanted int) field {
	f := cameOff(c, wanted)
	held := f.Check
	number := f.With(nil).Check
	f.Kind, f.Hint = procedure.FieldText, "count: 0, 1 ...; others than recorded: 3"+othersOn
	return f.With(func(text string) error {
		if n, others := strings.CutSuffix(text, othersOn); others {
			return number(n)
		}
		return held(text)
	})
}

// readOff reports whether what is on the arbor is read off as it comes off, and not looked at
// before: by the records it has to come off, its teeth tell it from the other blades, and the
// saw has one knife. The saw is isolated before either.
func readOff(c context) bool {
	on, need := c.State.On, c.Need.On
	b, there := c.Profile.BladeByID(on.Blade)
	_, seen := c.Lock.On()
	return !seen && !ownToday(c) && there && need.Blade != "" && form.Fit(on.Blade, on.Rings, need.Knife) != need &&
		len(c.Profile.Knives) == 1 && on.Knife == need.Knife && len(form.Twins(c, b)) == 0
}

// cameOffRead asks for teeth and rings of what came off, where another shift has recorded
// last: the records may be behind.
func cameOffRead(c context) field {
	b, _ := c.Profile.BladeByID(c.State.On.Blade)
	f := field{Key: "was", Label: "Teeth and rings that came off", Hint: "such as " + teethAnd(c, b, c.State.On.Rings) + "; other: none of this rack", Kind: procedure.FieldText}
	return f.With(func(text string) error {
		_, _, err := readFrom(c, text)
		return err
	}).Against(func(t *taking) {
		blade, rings, _ := readFrom(t.Context, t.Text("was"))
		switch was := t.State.On; {
		case blade == was.Blade && slices.Equal(rings, was.Rings):
		case blade == "":
			t.Question("was", "by the records the %s came off", t.Name(was.Blade))
		default:
			t.Question("was", "by the records the %s came off, %s", t.Name(was.Blade), t.Rings(was.Rings))
		}
	})
}

// readFrom is the blade and the rings that a text names, such as 48 0.10 or 48 0. The blade is
// empty where it is none of the rack, or none was on.
func readFrom(c context, text string) (blade string, rings []string, err error) {
	if text := strings.TrimSpace(text); strings.EqualFold(text, "other") || strings.EqualFold(text, "none") {
		return "", nil, nil
	}
	teeth, behind, both := strings.Cut(strings.TrimSpace(text), " ")
	if _, err := strconv.Atoi(teeth); err != nil || !both {
		return "", nil, fmt.Errorf("%q is not teeth and rings: count the teeth, then type the rings that were behind it, or 0; other, if it is not of this rack", model.Clip(text))
	}
	if blade, err = bladeNamed(c, teeth); err != nil {
		return "", nil, fmt.Errorf("%s teeth are those of no blade of the rack, or of more than one: type other", teeth)
	}
	rings, err = c.Profile.ParseStack(behind)
	return blade, rings, err
}

// tookOff puts what came off on record where no record told of it.
func tookOff(t *taking) {
	blade, rings, _ := readFrom(t.Context, t.Text("was"))
	was := t.State.On
	switch {
	case blade == was.Blade && slices.Equal(rings, was.Rings):
	case blade == "":
		t.Record(record{Kind: model.TakenOff, Left: was.Knife}) // nobody knows by name what it was
	default:
		t.Record(record{Kind: model.Mount, Blade: blade, Rings: rings, Knife: was.Knife})
	}
}

// clearSaw takes everything off.
func clearSaw(t *taking, h interlock.Hands) {
	r := record{Kind: model.TakenOff, Blade: t.State.On.Blade, Rings: reversed(t.State.On.Rings), Knife: t.State.On.Knife}
	if strings.HasSuffix(t.Text("off"), othersOn) {
		r.Blade, r.Rings = "", []string{} // nobody knows by name what it was
	}
	var stays interlock.Fit
	if t.Choice("knife") == "stays" {
		stays.Knife = cmp.Or(t.State.On.Knife, unknownKnife)
		r.Left, r.Knife = t.State.On.Knife, "" // one that no file knows by name cannot be on record
	}
	t.Record(r)
	t.Does(interlock.Mounted(h, stays))
}
