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
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

// dressed is what has to be on for a blade: its stack and the knife that it names.
func dressed(c context, blade string, rings []string) interlock.Fit {
	b, _ := c.Profile.BladeByID(blade)
	return form.Fit(blade, rings, b.Knife)
}

// referenceOn is what the steps at the reference blade need. Where its knife is gone, what
// carries the datum stands in for it.
func referenceOn(c context) interlock.Need {
	if knifeGone(c, c.Profile.Reference) {
		return interlock.Need{On: dressed(c, carrier(c), stackOf(c, carrier(c)))}
	}
	return interlock.Need{On: dressed(c, c.Profile.Reference, c.Profile.Standing)}
}

// wanted is what a gate wants on the arbor.
func wanted(c context) (blade string, rings []string, knife model.Knife) {
	knife, _ = c.Profile.KnifeByID(c.Need.On.Knife)
	return c.Need.On.Blade, strings.Fields(c.Need.On.Rings), knife
}

// knifeTyped is the knife whose thickness was typed in this run, as long as it can have
// been changed for no other.
var knifeTyped = procedure.Fact{Name: "knife typed"}

// mountRow puts on what the step behind it needs.
var mountRow = row{
	Name: "mount", Stage: 5,
	Title: func(c context) string {
		blade, _, _ := wanted(c)
		if knifeAlone(c) {
			return "Put the knife in behind the " + c.Name(blade)
		}
		return "Mount the " + c.Name(blade)
	},
	Act: procedure.HandsIn{Says: mountOrders, Accept: mount},
	Why: form.Lines("Wear gloves. A crack or lost tip: leave it off."),
	Help: []string{
		"The teeth are counted so that a wrong blade is found here and not in the cut; at the top they point toward you.",
		"Thinnest ring against the flange, thickest next to the blade. The loose flange goes on hollow side to the blade; at least one pitch of thread must show past the nut.",
	},
	Fields: mountFields,
	Figure: func(c context, _ answers) procedure.Figure { // what the hand takes from the box
		_, rings, _ := wanted(c)
		return stackFigure(c, rings)
	},
	Picture: func(c context, a answers) procedure.Picture {
		blade, rings, _ := wanted(c)
		if _, behind, typed := strings.Cut(strings.TrimSpace(a["on"]), " "); typed {
			if on, err := c.Profile.ParseStack(behind); err == nil {
				rings = on
			}
		}
		return shop.Section(c, blade, rings)
	},
}

// stackFigure are the rings of a stack, to be read at the box.
func stackFigure(c context, rings []string) procedure.Figure {
	switch len(rings) {
	case 0:
		return procedure.Figure{}
	case 1:
		return procedure.Figure{Text: c.Rings(rings), Caption: "one ring, " + c.Unit().Label(), Order: true}
	}
	return procedure.Figure{Text: strings.ReplaceAll(c.RingsTyped(rings), " ", "+"), Caption: "flange first, " + c.Unit().Label(), Order: true}
}

func mountOrders(c context, _ interlock.Hands) []string {
	blade, rings, knife := wanted(c)
	if bars := barred(c); bars != nil {
		return []string{fmt.Sprintf("The %s stays off: %s.", c.Name(blade), bars[0].Text), "Read wrong? Say under other work what is read again. Else take it off the rack there, or choose other rings."}
	}
	if knifeAlone(c) {
		return []string{"The blade and what is behind it stay on.", fmt.Sprintf("Put the knife of %s in. Tighten it by the saw's manual.", knife.Label())}
	}
	on, known := form.Before(c)
	off := "Wipe the flange bare. Feel for dust and burrs."
	switch {
	case known && on.Blade == somethingElse:
		off = "Off: guard, plate, nut, the blade that is on, every ring. Wipe the flange bare."
	case known && on.Blade != "":
		off = "Off: guard, plate, nut, blade. Wipe the flange."
		switch n := len(strings.Fields(on.Rings)); {
		case n == 1:
			off = fmt.Sprintf("Off: guard, plate, blade, %s. Wipe flange.", strings.TrimSuffix(c.Rings(strings.Fields(on.Rings)), " "+c.Unit().Label()))
		case n > 1:
			off = fmt.Sprintf("Off: guard, plate, blade, %d rings. Wipe flange.", n)
		}
	}
	stack := "On: no rings; the blade, top teeth toward you, mark at the arbor's mark."
	switch len(rings) {
	case 0:
	case 1:
		stack = fmt.Sprintf("On: %s at the flange; the blade, top teeth toward you, mark at the arbor's mark.", c.Rings(rings))
	default:
		stack = fmt.Sprintf("On: %s, first at the flange; blade, top teeth toward you, mark to mark.", c.Rings(rings))
	}
	last := "Loose flange, nut tight. Count teeth and rings."
	if on.Knife != c.Need.On.Knife {
		last = fmt.Sprintf("Loose flange, nut tight. Knife in: %s.", knife.Label())
	}
	return []string{off, stack, last}
}

// noKnife is why a blade must not run with the knife that it names; nil: it may.
func noKnife(c context, blade string) []reason {
	row, _ := c.Plan.Row(blade)
	if row.Knife == model.KnifeFits {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(row.Reasons), func(r reason) bool { return r.Weight != model.Danger || !strings.HasPrefix(r.Code, "knife-") })
}

