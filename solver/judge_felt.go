package solver

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// feelerLeaf is the step of the leaves that a knife is felt with (common practice: 0.05 mm).
const feelerLeaf = 50_000 * model.Nanometre

// FeltOutside is how far a knife stands out of the kerf of a blade behind whose tips it was
// felt, low and high, behind them positive; signs as in OutOfKerf.
func FeltOutside(faces []model.Length, play model.Length) model.Length {
	return OutOfKerf(0, slices.Max(faces), max(-slices.Min(faces), 0), play)
}

// felt lists the times that the knife of a blade was felt behind it as it is now, under the
// present datum, oldest first.
func (j *judging) felt(b model.Blade) (out []model.Feel) {
	for _, f := range j.told.Felt {
		if r := f.Record; r.Blade == b.ID && r.Knife == b.Knife && len(r.Faces) == 2 && f.Index > j.told.Datum && f.Index > j.told.Blades[b.ID].Life {
			out = append(out, f)
		}
	}
	return out
}

// feltOutside lists those before power that put the knife outside the kerf: those rings are
// not offered again, until the knife was squared anew, or found elsewhere than it was taken
// to stand.
func (j *judging) feltOutside(b model.Blade, row *model.BladeRow) (out []model.Feel) {
	now := j.told.Knives[b.Knife]
	for _, f := range j.felt(b) {
		stood := j.behindDatum(f.Knife)
		if f.Record.Kind != model.Felt || row.Knife != model.KnifeFits || len(stood) == 0 || now.SetAt > f.Index {
			continue
		}
		if FeltOutside(model.Lengths(f.Record.Faces), row.Play) == 0 { // the newest counts
			out = slices.DeleteFunc(out, func(s model.Feel) bool {
				return evidence.Canonical(s.Record.Rings) == evidence.Canonical(f.Record.Rings)
			})
			continue
		}
		if now.CheckAt > f.Index && metrology.Rounded(mean(j.behindDatum(now))-mean(stood)).Abs() > model.MostFeelerGap {
			continue
		}
		out = append(out, f)
	}
	return out
}

// behindDatum is how far behind the datum a knife was felt, at each place; none: never.
func (j *judging) behindDatum(k model.KnifeState) (out []float64) {
	faces, from := []model.Measure(nil), model.Length(0)
	switch {
	case k.Check != nil:
		faces, from = k.Check.Faces, j.offsetOn(k.Check.Blade, k.Check.Rings, k.CheckAt)
	case k.Set != nil:
		faces, from = k.Set.Gaps, j.offsetOn(k.Set.Blade, k.Set.Rings, k.SetAt)
	}
	for _, f := range model.Lengths(faces) {
		out = append(out, float64(f+from))
	}
	return out
}

func mean(x []float64) float64 { return stat.Mean(x, nil) }

// offsetFelt is how much wider than the datum a blade cuts with the rings of a feel: by how
// far the knife stood behind the datum, less how far it was felt behind the tips.
func (j *judging) offsetFelt(f model.Feel) (value, standard float64) {
	stood, faces := j.behindDatum(f.Knife), model.Lengths(f.Record.Faces)
	behind := float64(faces[0]+faces[1]) / 2
	leaf := metrology.Resolution(float64(feelerLeaf)).Standard
	return mean(stood) - behind, leaf * math.Sqrt(1/float64(len(stood))+1/float64(len(faces)))
}

// byFeel foretells what a blade cuts from where its knife was seen outside the kerf last,
// before any strip told more: micrometer and rings were wrong there. False: it never was.
func (j *judging) byFeel(f *finding) (stacking.Offset, bool) {
	row := model.BladeRow{}
	j.bladeKnife(&row, *f)
	seen := j.feltOutside(f.blade, &row)
	if len(seen) == 0 {
		return stacking.Offset{}, false
	}
	last := seen[len(seen)-1]
	on, known := j.profile.StackHeight(last.Record.Rings)
	value, standard := j.offsetFelt(last)
	part := metrology.Contribution{Standard: standard, Freedom: math.Inf(1)}
	u, err := metrology.Combine(metrology.Coverage, part)
	if !known || err != nil {
		return stacking.Offset{}, false
	}
	standing, _ := j.profile.StackHeight(j.profile.Standing)
	flange := j.profile.Saw.Flange
	bare := stacking.Want(flange, 0, stacking.Want(flange, on, metrology.Rounded(value))-standing)
	return stacking.Offset{Basis: model.Predicted, Value: bare, U: metrology.Rounded(u.Expanded), Uncertainty: u, Parts: []metrology.Contribution{part}}, true
}

