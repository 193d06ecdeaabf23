package solver

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Limits of the checks on knife, flange and blade.
const (
	leastLand     = 2 * model.Millimetre     // EN 1870-1: bearing rim of a flange
	boreClearance = 50_000 * model.Nanometre // common practice
)

// KnifeWindow says whether a blade may run with a knife: plate + margin <= knife <
// kerf, in whole nanometres (EN 1870-1 fig. 6; HSE, circular rip saws). play is kerf
// less knife: what is free on the side away from the fence when the knife stands
// flush with the datum face; it is negative where the knife wedges the stock.
func KnifeWindow(plate, kerf, knife, margin model.Length, w metrology.Words) (fit model.KnifeFit, play model.Length, reasons []model.Reason) {
	least, play := plate+margin, kerf-knife
	cure := fmt.Sprintf("use a knife from %s to under %s", w.Result(least), w.Result(kerf))
	if from, under := w.Up(least), w.Down(kerf); from < under {
		cure = fmt.Sprintf("use a knife from %s to under %s", w.Set(from), w.Set(under))
	}
	if wider := w.Set(kerf - plate); least >= kerf || w.Result(least) == w.Result(kerf) {
		if least < kerf {
			wider = w.Result(kerf - plate)
		}
		cure = fmt.Sprintf("no knife fits this blade: its kerf is only %s wider than its plate; leave it off this saw", wider)
	}
	over := fmt.Sprintf("only %s thicker than the %s plate", w.Set(knife-plate), w.Set(plate))
	if knife <= plate {
		over = fmt.Sprintf("no thicker than the %s plate", w.Set(plate))
	}
	switch {
	case knife >= kerf:
		return model.KnifeTooThick, play, model.Because("knife-too-thick", model.Danger,
			"the %s knife does not go through the %s kerf, it is %s too thick: the stock wedges on it; %s", w.Size(knife), w.Set(kerf), w.Set(knife-kerf), cure)
	case knife < least:
		return model.KnifeTooThin, play, model.Because("knife-too-thin", model.Danger,
			"the %s knife is %s, and should be at least %s thicker: the kerf can close on the blade; %s", w.Size(knife), over, w.Set(margin), cure)
	}
	return model.KnifeFits, play, model.Because("knife-fits", model.Explains,
		"the %s knife fits between the plate of %s and the kerf of %s, with %s of play on the side away from the fence", w.Size(knife), w.Set(plate), w.Set(kerf), w.Set(play))
}

// TipGapFor is the gap from the knife to the tooth tips with a blade of another diameter
// than the one that it was read with: it grows by half of what the blade is smaller.
func TipGapFor(read, diameterRead, diameter model.Length) model.Length {
	return read + (diameterRead-diameter)/2
}

// CheckTipGap holds a gap from knife to tooth tips against a rule, in the shop's words
// (model.TipGap). Nil: it is right.
func CheckTipGap(gap model.Length, rule model.Rules, w metrology.Words) []model.Reason {
	return model.TipGap(gap, rule, w.Size)
}

// CheckThread holds a stack against what the thread allows: a whole pitch shows past the nut
// (Naval Ships' Technical Manual ch. 075). limit is the highest stack with which one does, as
// StackLimit has it; negative: not even without rings. Nil: the nut is safe.
func CheckThread(stack, limit, pitch model.Length, w metrology.Words) []model.Reason {
	switch {
	case stack <= limit:
		return nil
	case limit < 0:
		return model.Because("thread", model.Danger, "not even a bare blade leaves one pitch of %s past the nut: the stack is %s too high", w.Set(pitch), w.Set(stack-limit))
	}
	return model.Because("thread", model.Danger, "a stack of %s is %s too high: less than one pitch of %s would show past the nut; at most %s may go on", w.Set(stack), w.Set(stack-limit), w.Set(pitch), w.Set(limit))
}

// CheckBore holds a blade's bore against the arbor: no smaller, and larger by 0.05 mm at the
// most (common practice). Nil: it sits.
func CheckBore(bore, arbor model.Length, w metrology.Words) []model.Reason {
	switch {
	case bore < arbor:
		return model.Because("bore", model.Danger, "the bore of %s is %s smaller than the arbor of %s: the blade does not go on", w.Set(bore), w.Set(arbor-bore), w.Set(arbor))
	case bore-arbor > boreClearance:
		return model.Because("bore", model.Danger, "the bore of %s is %s larger than the arbor of %s: the blade sits off centre; use a blade bored for this arbor", w.Set(bore), w.Set(bore-arbor), w.Set(arbor))
	}
	return nil
}

// CheckRing holds a ring's outer diameter against the flange: it must reach past the
// relief in the middle, and bear on 2 mm of the rim (EN 1870-1). A relief of zero is
// a flat flange. Nil: it bears.
func CheckRing(r model.Ring, flange, relief model.Length, w metrology.Words) []model.Reason {
	outer := r.Outer.Length
	land := (min(outer, flange) - relief) / 2
	switch {
	case relief == 0:
		return nil
	case r.Outer.Unit == model.NoUnit:
		return model.Because("ring-outer-unknown", model.Warns, "the outer diameter of the %s ring is not known: see that it reaches past the flange's relief of %s", r.Label(), w.Set(relief))
	case outer <= relief:
		return model.Because("ring-in-relief", model.Danger, "the %s ring, %s across, drops into the flange's relief of %s: it carries nothing and tilts the blade; use rings larger than %s", r.Label(), w.Set(outer), w.Set(relief), w.Set(relief+2*leastLand))
	case land < leastLand:
		return model.Because("ring-narrow-bearing", model.Warns, "the %s ring, %s across, bears on only %s of the flange's rim: use rings of at least %s", r.Label(), w.Set(outer), w.Set(land), w.Set(relief+2*leastLand))
	}
	return nil
}

