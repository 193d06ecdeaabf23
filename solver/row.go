package solver

import (
	"slices"

	"example.com/sawdatum/model"
)

// row is what the plan says of one blade.
func (s *sheet) row(f finding) model.BladePlan {
	row := model.BladePlan{ID: f.blade.ID, Basis: model.Predicted, Stack: []string{}, Verdict: model.Doubtful, Reasons: f.reasons}
	if f.known && s.flangeKnown() {
		row.CutFace = f.thickness.CutFace(s.profile.Saw.Flange, 0)
	}
	s.fitKnife(&row, f)
	switch {
	case s.reference == nil || !s.flangeKnown():
	case f.blade.ID == s.reference.blade.ID:
		s.fillReference(&row, f)
	case !f.compared && f.known:
		say(&row, "not-compared", model.Warns, "plate and kerf of the reference, the %s, have not been read, so nothing is predicted", s.reference.blade.Name())
	case !f.compared:
	default:
		row.Offset, row.Expanded = f.offset.Value, f.offset.U
		s.fillStack(&row, f)
	}
	s.swap(&row, f)
	return row
}

func say(row *model.BladePlan, code string, weight model.Weight, format string, a ...any) {
	row.Reasons = append(row.Reasons, one(code, weight, format, a...)...)
}

// fitKnife holds the knife that the blade names against its window.
func (s *sheet) fitKnife(row *model.BladePlan, f finding) {
	row.Knife = model.KnifeNone
	knife, ok := s.profile.KnifeByID(f.blade.Knife)
	switch {
	case f.blade.Knife == "":
		say(row, "knife-none", model.Danger, "the blade names no riving knife: it must not run without one; say which knife goes with it")
	case !ok:
		say(row, "knife-none", model.Danger, "its riving knife %s is not among the shop's knives: say which knife goes with it", f.blade.Knife)
	case f.known:
		var reasons []model.Reason
		row.Knife, row.Play, reasons = KnifeWindow(f.thickness.Plate, f.thickness.Kerf, knife.Thickness.Length, s.profile.Margin(), s.words)
		row.Reasons = append(row.Reasons, reasons...)
	}
}

// fillReference is the row of the blade that defines the datum.
func (s *sheet) fillReference(row *model.BladePlan, f finding) {
	row.Want, row.Height, row.Verdict = s.standing, s.standing, model.In
	row.Stack = append(row.Stack, s.out.Standing...)
	if s.standing > f.need.Highest {
		row.Verdict = model.Cannot
	}
	row.Proved = s.referenceCut()
	if row.Proved == nil {
		say(row, "needs-reference-cut", model.Explains, "the reference has not been cut with the present datum")
	} else {
		row.Basis = model.Measured
	}
	if s.state.Aligned {
		s.place(row, f)
	}
	s.judgeReady(row, f, row.Outside == 0 && (row.Proved != nil || model.Dropped("ready-reference-cut")) && row.Verdict == model.In)
}

// referenceCut is the newest reference cut of the present datum.
func (s *sheet) referenceCut() *model.Record {
	for i := len(s.profile.Records) - 1; i >= 0; i-- {
		r := &s.profile.Records[i]
		if r.Kind == model.ReferenceCut && s.state.ReferencePieces(r.Lock)[r.Piece] && r.Blade == s.profile.Reference && slices.Equal(r.Rings, s.profile.Standing) {
			return r
		}
	}
	return nil
}

