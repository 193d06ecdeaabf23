package stages

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

const sharpStill = "The blade is sharp when it is still: gloves or a rag to hold it."

// fit is a blade with its rings, flange first, and a knife, for the interlock.
func fit(blade string, rings []string, knife string) interlock.Fit {
	return interlock.Fit{Blade: blade, Rings: strings.Join(rings, " "), Knife: knife}
}

// dressed is what has to be on for a blade: its stack and the knife that it names.
func dressed(c context, blade string, rings []string) interlock.Fit {
	b, _ := c.Profile.BladeByID(blade)
	return fit(blade, rings, b.Knife)
}

// referenceOn is what the steps at the reference blade need.
func referenceOn(c context) interlock.Need {
	return interlock.Need{On: dressed(c, c.Profile.Reference, c.Profile.Standing)}
}

// wanted is what a gate wants on the arbor.
func wanted(c context) (blade string, rings []string, knife model.Knife) {
	knife, _ = c.Profile.KnifeByID(c.Need.On.Knife)
	return c.Need.On.Blade, strings.Fields(c.Need.On.Rings), knife
}

// lookRow has somebody look at what is on the arbor, where nobody in this run has.
var lookRow = row{
	Name: "look", Stage: 5, Title: said("What is on the arbor?"), Help: []string{sharpStill},
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			by := "Nothing is on record of it."
			if on := c.State.On; on.Blade != "" {
				by = fmt.Sprintf("By the records: the %s, %s. Look: records do not see.", c.Name(on.Blade), c.Rings(on.Rings))
			}
			return []string{by, "Read the blade's name off it, or count its teeth.", "Rings: see how many stand behind it. Not to be seen, or another blade: type other."}
		},
		Accept: lookAt,
	},
	Why: lines(sharpStill, "The blade before may have been swapped from the card."),
	Fields: func(c context) []field {
		return []field{{Key: "blade", Label: "Blade that is on", Hint: "its name; none; other, if it is not of this rack", Kind: procedure.FieldText, Measuring: false},
			{Key: "rings", Label: "Rings behind it", Hint: "thicknesses, flange first; none; other, if you cannot see them", Kind: procedure.FieldText},
			knifeThickness(c, "Knife behind it", model.Knife{})}
	},
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
		blade, err := bladeNamed(t.Context, text)
		if err != nil {
			t.Fault("blade", "%s", err)
			return
		}
		ids, err := procedure.ParseRings(t.Profile, rings)
		if err != nil {
			t.Fault("rings", "%s", err)
			return
		}
		on = fit(blade, ids, "")
	}
	for _, k := range t.Profile.Knives {
		if m := t.Length("knife"); m.Length == k.Thickness.Length && m.Unit != model.NoUnit {
			on.Knife = k.ID
		}
	}
	t.Does(interlock.Sighted(h, on))
}

// bladeNamed is the blade of the rack that a text names: by its name, or by its teeth where
// no other has as many.
func bladeNamed(c context, text string) (string, error) {
	var f field
	for _, b := range c.Profile.Rack() {
		f.Options, f.Called = append(f.Options, b.ID), append(f.Called, b.Name())
		if text == strconv.Itoa(b.Teeth) && len(twins(c, b)) == 0 {
			return b.ID, nil
		}
	}
	return f.Choice(text)
}

// twins are the other blades of the rack with as many teeth.
func twins(c context, blade model.Blade) (names []string) {
	for _, b := range c.Profile.Rack() {
		if b.ID != blade.ID && b.Teeth == blade.Teeth {
			names = append(names, b.Name())
		}
	}
	return names
}

// before is what comes off: as this run knows it, else as the records have it; false where
// neither does.
func before(c context) (interlock.Fit, bool) {
	if on, known := c.Lock.On(); known {
		return on, true
	}
	on := c.State.On
	return fit(on.Blade, on.Rings, on.Knife), c.State.Seen
}

// knifeTyped is the knife whose thickness was typed in this run, as long as it can have
// been changed for no other.
var knifeTyped = procedure.Fact{Name: "knife typed"}

