package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// What is done with blades that something bought, lost or ground concerns: this run brings them in,
// or they are left for later.
const (
	thenNow   = "now"
	thenLater = "later"
)

// thenField asks it.
func thenField(offered string) field {
	return form.Choice("then", "Bring it in", offered, thenNow, thenLater)
}

// thenOrder says what either costs of the one blade at hand.
func thenOrder(c context) string {
	return fmt.Sprintf("Then now: compared, %s. Or later: it stays not ready.", comparingCost(c, 1))
}

// putThen puts on record what was chosen for some blades. Those left for later have a note that tells the
// other shift why; the others are taken up, where they had been left before.
func putThen(t *taking, why string, blades ...string) {
	later := t.Choice("then") == thenLater
	for _, id := range blades {
		switch b := t.State.Blades[id]; {
		case later:
			t.Record(record{Kind: model.Note, About: model.AboutLeft, Blade: id, Text: why + "; left for later"})
		case b.LeftNow:
			t.Record(record{Kind: model.Void, Of: b.Left.Ref(), Why: model.Again})
		}
	}
	if t.Options.Mode != procedure.Setup && !isAbout(t, blades) && !later {
		t.Say("then-setup", model.Explains, "This run compares nothing of it: sawdatum setup leads there.")
	}
}

// isAbout reports whether the run is about the blade, and brings that in.
func isAbout(t *taking, blades []string) bool {
	return t.Options.Mode == procedure.OneBlade && slices.Equal(blades, []string{t.Options.Blade})
}

// takeUp has thenRow ask it of blades that can be brought in now. Before anything was ripped at this
// saw all of them are compared anyway, and so is the blade that a run is about.
func takeUp(t *taking, blades ...string) {
	if len(blades) > 0 && len(t.State.Strips) > 0 && !isAbout(t, blades) {
		t.Begin(&thenRow, strings.Join(blades, " "))
	}
}

// thenRow asks it of blades that can be brought in now. Its context's Blade lists them, with
// blanks between.
var thenRow = row{
	Name: "then", Stage: 4, When: never,
	Title: form.Said("Bring it in now, or later?"),
	Act: procedure.Paper{
		Says: func(c context) []string {
			blades := strings.Fields(c.Blade)
			out := []string{
				fmt.Sprintf("It can be brought in now: %s.", few(c, blades)),
				fmt.Sprintf("now: %s.", takingUp(c, blades, knifeUnset(c, blades...))),
			}
			if n := ofOtherKnives(c, blades); n > 0 {
				out = append(out, fmt.Sprintf("Their knife comes out for it, and the next swap checks it: %s.", some(n, "blade")))
			}
			return append(out, "later: no strip, no swap; not ready, and a note tells the other shift.")
		},
		Accept: func(t *taking) { putThen(t, "what it waited for is there", strings.Fields(t.Blade)...) },
	},
	Why:    form.Lines("Nothing is cut before this is answered."),
	Fields: form.Fields(thenField("")),
}

// ofOtherKnives counts the blades in use whose knife comes out for that of some blades.
func ofOtherKnives(c context, blades []string) (n int) {
	for _, b := range c.Plan.Blades {
		if b.Usable() && !slices.ContainsFunc(blades, func(id string) bool { return knifeNamedBy(c, id) == knifeNamedBy(c, b.ID) }) {
			n++
		}
	}
	return n
}

// named are blades as people call them, and few the first of them in one line.
func named(c context, ids []string) (names []string) {
	for _, id := range ids {
		names = append(names, c.Name(id))
	}
	return names
}

func few(c context, ids []string) string {
	names := named(c, ids)
	if len(names) > 2 {
		names = append(names[:2], fmt.Sprintf("%d more", len(ids)-2))
	}
	return strings.Join(names, ", ")
}

// takingUp is what it takes to bring blades in: their knife to be set first, where that is wanted, and
// those to be compared that are not in by their own strips.
func takingUp(c context, blades []string, knife bool) string {
	compared := 0
	for _, id := range blades {
		if !in(c, id) {
			compared++
		}
	}
	switch {
	case knife && compared == 0:
		return "gauge board and knife; no blade is compared again"
	case knife:
		return fmt.Sprintf("gauge board, knife, and %s", comparingCost(c, compared))
	case compared == 0:
		return "no strip, no swap; no blade is compared again"
	}
	return comparingCost(c, compared).String()
}

// in reports whether a blade is in by its own strips.
func in(c context, blade string) bool {
	row, _ := c.Plan.Row(blade)
	return row.Basis == model.Measured && row.Verdict == model.In
}

// knifeUnset reports whether the knife of one of some blades was never set.
func knifeUnset(c context, blades ...string) bool {
	return slices.ContainsFunc(blades, func(id string) bool { return c.State.Knives[knifeNamedBy(c, id)].Set == nil })
}

// ringGoesRow takes rings out of the kit that blades in use need, and asks what becomes of these. Its
// context's Blade has the ring and how many of it are gone, as "r10 2".
var ringGoesRow = row{
	Name: "ring-goes", Stage: 4, When: never,
	Title: func(c context) string {
		id, n := ringsGone(c)
		ring, _ := c.Profile.RingByID(id)
		if n == 1 {
			return "A ring of " + ring.Label() + " is gone"
		}
		return fmt.Sprintf("%d rings of %s are gone", n, ring.Label())
	},
	Act: procedure.Paper{
		Says: func(c context) []string {
			id, n := ringsGone(c)
			ring, _ := c.Profile.RingByID(id)
			hit, others := missing(c, id, n)
			return []string{
				fmt.Sprintf("NOT READY without it: %s.", few(c, hit)),
				fmt.Sprintf("now: other rings for %s: %s.", few(c, others), comparingCost(c, len(others))),
				fmt.Sprintf("later: in the box until one of %s is bought: no strip, no swap.", ring.Label()),
			}
		},
		Accept: func(t *taking) {
			id, n := ringsGone(t.Context)
			ring, _ := t.Profile.RingByID(id)
			hit, _ := missing(t.Context, id, n)
			loseRing(t, id, n)
			putThen(t, "waits for a ring of "+ring.Label(), hit...)
		},
	},
	Why:    form.Lines("Nothing is cut before this is answered."),
	Fields: form.Fields(thenField("")),
	Picture: func(c context, _ answers) procedure.Picture {
		id, n := ringsGone(c)
		return movedBlades(c, ringLess(c, id, n))
	},
}

// ringsGone is the ring that is said to be gone, and how many of it.
func ringsGone(c context) (id string, n int) {
	id, count, _ := strings.Cut(c.Blade, " ")
	n, _ = strconv.Atoi(count)
	return id, n
}