// fillStack gives a compared blade its stack and verdict.
func (s *sheet) fillStack(row *model.BladePlan, f finding) {
	flange, tolerance := s.profile.Saw.Flange, s.profile.Tolerance
	fit, err := s.kit.Surest(f.need.goal(s.standing, flange), f.need.Doubt, f.need.judged(s.out.Standing))
	row.Want = f.need.Height + s.standing
	if err != nil {
		say(row, "stack-refused", model.Warns, "no stack was looked for: %v", err)
		return
	}
	if tolerance.Unit != model.NoUnit && f.offset.U >= tolerance.Length {
		say(row, "uncertainty-too-large", model.Warns, "the uncertainty of %s leaves nothing of the tolerance of %s: more readings, a finer instrument or a wider tolerance is needed", s.words.result(f.offset.U), s.words.result(tolerance.Length))
	}
	if f.cut != nil && !s.changesStack(row, f, fit) {
		s.judgeReady(row, f, row.Verdict == model.In)
		return
	}
	if on := row.Stack; f.cut == nil || !slices.Equal(on, fit.IDs()) {
		row.Stack, row.Height, row.Residual = fit.IDs(), fit.Height, fit.Residual()
		s.place(row, f)
	}
	switch {
	case fit.Verdict == model.Cannot:
		row.Verdict, row.More = model.Cannot, 0
		s.explainCannot(row, f, fit)
	case row.Outside != 0 && f.cut == nil:
		row.Verdict = model.Cannot
	case row.Outside != 0: // as it was found to be
	case f.cut != nil:
		say(row, "needs-proof", model.Warns, "it needs a proof cut: put on %s and cut again; a residual of %s is expected then", s.words.stack(fit.Rings), s.words.signed(row.Residual))
	case tolerance.Unit != model.NoUnit:
		u, err := f.offset.WithRings(s.profile, row.Stack, s.out.Standing)
		if err != nil {
			say(row, "rings-unreadable", model.Warns, "%v", err)
			break
		}
		a := Guard(row.Residual, u, tolerance.Length, s.words)
		row.Verdict = a.Verdict
		row.Reasons = append(row.Reasons, a.Reasons...)
	}
	if f.cut == nil {
		s.explainUncut(row, f)
	}
	s.judgeReady(row, f, false)
}

// changesStack judges the last cut and reports whether the stack has to change.
// Where it does not, or more readings of the same cut come first, the rings that
// were on stay.
func (s *sheet) changesStack(row *model.BladePlan, f finding, fit Fit) bool {
	row.Basis = model.Measured
	row.Stack, row.Height = append(row.Stack, f.cut.Rings...), f.on
	row.Residual = -f.offset.Value
	if s.profile.Tolerance.Unit == model.NoUnit {
		return false
	}
	a := Assess(f.offset, row.Residual, s.profile.Tolerance.Length, s.words)
	row.Verdict, row.More, row.MoreHalf = a.Verdict, a.More, a.MoreReference
	row.Reasons = append(row.Reasons, a.Reasons...)
	if s.place(row, f); row.Outside != 0 {
		row.WasOut = row.Outside
		row.Verdict, row.More, row.MoreHalf = model.Out, 0, 0
	}
	if f.on > f.need.Highest {
		row.Verdict, row.More = model.Out, 0
		return true
	}
	if row.Verdict == model.In {
		row.Proved = f.cut.Record
	}
	return row.Verdict == model.Out || row.Verdict == model.Doubtful && row.More < 0 && f.offset.U < s.profile.Tolerance.Length
}

// explainCannot says what is missing, and how to work today all the same.
func (s *sheet) explainCannot(row *model.BladePlan, f finding, fit Fit) {
	switch {
	case s.refused:
		say(row, "kit-refused", model.Warns, "no stack was looked for, since the kit was refused")
	case fit.Want < 0 && fit.Highest >= 0:
		s.explainNegative(row, f, fit)
	default:
		row.Reasons = append(row.Reasons, s.kit.Shortfall(fit, s.words)...)
	}
	width := s.profile.WorkingWidth
	cut := f.cut != nil && slices.Equal(f.cut.Rings, row.Stack) // a stack that was never cut tells no setting
	if fit.Highest < 0 || width.Unit == model.NoUnit || row.Knife != model.KnifeFits || row.Outside != 0 || !cut {
		return
	}
	row.Fallback = ScaleSetting(width.Length+row.Residual, s.profile.Units).Of(width.Unit)
	say(row, "fallback", model.Danger, "until then, NOT READY: with %s on, set the fence scale to %s for a part of %s; the knife stands inside that kerf", s.words.stack(fit.Rings), row.Fallback, width)
}

