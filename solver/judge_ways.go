package solver

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/metrology"
)

// ways lists what can be done about a stack that is out, or that no strip settles any more,
// each with its cost. Where the stack was cleaned and nothing was found, and no other is
// advised, the kit cannot bring the blade in.
func (j *judging) ways(row *model.BladeRow, f finding, c *evidence.Course) {
	add := func(w model.Way, format string, a ...any) {
		w.Text = fmt.Sprintf(format, a...)
		row.Ways = append(row.Ways, w)
	}
	foundOut := slices.ContainsFunc(j.strips[c.Outfit], func(s model.Strip) bool { return s.FoundOut })
	knife := ""
	if row.OutKnife {
		knife = "; the knife check comes before power"
	}
	strips := times(evidence.EnoughBladeStrips, "new strip", "new strips")
	if row.Verdict == model.Out && !foundOut && !row.Feel {
		add(model.Way{Kind: model.WayRead}, "read the strips once more: nothing is ripped, nothing comes off")
		add(model.Way{Kind: model.WayClean, Swaps: 1, Strips: evidence.EnoughBladeStrips}, "take it off, look for what lies under rings and blade, clean, and put the same rings on: off and on once, %s%s", strips, knife)
	}
	if f.blade.ID == j.reference.blade.ID { // sharpened, and the datum stayed
		add(model.Way{Kind: model.WayDatum}, "choose another reference: the datum moves to it, and every blade is compared anew; until then others are compared with a blade that is ready and stands in, as long as there is one")
	}
	asked, ok := j.asked(row, f, c)
	if !ok {
		return
	}
	next := j.learnt().Another(asked)
	go_ := fmt.Sprintf("it would be stack %d of %d", len(asked.Cut)+1, evidence.MostGoes)
	switch {
	case next.Advised:
		add(model.Way{Kind: model.WayStack, Stack: next.Stack, Swaps: 1, Strips: evidence.EnoughBladeStrips, Expect: metrology.Rounded(next.Expect.Mean), Chance: next.Chance},
			"put on %s: it is expected to cut %s, with a chance of %s to be in; off and on once, %s, %s%s", j.stackNames(next.Stack), side(-metrology.Rounded(next.Expect.Mean), j.words), percent(next.Chance), strips, go_, knife)
		return
	case next.Found && len(asked.Cut) < evidence.MostGoes:
		add(model.Way{Kind: model.WayOwn, Stack: next.Stack, Swaps: 1, Strips: evidence.EnoughBladeStrips, Expect: metrology.Rounded(next.Expect.Mean), Chance: next.Chance},
			"nothing speaks for other rings; likeliest are %s, with a chance of %s to be in: off and on once, %s, %s", j.stackNames(next.Stack), percent(next.Chance), strips, go_)
	}
	switch next.Cure {
	case model.WayRing:
		if row.Want < 0 {
			add(model.Way{Kind: model.WayDatum}, "no ring brings it in: even without one it would lie %s too far %s; look what lies under it, or put a standing stack behind the %s", j.words.Figure(-row.Want), j.profile.Saw.Flange.RingsMove(), j.profile.BladeName(j.profile.Reference))
			break
		}
		add(model.Way{Kind: next.Cure}, "get another ring: what the kit makes lies too far from the %s that is wanted", j.words.Figure(row.Want))
	case model.WayMeasure:
		add(model.Way{Kind: next.Cure, Rings: next.Rings}, "measure %s with the micrometer: that helps most to find better rings", j.stackNames(next.Rings))
	case model.WayHistory:
		add(model.Way{Kind: next.Cure}, "compare other blades first: more strips on file of how rips repeat here make the uncertainty smaller")
	case model.WayCaliper:
		add(model.Way{Kind: next.Cure}, "read with a finer caliper: its steps are most of what is uncertain")
	case model.WayLook:
		add(model.Way{Kind: next.Cure}, "clean arbor, flange and rings, and look for a burr: what mounting again does here is most of what is uncertain")
	}
	if len(asked.Cut) >= evidence.MostGoes {
		add(model.Way{Kind: model.WayLook}, "%d stacks of it were cut, and another go is not advised: too many make it look in by chance. Clean arbor, flange and rings, have the blade looked at (runout, plate, set of its teeth), or leave it not ready", len(asked.Cut))
	}
	if row.Verdict == model.Out && foundOut {
		row.Verdict = model.Cannot
		sayRow(row, "cannot", model.Warns, "cleaned, and nothing was found; no stack of this kit promises enough to be put on: %s", row.Ways[len(row.Ways)-1].Text)
	}
	j.fallback(row)
}

