package solver

import (
	"fmt"
	"math"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/metrology"
)

// sureLook is a look at a blade that says in, and how its round stands.
type sureLook struct {
	at    int // index of the strip
	lock  string
	round evidence.Round
}

// sureLooks lists the looks of a course that say in: the verdict, and the proofs.
func (j *judging) sureLooks(c *evidence.Course) []sureLook {
	var out []sureLook
	add := func(of *evidence.Course) {
		if of.Verdict != model.In {
			return
		}
		lock := of.Parts[len(of.Parts)-1].Lock
		round, _ := j.ledger.Round(lock, of.At)
		out = append(out, sureLook{of.At, lock, round})
	}
	add(c)
	for _, p := range c.Proofs {
		add(&p.Course)
	}
	return out
}

// proved is the newest look that says in and whose round is closed; -1: none. open reports
// one in the round that is under way.
func (j *judging) proved(c *evidence.Course) (at int, open bool) {
	at = -1
	for _, e := range j.sureLooks(c) {
		switch {
		case e.round == evidence.RoundClosed:
			at = max(at, e.at)
		case e.round == evidence.RoundOpen && e.lock == j.told.Lock:
			open = true
		}
	}
	return at, open
}

// referenceProved is the newest strip that speaks for the reference as it is now: its own
// datum strips, a pair with another blade that agrees, a closing strip that shows that the
// lock held. What its teeth cut before they were sharpened speaks for them no more.
func (j *judging) referenceProved(now evidence.Outfit) int {
	at := -1
	if g := j.datumGroup(); g != nil && now == j.ledger.Datum {
		at = g.Strips[evidence.EnoughDatumStrips-1].Index
	}
	for _, c := range j.ledger.Order {
		for _, look := range append([]*evidence.Course{c}, proofsOf(c)...) {
			if look.Verdict != model.In || look.Carrier != now {
				continue
			}
			lock := look.Parts[len(look.Parts)-1].Lock
			if round, _ := j.ledger.Round(lock, look.At); round == evidence.RoundClosed {
				at = max(at, look.At)
			}
		}
	}
	return at
}

func proofsOf(c *evidence.Course) []*evidence.Course {
	var out []*evidence.Course
	for _, p := range c.Proofs {
		out = append(out, &p.Course)
	}
	return out
}

