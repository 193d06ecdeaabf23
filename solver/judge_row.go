package solver

import (
	"fmt"
	"math"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// bladeRow is what the plan says of one blade.
func (j *judging) bladeRow(f finding) model.BladeRow {
	row := model.BladeRow{ID: f.blade.ID, Basis: model.Predicted, Stack: []string{}, Verdict: model.Doubtful, Left: evidence.MostFurther, Reasons: f.reasons}
	if f.known && j.flangeKnown() {
		row.CutFace = f.thickness.CutFace(j.profile.Saw.Flange, 0)
	}
	j.bladeKnife(&row, f)
	c := j.course(f.blade.ID)
	if c != nil && !j.profile.KitHas(j.rings[c.Outfit]) {
		c = nil // its stack cannot be put on any more
	}
	isReference := j.reference != nil && f.blade.ID == j.reference.blade.ID
	switch {
	case j.reference == nil || !j.flangeKnown():
	case isReference && (c == nil || c.Looks == 0) && j.lives[f.blade.ID] != j.ledger.Datum.Life:
		row.Want, row.Height = j.standing, j.standing
		row.Stack = append(row.Stack, j.plan.Standing...)
		j.placeKnife(&row, f, 0)
		j.before[f.blade.ID] = model.Reason{Code: "reference-sharpened", Text: fmt.Sprintf("it was sharpened and the datum stays: a stand-in rips %d strips, then this blade two, under one fence lock; its offset goes on record", evidence.EnoughDatumStrips)}
	case isReference && (c == nil || c.Looks == 0): // strips from before it was the reference tell nothing
		j.referenceRow(&row, f)
	case c != nil && c.Looks > 0:
		j.measuredRow(&row, f, c)
	case !f.compared && f.known:
		sayRow(&row, "not-compared", model.Warns, "plate and kerf of the reference, the %s, have not been read, so nothing is predicted", j.reference.blade.Name())
	case f.compared:
		j.predictedRow(&row, f, c)
	}
	if n := j.adrift[f.blade.ID]; n > 0 {
		sayRow(&row, "zeroed-on-voided", model.Warns, "%s of it %s read against a reference strip that was voided since, or may have been, and %s nothing now: read %s once more, as widths", times(n, "strip", "strips"), metrology.Plural(n, "was", "were"), metrology.Plural(n, "says", "say"), metrology.Plural(n, "it", "them"))
	}
	j.readiness(&row, f, c, isReference)
	j.swapChecks(&row, f)
	return row
}

// swapChecks adds what has to be looked at before the blade goes on with its stack. The gap
// to the tips is foretold from where its knife's was read last.
func (j *judging) swapChecks(row *model.BladeRow, f finding) {
	if !f.known || j.reference == nil {
		return
	}
	var line *model.Record
	for i, r := range slices.Backward(j.profile.Records) {
		if r.Kind == model.Line && r.Knife == f.blade.Knife && !j.voided(r) {
			line = &j.profile.Records[i]
			break
		}
	}
	row.Reasons = append(row.Reasons, SwapChecks(j.profile, f.blade, f.thickness.Plate, row.Stack, line)...)
}

// bladeKnife holds the knife that the blade names against its window, and says how far
// behind the datum it stands.
func (j *judging) bladeKnife(row *model.BladeRow, f finding) {
	row.Knife = model.KnifeNone
	knife, there := j.knifeBehind(f.blade)
	gone := j.told.Gone[f.blade.Knife]
	switch {
	case f.blade.Knife == "":
		sayRow(row, "knife-none", model.Danger, "the blade names no riving knife: it must not run without one; say which knife goes with it")
	case gone != nil:
		row.Knife = model.KnifeMissing
		sayRow(row, "knife-gone", model.Danger, "its riving knife of %s is gone (%s), and it must not run without it; %s would do", knife.Thickness, gone.Text, j.knifeWanted(f))
	case !there:
		sayRow(row, "knife-none", model.Danger, "its riving knife %s is not among the shop's knives: say which knife goes with it", f.blade.Knife)
	case f.known:
		var reasons []model.Reason
		row.Knife, row.Play, reasons = KnifeWindow(j.toothPlate(f), f.thickness.Kerf, knife.Thickness.Length, j.profile.Margin(), j.words)
		row.Reasons = append(row.Reasons, reasons...)
	}
	row.Gap, _ = j.knifeStands(f.blade.Knife)
}

// knifeStands is how far behind the datum face, at the most, a knife's fence-side face
// lies, by its feeler gaps or the check with a blade on since then; and how far it stands
// in front of it, at the most. A knife that was squared to the cut of a blade which cuts
// wide stands that much farther back: what others cut is reckoned from there, so that proud
// is then negative.
func (j *judging) knifeStands(id string) (gap, proud model.Length) {
	if j.told.Knives[id].Unknown {
		return model.MostFeelerGap, 0
	}
	return j.knifeSeen(id)
}

// knifeSeen is where a knife was seen last, though it may have been moved or taken out since.
func (j *judging) knifeSeen(id string) (gap, proud model.Length) {
	k := j.told.Knives[id]
	var from model.Length
	if k.Set != nil {
		from = j.offsetOn(k.Set.Blade, k.Set.Rings, k.SetAt)
	}
	switch {
	case k.Check != nil:
		// Against the tips of a blade that cuts wide, a face stands nearer to the datum by
		// what that blade cuts wide.
		o, faces := j.offsetOn(k.Check.Blade, k.Check.Rings, k.CheckAt), model.Lengths(k.Check.Faces)
		return max(slices.Max(faces)+o, from), max(-(slices.Min(faces) + o), -from)
	case k.Set != nil && len(k.Set.Gaps) > 0:
		return max(slices.Max(model.Lengths(k.Set.Gaps)), 0) + from, -from
	}
	return model.MostFeelerGap, 0
}

// offsetOn is how much wider than the datum a blade cut with rings at a record, by its
// strips; 0 for what defines the datum, and for what no strip tells of.
func (j *judging) offsetOn(blade string, rings []string, at int) model.Length {
	c := j.ledger.Course(j.outfit(blade, rings, j.life(blade, at)))
	if c == nil {
		return 0
	}
	if c.Looks > 0 {
		return c.Value
	}
	d, _ := j.ledger.Glance(c)
	return metrology.Rounded(d.Value)
}

// outside is how far the knife stands out of the kerf of a cut that is wide by offset, as far as
// is known: positive toward the fence, negative away from it, 0 inside its kerf.
func (j *judging) outside(f finding, row *model.BladeRow, offset model.Length) model.Length {
	gap, proud := j.knifeStands(f.blade.Knife)
	return OutOfKerf(offset, gap, proud, row.Play)
}

// cutOutside reports whether a cut that is wide by offset left the knife outside its kerf, by where
// that was seen last: taken out or moved since, it is to be seen again before a rip, and no verdict
// comes or goes with it.
func (j *judging) cutOutside(f finding, row *model.BladeRow, offset model.Length) bool {
	gap, proud := j.knifeSeen(f.blade.Knife)
	return row.Knife == model.KnifeFits && OutOfKerf(offset, gap, proud, row.Play) != 0
}

// placeKnife says whether the knife stands inside the kerf of the cut that is coming.
func (j *judging) placeKnife(row *model.BladeRow, f finding, offset model.Length) {
	if row.Knife != model.KnifeFits {
		return
	}
	out := j.outside(f, row, offset)
	row.Inside = out == 0
	if row.Inside {
		return
	}
	if !j.cutOutside(f, row, offset) {
		row.Unseen = true
		if row.Basis == model.Measured && row.Verdict == model.In {
			return // that its knife is to be checked is said with its state
		}
		sayRow(row, "knife-unseen", model.Warns, "with %s on, %s: its knife was moved or taken out, and %s behind the datum face it would stand outside the kerf: check it behind a blade that is in before you rip",
			j.stackNames(row.Stack), metrology.Where(row.Residual, j.words), j.words.Set(model.MostFeelerGap))
		return
	}
	side, why := "toward the fence", "the part presses on it"
	if out < 0 {
		side, why = "on the side away from the fence", "the stock wedges on it"
	}
	where := ""
	if row.Basis != model.Measured { // its strips say it
		where = ", " + metrology.Where(row.Residual, j.words) + ":"
	}
	sayRow(row, "knife-outside", model.Danger, "with %s on%s the knife stands %s out of its kerf %s, and %s; don't rip with it so: it wants another stack, another knife, or the knife set anew to this blade",
		j.stackNames(row.Stack), where, j.words.Result(out.Abs()), side, why)
}

// referenceRow is the row of the blade that defines the datum.
func (j *judging) referenceRow(row *model.BladeRow, f finding) {
	row.Want, row.Height, row.Verdict = j.standing, j.standing, model.In
	row.Stack = append(row.Stack, j.plan.Standing...)
	switch {
	case j.standing > f.need.Highest:
		row.Verdict = model.Cannot
	case j.profile.Tolerance.Unit == model.NoUnit:
		row.Verdict = model.Doubtful
	}
	j.placeKnife(row, f, 0)
	row.Inside = row.Inside && row.Verdict != model.Cannot
	if g := j.datumGroup(); g != nil {
		row.Basis, row.Strips, row.Datum = model.Measured, len(g.Strips), len(g.Strips)
	} else if !f.barred && row.Verdict != model.Cannot {
		sayRow(row, "needs-datum-strips", model.Explains, "no strips of it are on record yet: it comes first, with %d under one fence lock, and the other blades are compared with them", evidence.EnoughDatumStrips)
	}
}

// datumGroup is the newest group of datum strips of the reference that are enough.
func (j *judging) datumGroup() *evidence.Group {
	var out *evidence.Group
	for _, g := range j.ledger.ByAge {
		if g.Outfit == j.ledger.Datum && g.Strips[0].Present && g.Strips[0].For == evidence.ForDatum && len(g.Strips) >= evidence.EnoughDatumStrips {
			out = g
		}
	}
	return out
}

// measuredRow is the row of a blade that its strips judge.
func (j *judging) measuredRow(row *model.BladeRow, f finding, c *evidence.Course) {
	w, tolerance := j.words, j.profile.Tolerance
	row.Stack = append(row.Stack, j.rings[c.Outfit]...)
	row.Height, _ = j.profile.StackHeight(row.Stack)
	row.Goes = len(j.goes(f, row))
	row.Basis, row.Offset, row.Expanded = model.Measured, c.Value, c.U
	row.Strips, row.Datum = c.Own, int(math.Round(c.Estimate.Datum))
	row.Verdict, row.UsedUp, row.Left = c.Verdict, c.UsedUp(), evidence.MostFurther-c.Further
	if p := c.OutAgain(); p != nil {
		row.Offset, row.Expanded, row.Strips, row.Datum, row.Verdict = p.Value, p.U, p.Own, int(math.Round(p.Estimate.Datum)), model.Out
	}
	if d, ok := j.newest(c); ok && j.cutOutside(f, row, metrology.Rounded(d.Value)) {
		row.Offset, row.Expanded = metrology.Rounded(d.Value), evidence.TwoStrips(j.ledger.Spread(), j.profile.Instruments.Caliper.Length)
		row.Strips, row.Datum = d.Strips(), int(math.Round(d.Datum))
	}
	seen := !j.cutOutside(f, row, row.Offset) && j.seenSince(row, f, c)
	row.Residual, row.Want = -row.Offset, stacking.Want(j.profile.Saw.Flange, row.Height, row.Offset)
	if tolerance.Unit == model.NoUnit {
		row.Verdict, row.UsedUp = model.Doubtful, false
		return
	}
	from := times(row.Strips, "strip", "strips") + " against " + times(row.Datum, "reference strip", "reference strips")
	switch {
	case seen:
		row.Verdict, row.OutKnife, row.UsedUp = model.Out, true, false
	case j.cutOutside(f, row, row.Offset):
		row.Verdict, row.OutKnife, row.UsedUp = model.Out, true, false
		sayRow(row, "out", model.Warns, "%s, plus or minus %s from %s", metrology.Where(row.Residual, w), w.Result(row.Expanded), from)
	case row.Verdict == model.In:
		sayRow(row, "in", model.Explains, "%s, plus or minus %s from %s: within the tolerance of %s", metrology.Where(row.Residual, w), w.Result(c.U), from, w.Result(tolerance.Length))
	case row.Verdict == model.Out:
		sayRow(row, "out", model.Warns, "%s, plus or minus %s from %s: even so that is more than the tolerance of %s", metrology.Where(row.Residual, w), w.Result(row.Expanded), from, w.Result(tolerance.Length))
	default:
		j.doubt(row, c, from)
	}
	j.withoutVoided(row, c)
	j.placeKnife(row, f, row.Offset)
	j.offPrediction(row, c)
	if row.Verdict == model.Out || row.Verdict == model.Doubtful && len(row.Further) == 0 {
		j.ways(row, f, c)
	}
}

// newest is what the last strips of a blade say, however few: those of its last proof, else of
// the last of several locks that its verdict comes from; false where there is no datum strip
// beside them.
func (j *judging) newest(c *evidence.Course) (evidence.Difference, bool) {
	switch {
	case len(c.Proofs) > 0:
		return j.ledger.Glance(&c.Proofs[len(c.Proofs)-1].Course)
	case len(c.Parts) > 1:
		return j.ledger.Glance(c)
	}
	return evidence.Difference{}, false
}

// withoutVoided says that a verdict was worked out anew, where a strip under its lock was
// voided.
func (j *judging) withoutVoided(row *model.BladeRow, c *evidence.Course) {
	if len(j.voids) == 0 {
		return
	}
	n := 0
	for _, r := range j.profile.Records {
		mine := r.Blade == c.Blade || r.Blade == c.Carrier.Blade && r.For == model.Datum
		if r.Kind == model.StripCut && r.Of == "" && mine && c.In(r.Lock) != nil && j.voided(r) {
			n++
		}
	}
	if n > 0 {
		sayRow(row, "without-voided", model.Explains, "worked out anew, without %s under its fence lock %s voided", times(n, "strip", "strips"), metrology.Plural(n, "that was", "that were"))
	}
}

// doubt says what would settle a doubtful verdict, or why nothing would.
func (j *judging) doubt(row *model.BladeRow, c *evidence.Course, from string) {
	w := j.words
	text := metrology.Where(row.Residual, w) + ", plus or minus " + w.Result(c.U) + " from " + from + ": with a tolerance of " + w.Result(j.profile.Tolerance.Length) + " it could go either way; "
	further, obstacle := j.ledger.Settle(c)
	lacks := j.ledger.Lacks(c, j.told.Lock)
	if lacks > 0 {
		further = slices.Repeat([]evidence.Purpose{evidence.ForDatum}, lacks)
	}
	for i, f := range further {
		if c.Parts[len(c.Parts)-1].Lock != j.told.Lock { // under another the reference rips its own, and the blade with them
			f = evidence.ForBlade
		}
		further[i] = f
		row.Further = append(row.Further, map[evidence.Purpose]model.StripFor{evidence.ForBlade: model.ForBlade, evidence.ForDatum: model.Datum}[f])
	}
	carried := j.profile.BladeName(c.Carrier.Blade)
	switch {
	case c.UsedUp():
		sayRow(row, "used-up", model.Warns, "%sthree further strips are ripped, and no more count with the same rings: it stays not ready until datum, stack or sharpening changes", text)
	case lacks > 0:
		sayRow(row, "datum-strips-missing", model.Warns, "%sits newest strips have %s under their fence lock and want %d: rip %d of the %s", text, times(evidence.EnoughDatumStrips-lacks, "reference strip", "reference strips"), evidence.EnoughDatumStrips, lacks, j.profile.BladeName(j.plan.Reference))
	case obstacle == evidence.CoarseCaliper:
		sayRow(row, "caliper-cannot", model.Warns, "%sthis caliper cannot settle it, however many strips: a finer one can, or other rings", text)
	case obstacle == evidence.OneZeroing:
		sayRow(row, "zeroed-once", model.Warns, "%styped widths tell more, or differences with the caliper zeroed anew on a reference strip before each", text)
	case obstacle == evidence.TooFewStrips:
		sayRow(row, "strips-cannot", model.Warns, "%sit cannot be settled with the %s that still count; more strips on file of how this shop's rips repeat would help, or a finer caliper, or other rings", text, times(row.Left, "strip", "strips"))
	default:
		sayRow(row, "more-strips", model.Warns, "%s%s should settle it", text, stripsOf(further, j.profile.BladeName(c.Blade), carried))
	}
}

// stripsOf says which strips: two of the one and one of the other.
func stripsOf(further []evidence.Purpose, blade, carrier string) string {
	own, datum := 0, 0
	for _, f := range further {
		if f == evidence.ForBlade {
			own++
		} else {
			datum++
		}
	}
	switch {
	case datum == 0:
		return times(own, "more strip", "more strips") + " of the " + blade
	case own == 0:
		return times(datum, "more strip", "more strips") + " of the " + carrier
	}
	return times(own, "more strip", "more strips") + " of the " + blade + " and " + times(datum, "more", "more") + " of the " + carrier
}