// feltRow says what was felt of a blade that no strip tells of, and refuses rings of which
// the knife was seen outside the kerf.
func (j *judging) feltRow(row *model.BladeRow, f finding) {
	seen := j.feltOutside(f.blade, row)
	if len(seen) == 0 {
		return
	}
	row.Feel = true
	w := j.words
	for _, s := range seen {
		out := FeltOutside(model.Lengths(s.Record.Faces), row.Play)
		sayRow(row, "felt-outside", model.Warns, "with %s on, its knife was seen %s out of the kerf %s: those rings do not go on again, and what is wanted is reckoned from there; it is felt before power", j.stackNames(s.Record.Rings), w.Result(out.Abs()), model.Toward(out))
	}
	again := slices.ContainsFunc(seen, func(s model.Feel) bool {
		return evidence.Canonical(s.Record.Rings) == evidence.Canonical(row.Stack)
	})
	if again || len(j.goes(f, row)) >= evidence.MostGoes {
		row.Verdict, row.Inside = model.Cannot, false
		sayRow(row, "felt-cannot", model.Danger, "no other rings are left to try: read plate and kerf again, measure the rings, look for dust and burrs, or have the knife squared anew")
	}
}

// seenSince puts in a row where its knife was seen outside the kerf with its rings, before power
// and after its last look: what its strips say is not so any more. False: it was not.
func (j *judging) seenSince(row *model.BladeRow, f finding, c *evidence.Course) bool {
	seen := j.feltOutside(f.blade, row)
	if len(seen) == 0 {
		return false
	}
	last := seen[len(seen)-1]
	strips := j.strips[c.Outfit]
	if evidence.Canonical(last.Record.Rings) != c.Stack || len(strips) == 0 || strips[len(strips)-1].Index > last.Index {
		return false
	}
	value, standard := j.offsetFelt(last)
	row.Offset, row.Expanded, row.Feel = metrology.Rounded(value), metrology.Rounded(2*standard), true
	out := FeltOutside(model.Lengths(last.Record.Faces), row.Play)
	sayRow(row, "felt-outside", model.Danger, "with %s on, its knife was seen %s out of the kerf %s before power: those rings do not go on again", j.stackNames(row.Stack), j.words.Result(out.Abs()), model.Toward(out))
	return true
}

// disputed is the newest time that the knife was felt inside the kerf of a blade which by its
// strips cannot be there; nil: never, or strips ripped since say in. Neither is believed: the
// fence was knocked, or the knife moved along with the blade.
func (j *judging) disputed(b model.Blade, row *model.BladeRow, c *evidence.Course) *model.Feel {
	if row.Knife != model.KnifeFits {
		return nil
	}
	for _, f := range slices.Backward(j.felt(b)) {
		rings := evidence.Canonical(f.Record.Rings)
		switch {
		case FeltOutside(model.Lengths(f.Record.Faces), row.Play) != 0 || c != nil && c.Stack != rings:
		case f.Record.Kind == model.Line:
			if j.stripsOutside(b, row, c, f) {
				return &f
			}
		case c == nil || !slices.ContainsFunc(j.sureLooks(c), func(look sureLook) bool { return look.at > f.Index }):
			return &f
		default:
			return nil
		}
	}
	return nil
}

// stripsOutside reports whether the newest strips of a blade are of the mounting in which its
// knife was checked, and leave that outside the kerf.
func (j *judging) stripsOutside(b model.Blade, row *model.BladeRow, c *evidence.Course, f model.Feel) bool {
	if c == nil || f.Mounting == "" {
		return false
	}
	strips := j.strips[c.Outfit]
	if len(strips) == 0 || strips[len(strips)-1].Mounting != f.Mounting {
		return false
	}
	d, ok := j.newest(c)
	if !ok {
		d, ok = j.ledger.Glance(c)
	}
	return ok && j.cutOutside(finding{blade: b}, row, metrology.Rounded(d.Value))
}

// dispute finds the knives that were checked behind a blade whose strips of that mounting put
// them outside its kerf: no blade that names one is ready before that is settled.
func (j *judging) dispute() {
	j.doubted = map[string]string{}
	for _, f := range j.findings {
		row := model.BladeRow{}
		j.bladeKnife(&row, f)
		if felt := j.disputed(f.blade, &row, j.course(f.blade.ID)); felt != nil && felt.Record.Kind == model.Line {
			j.doubted[f.blade.Knife] = f.blade.ID
		}
	}
}

// feltState keeps from being ready what strips and knife say differently of.
func (j *judging) feltState(row *model.BladeRow, f finding, c *evidence.Course, worse func(model.Readiness, string, string, ...any)) {
	if by := j.doubted[f.blade.Knife]; by != "" && row.Verdict == model.In { // that blade itself is out
		worse(model.StateCheck, "knife-doubted", "its knife was felt in line with the %s, which by its strip cannot be: the knife may have been moved along with it; feel it there again first (sawdatum blade, the %s)", j.profile.BladeName(by), j.profile.BladeName(by))
	}
	if felt := j.disputed(f.blade, row, c); felt != nil {
		row.Feel = true
		faces := felt.Record.Faces
		worse(model.StateCheck, "strip-or-knife", "a strip put its knife outside the kerf, and behind its tips that was felt inside (%s low, %s high): the fence was knocked, or the knife moved along, and neither is believed; rip new strips under another fence lock", j.words.Result(faces[0].Length), j.words.Result(faces[1].Length))
	}
}
