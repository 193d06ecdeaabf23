package stages

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

// standing is how the comparison of one blade stands: what the numbers say of it, and what
// was chosen in this run.
type standing struct {
	model.BladeRow
	stack  []string      // rings that it is ripped with next, or was last, flange first
	strips []model.Strip // with that stack, under the present datum, oldest first
	apart  *model.Question
	left   bool // left for later
	sees   bool // the knife is checked behind a blade that is in before the strip is ripped
}

func stand(c context, blade string) standing {
	row, _ := c.Plan.Row(blade)
	s := standing{BladeRow: row, stack: row.Stack, left: leftNow(c, blade)}
	if rings, ok := strings.CutPrefix(c.Fact(way(blade, row.Stack)), wayRings+":"); ok && s.out() {
		s.stack = strings.Fields(rings)
	}
	s.sees = row.Unseen && knifeToSee(c.For(blade))
	for _, strip := range c.State.Strips {
		if strip.Blade == blade && strip.For == model.ForBlade && strip.Present && slices.Equal(strip.Rings, s.stack) {
			s.strips = append(s.strips, strip)
		}
	}
	for i, q := range c.Plan.Questioned {
		if q.Blade == blade {
			s.apart = &c.Plan.Questioned[i]
			break
		}
	}
	return s
}

// leftNow reports whether a blade was left for later. A run of that blade alone takes it up
// again, until it is left once more.
func leftNow(c context, blade string) bool {
	b := c.State.Blades[blade]
	if c.Options.Mode != procedure.OneBlade || blade != c.Options.Blade {
		return b.LeftNow
	}
	return b.LeftNow && slices.ContainsFunc(c.Now(), func(r record) bool { return r.Ref() == b.Left.Ref() })
}

// other reports whether other rings were chosen than those that were judged.
func (s standing) other() bool { return !slices.Equal(s.stack, s.Stack) }

// judged reports whether the strips of the stack have their verdict.
func (s standing) judged() bool {
	return !s.other() && s.Basis == model.Measured && (s.Verdict != model.Doubtful || s.UsedUp || len(s.Further) == 0)
}

// out reports whether the stack does not bring the blade in: by its strips, or because none
// that still counts settles it.
func (s standing) out() bool { return s.judged() && s.Verdict != model.In }

// wants is what has to be ripped next for the blade; empty: nothing.
func (s standing) wants(c context) model.StripFor {
	switch {
	case s.left || s.apart != nil || s.judged() && !s.unclosed(c) || !s.may():
		return ""
	case s.other() || s.Basis != model.Measured:
		return model.ForBlade
	case len(s.Further) > 0:
		return s.Further[0]
	}
	return model.ForBlade
}

// unclosed reports whether the lock was moved before the round of a blade that is in was closed: it is
// then compared once more under the present one, in a setup.
func (s standing) unclosed(c context) bool {
	now := 0
	for _, strip := range s.strips {
		if strip.Lock == c.State.Lock {
			now++
		}
	}
	return c.Options.Mode == procedure.Setup && (s.Owed == "round-not-held" || s.Owed == "strip-or-knife") && now < shop.BladeStrips
}

// may reports whether a rip with the blade leaves the knife inside its kerf, as far as is
// known: other rings are only offered where that is to be expected, and a knife that was moved is
// checked before.
func (s standing) may() bool { return s.Inside || s.other() || s.sees }

// stuck reports whether nothing more can be done with the blade now.
func (s standing) stuck(c context) bool {
	return !s.left && s.apart == nil && !s.out() && (!s.may() || s.Verdict == model.Cannot)
}

// over reports whether the blade wants nothing more in this run.
func (s standing) over(c context) bool {
	return s.wants(c) == "" && s.apart == nil && (s.left || !s.out())
}

// mounting is the mounting in which the stack was last ripped.
func (s standing) mounting() string {
	if len(s.strips) == 0 {
		return ""
	}
	return s.strips[len(s.strips)-1].Mounting
}