// knifeAlone reports whether the blade with its rings was seen on in this run, and only the knife
// behind it is missing: it goes in, and nothing comes off for it.
func knifeAlone(c context) bool {
	on, seen := c.Lock.On()
	knife := on.Knife
	on.Knife = c.Need.On.Knife
	return seen && knife == "" && on.Blade != "" && on == c.Need.On
}

// barred is why what a gate wants must not go on: its knife; bore, speed, flange, size, rings,
// thread.
func barred(c context) []reason {
	blade, rings, _ := wanted(c)
	b, _ := c.Profile.BladeByID(blade)
	if unfit := noKnife(c, blade); unfit != nil {
		return unfit
	}
	return slices.DeleteFunc(solver.SwapChecks(c.Profile, b, shop.BladeRead(c, blade).Plate, rings, nil), // the gap to the tips is read once it is on
		func(r reason) bool { return r.Weight != model.Danger })
}

func mountFields(c context) []field {
	blade, rings, knife := wanted(c)
	if knifeAlone(c) {
		return []field{knifeThickness(c, "Knife behind it, its thickness", knife)}
	}
	on, known := form.Before(c)
	var out []field
	switch {
	case readOff(c):
		out = append(out, cameOffRead(c))
	case known && on.Blade != "" && on.Blade != somethingElse:
		out = append(out, cameOff(c, len(strings.Fields(on.Rings))))
	}
	if on.Knife != c.Need.On.Knife {
		out = append(out, knifeThickness(c, "Knife behind it, its thickness", knife))
	}
	b, _ := c.Profile.BladeByID(blade)
	example := teethAnd(c, b, rings)
	out = append(out, field{Key: "on", Label: "Teeth, the top ones toward you; rings on", Hint: "such as " + example, Kind: procedure.FieldText}.With(func(text string) error {
		return teethAndRings(c, text, b, rings)
	}))
	if len(form.Twins(c, b)) > 0 {
		out = append(out, field{Key: "name", Label: "Name that is written on it", Hint: fmt.Sprintf("read it off the blade: more than one has %d teeth", b.Teeth), Kind: procedure.FieldText}.With(func(text string) error {
			if !strings.EqualFold(text, b.Name()) {
				return fmt.Errorf("the %s belongs on: is that what is written on this blade?", b.Name())
			}
			return nil
		}))
	}
	return out
}

// teethAnd is how teeth and rings are typed: 80 0.20, or as a card has it 48 0.
func teethAnd(c context, b model.Blade, rings []string) string {
	behind := "0"
	if len(rings) > 0 {
		behind = c.RingsTyped(rings)
	}
	return strconv.Itoa(b.Teeth) + " " + behind
}

// teethAndRings holds what is on against what belongs on.
func teethAndRings(c context, text string, b model.Blade, rings []string) error {
	teeth, behind, _ := strings.Cut(strings.TrimSpace(text), " ")
	n, err := strconv.Atoi(teeth)
	switch {
	case err != nil:
		return fmt.Errorf("%q are no teeth: type how many you count, then the rings that are on, or 0", model.Clip(teeth))
	case n != b.Teeth:
		return fmt.Errorf("%d teeth are not those of the %s: mount the right blade", n, b.Name())
	case strings.TrimSpace(behind) == "":
		return errors.New("rings are missing: type them behind the teeth, flange first, or 0")
	}
	on, err := c.Profile.ParseStack(behind)
	if err == nil && !slices.Equal(on, rings) {
		return fmt.Errorf("%s is not what goes on: put on %s", c.Rings(on), c.Rings(rings))
	}
	return err
}

// knifeThickness asks for the thickness of the knife that belongs here.
func knifeThickness(c context, label string, k model.Knife) field {
	f := field{Key: "knife", Label: label, Hint: "such as " + c.Size(k.Thickness.Length), Kind: procedure.FieldLength, Unit: c.Unit()}
	return f.With(func(text string) error {
		m, err := model.ParseLength(text, c.Unit())
		if err == nil {
			err = called(c, m, k)
		}
		return err
	})
}

// called refuses the thickness of another knife than the one that belongs here.
func called(c context, m model.Measure, k model.Knife) error {
	if is, ok := c.Profile.KnifeCalled(m); !ok || is.ID != k.ID {
		return fmt.Errorf("%s is not the knife of %s that belongs here", m, k.Label())
	}
	return nil
}

func mount(t *taking, h interlock.Hands) {
	blade, rings, knife := wanted(t.Context)
	if knifeAlone(t.Context) {
		form.Asked(t, "knife", barred(t.Context))
		t.Keep(knifeTyped, knife.ID)
		t.Does(interlock.Mounted(h, t.Need.On)) // the line, seen next, tells of the knife
		return
	}
	form.Asked(t, "on", barred(t.Context))
	if t.Typed("was") {
		tookOff(t)
	}
	if t.Typed("knife") {
		t.Keep(knifeTyped, knife.ID)
	}
	t.Record(record{Kind: model.Mount, Blade: blade, Rings: rings, Knife: knife.ID})
	t.Does(interlock.Mounted(h, t.Need.On))
}
