package stages

import (
	"fmt"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// Judge works out what the numbers say of a profile at a moment.
func Judge(p model.Profile, now time.Time) procedure.Plan {
	base, state := solver.Plan(p), model.FoldStrips(p)
	plan := procedure.Plan{Name: base.Name, Reference: base.Reference, Standing: base.Standing, StandingHeight: base.StandingHeight, Reasons: base.Reasons}
	outfit := func(blade string, rings []string) solver.Outfit {
		return solver.Outfit{Blade: blade, Stack: strings.Join(rings, " "), Life: state.Blades[blade].Life}
	}
	var strips []solver.Strip
	newest := map[string][]string{}
	at := map[string]int{}
	for _, s := range state.Strips {
		at[s.Record.Ref()] = s.Index
	}
	for _, s := range state.Strips {
		one := solver.Strip{Index: s.Index, Lock: s.Lock, Mounting: s.Mounting, Outfit: outfit(s.Blade, s.Rings), Widths: model.Lengths(s.Readings), Differences: model.Lengths(s.Differences), Present: s.Present}
		one.For = map[model.StripFor]solver.Purpose{model.Datum: solver.ForDatum, model.ForBlade: solver.ForBlade, model.Closing: solver.ForClosing}[s.For]
		for _, ref := range s.Zeroed {
			one.Zeroed = append(one.Zeroed, at[ref])
		}
		strips = append(strips, one)
		if s.For == model.ForBlade && s.Present && !s.FoundOut {
			newest[s.Blade] = s.Rings
		}
	}
	l := solver.Judge(strips, outfit(p.Reference, p.Standing), p.Tolerance.Length, p.Instruments.Caliper.Length)
	for _, b := range base.Blades {
		r := model.StripRow{ID: b.ID, Basis: b.Basis, Offset: b.Offset, Expanded: b.Expanded, Want: b.Want, Stack: b.Stack, Height: b.Height, Residual: b.Residual,
			Verdict: b.Verdict, State: model.StateNotReady, Knife: b.Knife, Play: b.Play, Inside: b.Knife == model.KnifeFits, CutFace: b.CutFace, Reasons: b.Reasons}
		blade, _ := p.BladeByID(b.ID)
		knife := state.Knives[blade.Knife]
		rings, cut := newest[b.ID]
		if c := l.Course(outfit(b.ID, rings)); cut && c != nil && c.Looks > 0 {
			r.Basis, r.Stack, r.Offset, r.Expanded, r.Residual, r.Verdict, r.UsedUp = model.Measured, rings, c.Value, c.U, -c.Value, c.Verdict, c.UsedUp()
			r.Strips, r.Reasons = len(c.Strips), nil
			further, _ := l.Settle(c)
			for _, f := range further {
				r.Further = append(r.Further, map[solver.Purpose]model.StripFor{solver.ForDatum: model.Datum, solver.ForBlade: model.ForBlade}[f])
			}
			proof := state.Strips[len(state.Strips)-1].Record
			for _, s := range state.Strips {
				if s.Blade == b.ID {
					proof = s.Record
				}
			}
			r.Proved, r.ProvedAt = proof, proof.At
			round, _ := l.Round(proof.Lock, c.At)
			switch {
			case r.Verdict != model.In:
			case round == solver.RoundOpen:
				r.State = model.StateNotClosed
			case round == solver.RoundBroken || knife.Unknown:
				r.State = model.StateCheck
			default:
				r.State = model.StateReady
			}
			if r.Verdict == model.Out || r.UsedUp {
				r.Ways = []model.Way{{Kind: model.WayRead, Text: "read: the strips are read once more; nothing is cut"},
					{Kind: model.WayClean, Text: "clean: off it comes, look for what lies there; the same rings again, two new strips"}}
			}
		}
		if b.ID == base.Reference && state.Scaled != nil && !knife.Unknown {
			r.State = model.StateReady
		}
		if p.ProveEvery > 0 && !r.ProvedAt.IsZero() {
			if r.Due = r.ProvedAt.AddDate(0, 0, p.ProveEvery); r.State == model.StateReady && now.After(r.Due) {
				r.State = model.StateDue
			}
		}
		plan.Blades = append(plan.Blades, r)
	}
	if spell, locked := state.Locks[state.Lock]; locked && spell.Ended < 0 {
		blades := map[string]bool{}
		last := -1
		for _, s := range strips {
			if s.Lock == state.Lock {
				switch s.For {
				case solver.ForDatum:
					plan.Lock.Datum++
				case solver.ForBlade:
					blades[s.Blade], last = true, s.Index
				}
			}
		}
		plan.Lock.Wanted, plan.Lock.Round = max(0, datumStrips-plan.Lock.Datum), len(blades)
		if round, c := l.Round(state.Lock, last); len(blades) > 1 {
			if round == solver.RoundOpen {
				plan.Lock.Closing = 1
			}
			plan.Lock.Broken = round == solver.RoundBroken
			if c.Strips > 0 {
				held := "the lock held"
				if plan.Lock.Broken {
					held = "the lock did not hold: no blade of this round is ready; look at fence, tilt and flange"
				}
				plan.Lock.Reasons = []reason{{Code: "closing", Text: fmt.Sprintf("the closing strip differs by %s, plus or minus %s: %s", c.Value.Abs().Show(p.Units, p.Instruments.Caliper.Length/10), c.U.Show(p.Units, p.Instruments.Caliper.Length/10), held)}}
			}
		}
	}
	return plan
}