// to finds a way on.
func (s standing) to(kind model.WayKind) (model.Way, bool) {
	for _, w := range s.Ways {
		if w.Kind == kind {
			return w, true
		}
	}
	return model.Way{}, false
}

// verdict is what the strips of a blade say of it; nil while they say nothing yet.
func verdict(c context, blade string) []reason {
	row, ok := c.Plan.Row(blade)
	if !ok || row.Basis != model.Measured {
		return nil
	}
	return inWords(c, row.Verdict, row.Offset, row.Expanded)
}

// inWords are a verdict and its figures in one line.
func inWords(c context, v model.Verdict, offset, expanded model.Length) []reason {
	return []reason{{Code: "verdict", Weight: model.Explains, Text: fmt.Sprintf("%s: %s, plus or minus %s; the tolerance is %s",
		strings.ToUpper(string(v)), c.Side(offset), practice.Bare(c.Result(expanded)), practice.Bare(c.Show(c.Profile.Tolerance.Length)))}}
}

// verdictWords put a blade's verdict first, then its reasons.
func verdictWords(c context, blade string) []reason {
	return withReasons(c, blade, verdict(c, blade))
}

// withReasons are the reasons of a blade behind its verdict; where one of its strips stands apart
// there is none before that was looked at.
func withReasons(c context, blade string, verdict []reason) []reason {
	if q := stand(c, blade).apart; q != nil {
		return []reason{q.Reason}
	}
	if row, _ := c.Plan.Row(blade); verdict != nil {
		verdict = append(verdict, row.Reasons...)
	}
	if c.Options.Mode == procedure.Setup { // its closing strip comes by itself
		verdict = slices.DeleteFunc(verdict, func(r reason) bool { return r.Code == string(model.StateNotClosed) })
	}
	return verdict
}

// openWords tell why the blade that is on rips one strip more than a pair takes.
func openWords(c context, blade string) []reason {
	other := partner(c)
	if blade == other {
		other = c.Options.Blade
	}
	mine, others := len(proofStrips(c, blade)), len(proofStrips(c, other))
	if others == 0 || mine < others || mine >= proofWants(c, blade) {
		return nil
	}
	return []reason{{Code: "pair-open", Weight: model.Warns, Text: fmt.Sprintf("the strips do not settle it yet: one more of the %s tells more", c.Name(blade))}}
}

// closingDue reports whether the round under the lock in force wants a closing strip: all
// blades of this run are over, and two or more were compared under it.
func closingDue(c context) bool { return c.Plan.Lock.Closing > 0 && roundOver(c) }

// severalCompared reports whether other blades than the one at hand are compared under the lock in
// force, in this run: were, or will be.
func severalCompared(c context) bool {
	return slices.ContainsFunc(comparing(c), func(blade string) bool {
		s := stand(c, blade)
		under := slices.ContainsFunc(s.strips, func(strip model.Strip) bool { return strip.Lock == c.State.Lock })
		return blade != c.Blade && (under || !s.over(c))
	})
}

// closingWords tell whether the lock held.
func closingWords(c context) []reason { return c.Plan.Lock.Reasons }

// closingFollows tells it of the readings that are typed, as if they were taken.
func closingFollows(c context, a answers) []reason {
	r, ok := typedStrip(c, a)
	if !ok || len(r.Differences) > 0 {
		return nil
	}
	r.Blade, r.For = c.State.On.Blade, model.Closing
	return closingWords(c.With(r))
}

// stripFollows is what would follow from the readings that are typed, if they were taken.
func stripFollows(c context, a answers) []reason {
	r, ok := typedStrip(c, a)
	if !ok {
		return nil
	}
	return verdictWords(c.With(r), c.Blade)
}

