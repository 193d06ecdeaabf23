package profiles

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// MoveBlade puts a blade of one saw on the rack of another with the figures that were read
// of it last. Strips, stack and readiness stay behind: they belong to the datum of the first
// saw. told says what was left open. The error says why it cannot go there.
func MoveBlade(into, from model.Profile, id string) (out model.Profile, told []string, err error) {
	b, there := from.BladeByID(id)
	if !there {
		return into, nil, fmt.Errorf("%s has no blade %q", text.Show(from.Name), model.Clip(id))
	}
	name := text.Show(b.Name())
	for _, other := range into.Blades {
		switch {
		case other.ID == b.ID && other.Retired:
			return into, nil, fmt.Errorf("the %s was on this rack before: take it back with sawdatum blade", name)
		case other.ID == b.ID || b.Label != "" && other.Label == b.Label:
			return into, nil, fmt.Errorf("this rack has a blade %s (%s) already: give one of the two another id and label first", text.Show(other.Name()), text.Show(other.ID))
		}
	}
	arbor := into.Saw.ArborDiameter
	if arbor.Unit != model.NoUnit && b.Bore.Unit != model.NoUnit && arbor.Length != b.Bore.Length {
		return into, nil, fmt.Errorf("the %s has a bore of %s and this arbor is %s: it does not fit", name, b.Bore, arbor)
	}
	if b.MarkedSpeed > 0 && into.Saw.SpindleSpeed > b.MarkedSpeed {
		return into, nil, fmt.Errorf("the %s is marked %d rpm at the most and this spindle turns at %d rpm: it must not run here", name, b.MarkedSpeed, into.Saw.SpindleSpeed)
	}
	now := model.Fold(from).Blades[id]
	b.Plate, b.Kerf, b.ToothPlate, b.Runout, b.Retired = now.Plate, now.Kerf, now.ToothPlate, now.Runout, false
	old, named := from.KnifeByID(b.Knife)
	b.Knife = ""
	for _, k := range model.Fold(into).There(into.Knives) {
		if named && k.Thickness.Length == old.Thickness.Length {
			b.Knife = k.ID
		}
	}
	if b.Knife == "" {
		told = append(told, "no knife here is as thick as the one that it ran with: sawdatum blade asks for its knife")
	}
	into.Blades = append(slices.Clip(into.Blades), b)
	if faults := checked("", into, 0).Faults(); len(faults) > 0 {
		return into, nil, faults
	}
	return into, append(told, "its strips stay with the saw that it leaves: it is compared here like a new blade"), nil
}
