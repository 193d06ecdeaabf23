package procedure_test

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// knownIsTrue holds what a run counts as known, and what the records are read to say,
// against the saw: the later places build on it.
func knownIsTrue(_ world, p procedure.Procedure, s *saw, here procedure.Place) (string, string) {
	known, state, datum := p.Known(), p.State(), s.datum(p.Profile())
	if gate := here.Step; (gate == "isolate" || gate == "power") && s.word != "" {
		for _, f := range p.View().Fields {
			if f.Key == "word" && f.Word == s.word {
				return "R1", "the gate " + gate + " asks for the word that was typed at the gate before"
			}
		}
	}
	if known.Held && !s.out {
		return "R1", "hands count as out of the saw, and nobody has said so"
	}
	if on := state.Mounted; on != nil && known.Seen {
		if rings := strings.Join(on.Rings, " "); on.Blade != s.blade || rings != s.rings {
			return "R2", fmt.Sprintf("the %s with rings %q counts as seen on the arbor, and %q with %q is there", on.Blade, rings, s.blade, s.rings)
		}
	}
	if p.FenceKnown() && fenceOf(p, s) != s.fence {
		return "R3", "the fence counts as untouched, and stands elsewhere"
	}
	if on := p.Profile().Reference; (here.Step == "rim" || here.Step == "align") && s.said != on {
		return "R5", fmt.Sprintf("the datum's runout and angle are read at the %s, and the %s was mounted last", on, s.said)
	}
	if b := state.Boards; b != nil && p.FenceKnown() && (s.board != board{s.fence, datum}) {
		return "R5", "a gauge board counts that was not ripped at the present datum and fence"
	}
	if k := state.Knife; k != nil && state.Aligned && (k.Knife != s.knife || s.squared != datum) {
		return "R5", "the knife counts as squared to the present datum, and is not"
	}
	if p := p.Profile(); state.Seated != nil && !slices.ContainsFunc(s.made, func(f fact) bool {
		return f.kind == model.Mount && f.genuine && !f.voided && f.datum == datum && f.blade == p.Reference && f.rings == strings.Join(p.Standing, " ")
	}) {
		return "R5", "the reference counts as mounted with the present datum, and was not"
	}
	if state.Scaled != nil && !slices.ContainsFunc(s.made, func(f fact) bool {
		return f.kind == model.Scale && f.genuine && !f.voided && f.datum == datum
	}) {
		return "R5", "the fence scale counts as verified with the present datum, and was not"
	}
	return "", ""
}