// mountRow puts on what the step behind it needs.
var mountRow = row{
	Name: "mount", Stage: 5,
	Title: func(c context) string { blade, _, _ := wanted(c); return "Mount the " + c.Name(blade) },
	Act:   procedure.HandsIn{Says: mountOrders, Accept: mount},
	Why:   lines(sharpStill, "Sound: no crack, no missing tip. Resin off. Else it does not go on."),
	Help: []string{
		"The teeth are counted so that a wrong blade is found here and not in the cut; at the top they point toward you.",
		"Thinnest ring against the flange, thickest next to the blade. The loose flange goes on hollow side to the blade; at least one pitch of thread must show past the nut.",
	},
	Fields: mountFields,
}

func mountOrders(c context, _ interlock.Hands) []string {
	_, rings, knife := wanted(c)
	on, known := before(c)
	var out []string
	switch {
	case known && on.Blade == somethingElse:
		out = append(out, "Take off the blade that is on, and every ring. Wipe flange, rings and blade.")
	case known && on.Blade != "":
		out = append(out, fmt.Sprintf("Off: nut, %s, %s. Wipe the flange bare.", c.Name(on.Blade), c.Rings(strings.Fields(on.Rings))))
	default:
		out = append(out, "Wipe the flange bare. Feel for dust and burrs.")
	}
	if on.Knife != c.Need.On.Knife {
		out = append(out, fmt.Sprintf("Knife: the one of %s goes behind this blade, straight behind the plate.", c.Show(knife.Thickness.Length)))
	}
	stack := "On: no rings, the blade,"
	if len(rings) > 0 {
		stack = fmt.Sprintf("On: %s, first ring at the flange, then the blade,", c.Rings(rings))
	}
	return append(out, stack+" teeth at the top toward you, mark at the arbor's mark.", "Loose flange, nut tight. Then count the teeth, and type them with the rings that are really on.")
}

func mountFields(c context) []field {
	blade, rings, knife := wanted(c)
	on, known := before(c)
	var out []field
	if known && on.Blade != "" && on.Blade != somethingElse {
		out = append(out, cameOff(c, len(strings.Fields(on.Rings))))
	}
	if on.Knife != c.Need.On.Knife {
		out = append(out, knifeThickness(c, "Knife behind it, its thickness", knife))
	}
	b, _ := c.Profile.BladeByID(blade)
	example := strconv.Itoa(b.Teeth) + " " + c.RingsTyped(rings)
	out = append(out, field{Key: "on", Label: "Teeth you count, rings that are on", Hint: "such as " + example + " when it is right", Kind: procedure.FieldText}.With(func(text string) error {
		return teethAndRings(c, text, b, rings)
	}))
	if len(twins(c, b)) > 0 {
		out = append(out, field{Key: "name", Label: "Name that is written on it", Hint: fmt.Sprintf("read it off the blade: more than one has %d teeth", b.Teeth), Kind: procedure.FieldText}.With(func(text string) error {
			if !strings.EqualFold(text, b.Name()) {
				return fmt.Errorf("the %s belongs on: is that what is written on this blade?", b.Name())
			}
			return nil
		}))
	}
	return out
}

// teethAndRings holds what is on against what belongs on: 80 0.20, or 48 none.
func teethAndRings(c context, text string, b model.Blade, rings []string) error {
	teeth, behind, _ := strings.Cut(strings.TrimSpace(text), " ")
	n, err := strconv.Atoi(teeth)
	switch {
	case err != nil:
		return fmt.Errorf("%q are no teeth: type how many you count, then the rings that are on, or none", model.Clip(teeth))
	case n != b.Teeth:
		return fmt.Errorf("%d teeth are not those of the %s: is another blade in your hand? Mount the right one", n, b.Name())
	case strings.TrimSpace(behind) == "":
		return errors.New("rings are missing: type them behind the teeth, flange first, or none")
	}
	on, err := procedure.ParseRings(c.Profile, behind)
	if err == nil && !slices.Equal(on, rings) {
		return fmt.Errorf("%s is not what goes on: put on %s", c.Rings(on), c.Rings(rings))
	}
	return err
}