// RingSits holds a ring's bore against the arbor: one that is much larger hangs off centre and
// bears on one side. Nil: it sits, or its bore is not known.
func RingSits(r model.Ring, arbor model.Length, w metrology.Words) []model.Reason {
	switch bore := r.Bore.Length; {
	case r.Sits(arbor):
		return nil
	case bore < arbor:
		return model.Because("ring-bore", model.Danger, "the bore of the %s ring, %s, is %s smaller than the arbor of %s: it does not go on", r.Label(), w.Set(bore), w.Set(arbor-bore), w.Set(arbor))
	default:
		return model.Because("ring-bore", model.Danger, "the bore of the %s ring, %s, is %s larger than the arbor of %s: it hangs off centre; use rings bored for this arbor", r.Label(), w.Set(bore), w.Set(bore-arbor), w.Set(arbor))
	}
}

// CheckFlange holds the flange against a blade: at least a quarter of the blade's
// diameter, bearing on at least 2 mm (EN 1870-1). Nil: it holds.
func CheckFlange(flange, relief, diameter model.Length, w metrology.Words) []model.Reason {
	var out []model.Reason
	if 4*flange < diameter {
		out = model.Because("flange-small", model.Danger, "the flange of %s is smaller than a quarter of the %s blade: it should be at least %s", w.Set(flange), w.Set(diameter), w.Set((diameter+3)/4))
	}
	if land := (flange - relief) / 2; land < leastLand {
		out = append(out, model.Because("flange-land", model.Warns, "the flange bears on a rim of only %s: it should be at least %s", w.Set(land), w.Set(leastLand))...)
	}
	return out
}

// CheckSmallest holds a blade's diameter against the largest of the machine: at
// least 60 % of it (HSE WIS16). Nil: it is large enough.
func CheckSmallest(diameter, largest model.Length, w metrology.Words) []model.Reason {
	if 5*diameter >= 3*largest {
		return nil
	}
	return model.Because("blade-small", model.Danger, "a blade of %s is smaller than 60 %% of the largest, %s: it should be at least %s", w.Set(diameter), w.Set(largest), w.Set((3*largest+4)/5))
}

// CheckSpeed holds the greatest speed marked on a blade against the spindle's, in turns a
// minute (EN 1870-1, 6.3). Zero is not known, and not checked. Nil: it may run.
func CheckSpeed(marked, spindle int) []model.Reason {
	if marked == 0 || marked >= spindle {
		return nil
	}
	return model.Because("blade-speed", model.Danger, "it is marked for %d rpm, and the spindle turns at %d: it must not run on this saw", marked, spindle)
}

// SwapChecks runs what has to be looked at before a blade goes on the arbor with a
// stack: bore, speed, flange, size, rings, thread and gap to the knife. What has not been
// measured yet is not checked. plate is the mean in force, line the newest look along the
// blade's knife; nil: none. No reasons: all is right.
func SwapChecks(p model.Profile, blade model.Blade, plate model.Length, stack []string, line *model.Record) []model.Reason {
	w, saw := metrology.WordsOf(p), p.Saw
	var out []model.Reason
	if isKnown(blade.Bore, saw.ArborDiameter) {
		out = append(out, CheckBore(blade.Bore.Length, saw.ArborDiameter.Length, w)...)
	}
	out = append(out, CheckSpeed(blade.MarkedSpeed, saw.SpindleSpeed)...)
	if isKnown(blade.Diameter, saw.FlangeDiameter, saw.FlangeRelief) {
		out = append(out, CheckFlange(saw.FlangeDiameter.Length, saw.FlangeRelief.Length, blade.Diameter.Length, w)...)
	}
	if isKnown(blade.Diameter) {
		largest := blade.Diameter.Length
		for _, b := range p.Rack() {
			largest = max(largest, b.Diameter.Length)
		}
		out = append(out, CheckSmallest(blade.Diameter.Length, largest, w)...)
	}
	for i, id := range stack {
		r, ok := p.RingByID(id)
		if !ok || i > 0 && stack[i-1] == id {
			continue
		}
		if isKnown(saw.FlangeDiameter, saw.FlangeRelief) {
			out = append(out, CheckRing(r, saw.FlangeDiameter.Length, saw.FlangeRelief.Length, w)...)
		}
		if isKnown(saw.ArborDiameter) {
			out = append(out, RingSits(r, saw.ArborDiameter.Length, w)...)
		}
	}
	if height, ok := p.StackHeight(stack); ok {
		if limit, known := threadLimit(saw, plate); known {
			out = append(out, CheckThread(height, limit, saw.ThreadPitch.Length, w)...)
		}
		out = append(out, CheckPlainPart(saw, height, plate, w)...)
	}
	if line != nil {
		out = append(out, knifeGap(p, blade, *line, w)...)
	}
	return out
}

// knifeGap foretells the gap to the tooth tips from the one that was read.
func knifeGap(p model.Profile, blade model.Blade, read model.Record, w metrology.Words) []model.Reason {
	with, ok := p.BladeByID(read.Blade)
	if !ok || read.TipGap.Unit == model.NoUnit || with.Diameter.Unit == model.NoUnit || blade.Diameter.Unit == model.NoUnit {
		return nil
	}
	return CheckTipGap(TipGapFor(read.TipGap.Length, with.Diameter.Length, blade.Diameter.Length), p.Rules, w)
}