// readiness says whether the blade may be used, and what keeps it from being so (R5).
func (j *judging) readiness(row *model.BladeRow, f finding, c *evidence.Course, reference bool) {
	at := -1
	var open bool
	switch {
	case reference && row.Basis == model.Measured && j.lives[f.blade.ID] == j.ledger.Datum.Life: // its strips as another blade say nothing of the datum
		at = j.referenceProved(j.ledger.Datum)
	case c != nil:
		at, open = j.proved(c)
		if reference {
			at = max(at, j.referenceProved(c.Outfit))
		}
		row.Proofs = j.mountingsProved(c)
		row.Pair = j.ledger.Pair(row.Offset)
	}
	older := j.before[f.blade.ID]
	in := row.Verdict == model.In && row.Basis == model.Measured
	if in && at >= 0 {
		row.Proved = j.recordAt(at)
		row.ProvedAt = row.Proved.At
		if days := j.profile.ProveEvery; days > 0 {
			row.Due = row.ProvedAt.AddDate(0, 0, days)
		}
	}
	state, causes := model.StateReady, []string{}
	worse := func(to model.Readiness, code, format string, a ...any) {
		causes = append(causes, code)
		if order[to] > order[state] {
			state, row.Owed = to, code
		}
		sayRow(row, code, model.Warns, format, a...)
	}
	switch {
	case older.Text != "" && row.Basis == model.Predicted:
		worse(model.StateCheck, older.Code, "%s", older.Text)
	case !in:
		state = model.StateNotReady
		if j.profile.Tolerance.Unit == model.NoUnit {
			sayRow(row, "tolerance-missing", model.Warns, noTolerance)
		}
		if row.Inside && row.Verdict != model.Cannot && !reference && j.course(f.blade.ID) == nil {
			sayRow(row, "needs-strips", model.Explains, "not compared with the reference yet: that takes %d strips of it, and %d of the reference under the same fence lock", evidence.EnoughBladeStrips, evidence.EnoughDatumStrips)
		}
	case at < 0 && open:
		worse(model.StateNotClosed, "not-closed", "in, and its round is not closed: that takes a closing strip of the %s, once the blades of the round are compared", j.profile.BladeName(j.plan.Reference))
	case at < 0:
		worse(model.StateCheck, "round-not-held", "in, but the lock of its round was not seen to hold: a pair of strips, of it and of the reference, makes it ready")
	}
	k, named := j.told.Knives[f.blade.Knife]
	if named && k.Unknown && row.Knife == model.KnifeFits {
		to, what := model.StateNotReady, "its knife has not been squared to the present datum"
		if j.onceSet(f.blade.Knife) {
			to, what = model.StateCheck, "its knife was moved or taken out since it was squared: a swap to it, or its proof, has that checked first"
		}
		if in {
			worse(to, "knife-unknown", "%s", what)
		}
	} else if !row.Inside { // or it does not fit
		state = model.StateNotReady
	}
	j.feltState(row, f, c, worse)
	if in && at >= 0 {
		if j.told.Arbor > at {
			worse(model.StateCheck, "flange-cleaned", "arbor and flange were worked on after its last strips: a pair of strips shows whether it still cuts at the datum")
		}
		if c != nil {
			j.overturnedState(row, c, worse)
		}
		if box := j.told.Blades[f.blade.ID].Box; box != nil && !reference && (evidence.Canonical(box.Rings) != evidence.Canonical(row.Stack) || box.Knife != "" && box.Knife != f.blade.Knife) {
			worse(model.StateCheck, "box-differs", "its box tells other rings or another knife: write down that it runs with %s and the knife of %s", j.stackNames(row.Stack), j.knife(f.blade.Knife))
		}
	}
	due := !row.Due.IsZero() && j.now.After(row.Due)
	if state == model.StateReady {
		if due {
			state = model.StateDue
			sayRow(row, "due", model.Warns, "its last proof is %s old, and the shop proves every %d: swap and work go on; prove it with the next swap", times(int(j.now.Sub(row.ProvedAt).Hours()/24), "day", "days"), j.profile.ProveEvery)
		}
		if row.Proofs == 0 && !reference {
			sayRow(row, "not-yet-taken-off", model.Explains, "not yet proved after being taken off and put on again")
		}
	}
	if b := j.told.Blades[f.blade.ID]; b.LeftNow && order[state] > order[model.StateDue] {
		sayRow(row, "left", model.Warns, "%s (%s %s)", b.Left.Text, b.Left.By, b.Left.At.Format("2006-01-02"))
	}
	row.State, row.KnifeOnly = state, state == model.StateCheck && slices.Equal(causes, []string{"knife-unknown"})
	if !reference && (state == model.StateReady || row.KnifeOnly && !due) {
		_, row.StandIn = j.ledger.Offset(c.Outfit)
		row.StandIn = row.StandIn && j.byReference(c)
	}
}

// order is how far a state keeps a blade from being used: more than ready.
var order = map[model.Readiness]int{model.StateNotClosed: 1, model.StateCheck: 2, model.StateNotReady: 3}

// overturnedState tells what the newest proofs say.
func (j *judging) overturnedState(row *model.BladeRow, c *evidence.Course, worse func(model.Readiness, string, string, ...any)) {
	if p := c.Overturned(); p != nil {
		row.PairSays = model.PairWords{Offset: p.Value, Expanded: p.U}
		which, here := j.whichMoved(p)
		row.Moved = here
		worse(model.StateCheck, "proof-out", "the newest pair says %s, plus or minus %s: %s", side(p.Value, j.words), j.words.Result(p.U), which)
		return
	}
	n := len(c.Proofs)
	if n > 0 && c.Proofs[n-1].Looks == 0 {
		sayRow(row, "proof-begun", model.Explains, "a proof is begun: it needs a strip of the %s, or of a stand-in, under the same fence lock, and two of each as long as little is on file of how rips repeat", j.profile.BladeName(j.plan.Reference))
	}
	for _, p := range slices.Backward(c.Proofs) { // one that is begun says nothing yet, and takes nothing back
		if p.Looks > 0 {
			row.PairSays = model.PairWords{Offset: p.Value, Expanded: p.U}
			j.doubtfulProof(row, p, worse)
			return
		}
	}
}