// knifeThickness asks for the thickness of a knife; of which one, where it is known.
func knifeThickness(c context, label string, k model.Knife) field {
	f := field{Key: "knife", Label: label, Hint: "read it off the knife", Kind: procedure.FieldLength, Unit: c.Unit()}
	if k.Thickness.Unit == model.NoUnit {
		f.Hint, f.Optional = "read it off the knife; empty: none is in", true
		return f
	}
	f.Hint = "such as " + c.Show(k.Thickness.Length)
	return f.With(func(text string) error {
		m, err := model.ParseLength(text, c.Unit())
		if err == nil && m.Length != k.Thickness.Length {
			return fmt.Errorf("%s is not the knife of %s that belongs here", m, c.Show(k.Thickness.Length))
		}
		return err
	})
}

func mount(t *taking, h interlock.Hands) {
	blade, rings, knife := wanted(t.Context)
	if t.Typed("knife") {
		t.Keep(knifeTyped, knife.ID)
	}
	t.Record(record{Kind: model.Mount, Blade: blade, Rings: rings, Knife: knife.ID})
	t.Does(interlock.Mounted(h, t.Need.On))
}

// lineRow is the last look before a blade may turn: the knife stands between the two sides
// of the teeth, as far from the tips as the rules have it.
var lineRow = row{
	Name: "line", Stage: 5, Title: said("The knife behind the blade"),
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			return []string{
				"Lay a straightedge along both sides of the teeth: the knife stands between them, over its whole height.",
				"It stands out on one side: set it by the saw's manual before anything turns.",
				"Measure from the knife to the tooth tips, where they come nearest.",
			}
		},
		Accept: seeLine,
	},
	Why:  lines("No blade turns with a knife that nobody has seen in line.", sharpStill),
	Help: []string{"EN 1870-1, 6.3: 3 to 8 mm from the tips, the knife's tip at least 2 mm below the top of the blade. In the United States at most 1/2 in (Cal. Code Regs. title 8, 4296)."},
	Fields: func(c context) []field {
		if k, due := thicknessDue(c); due {
			f := lengths(c, "tip_gap", "Knife to the tooth tips, and its thickness", "such as "+c.Pick("5 ", "0.2 ")+c.Bare(k.Thickness.Length), nil, 2, 2, 0, 60*mm)
			return []field{f.With(func(text string) error {
				ms, err := model.ParseReadings(text, c.Unit())
				if err == nil && len(ms) == 2 && ms[1].Length != k.Thickness.Length {
					return fmt.Errorf("%s is not the knife of %s that belongs here", ms[1], c.Show(k.Thickness.Length))
				}
				return err
			})}
		}
		return []field{measuring(length(c, "tip_gap", "Knife to the tooth tips, once it is seen in line", c.Pick("5", "0.2"), model.Measure{}, 0, 60*mm))}
	},
	Simulated: map[string]procedure.Simulated{"tip_gap": func(c context, s procedure.Saw, a answers) string {
		if k, due := thicknessDue(c); due {
			return tipGap(c, s, a) + " " + c.Bare(k.Thickness.Length)
		}
		return tipGap(c, s, a)
	}},
	Follows: func(c context, a answers) []reason {
		text, _, _ := strings.Cut(strings.TrimSpace(a["tip_gap"]), " ")
		gap, ok := parse(c, text)
		if !ok {
			return nil
		}
		return solver.CheckTipGap(gap, c.Profile.Gap, solver.WordsOf(c.Profile))
	},
}

// thicknessDue reports whether the thickness of the knife that is in was not typed yet in
// this run.
func thicknessDue(c context) (model.Knife, bool) {
	on, _ := c.Lock.On()
	k, _ := c.Profile.KnifeByID(on.Knife)
	return k, c.Fact(knifeTyped) != k.ID
}

func seeLine(t *taking, h interlock.Hands) {
	on, _ := t.Lock.On()
	gap := t.Lengths("tip_gap")[0]
	t.Keep(knifeTyped, on.Knife)
	for _, r := range solver.CheckTipGap(gap.Length, t.Profile.Gap, solver.WordsOf(t.Profile)) {
		if r.Weight == model.Danger {
			t.Fault("tip_gap", "%s", r.Text)
			return
		}
		t.Question("tip_gap", "%s", r.Text)
	}
	t.Record(record{Kind: model.Line, Blade: on.Blade, Rings: strings.Fields(on.Rings), Knife: on.Knife, TipGap: gap})
	t.Does(interlock.GapTyped(h))
	t.Does(interlock.SeenInLine(h))
}
