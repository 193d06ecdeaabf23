package stacking

import (
	"cmp"
	"fmt"

	"example.com/sawdatum/model"
)

// Thickness is what the bench readings of one blade come to: plate and kerf, and
// the total indicator reading at the rim (0 where it was not read).
type Thickness struct {
	ID     string
	Name   string // as people call it
	Plate  model.Length
	Kerf   model.Length
	Runout model.Length
}

// CutFace is where the blade's cut face lies, measured from the flange face and
// positive toward the fence, with a stack of the given height behind the blade:
// far s + (P+K)/2, near -s + (K-P)/2. Runout widens the kerf and adds its half.
// Half a nanometre is dropped.
func (t Thickness) CutFace(flange model.Flange, stack model.Length) model.Length {
	if flange == model.Near {
		return (t.Kerf-t.Plate+t.Runout)/2 - stack
	}
	return (t.Kerf+t.Plate+t.Runout)/2 + stack
}

// Want is the stack height that brings a blade's cut face to the datum face, when
// it cut wider than the reference by offset with a stack of the given height: far
// s + o, near s - o. A negative height is returned as it is: no stack can make it.
func Want(flange model.Flange, stack, offset model.Length) model.Length {
	if flange == model.Near {
		return stack - offset
	}
	return stack + offset
}

// Residual is predicted cut face minus datum face, positive toward the fence, when
// a stack of the given height stands where want was wanted.
func Residual(flange model.Flange, height, want model.Length) model.Length {
	if flange == model.Near {
		return want - height
	}
	return height - want
}

// Reference chooses the blade from whose cut face every other blade can be reached
// by adding rings: far, the one that cuts farthest toward the fence (largest
// (P+K)/2); near, the one that cuts farthest from it (smallest (K-P)/2). Of equals
// the first is taken. It reports false for an empty rack.
func Reference(flange model.Flange, blades []Thickness) (Thickness, bool) {
	if len(blades) == 0 {
		return Thickness{}, false
	}
	best := blades[0]
	for _, b := range blades[1:] {
		if Reach(flange, b) > Reach(flange, best) {
			best = b
		}
	}
	return best, true
}

// Reach is twice the distance by which a blade's bare cut face lies in the
// direction in which rings move it: doubled, so that no half nanometre is lost.
func Reach(flange model.Flange, t Thickness) model.Length {
	if flange == model.Near {
		return t.Plate - t.Kerf - t.Runout
	}
	return t.Plate + t.Kerf + t.Runout
}

// RuleOfThumb compares a chosen reference with the shops' rule of thumb (left tilt:
// start from the widest blade; right tilt: from the thinnest; common practice) and
// explains a disagreement with the figures of this rack. Without a tilt the rule
// that belongs to the flange is taken.
func RuleOfThumb(flange model.Flange, tilt model.Tilt, chosen Thickness, blades []Thickness, show func(model.Length) string) []model.Reason {
	left := tilt == model.TiltLeft || tilt == "" && flange == model.Far
	rule, hand := "thinnest", "right"
	by := []func(a, b Thickness) int{
		func(a, b Thickness) int { return cmp.Compare(b.Kerf, a.Kerf) },
		func(a, b Thickness) int { return cmp.Compare(b.Plate, a.Plate) },
	}
	if left {
		rule, hand = "widest", "left"
		by = []func(a, b Thickness) int{func(a, b Thickness) int { return cmp.Compare(a.Kerf, b.Kerf) }}
	}
	for _, wider := range by {
		thumb := chosen
		for _, b := range blades {
			if wider(b, thumb) > 0 {
				thumb = b
			}
		}
		short := (Reach(flange, chosen) - Reach(flange, thumb)) / 2
		if short == 0 {
			continue
		}
		return []model.Reason{{Code: "rule-of-thumb", Weight: model.Explains, Text: fmt.Sprintf(
			"the rule of thumb for a %s-tilting saw (start from the %s blade) would take the %s, but the figures take the %s: %s; the %s as reference would leave the %s short by %s, and rings cannot take height away",
			hand, rule, thumb.Name, chosen.Name, faces(flange, chosen, thumb, show), thumb.Name, chosen.Name, show(short))}}
	}
	return nil
}

// faces says where the bare cut faces of two blades lie and why.
func faces(flange model.Flange, a, b Thickness, show func(model.Length) string) string {
	if flange == model.Near {
		return fmt.Sprintf("with the flange on the fence side the side clearance counts, and that is %s on the %s and %s on the %s",
			show(a.CutFace(flange, 0)), a.Name, show(b.CutFace(flange, 0)), b.Name)
	}
	return fmt.Sprintf("with the flange away from the fence half of plate and kerf together counts, and that is %s on the %s and %s on the %s",
		show(a.CutFace(flange, 0)), a.Name, show(b.CutFace(flange, 0)), b.Name)
}
