package solver

import "example.com/sawdatum/model"

// Where a knife may stand beside the kerf of a blade for a rip to be offered: so far out
// toward the fence, and before its gaps are known so far behind the datum face, by the
// leaf that must not go in (common practice).
const (
	mostProud   = 100_000 * model.Nanometre
	unknownGaps = 100_000 * model.Nanometre
)

// StackLimit is the highest stack that may go on behind a blade, and whether the saw's
// figures tell it. From the flange's face stand the stack, the plate, the loose flange
// and the nut, and one pitch has to show past it; and at least half of the plate has to
// sit on the plain part, not on the thread (common practice). A saw of which only the
// thread past the nut with the reference blade is known is limited by that alone. It may
// be negative: then even no rings are too much.
func StackLimit(saw model.Saw, referencePlate, plate model.Length) (model.Length, bool) {
	limit, known := model.Length(0), true
	switch {
	case isKnown(saw.ThreadEnd, saw.LooseFlange, saw.Nut, saw.ThreadPitch):
		limit = saw.ThreadEnd.Length - saw.LooseFlange.Length - saw.Nut.Length - saw.ThreadPitch.Length - plate
	case isKnown(saw.SpareThread, saw.ThreadPitch):
		limit = ThreadLimit(saw.SpareThread.Length, saw.ThreadPitch.Length, referencePlate, plate)
	default:
		known = false
	}
	if plain := saw.PlainPart.Length - plate/2; isKnown(saw.PlainPart) && (!known || plain < limit) {
		return plain, true
	}
	return limit, known
}

// CheckPlainPart holds a stack against the plain part of the arbor: a bore that hangs in
// the thread is not centred and wears it. Nil: the blade sits.
func CheckPlainPart(saw model.Saw, stack, plate model.Length, w Words) []model.Reason {
	most := saw.PlainPart.Length - plate/2
	if !isKnown(saw.PlainPart) || stack <= most {
		return nil
	}
	return one("plain-part", model.Danger, "on a stack of %s the blade sits on the thread, not on the plain part of %s, which must reach half of its plate: at most %s may go on", w.set(stack), w.set(saw.PlainPart.Length), w.set(max(most, 0)))
}

func isKnown(ms ...model.Measure) bool {
	for _, m := range ms {
		if m.Unit == model.NoUnit {
			return false
		}
	}
	return true
}

// KnifeLimit is how far the knife lets a cut face lie from the datum face: toward the
// fence by what the kerf leaves beside a knife that stands so far behind the datum face,
// away from it by as much as the knife may stand out and press on the part.
func KnifeLimit(play, gap model.Length) Zone { return Zone{play - gap, mostProud} }

// limit is KnifeLimit for a blade. A knife that does not fit, or none, limits nothing:
// that blade does not run.
func (s *sheet) limit(f *finding) Zone {
	knife, named := s.profile.KnifeByID(f.blade.Knife)
	if !named || f.barred || !f.known {
		return KnifeLimit(model.MaxLength, 0)
	}
	gap := unknownGaps
	if set := s.state.Knife; set != nil && s.state.Aligned && set.Knife == knife.ID && len(set.Gaps) > 0 {
		gap = 0
		for _, g := range set.Gaps {
			gap = max(gap, g.Length)
		}
	}
	return KnifeLimit(f.thickness.Kerf-knife.Thickness.Length, gap)
}
