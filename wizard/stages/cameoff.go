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
	"example.com/sawdatum/wizard/stages/shop"
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

// lookRow has somebody look at what is on the arbor, where nobody in this run has.
var lookRow = row{
	Name: "look", Stage: 5, Title: form.Said("What is on the arbor?"), Help: []string{form.SharpStill},
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			by := "Nothing is on record of it."
			switch on := c.State.On; {
			case on.Blade == "" && c.State.Seen:
				by = "By the records nothing is on. Look: records do not see."
			case on.Blade != "":
				by = fmt.Sprintf("By the records: the %s, %s. Look: records do not see.", c.Name(on.Blade), c.Rings(on.Rings))
			}
			return []string{by, "Read the blade's name off it, or count its teeth.", "Rings behind it not to be seen, or a strange blade: type other."}
		},
		Accept: lookAt,
	},
	Why: form.Lines(form.SharpStill),
	Fields: func(c context) []field {
		unknown := func(text string) bool { return strings.EqualFold(text, "none") || strings.EqualFold(text, "other") }
		return []field{
			field{Key: "blade", Label: "Blade that is on", Hint: "name or teeth; none; other: not of this rack", Kind: procedure.FieldText}.With(func(text string) error {
				_, err := bladeNamed(c, text)
				if unknown(text) {
					return nil
				}
				return err
			}),
			field{Key: "rings", Label: "Rings behind it", Hint: "flange first; none; other, if you cannot see them", Kind: procedure.FieldText}.With(func(text string) error {
				_, err := c.Profile.ParseStack(text)
				if unknown(text) {
					return nil
				}
				return err
			}),
			knifeSeen(c)}
	},
	Picture: lookedAt,
}

// lookedAt is what is on by what is typed, else by the records: a blade of which the rings are not
// typed yet is not drawn without any.
func lookedAt(c context, a answers) procedure.Picture {
	on := c.State.On
	blade, err := bladeNamed(c, a["blade"])
	rings, unread := c.Profile.ParseStack(a["rings"])
	if err == nil && unread == nil && strings.TrimSpace(a["rings"]) != "" {
		on.Blade, on.Rings = blade, rings
	} else if strings.EqualFold(strings.TrimSpace(a["blade"]), "none") {
		on = model.Fitted{}
	}
	if on.Blade == "" && !c.State.Seen {
		return nil
	}
	return shop.OnArbor(c, on.Blade, on.Rings)
}

// somethingElse stands for a blade or rings that nobody knows by name.
const somethingElse = "?"

func lookAt(t *taking, h interlock.Hands) {
	var on interlock.Fit
	rings := t.Text("rings")
	switch text := t.Text("blade"); {
	case strings.EqualFold(text, "none"):
	case strings.EqualFold(text, "other") || strings.EqualFold(rings, "other"):
		on.Blade = somethingElse
	default:
		blade, _ := bladeNamed(t.Context, text)
		ids, _ := t.Profile.ParseStack(rings)
		on = form.Fit(blade, ids, "")
	}
	if k, ok := t.Profile.KnifeCalled(t.Length("knife")); ok {
		on.Knife = k.ID
		if t.State.Gone[k.ID] != nil {
			t.Record(record{Kind: model.KnifeBack, Knife: k.ID})
		}
		t.Keep(knifeTyped, k.ID)
	}
	t.Does(interlock.Sighted(h, on))
	was := t.State.On
	if t.State.Seen && was.Knife != on.Knife { // it was moved, and nobody told of it
		r := record{Kind: model.TakenOff, Blade: was.Blade, Rings: reversed(was.Rings), Left: on.Knife}
		if on.Knife == "" {
			r.Knife = was.Knife
		}
		t.Record(r)
		was = model.Fitted{}
	}
	if stack := strings.Fields(on.Rings); on.Blade != "" && on.Blade != somethingElse && (was.Blade != on.Blade || !slices.Equal(was.Rings, stack)) {
		t.Record(record{Kind: model.Mount, Blade: on.Blade, Rings: stack, Knife: on.Knife}) // nobody told of it
	}
}

// bladeNamed is the blade of the rack that a text names: by its name, or a word of it that no other has, or
// by its teeth where no other has as many. It says what is on the saw, and is typed in full.
func bladeNamed(c context, text string) (string, error) {
	f := field{Whole: true}
	text = strings.TrimSpace(text)
	for _, b := range c.Profile.Rack() {
		f.Options, f.Called = append(f.Options, b.ID), append(f.Called, b.Name())
		switch twins := form.Twins(c, b); {
		case text != strconv.Itoa(b.Teeth):
		case len(twins) > 0: // a name may begin with them
			return "", fmt.Errorf("%d teeth do not tell the %s from the %s: type the name that is written on it", b.Teeth, b.Name(), twins[0])
		default:
			return b.ID, nil
		}
	}
	return f.Choice(text)
}

// knifeSeen asks which knife is in, of which nobody knows. One of another thickness than those
// of this saw counts as none: it is not among those that may stay.
func knifeSeen(c context) field {
	return field{
		Key: "knife", Label: "Knife behind it", Hint: "read it off the knife; none: none is in", Kind: procedure.FieldLength,
		Unit: c.Unit(), Optional: true, Or: "none",
	}.Against(func(t *taking) {
		m := t.Length("knife")
		k, ok := t.Profile.KnifeCalled(m)
		gone := t.State.Gone[k.ID]
		switch {
		case m.Unit == model.NoUnit || len(t.Profile.Knives) == 0:
		case !ok:
			t.Question("knife", "no knife of this saw is %s thick, so it comes out", m)
		case gone != nil:
			t.Question("knife", "by the records the knife of %s is gone (%s)", k.Thickness, gone.Text)
		}
	})
}
