package solver

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/stacking"
)

// Lost is how many blades of a plan no stack brings in.
func Lost(plan model.Plan) (n int) {
	for _, b := range plan.Blades {
		if b.Verdict == model.Cannot {
			n++
		}
	}
	return n
}

// AnyKnifeFits reports whether a plan has a blade that its knife fits: without one there is no
// reference.
func AnyKnifeFits(plan model.Plan) bool {
	return slices.ContainsFunc(plan.Blades, func(b model.BladeRow) bool { return b.Knife == model.KnifeFits })
}

// CheckDatum says what is wrong with the reference and the standing stack that a profile
// names, by its plan: a reference that must not run; more blades that no stack brings in
// than lost, which is how many there are with what the readings name; a nut that is not on
// its whole thread. Nil: nothing.
func CheckDatum(p model.Profile, plan model.Plan, lost int) (reference, standing []model.Reason) {
	row, ok := plan.Row(p.Reference)
	if !ok {
		return nil, nil
	}
	name := p.BladeName(p.Reference)
	if row.Knife != model.KnifeFits {
		has, way := "has no knife that fits it", "choose another"
		if row.Knife == model.KnifeMissing {
			has = "has no knife any more"
		}
		if !AnyKnifeFits(plan) {
			way = "nor has any other blade here a knife that fits; get one, or say which knife runs with each"
		}
		reference = append(reference, model.Reason{Code: "reference-unfit", Weight: model.Danger,
			Text: fmt.Sprintf("the %s %s, and a blade that must not run is no reference: %s", name, has, way)})
	}
	if n := Lost(plan); n > lost {
		better := "every one can"
		if lost > 0 {
			better = fmt.Sprintf("only %d cannot", lost)
		}
		reference = append(reference, model.Reason{Code: "reference-loses", Weight: model.Warns,
			Text: fmt.Sprintf("%d of %d blades cannot be brought to its line, and with what the readings name %s", n, len(plan.Blades), better)})
	}
	if row.Verdict == model.Cannot {
		standing = append(standing, model.Reason{Code: "standing-thread", Weight: model.Danger,
			Text: fmt.Sprintf("with %s behind the %s the nut is not on its whole thread: choose a lower stack", p.RingNames(p.Standing), name)})
	}
	return reference, standing
}

// asDatum is what the bench figures call the reference as it defines the datum, in the life from:
// by its own name, or, where it was sharpened since and the datum stayed, by another, with what
// was read of it before that.
func (j *judging) asDatum(from int) string {
	id := j.plan.Reference
	if j.reference == nil || from >= len(j.began[id]) {
		return id
	}
	p := j.profile
	p.Records = nil
	for i, r := range j.profile.Records {
		if i < j.began[id][from] || r.Kind == model.Void || r.Kind == model.Correction {
			p.Records = append(p.Records, r)
		}
	}
	b, was := j.reference.blade, model.Fold(p).Blades[id]
	b.Plate, b.Kerf, b.Runout = was.Plate, was.Kerf, was.Runout
	name := id + " of the datum" // no blade has blanks in its id
	if bare, err := stacking.BareOf(p.Saw.Flange, b, p.Instruments.Micrometer.Length, stacking.UnreadRunout(p)); err == nil {
		j.bare[name] = bare
	}
	return name
}

// byReference reports whether the reference itself, and not only another stand-in, proved a blade
// within the days that the shop proves in. The blade was compared with it at first.
func (j *judging) byReference(c *evidence.Course) bool {
	if j.profile.ProveEvery == 0 {
		return true
	}
	at := -1
	for _, look := range append([]*evidence.Course{c}, proofsOf(c)...) {
		if look.Verdict == model.In && look.Carrier.Blade == j.plan.Reference {
			at = max(at, look.At)
		}
	}
	return !j.now.After(j.recordAt(at).At.AddDate(0, 0, j.profile.ProveEvery))
}
