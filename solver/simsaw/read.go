package simsaw

import (
	"math"
	"math/cmplx"

	"example.com/sawdatum/model"
)

// instrument shows steps; its readings scatter, and lie off by a bias of its own.
type instrument struct {
	step, scatter, bias model.Length
}

// read is what an instrument shows of a true length.
func (s Saw) read(i instrument, of model.Length) model.Length {
	return stepped(of+i.bias+bell(s.random, i.scatter), i.step)
}

func stepped(l, step model.Length) model.Length {
	return model.Length(math.Round(float64(l)/float64(step))) * step
}

func (s Saw) readings(i instrument, of model.Length, n int) []model.Length {
	out := make([]model.Length, n)
	for k := range out {
		out[k] = s.read(i, of)
	}
	return out
}

// Plate is n micrometer readings of a blade's plate.
func (s Saw) Plate(id string, n int) []model.Length {
	return s.readings(s.micrometer, s.blade(id).Plate, n)
}

// Kerf is n micrometer readings over a blade's teeth.
func (s Saw) Kerf(id string, n int) []model.Length {
	return s.readings(s.micrometer, s.blade(id).Kerf, n)
}

// Ring is one micrometer reading of a ring of a sort; 0 for a sort that no profile
// named.
func (s Saw) Ring(id string) model.Length {
	if pieces := s.rings[id].pieces; len(pieces) > 0 {
		return s.read(s.micrometer, pieces[0])
	}
	return 0
}

// Fence is a fence at its place, locked: its distance from the flange face.
type Fence struct{ at model.Length }

// SetFence sets the fence by its scale and locks it. The same setting does not come
// back to the last hundredth.
func (s Saw) SetFence(setting model.Length) Fence {
	slope := model.Length(math.Round(s.scale.slope * float64(setting)))
	return Fence{s.scale.zero + setting + s.scale.offset + slope + bell(s.random, 10_000)}
}

// Nudged is the fence moved by a length, positive away from the blade.
func (f Fence) Nudged(by model.Length) Fence { return Fence{f.at + by} }

// MoveCursor is the saw with the scale's cursor moved, positive toward the higher
// numbers: the same fence then reads higher.
func (s Saw) MoveCursor(by model.Length) Saw {
	s.scale.offset -= by
	return s
}

// Rip is the true width of a part that is ripped off a blank, on a saw whose rips repeat.
func (s Saw) Rip(on Setup, f Fence) model.Length { return f.at - s.cutFace(on) }

// Ends is what a caliper reads at the leading and the trailing end of a board that
// was ripped to a true width: pressed to the fence a little unevenly.
func (s Saw) Ends(width model.Length) (lead, tail model.Length) {
	return s.read(s.caliper, width), s.read(s.caliper, width+between(s.random, -15_000, 15_000))
}

// FlangeDial is n equally spaced dial readings round the flange at its rim, from the
// arbor's mark on.
func (s Saw) FlangeDial(n int) []model.Length { return s.dial(s.wobble, n) }

// RimDial is n equally spaced dial readings at the blade's rim, from the arbor's mark
// on.
func (s Saw) RimDial(on Setup, n int) []model.Length { return s.dial(s.swing(on), n) }

func (s Saw) dial(wobble complex128, n int) []model.Length {
	out := make([]model.Length, n)
	for k := range out {
		at := cmplx.Phase(wobble) - 2*math.Pi*float64(k)/float64(n)
		out[k] = s.read(instrument{step: s.micrometer.step, scatter: 500}, model.Length(math.Round(cmplx.Abs(wobble)*math.Cos(at))))
	}
	return out
}

// Tooth is where one tooth stands: how far from the mitre slot and from the fence, at
// the front and at the rear, and how far it travelled between.
type Tooth struct {
	SlotFront, SlotRear, FenceFront, FenceRear, Span model.Length
}

// HeelToe is a tooth of the mounted blade measured at the front and at the rear.
func (s Saw) HeelToe(on Setup, f Fence) Tooth {
	whole := 10 * model.Millimetre
	if s.inches {
		whole = model.Inch / 2
	}
	span := s.blade(on.Blade).Diameter * 4 / 5 / whole * whole
	rear := func(front model.Length, opens float64) model.Length {
		return s.read(s.caliper, front+model.Length(math.Round(opens*float64(span))))
	}
	slot, fence := 95*model.Millimetre, f.at-s.cutFace(on)
	return Tooth{s.read(s.caliper, slot), rear(slot, s.slotOpens), s.read(s.caliper, fence), rear(fence, s.fenceOpens), span}
}

// TurnFence is the saw with its fence turned to open toward the rear by 0.02 mm over 200 mm.
func (s Saw) TurnFence() Saw {
	s.fenceOpens = 0.0001
	return s
}

// KnifeGaps are what a feeler finds between the knife and the gauge board that it was
// pressed to: front low, front high, rear low, rear high.
func (s Saw) KnifeGaps() [4]model.Length {
	leaf := model.Length(10_000)
	if s.inches {
		leaf = model.Thou
	}
	var gaps [4]model.Length
	for i := range gaps {
		gaps[i] = between(s.random, 0, 40_000) / leaf * leaf
	}
	return gaps
}

// TipGap is the gap from the knife to the tooth tips, read with a rule.
func (s Saw) TipGap(id string) model.Length {
	return s.read(s.rule(), s.tipGap+(s.anchor.Diameter-s.blade(id).Diameter)/2)
}

// rule reads to half a millimetre or to 1/64 in.
func (s Saw) rule() instrument {
	if s.inches {
		return instrument{step: model.Inch / 64, scatter: 50_000}
	}
	return instrument{step: model.Millimetre / 2, scatter: 50_000}
}

// BoardLength is the length of the gauge board: as it is to be laid out before a setup, 400 mm
// longer than the throat opening, up to a round figure.
func (s Saw) BoardLength() model.Length {
	step := 10 * model.Millimetre
	if s.inches {
		step = model.Inch / 2
	}
	return (s.throat + 400*model.Millimetre + step - 1) / step * step
}
