package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// mostProud is how far a knife may stand out of a kerf toward the fence for a rip to be
// offered (common practice).
const mostProud = 100_000 * model.Nanometre

// StackLimit is the highest stack that may go on behind a blade, and whether the saw's
// figures tell it. From the flange's face stand the stack, the plate, the loose flange
// and the nut, and one pitch has to show past it; and at least half of the plate has to
// sit on the plain part, not on the thread (common practice). It may be negative: then even
// no rings are too much.
func StackLimit(saw model.Saw, plate model.Length) (model.Length, bool) {
	limit, known := threadLimit(saw, plate)
	if plain := saw.PlainPart.Length - plate/2; isKnown(saw.PlainPart) && (!known || plain < limit) {
		return plain, true
	}
	return limit, known
}

// threadLimit is what the thread alone allows.
func threadLimit(saw model.Saw, plate model.Length) (model.Length, bool) {
	if !isKnown(saw.ThreadEnd, saw.LooseFlange, saw.Nut, saw.ThreadPitch) {
		return 0, false
	}
	return saw.ThreadEnd.Length - saw.LooseFlange.Length - saw.Nut.Length - saw.ThreadPitch.Length - plate, true
}

// CheckPlainPart holds a stack against the plain part of the arbor: a bore that hangs in
// the thread is not centred and wears it. Nil: the blade sits.
func CheckPlainPart(saw model.Saw, stack, plate model.Length, w metrology.Words) []model.Reason {
	most := saw.PlainPart.Length - plate/2
	if !isKnown(saw.PlainPart) || stack <= most {
		return nil
	}
	return model.Because("plain-part", model.Danger, "on a stack of %s the blade sits on the thread, not on the plain part of %s, which must reach half of its plate: at most %s may go on", w.Set(stack), w.Set(saw.PlainPart.Length), w.Set(max(most, 0)))
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
func KnifeLimit(play, gap, proud model.Length) stacking.Zone {
	return stacking.Zone{Toward: play - gap, Away: mostProud - proud}
}
