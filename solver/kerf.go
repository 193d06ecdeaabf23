package solver

import (
	"slices"

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

// FeelerGap is the largest feeler gap of a knife as it was squared to the present datum;
// before that, the largest that is taken.
func FeelerGap(s model.State, knife string) model.Length {
	k := s.Knife
	if k == nil || !s.Aligned || k.Knife != knife || len(k.Gaps) == 0 {
		return model.MostFeelerGap
	}
	return slices.Max(model.Lengths(k.Gaps))
}

// place works out where the knife stands behind the cut that the row's stack makes, and
// says so where it stands out of its kerf.
func (s *sheet) place(row *model.BladePlan, f finding) {
	if row.Knife != model.KnifeFits {
		return
	}
	row.Outside = OutOfKerf(-row.Residual, FeelerGap(s.state, f.blade.Knife), 0, row.Play)
	if row.Outside == 0 {
		return
	}
	side, why := "toward the fence", "the part presses on it"
	if row.Outside < 0 {
		side, why = "on the side away from the fence", "the stock wedges on it"
	}
	w := s.words
	say(row, "knife-outside", model.Danger, "with %s %s: the knife stands %s out of its kerf %s, and %s; do not rip with it so: it wants another stack, another knife, or the knife set anew to this blade",
		s.profile.RingNames(row.Stack), where(row.Residual, w), w.result(row.Outside.Abs()), side, why)
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
