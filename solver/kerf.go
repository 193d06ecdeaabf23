package solver

import (
	"example.com/sawdatum/model"
)

// OutOfKerf is how far a riving knife stands out of the kerf behind a blade: positive
// toward the fence, where the part presses on it; negative on the side away from the
// fence, where the stock wedges on it; 0 inside its kerf. offset is that of the cut, wide
// positive; gap how far the knife's fence-side face may lie behind the datum face, the
// largest of its feeler gaps; proud how far it may lie in front of it; play kerf less knife.
// A part that is wide by more than 0.1 mm lets the knife stand out by the whole of it,
// whatever its play; a narrow one by gap - offset - play (job.md, Where the knife stands in
// the kerf).
func OutOfKerf(offset, gap, proud, play model.Length) model.Length {
	limit := KnifeLimit(play, gap, proud)
	if offset > limit.Away {
		return offset + proud
	}
	return min(limit.Toward+offset, 0)
}

// ScaleSetting is a fence setting rounded to what its scale shows.
func ScaleSetting(l model.Length, u model.Unit) model.Length {
	step := scaleStep(u)
	half := step / 2
	if l < 0 {
		half = -half
	}
	return (l + half) / step * step
}
