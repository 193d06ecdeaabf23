package solver

import "example.com/sawdatum/model"

// mostProud is how far a knife may stand out of a kerf toward the fence for a rip to be
// offered (common practice).
const mostProud = 100_000 * model.Nanometre

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

// KnifeLimit is how far a knife lets a cut face lie from the datum face: toward the fence
// by what the kerf leaves beside a knife that stands up to gap behind the datum face; away
// from it as far as a knife that stands up to proud in front of it may press on the part.
func KnifeLimit(play, gap, proud model.Length) Zone { return Zone{play - gap, mostProud - proud} }

// accept sets where a blade's cut face may lie, by the tolerance and by where its knife
// stands. A knife that does not fit, or none, limits nothing: that blade does not run.
func (s *sheet) accept(f *finding, gap, proud model.Length) {
	limit := Zone{model.MaxLength, mostProud}
	if knife, named := s.profile.KnifeByID(f.blade.Knife); named && f.known && !f.barred {
		limit = KnifeLimit(f.thickness.Kerf-knife.Thickness.Length, gap, proud)
	}
	tolerance := s.profile.Tolerance
	within := max(tolerance.Length-f.offset.U, 0)
	f.need.Zone = Zone{min(within, limit.Toward), max(min(within, limit.Away), 0)}
	if tolerance.Unit == model.NoUnit {
		return
	}
	f.need.Doubt = &Doubt{Offset: f.offset, Tolerance: tolerance.Length, Limit: limit}
	if f.cut != nil {
		f.need.Doubt.Judged = append([]string{}, f.cut.Rings...)
	}
}
