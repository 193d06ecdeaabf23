package profiles

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// Side is whose head counts where two copies differ.
type Side string

// The two sides of a merge.
const (
	Mine   Side = "mine"
	Theirs Side = "theirs"
)

// Merge is the union of the records of two copies of a profile, in time order, under
// the head of mine, and what the heads do not agree on. Where nothing differs the
// outcome is the same from either side.
func Merge(mine, theirs model.Profile) (model.Profile, []text.Difference) {
	return Take(mine, theirs, Mine), text.Differences(mine, theirs)
}

// Take is the union of the records of two copies under the head of the side chosen.
// Blades, knives and rings that only the other side has come along where a record
// names them: the blade as retired, the ring with none left.
func Take(mine, theirs model.Profile, side Side) model.Profile {
	out, other := mine, theirs
	if side == Theirs {
		out, other = theirs, mine
	}
	out.Records = union(mine.Records, theirs.Records)
	return named(out, other)
}

// named adds to p what its records name and only other has.
func named(p, other model.Profile) model.Profile {
	blades, knives, rings := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for i := range p.Records {
		r := &p.Records[i]
		blades[r.Blade], knives[r.Knife], knives[r.Left] = true, true, true
		for _, id := range r.Rings {
			rings[id] = true
		}
	}
	for _, b := range other.Blades {
		if _, have := p.BladeByID(b.ID); !have && blades[b.ID] {
			b.Retired = true
			p.Blades = append(slices.Clip(p.Blades), b)
			knives[b.Knife] = true
		}
	}
	for _, k := range other.Knives {
		if _, have := p.KnifeByID(k.ID); !have && knives[k.ID] {
			p.Knives = append(slices.Clip(p.Knives), k)
		}
	}
	for _, r := range other.Rings {
		if _, have := p.RingByID(r.ID); !have && rings[r.ID] {
			r.Count = 0
			p.Rings = append(slices.Clip(p.Rings), r)
		}
	}
	return p
}

// Choose is the union of the records of two copies of a profile under a head that takes
// each value they do not agree on from the side chosen for its path (Difference.Path).
// What records name and the head would not have comes along as in Take. The error is
// Findings where the values chosen do not make a profile.
func Choose(mine, theirs model.Profile, sides map[string]Side) (model.Profile, error) {
	takeTheirs := map[string]bool{}
	for _, d := range text.Differences(mine, theirs) {
		s := sides[d.Path]
		if s != Mine && s != Theirs {
			return model.Profile{}, fmt.Errorf("%s: no side is chosen: write mine or theirs", d.Path)
		}
		takeTheirs[d.Path] = s == Theirs
	}
	out, findings := text.ChooseHead(mine, theirs, takeTheirs)
	if faults := findings.Faults(); len(faults) > 0 {
		return model.Profile{}, faults
	}
	out.Records = union(mine.Records, theirs.Records)
	first, second := mine, theirs
	if text.Format(withHead(second, nil)) < text.Format(withHead(first, nil)) { // whoever asks
		first, second = second, first
	}
	out = named(named(out, first), second)
	if faults := checked("", out, 0).Faults(); len(faults) > 0 {
		return model.Profile{}, faults
	}
	return out, nil
}
