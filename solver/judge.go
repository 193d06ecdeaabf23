// Package solver turns readings into what to do with a rack of blades: which rings
// go behind which blade, how sure that is, and why. Everything in it is a pure
// function of plain values; lengths are whole nanometres, so that ties are decided
// the same way everywhere.
package solver

import (
	"slices"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// Judge is what the strips of a profile say about its whole rack at a moment, which
// decides only what is due. Reference and standing stack are the profile's, or chosen
// where it names none. A profile that is still being filled in gives a plan too: what is
// missing stands in the reasons.
func Judge(p model.Profile, now time.Time) model.Plan {
	j := judgingOf(p, now)
	for i := range j.findings {
		j.need(&j.findings[i])
	}
	j.dispute()
	j.chooseStanding()
	for _, f := range j.findings {
		j.plan.Blades = append(j.plan.Blades, j.bladeRow(f))
	}
	j.uncarried()
	j.question()
	j.lockPlan()
	j.mounting()
	return j.plan
}

// judgingOf takes in what the head of a profile says and what its strips do.
func judgingOf(p model.Profile, now time.Time) *judging {
	j := &judging{profile: p, words: metrology.WordsOf(p), now: now, told: model.Fold(p), voids: voidsOf(p)}
	j.plan.Name = p.Name
	j.lacks()
	j.readBench()
	var reasons []model.Reason
	j.kit, reasons = stacking.KitOf(p)
	j.plan.Reasons = append(j.plan.Reasons, reasons...)
	j.refused = slices.ContainsFunc(reasons, func(r model.Reason) bool { return r.Code == "kit-refused" })
	j.chooseReference()
	j.unreadRunout()
	j.takeStrips()
	return j
}

// judging is a plan of strips while it is worked out.
type judging struct {
	profile   model.Profile
	words     metrology.Words
	now       time.Time
	told      model.State
	voids     map[string]bool // by Ref
	kit       stacking.Kit
	refused   bool // the kit was
	findings  []finding
	reference *finding // nil: none yet
	farthest  string   // the blade that the geometry takes as reference
	standing  model.Length
	ledger    *evidence.Ledger
	bare      map[string]stacking.Bare
	datum     string           // what bare calls the reference as it defines the datum
	bench     *evidence.Taught // what bench readings say
	taught    *evidence.Taught // and what strips have taught since; nil: nothing to teach
	rings     map[evidence.Outfit][]string
	strips    map[evidence.Outfit][]model.Strip // under the present datum, oldest first
	began     map[string][]int                  // records that each blade's lives began with
	lives     map[string]int                    // of each blade now
	doubted   map[string]string                 // knives that were felt in line with a blade which by its strips cannot be there; and that blade
	adrift    map[string]int                    // strips of each blade that are read against a datum strip alone which was voided
	before    map[string]model.Reason           // blades that were compared before the datum moved or they were sharpened, and what to do
	plan      model.Plan
}

const noTolerance = "the tolerance is not set: no verdict can be given"

// lacks says what the saw's figures lack.
func (j *judging) lacks() {
	p := j.profile
	_, threadKnown := threadLimit(p.Saw, 0)
	for _, m := range []struct {
		lacks bool
		code  string
		text  string
	}{
		{!j.flangeKnown(), "flange-missing", "the side of the fixed flange is not known: look, and say far or near; nothing is computed without it"},
		{p.Tolerance.Unit == model.NoUnit, "tolerance-missing", noTolerance},
		{!threadKnown, "thread-missing", "the end of the thread, loose flange, nut and pitch are not all known: no stack is checked against the thread"},
		{p.Instruments.Caliper.Unit == model.NoUnit, "caliper-missing", "the caliper's resolution is not known: measured uncertainties come out too small"},
		{p.Instruments.Micrometer.Unit == model.NoUnit, "micrometer-missing", "the micrometer's resolution is not known: predicted uncertainties come out too small"},
		{len(p.Rack()) == 0, "rack-empty", "the rack has no blades"},
	} {
		if m.lacks {
			j.say(m.code, model.Warns, "%s", m.text)
		}
	}
}

// outfit is a blade with rings, in the life that it has at a record.
func (j *judging) outfit(blade string, rings []string, life int) evidence.Outfit {
	return evidence.Outfit{Blade: blade, Stack: evidence.Canonical(rings), Life: life}
}

// life is how often a blade was sharpened or came back before a record.
func (j *judging) life(blade string, at int) int {
	n, _ := slices.BinarySearch(j.began[blade], at)
	return n
}

// takeStrips judges every strip of the records.
func (j *judging) takeStrips() {
	j.began = map[string][]int{}
	for i, r := range j.profile.Records {
		if (r.Kind == model.Sharpened || r.Back) && !j.voided(r) {
			j.began[r.Blade] = append(j.began[r.Blade], i)
		}
	}
	j.lives, j.before, j.adrift = map[string]int{}, map[string]model.Reason{}, map[string]int{}
	j.rings, j.strips = map[evidence.Outfit][]string{}, map[evidence.Outfit][]model.Strip{}
	for id := range j.told.Blades {
		j.lives[id] = len(j.began[id])
	}
	byRef := map[string]int{}
	for _, s := range j.told.Strips {
		byRef[s.Record.Ref()] = s.Index
	}
	// The reference as it was when the datum began: sharpened since, it carries an offset.
	from := j.life(j.plan.Reference, j.told.Datum+1)
	purposes := map[model.StripFor]evidence.Purpose{model.Datum: evidence.ForDatum, model.ForBlade: evidence.ForBlade, model.Closing: evidence.ForClosing}
	var strips []evidence.Strip
	for _, s := range j.told.Strips {
		o := j.outfit(s.Blade, s.Rings, j.life(s.Blade, s.Index))
		one := evidence.Strip{Index: s.Index, Lock: s.Lock, Mounting: s.Mounting, Outfit: o, For: purposes[s.For], Round: s.Round,
			Widths: model.Lengths(s.Readings), Differences: model.Lengths(s.Differences), Present: j.counts(s)}
		if len(s.Zeroed) == len(s.Differences) { // each on a datum strip: what was zeroed on one that was voided says nothing
			one.Differences = nil
			for i, ref := range s.Zeroed {
				if at, known := byRef[ref]; known {
					one.Differences, one.Zeroed = append(one.Differences, s.Differences[i].Length), append(one.Zeroed, at)
				}
			}
		} else if j.wentSince(s) {
			one.Differences = nil
		}
		strips = append(strips, one)
		if s.For != model.ForBlade {
			continue
		}
		if !one.Present || o.Life != j.lives[s.Blade] {
			j.before[s.Blade] = j.outdated(s, o.Life)
			continue
		}
		j.rings[o], j.strips[o] = s.Rings, append(j.strips[o], s)
		if len(one.Widths)+len(one.Differences) == 0 {
			j.adrift[s.Blade]++
		}
	}
	datum := j.outfit(j.plan.Reference, j.datumRings(), from)
	j.ledger = evidence.LedgerOf(strips, datum, j.profile.Tolerance.Length, j.profile.Instruments.Caliper.Length)
	j.datum = j.asDatum(from)
	j.teach()
}

// wentSince reports whether a datum strip that stood under the lock of a strip as it was ripped stands
// no more: the caliper may have been zeroed on that one.
func (j *judging) wentSince(s model.Strip) bool {
	for i, r := range j.profile.Records[:s.Index] {
		if r.For != model.Datum || r.Lock != s.Lock || r.Of != "" {
			continue
		}
		before := slices.ContainsFunc(j.profile.Records[i:s.Index], func(by model.Record) bool {
			return by.Kind == model.Void && (by.Of == r.Ref() || by.Of == r.Mounting) || by.Kind == model.Found && by.Mounting == r.Mounting
		})
		if _, stands := slices.BinarySearchFunc(j.told.Strips, i, byIndex); !stands && !before {
			return true
		}
	}
	return false
}

// outdated says why a strip of a blade in so many lives does not count any more.
func (j *judging) outdated(s model.Strip, life int) model.Reason {
	code, since := "datum-moved", "before the datum moved"
	switch began := j.began[s.Blade]; {
	case !s.Held:
		code, since = "fence-not-held", "without the fence locked, or after it may have moved"
	case life < len(began) && j.profile.Records[began[len(began)-1]].Back:
		code, since = "away-since", "before it went away and came back"
	case life < len(began):
		code, since = "sharpened-since", "before it was sharpened"
	}
	return model.Reason{Code: code, Text: "its last strips were ripped " + since + ": compare it again"}
}

// datumRings is what stood behind the reference when it defined the present datum: the
// standing stack, or, where it was sharpened and restacked since, that of its first strip.
func (j *judging) datumRings() []string {
	if j.lives[j.plan.Reference] > 0 {
		for _, s := range j.told.Strips {
			if s.For == model.Datum && s.Blade == j.plan.Reference && j.counts(s) {
				return s.Rings
			}
		}
	}
	return j.profile.Standing
}

// counts reports whether a strip was ripped under the present datum, while its lock was in
// force. As long as the profile names no reference, nothing defines a datum.
func (j *judging) counts(s model.Strip) bool {
	return j.profile.Reference != "" && s.Index > j.told.Datum && s.Held
}

// voided reports whether a record was voided.
func (j *judging) voided(r model.Record) bool { return len(j.voids) > 0 && j.voids[r.Ref()] }

// voidsOf lists what the records of a profile void.
func voidsOf(p model.Profile) map[string]bool {
	out := map[string]bool{}
	for _, r := range p.Records {
		if r.Kind == model.Void {
			out[r.Of] = true
		}
	}
	return out
}

// teach fits what the strips say of blades and rings as they are now.
func (j *judging) teach() {
	j.bench, _ = evidence.Teach(j.profile, j.bare, nil) // without lessons nothing is fitted
	lessons := j.ledger.Lessons(func(o evidence.Outfit) (string, bool) {
		if o == j.ledger.Datum {
			return j.datum, true
		}
		return o.Blade, o.Life == j.lives[o.Blade]
	})
	if len(lessons) == 0 {
		return
	}
	var err error
	if j.taught, err = evidence.Teach(j.profile, j.bare, lessons); err != nil {
		j.taught = nil
		j.say("lessons", model.Warns, "what was cut teaches nothing of the stacks to come: %v", err)
	}
}

// course is the one that says how a blade stands now: the newest, or, where that is not
// in, an earlier one that is and that no proof has overturned. Nil: no strip counts.
func (j *judging) course(blade string) *evidence.Course {
	var newest, in *evidence.Course
	for _, c := range j.ledger.Order {
		if c.Blade != blade || c.Life != j.lives[blade] {
			continue
		}
		if newest == nil || c.Strips[len(c.Strips)-1].Index > newest.Strips[len(newest.Strips)-1].Index {
			newest = c
		}
		if c.Verdict == model.In && c.Overturned() == nil {
			in = c
		}
	}
	if newest != nil && newest.Verdict != model.In && newest.Decided() && in != nil {
		return in
	}
	return newest
}

// goes lists the stacks of a blade that were judged under the present datum, with those
// of which a first strip left the knife outside its kerf, and those with which it was seen there.
func (j *judging) goes(f finding, row *model.BladeRow) []evidence.CutStack {
	var out []evidence.CutStack
	for _, c := range j.ledger.Order {
		if c.Blade != f.blade.ID || c.Life != j.lives[c.Blade] {
			continue
		}
		residual := -c.Value
		if p := c.OutAgain(); p != nil {
			residual = -p.Value
		}
		if c.Looks == 0 {
			d, ok := j.ledger.Glance(c)
			if residual = -metrology.Rounded(d.Value); !ok || !j.cutOutside(f, row, -residual) {
				continue
			}
		}
		out = append(out, evidence.CutStack{Rings: j.rings[c.Outfit], Residual: residual})
	}
	for _, s := range j.feltOutside(f.blade, row) {
		if !slices.ContainsFunc(out, func(cut evidence.CutStack) bool {
			return evidence.Canonical(cut.Rings) == evidence.Canonical(s.Record.Rings)
		}) {
			offset, _ := j.offsetFelt(s)
			out = append(out, evidence.CutStack{Rings: s.Record.Rings, Residual: -metrology.Rounded(offset)})
		}
	}
	return out
}

// recordAt is the record of a strip.
func (j *judging) recordAt(index int) *model.Record { return j.strip(index).Record }

// strip is the strip of the record at an index.
func (j *judging) strip(index int) model.Strip {
	at, _ := slices.BinarySearchFunc(j.told.Strips, index, byIndex)
	return j.told.Strips[at]
}

func byIndex(s model.Strip, index int) int { return s.Index - index }

// stackNames is a stack as people read it, or "no rings".
func (j *judging) stackNames(rings []string) string { return j.profile.RingNames(rings) }

func (j *judging) say(code string, weight model.Weight, format string, a ...any) {
	j.plan.Reasons = append(j.plan.Reasons, model.Because(code, weight, format, a...)...)
}

// sayRow adds a reason to a row.
func sayRow(row *model.BladeRow, code string, weight model.Weight, format string, a ...any) {
	row.Reasons = append(row.Reasons, model.Because(code, weight, format, a...)...)
}
