package stages

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// withProof is whether a proof is made of a swap that offers one.
var withProof = procedure.Fact{Name: "with a proof", Lasts: true}

// What is typed where a proof is offered.
const (
	forProof  = "prove"
	noProof   = "swap"
	leftAlone = "leave"
)

// offerRow offers a proof where it would renew a blade that is due, or make one ready that is to be
// checked: with one answer, before anything is done at the saw.
var offerRow = row{
	Name: "offer", Stage: 10, Title: func(c context) string { return "Prove it with the swap to the " + c.Name(c.Options.Blade) + "?" },
	When: func(c context) bool { // not in the midst of the swap, where a blade becomes due
		return c.Options.Offers && !c.Options.Proves && len(c.Now()) == 0 && len(owing(c)) > 0
	},
	Done: func(c context) bool { return c.Fact(withProof) != "" },
	Act: procedure.Paper{
		Says: func(c context) []string {
			var out []string
			for _, row := range owing(c) {
				out = append(out, owes(c, row))
			}
			n, of := pairStrips(c), "it"
			if owing(c)[0].ID != c.Options.Blade {
				of = "the " + c.Name(c.Options.Blade)
			}
			out = append(out, fmt.Sprintf("A proof: %d %s each, of %s and of the %s.", n, metrology.Plural(n, "strip", "strips"), of, c.Name(partner(c))))
			if barredFromUse(c.For(c.Options.Blade)) {
				return append(out, "Where they agree it is ready: type prove. Else it stays off: type leave.")
			}
			return append(out, "Type prove; or type swap: work goes on without a proof.")
		},
		Accept: func(t *taking) {
			t.Keep(withProof, t.Choice("proof"))
			if t.Choice("proof") == leftAlone {
				t.Finish()
			}
		},
	},
	Fields: func(c context) []field {
		without := noProof
		if barredFromUse(c.For(c.Options.Blade)) {
			without = leftAlone
		}
		return []field{form.Choice("proof", "With a proof", "", forProof, without)}
	},
}

// owing are the blades of the pair that it would renew, or make ready: the one that is wanted, and
// the one that is on the saw. None where the pair cannot be ripped.
func owing(c context) (out []model.BladeRow) {
	if pair(c) == nil {
		return nil
	}
	both := []string{c.Options.Blade, partner(c)}
	for _, id := range both {
		if !mayRip(c, id) {
			return nil
		}
	}
	for _, id := range both {
		row, _ := c.Plan.Row(id)
		due := row.State == model.StateDue || row.KnifeOnly && !row.Due.IsZero() && c.At.After(row.Due) // once its knife is checked
		if (id == both[0] || id == c.State.On.Blade) && (due || toCheck(row)) {
			out = append(out, row)
		}
	}
	return out
}

// toCheck reports whether a blade is to be checked by strips.
func toCheck(row model.BladeRow) bool { return row.State == model.StateCheck && !row.KnifeOnly }

// owes says why a blade wants a proof.
func owes(c context, row model.BladeRow) string {
	if toCheck(row) {
		why, _, _ := strings.Cut(row.Against()[0].Text, ": ") // what is to be done for it, a proof does
		return fmt.Sprintf("The %s is to be checked: %s.", c.Name(row.ID), why)
	}
	days := int(c.At.Sub(row.Due).Hours() / 24)
	return fmt.Sprintf("The %s is DUE for %d %s.", c.Name(row.ID), days, metrology.Plural(days, "day", "days"))
}