// doubtfulProof says what would settle the newest pair, if it is in doubt. It keeps a blade as it was, but where it
// says rather that the blade is out: then that is to be checked first.
func (j *judging) doubtfulProof(row *model.BladeRow, p *evidence.Proofing, worse func(model.Readiness, string, string, ...any)) {
	if p.Verdict != model.Doubtful {
		return
	}
	row.Pair = j.ledger.Pair(p.Value)
	if p.Lock == j.told.Lock {
		row.MoreOwn, row.MoreDatum = j.ledger.More(p, evidence.ForBlade), j.ledger.More(p, evidence.ForDatum)
	}
	how := fmt.Sprintf("prove it again, with %s of each under another fence lock", times(row.Pair, "strip", "strips"))
	if further, _ := j.ledger.Settle(&p.Course); len(further) > 0 && p.Lock == j.told.Lock {
		how = "rip " + stripsOf(further, j.profile.BladeName(p.Blade), j.profile.BladeName(p.Carrier.Blade))
	}
	says := fmt.Sprintf("%s, plus or minus %s", side(p.Value, j.words), j.words.Result(p.U))
	if p.Value.Abs() > j.profile.Tolerance.Length {
		worse(model.StateCheck, "proof-rather-out", "the newest pair says rather that it is out (%s, with a tolerance of %s): %s", says, j.words.Set(j.profile.Tolerance.Length), how)
		return
	}
	sayRow(row, "proof-doubtful", model.Warns, "the newest pair could go either way (%s): %s; until then it is neither renewed nor put to check", says, how)
}

// side says an offset in words.
func side(offset model.Length, w metrology.Words) string {
	shown := w.Result(offset.Abs())
	switch {
	case shown == w.Result(0):
		return "right"
	case offset > 0:
		return shown + " wide"
	}
	return shown + " narrow"
}

// mountingsProved counts mountings beside the first in which a blade was seen in.
func (j *judging) mountingsProved(c *evidence.Course) int {
	seen := []string{c.Strips[0].Mounting}
	for _, p := range c.Proofs {
		if p.Verdict == model.In && !slices.Contains(seen, p.Mounting) {
			seen = append(seen, p.Mounting)
		}
	}
	return len(seen) - 1
}

// onceSet reports whether a knife was squared at any time.
func (j *judging) onceSet(knife string) bool {
	return slices.ContainsFunc(j.profile.Records, func(r model.Record) bool { return r.Kind == model.KnifeSet && r.Knife == knife })
}

// uncarried says that nothing carries the datum: the reference was sharpened and is not in
// again, and no blade can stand in for it.
func (j *judging) uncarried() {
	ref := j.profile.Reference
	row, ok := j.plan.Row(ref)
	if !ok || !j.told.Blades[ref].DatumStays || row.Verdict == model.In || slices.ContainsFunc(j.plan.Blades, func(b model.BladeRow) bool { return b.StandIn }) {
		return
	}
	j.say("datum-uncarried", model.Warns, "the %s was sharpened, the datum stayed, and no ready blade stands in for it: no strip counts; choose another reference, or let the datum move to its new teeth (sharpened, under other work): every blade is compared anew then", j.profile.BladeName(ref))
}

// question finds the strips of the lock in force that lie too far from their fellows, and
// that nobody has looked at and kept.
func (j *judging) question() {
	if j.profile.Tolerance.Unit == model.NoUnit {
		return
	}
	for _, g := range j.ledger.ByAge {
		if g.Lock != j.told.Lock || g.Closing || !g.Strips[0].Present {
			continue
		}
		rest := evidence.SpreadOf(nil, j.ledger.History(g)).Pool
		at, far, limit, odd := evidence.Odd(g.Values, rest, j.profile.Tolerance.Length, j.profile.Instruments.Caliper.Length)
		if !odd || j.strip(g.Strips[at].Index).Kept {
			continue
		}
		w := j.words
		q := model.Question{Strip: g.Strips[at].Index, Number: at + 1, Blade: g.Blade, Far: metrology.Rounded(far), Limit: metrology.Rounded(limit)}
		q.Reason = model.Reason{Code: "odd-strip", Weight: model.Warns, Text: fmt.Sprintf(
			"strip %d of the %s lies %s from %s; strips here lie within %s",
			q.Number, j.profile.BladeName(g.Blade), w.Result(q.Far), metrology.Plural(len(g.Values)-1, "the other one", "the mean of its fellows"), w.Result(q.Limit))}
		j.plan.Questioned = append(j.plan.Questioned, q)
	}
}

