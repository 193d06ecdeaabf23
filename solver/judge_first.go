package solver

import (
	"math"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// predictedRow is the row of a blade whose strips say nothing yet: the stack that goes on
// before the first one, or, where one was ripped already, that.
func (j *judging) predictedRow(row *model.BladeRow, f finding, c *evidence.Course) {
	flange, tolerance := j.profile.Saw.Flange, j.profile.Tolerance
	row.Offset, row.Expanded, row.Want = f.offset.Value, f.offset.U, f.need.Height+j.standing
	if c != nil {
		row.Stack = append(row.Stack, j.rings[c.Outfit]...)
		row.Strips, row.Further = len(c.Strips), []model.StripFor{model.ForBlade}
		row.Height, _ = j.profile.StackHeight(row.Stack)
		row.Residual = stacking.Residual(flange, row.Height, row.Want)
		if j.glance(row, f, c) {
			return
		}
		j.placeKnife(row, f, -row.Residual)
		sayRow(row, "one-more-strip", model.Explains, "%d %s so far: a verdict needs %d of the blade and %d of the reference under one fence lock", len(c.Strips), metrology.Plural(len(c.Strips), "strip of it counts", "strips of it count"), evidence.EnoughBladeStrips, evidence.EnoughDatumStrips)
		return
	}
	fit, err := j.kit.Surest(f.need.Goal(j.standing, flange), f.need.Doubt, f.need.Judged(j.plan.Standing))
	if err != nil {
		sayRow(row, "stack-refused", model.Warns, "no stack was looked for: %v", err)
		return
	}
	if tolerance.Unit != model.NoUnit && f.offset.U >= tolerance.Length {
		sayRow(row, "uncertainty-too-large", model.Warns, "the uncertainty of %s leaves nothing of the tolerance of %s: read runout at the rim, take more readings, or widen the tolerance", j.words.Result(f.offset.U), j.words.Result(tolerance.Length))
	}
	row.Stack, row.Height, row.Residual = fit.IDs(), fit.Height, fit.Residual()
	j.placeKnife(row, f, -row.Residual)
	switch {
	case row.Knife != model.KnifeFits: // it must not run: what to do about its knife is said
		row.Verdict = fit.Verdict
	case fit.Verdict == model.Cannot:
		row.Verdict = model.Cannot
		j.cannotRow(row, f, fit)
	case tolerance.Unit != model.NoUnit:
		u, err := f.offset.WithRings(j.profile, row.Stack, j.plan.Standing)
		if err != nil {
			sayRow(row, "rings-unreadable", model.Warns, "%v", err)
			break
		}
		verdict, why := metrology.Guard(row.Residual, u, tolerance.Length, j.words)
		row.Verdict, row.Reasons = verdict, append(row.Reasons, why...)
		j.measureFirst(row)
	}
	j.feltRow(row, f)
}

// measureFirst asks to measure nominal rings where the tolerance is small.
func (j *judging) measureFirst(row *model.BladeRow) {
	if j.profile.Tolerance.Length >= evidence.MeasureFirst {
		return
	}
	if rings := j.bench.Nominal(row.Stack); len(rings) > 0 {
		sayRow(row, "measure-rings", model.Warns, "its rings are too little known by their nominal thickness, with a tolerance of %s: measure %s with the micrometer first", j.words.Set(j.profile.Tolerance.Length), j.stackNames(rings))
	}
}

// cannotRow says why no stack fits.
func (j *judging) cannotRow(row *model.BladeRow, f finding, fit stacking.Fit) {
	switch {
	case j.refused:
		sayRow(row, "kit-refused", model.Warns, "no stack was looked for, since the kit was refused")
		return
	case fit.Want < 0 && fit.Highest >= 0:
		j.negativeRow(row, f, fit)
	default:
		row.Reasons = append(row.Reasons, j.kit.Shortfall(fit, j.words)...)
	}
}

// negativeRow says which blade should be the reference, or what standing stack
// the present one needs.
func (j *judging) negativeRow(row *model.BladeRow, f finding, fit stacking.Fit) {
	toward := j.profile.Saw.Flange.RingsMove()
	other := ""
	if j.farthest != j.reference.blade.ID {
		other = "make the " + j.profile.BladeName(j.farthest) + " the reference, or "
	}
	sayRow(row, "negative-want", model.Warns, "the wanted stack is %s: without rings it cuts %s further %s than the datum face, and rings only move it further that way; %sput a standing stack behind the %s that is at least %s higher (now %s)",
		j.words.Figure(fit.Want), j.words.Figure(-fit.Want), toward, other, j.reference.blade.Name(), j.words.Figure(-fit.Want), j.words.Figure(j.standing))
}

// glance looks at a first strip before there are enough for a verdict: where it leaves the
// knife outside its kerf, no second one is ripped with that stack.
func (j *judging) glance(row *model.BladeRow, f finding, c *evidence.Course) bool {
	d, ok := j.ledger.Glance(c)
	offset := metrology.Rounded(d.Value)
	if !ok || !j.cutOutside(f, row, offset) {
		return false
	}
	row.Basis, row.Offset, row.Residual, row.Datum = model.Measured, offset, -offset, int(math.Round(d.Datum))
	row.Expanded = evidence.TwoStrips(j.ledger.Spread(), j.profile.Instruments.Caliper.Length)
	row.Want = stacking.Want(j.profile.Saw.Flange, row.Height, offset)
	row.Verdict, row.OutKnife, row.Further, row.Left = model.Out, true, nil, 0
	row.Goes = len(j.goes(f, row))
	j.placeKnife(row, f, offset)
	j.offPrediction(row, c)
	j.ways(row, f, c)
	return true
}

// offPrediction reports an offset that lies farther from what the bench says than both may
// be off, with what likely causes it on this side. The readings are kept.
func (j *judging) offPrediction(row *model.BladeRow, c *evidence.Course) {
	e, ok := j.bench.Expect(c.Blade, row.Stack, j.datum, j.plan.Standing)
	if !ok {
		return
	}
	gap, most := float64(row.Offset)+e.Mean, float64(row.Expanded)+2*e.Deviation
	if math.Abs(gap) <= most {
		return
	}
	side, carrier := "wider", "blade"
	if gap < 0 {
		side = "narrower"
	}
	if c.Carrier.Blade != "" { // a single strip has none yet
		carrier = j.profile.BladeName(c.Carrier.Blade)
	}
	sayRow(row, "off-prediction", model.Warns, "the part came out %s %s than micrometer and rings say, more than the %s that both may be off: likely %s; under the %s that it was held against, %s; or a misreading",
		j.words.Result(metrology.Rounded(math.Abs(gap))), side, j.words.Result(metrology.Rounded(most)), LikelyCauses(j.profile.Saw.Flange, gap > 0), carrier, LikelyCauses(j.profile.Saw.Flange, gap < 0))
}

// LikelyCauses is what makes a part come out wider, or narrower, than bench readings say.
// What lies under a ring or a blade raises the stack: far it makes the part narrower, near
// wider (job.md, Geometry; the causes are common practice).
func LikelyCauses(flange model.Flange, wider bool) string {
	if wider == (flange == model.Far) {
		return "a ring left off or in the relief, wrong blade"
	}
	return "dust, a burr, a ring too many, wrong blade"
}