// typedStrip is the record that the readings which are typed would make; false while there
// are too few.
func typedStrip(c context, a answers) (record, bool) {
	ms, err := model.ParseReadings(a["readings"], c.Unit())
	if err != nil || len(ms) < form.LeastReadings {
		return record{}, false
	}
	r := record{Kind: model.StripCut, Lock: c.State.Lock, Blade: c.Blade, Rings: c.State.On.Rings, Mounting: c.State.On.Mounting, For: model.ForBlade, Round: severalCompared(c)}
	for _, m := range ms {
		if farOff(c, m.Length) {
			return record{}, false
		}
		if m.Length > c.Profile.WorkingWidth.Length/2 {
			r.Readings = append(r.Readings, m)
		} else {
			r.Differences = append(r.Differences, m)
		}
	}
	return r, len(r.Readings) == 0 || len(r.Differences) == 0
}

// stripFigure is the step of the strips so far: the mean, where there are more.
func stripFigure(c context, a answers) procedure.Figure {
	none := procedure.Figure{Caption: "not read yet"}
	ls := readSoFar(c, a["readings"])
	if len(ls) == 0 {
		return none
	}
	var datum []model.Length
	for _, s := range datumOf(c, c.State.Lock) {
		datum = append(datum, form.Mean(model.Lengths(s.Readings)))
	}
	step := func(read []model.Length) model.Length {
		if read[0] > c.Profile.WorkingWidth.Length/2 {
			return form.Mean(read) - form.Mean(datum)
		}
		return form.Mean(read)
	}
	steps := []model.Length{step(ls)}
	for _, s := range stand(c, c.Blade).strips {
		steps = append(steps, step(model.Lengths(append(slices.Clip(s.Readings), s.Differences...))))
	}
	mean, of := form.Mean(steps), ""
	if len(steps) > 1 {
		of = fmt.Sprintf(", mean of %d", len(steps))
	}
	return offFigure(c, mean, of)
}

// renewed reports whether the strips of this run prove the blade that is held against the reference.
func renewed(c context) bool {
	row, _ := c.Plan.Row(compared(c))
	return row.Proved != nil && slices.ContainsFunc(c.Now(), func(r record) bool { return r.Ref() == row.Proved.Ref() })
}

// pairSays is what the pair of this run says of the blade that is held against the reference: its verdict
// of before, which counts on, may tell another figure within what is known. A pair that brought it in is that verdict.
func pairSays(c context) (offset, expanded model.Length) {
	row, _ := c.Plan.Row(compared(c))
	if row.PairSays.Expanded == 0 {
		return row.Offset, row.Expanded
	}
	return row.PairSays.Offset, row.PairSays.Expanded
}

func pairVerdict(c context) []reason {
	row, _ := c.Plan.Row(compared(c))
	offset, expanded := pairSays(c)
	return inWords(c, row.Verdict, offset, expanded)
}

// pairFigures are what a pair says, and how far that is known.
func pairFigures(c context) string {
	offset, expanded := pairSays(c)
	return c.Side(offset) + ", plus or minus " + c.Result(expanded)
}

// offFigure is how far a blade cuts off the datum, with the digits of the caliper: in inches that reads finer
// than a thousandth, in those, which have room in block digits.
func offFigure(c context, offset model.Length, said string) procedure.Figure {
	step, unit := c.Profile.Instruments.Caliper.Length, c.Unit().Label()
	if size := offset.Abs(); c.Unit() == model.IN && step > 0 && step < model.Thou {
		text, _, _ := strings.Cut((size*1000).Show(model.IN, step*1000), " ")
		return procedure.Figure{Text: text, Caption: sideOf(offset) + said + ", " + model.Mil.Label()}
	}
	return procedure.Figure{Text: c.Bare(offset.Abs()), Caption: sideOf(offset) + said + ", " + unit}
}

// sideOf is on which side of the datum a blade cuts, from its offset.
func sideOf(offset model.Length) string {
	if offset < 0 {
		return "narrow"
	}
	return "wide"
}
