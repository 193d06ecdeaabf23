// Package gauging takes what instruments read at the saw: heel and toe, taper, dial, fence scale.
package gauging

import (
	"errors"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Angle is how much farther away something lies at the rear than at the front.
type Angle struct {
	Rise model.Length // rear minus front
	Span model.Length // between the two places
}

// Slope is the rise over the span.
func (a Angle) Slope() float64 { return float64(a.Rise) / float64(a.Span) }

// Over is the rise over another length, such as the part of the blade above the
// table.
func (a Angle) Over(length model.Length) model.Length {
	return metrology.Rounded(a.Slope() * float64(length))
}

// Tooth is where one tooth was measured, turned from front to rear. By a dial zeroed at the
// front the one there is 0, and at the rear stands what it shows, + where the tooth lies
// farther away.
type Tooth struct {
	SlotFront, SlotRear, FenceFront, FenceRear model.Length
	Span                                       model.Length // between the two places
	Exposed                                    model.Length // the blade's length above the table; 0: the span
}

// Alignment is how blade and fence lie: Slot is the blade against the mitre slot,
// Fence the fence against the blade, positive where it opens toward the rear.
type Alignment struct {
	Slot, Fence Angle
	Reasons     []model.Reason
}

// Align turns the distances of one tooth into angles over the exposed length, and
// says which way to turn blade or fence. A fence that closes toward the rear is a
// danger: it presses the stock onto the rising teeth. A span that is not positive is
// an error.
func Align(t Tooth, w metrology.Words) (Alignment, error) {
	if t.Span <= 0 || t.Exposed < 0 {
		return Alignment{}, errors.New("the tooth's way from front to rear is not a length above zero: measure it along the blade")
	}
	if t.Exposed == 0 {
		t.Exposed = t.Span
	}
	a := Alignment{Slot: Angle{t.SlotRear - t.SlotFront, t.Span}, Fence: Angle{t.FenceRear - t.FenceFront, t.Span}}
	a.Reasons = append(slotWords(a.Slot, t.Exposed, model.LeanDoubt(t.SlotFront, w.Resolution), w), fenceWords(a.Fence, t.Exposed, model.LeanDoubt(t.FenceFront, w.Resolution), w)...)
	return a, nil
}

func slotWords(a Angle, exposed, doubt model.Length, w metrology.Words) []model.Reason {
	over, where, turn := a.Over(exposed), "farther from", "toward"
	if over < 0 {
		where, turn = "nearer to", "away from"
	}
	if wrong := model.BladeLies(over, exposed, doubt, w.Set); wrong != nil {
		return wrong
	}
	switch size := over.Abs(); {
	case size <= max(model.Parallel, doubt):
		return model.Because("blade-parallel", model.Explains, "blade and mitre slot are parallel as far as such readings tell")
	case size <= model.WellHeelToe:
		return model.Because("blade-well", model.Explains, "the rear of the blade lies %s %s the slot, over %s: well set", w.Set(size), where, w.Set(exposed))
	default:
		return model.Because("blade-tolerable", model.Explains, "the rear of the blade lies %s %s the slot than the front, over %s: tolerable; to better it, turn its rear %s %s the slot", w.Set(size), where, w.Set(exposed), w.Set(size), turn)
	}
}

func fenceWords(a Angle, exposed, doubt model.Length, w metrology.Words) []model.Reason {
	over := a.Over(exposed)
	if wrong := model.FenceLies(over, exposed, doubt, w.Set); wrong != nil {
		return wrong
	}
	if over.Abs() <= max(model.Parallel, doubt) {
		return model.Because("fence-parallel", model.Explains, "fence and blade are parallel as far as such readings tell")
	}
	return model.Because("fence-opens", model.Explains, "the fence opens toward the rear by %s over %s: right", w.Set(over), w.Set(exposed))
}

// doubt is the expanded uncertainty of a rise: two readings, each with the caliper's
// resolution.
func doubt(w metrology.Words) model.Length {
	q := metrology.Resolution(float64(w.Resolution))
	u, _ := metrology.Combine(metrology.Coverage, q, q) // two steps always combine
	return metrology.Rounded(u.Expanded)
}

// Taper is the change of a ripped board's width from its leading to its trailing end,
// over its length. A length that is not positive is an error.
func Taper(lead, tail, length model.Length, w metrology.Words) (Angle, []model.Reason, error) {
	if length <= 0 {
		return Angle{}, nil, errors.New("the board's length is not above zero: measure it along the cut")
	}
	a := Angle{tail - lead, length}
	if wrong := model.BoardTaper(a.Rise, w.Set); wrong != nil {
		return a, wrong, nil
	}
	switch {
	case a.Rise.Abs() <= max(model.Parallel, doubt(w)):
		return a, model.Because("no-taper", model.Explains, "both ends are as wide"), nil
	case a.Rise > 0:
		return a, model.Because("taper", model.Warns, "the board is %s wider at its trailing end, over %s: press it to the fence up to the end of the cut, and see that its edge is straight and the fence parallel", w.Set(a.Rise), w.Set(length)), nil
	default:
		return a, model.Because("taper", model.Warns, "the board is %s narrower at its trailing end, over %s: press it to the fence from the beginning of the cut, and see that its edge is straight and the fence parallel", w.Set(-a.Rise), w.Set(length)), nil
	}
}