// lockPlan says what the fence lock in force still wants.
func (j *judging) lockPlan() {
	page := j.ledger.Locks[j.told.Lock]
	p := &j.plan.Lock
	p.Wanted = evidence.EnoughDatumStrips
	if page == nil {
		return
	}
	if datum, _, ok := j.ledger.Carrier(page, evidence.Outfit{}); ok {
		p.Datum, p.Carrier = len(datum.Strips), datum.Blade
		p.Wanted = max(0, evidence.EnoughDatumStrips-p.Datum)
	}
	var blades []string
	last := -1
	for _, g := range page.Blades {
		for _, s := range g.Strips {
			if !s.Present {
				continue
			}
			if last = max(last, s.Index); !slices.Contains(blades, g.Blade) {
				blades = append(blades, g.Blade)
			}
		}
	}
	if p.Round = len(blades); p.Round == 0 || !page.Several() {
		return
	}
	round, c := j.ledger.Round(j.told.Lock, last)
	w := j.words
	switch {
	case round == evidence.RoundBroken:
		p.Broken = true
		p.Reasons = model.Because("lock-broken", model.Warns, "the closing strip lies %s from the reference strips, more than the %s that strips explain: the lock did not hold, or the %s does not go back to its place; no blade of this round is ready: look at the block at the fence's foot, the lock of the fence, dust under the blade", w.Result(c.Value.Abs()), w.Result(c.U), j.profile.BladeName(j.plan.Reference))
	case c.Again:
		p.Closing = 1
		p.Reasons = model.Because("closing-again", model.Warns, "the closing strip alone is uncertain by %s, more than the tolerance of %s: rip a second one", w.Result(c.U), w.Result(j.profile.Tolerance.Length))
	case round == evidence.RoundOpen:
		p.Closing = 1
	default:
		p.Reasons = model.Because("lock-held", model.Explains, "the lock held: the closing strip lies %s off, within %s", w.Result(c.Value.Abs()), w.Result(c.U))
	}
}

// mounting tells what mounting blades again does, while too little is known to count it.
func (j *judging) mounting() {
	seats := j.ledger.Seats()
	judged := slices.ContainsFunc(j.plan.Blades, func(b model.BladeRow) bool {
		return b.Basis == model.Measured && b.Verdict == model.In && b.ID != j.plan.Reference
	})
	switch {
	case seats.Freedom == 0 && judged:
		j.say("mounting-unknown", model.Explains, "what mounting again does to a cut is not known here yet: a verdict speaks for the mounting that was cut; from %s on, by closing strips and pairs, it is counted in", times(evidence.SeatFreedom, "mounting", "mountings"))
	case seats.Freedom == 0:
	case seats.Freedom < evidence.SeatFreedom:
		j.say("mounting", model.Explains, "mounting again moved a cut by %s at the most (the %s, %s so far): from %d on it is counted in; until then a verdict speaks for the mounting that was cut", j.words.Result(metrology.Rounded(seats.Largest)), j.profile.BladeName(seats.Of.Blade), times(int(seats.Freedom), "mounting", "mountings"), evidence.SeatFreedom)
	default:
		j.say("mounting", model.Explains, "mounting a blade again moves its cut by %s (standard deviation over %s): counted into proofs and first verdicts", j.words.Result(metrology.Rounded(math.Sqrt(seats.Variance))), times(int(seats.Freedom), "mounting", "mountings"))
	}
}

// knife is a knife as people call it, by its thickness.
func (j *judging) knife(id string) string {
	k, _ := j.profile.KnifeByID(id)
	return k.Label()
}