// learnt is what is known of blades and rings by now.
func (j *judging) learnt() *evidence.Taught {
	if j.taught != nil {
		return j.taught
	}
	return j.bench
}

// asked is what another stack of a blade is looked for with; false without a tolerance, and of the
// reference, which keeps its own.
func (j *judging) asked(row *model.BladeRow, f finding, c *evidence.Course) (evidence.Asked, bool) {
	if j.profile.Tolerance.Unit == model.NoUnit || f.blade.ID == j.reference.blade.ID {
		return evidence.Asked{}, false
	}
	spread, q := j.ledger.Spread(), j.profile.Instruments.Caliper.Length
	if last := c.Spread.Taken(); last.Variance > spread.Variance { // a day that repeats worse is not over with other rings
		spread.Variance = last.Variance
	}
	gap, proud := j.knifeStands(f.blade.Knife)
	return evidence.Asked{
		Blade: f.blade.ID, Reference: j.datum, Standing: j.plan.Standing, Tolerance: j.profile.Tolerance.Length,
		Limit: KnifeLimit(row.Play, gap, proud), Highest: f.need.Highest,
		U: j.ledger.FirstLook(j.told.Lock, spread), Cut: j.goes(f, row), Spread: spread, Step: q,
	}, true
}

// fallback is the fence setting that makes the working width with the stack as it was cut,
// where the knife stands inside its kerf.
func (j *judging) fallback(row *model.BladeRow) {
	width := j.profile.WorkingWidth
	if !row.Inside || width.Unit == model.NoUnit {
		return
	}
	row.Fallback = ScaleSetting(width.Length+row.Residual, j.profile.Units).Of(width.Unit)
	sayRow(row, "fallback", model.Warns, "NOT READY: until then, with %s on, set the fence scale to %s for a part of %s", j.stackNames(row.Stack), row.Fallback.Length.Show(j.profile.Units, scaleStep(j.profile.Units)), width)
}

// scaleStep is what a fence scale shows: 0.1 mm, or 0.005 in (common practice: a hairline
// between the lines of the scale).
func scaleStep(u model.Unit) model.Length {
	if u == model.IN {
		return 5 * model.Thou
	}
	return model.Millimetre / 10
}

func percent(chance float64) string {
	switch {
	case chance < 0.005:
		return "less than 1 %"
	case chance > 0.995:
		return "more than 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*chance)
}

func times(n int, one, many string) string {
	return fmt.Sprintf("%d %s", n, metrology.Plural(n, one, many))
}

// whichMoved tells which blade of a pair that does not agree has moved, where a pair of the other one and a
// third blade was decided since, or did not agree either; else how that is found out. here is whether it is the blade itself.
func (j *judging) whichMoved(p *evidence.Proofing) (text string, here bool) {
	other, newest, third := p.Carrier.Blade, (*evidence.Proofing)(nil), ""
	for _, c := range j.ledger.Order {
		for _, q := range c.Proofs {
			with := q.Carrier.Blade
			if with == other {
				with = q.Blade
			} else if q.Blade != other {
				continue
			}
			since := q.At > p.At || q == c.Overturned() // or it was before, and stands
			if with != p.Blade && q.Verdict != model.Doubtful && since && (newest == nil || q.At > newest.At) {
				newest, third = q, with
			}
		}
	}
	name := j.profile.BladeName(other)
	switch {
	case newest == nil:
		return fmt.Sprintf("it or the %s has moved; prove it once more, and a pair with a third ready blade tells which", name), false
	case newest.Verdict == model.In:
		return fmt.Sprintf("it has moved, since the %s agreed with the %s after that; prove it once more: out again, it is brought in anew", name, j.profile.BladeName(third)), true
	}
	return fmt.Sprintf("the %s has moved rather, since it did not agree with the %s either; clean what it sits on, then prove both once more", name, j.profile.BladeName(third)), false
}