// explainNegative says which blade should be the reference, or what standing stack
// the present one needs.
func (s *sheet) explainNegative(row *model.BladePlan, f finding, fit Fit) {
	toward := "toward the fence"
	if s.profile.Saw.Flange == model.Near {
		toward = "away from the fence"
	}
	other := ""
	if s.farthest != "" && s.farthest != s.reference.blade.ID {
		other = "make the " + s.profile.BladeName(s.farthest) + " the reference, or "
	}
	say(row, "negative-want", model.Warns, "the wanted stack is %s: without rings it cuts %s further %s than the datum face, and rings only move it further that way; %sput a standing stack behind the %s that is at least %s higher (now %s)",
		s.words.figure(fit.Want), s.words.figure(-fit.Want), toward, other, s.reference.blade.Name(), s.words.figure(-fit.Want), s.words.figure(s.standing))
}

// explainUncut says why no cut counts for a blade.
func (s *sheet) explainUncut(row *model.BladePlan, f finding) {
	switch {
	case row.Knife != model.KnifeFits: // its danger is told: no cut is near
	case len(s.state.Blades[f.blade.ID].History) > 0:
		say(row, "datum-moved", model.Warns, "its last cut was made before the datum moved or the blade was sharpened: check it with another cut")
	default:
		say(row, "needs-cut", model.Explains, "it has not been compared with the reference yet: these rings go on before the first cut")
	}
}

// knife is a knife as people call it, by its thickness.
func (s *sheet) knife(id string) string {
	k, _ := s.profile.KnifeByID(id)
	return k.Thickness.String()
}

// judgeReady says whether the blade is ready, and what keeps it from being so:
// only a verdict of in, proved with the recorded stack, a knife that fits, the
// present alignment of that knife, the present datum, and a box that tells no other
// rings make it ready.
func (s *sheet) judgeReady(row *model.BladePlan, f finding, proved bool) {
	row.Ready = (proved || model.Dropped("ready-verdict")) && (row.Knife == model.KnifeFits || model.Dropped("ready-knife-fits"))
	block := func(code, format string, a ...any) {
		row.Ready = false
		say(row, code, model.Warns, format, a...)
	}
	switch {
	case (s.state.Knife == nil || !s.state.Aligned) && !model.Dropped("ready-aligned"):
		block("knife-not-aligned", "the riving knife has not been aligned to the present datum")
	case s.state.Knife != nil && s.state.Knife.Knife != f.blade.Knife && !model.Dropped("ready-knife-set"):
		block("knife-other", "the knife of %s stands aligned now, and this blade runs with the one of %s: align that one first", s.knife(s.state.Knife.Knife), s.knife(f.blade.Knife))
	case f.cut != nil && !f.cut.Aligned && !model.Dropped("ready-since-knife"):
		block("knife-moved", "the knife was aligned again after its last cut: check it with another cut")
	case row.Ready && !s.state.Blades[f.blade.ID].BoxTells(row.Stack, f.blade.Knife) && !model.Dropped("ready-box"):
		block("box-differs", "its box may tell other rings or another knife: write down that it runs with %s and the knife of %s", s.profile.RingNames(row.Stack), s.knife(f.blade.Knife))
	}
}

// swap adds what has to be looked at before the blade goes on with its stack.
func (s *sheet) swap(row *model.BladePlan, f finding) {
	if !f.known || s.reference == nil || !s.reference.known {
		return
	}
	p := s.profile
	p.Records = nil
	if s.state.Knife != nil {
		p.Records = []model.Record{*s.state.Knife}
	}
	row.Reasons = append(row.Reasons, SwapChecks(p, f.blade, f.thickness.Plate, s.reference.thickness.Plate, row.Stack)...)
}

func (s *sheet) flangeKnown() bool {
	return s.profile.Saw.Flange == model.Far || s.profile.Saw.Flange == model.Near
}
