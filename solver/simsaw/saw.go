// Package simsaw is a saw that is not there: it knows how thick every plate, kerf
// and ring truly is, how flange and blades wobble and how the fence scale lies, and
// answers what an instrument would read. Practice is done at it, and the solver is
// tested against it, so it shares no code with the solver. The same profile and seed
// give the same saw, and the same questions in the same order, or under the same names, the
// same readings, on every platform.
package simsaw

import (
	"hash/fnv"
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"

	"example.com/sawdatum/model"
)

// airBetween is what a ring adds to a stack beyond its own thickness: a clamped pile
// measures a little more than its sum.
const airBetween = 1_000 * model.Nanometre

// Saw is one saw with its rack and kit as they truly are. Measuring draws from a
// stream of chance that copies of a Saw share.
type Saw struct {
	seed       uint64
	flange     model.Flange
	blades     map[string]Blade
	rings      map[string]ring
	wobble     complex128 // of the flange at its own rim: half the total reading, nm
	flangeSize model.Length
	throat     model.Length
	scale      scale
	fenceOpens float64      // toward the rear, against the blade, per unit of length
	slotOpens  float64      // the same of the mitre slot
	tipGap     model.Length // of a blade of the anchor's diameter
	anchor     Blade        // the scale was once set to it; without a kerf: not yet
	inches     bool         // rules and feelers are inch ones
	habits     Habits       // of its rips
	quiet      string       // the blade that is the quieter one of them
	worse      bool         // today repeats worse
	caliper    instrument
	micrometer instrument
	random     *rand.Rand
}

// Blade is a blade as it truly is.
type Blade struct {
	Diameter, Plate, Kerf model.Length
	Wobble                complex128 // of the blade itself at its rim, mark at the arbor's mark: half the total reading, nm
}

// ring is a sort of ring: what is printed on it, and what each of them truly measures.
type ring struct {
	nominal model.Length
	pieces  []model.Length
}

// scale says where the fence truly stands: zero + setting + offset + slope*setting,
// from the flange face.
type scale struct {
	zero, offset model.Length
	slope        float64
}

// Setup is what is on the arbor: a blade, the rings behind it, how far, in degrees,
// the blade's mark stands past the arbor's mark, and which mounting of the blade it is.
type Setup struct {
	Blade    string
	Rings    []string
	Clocks   float64
	Mounting string
}

// New is a plausible true saw round a profile: micrometer readings and measured
// rings in the profile are right within their scatter, nominal rings within their
// half width. What the profile does not say is invented.
func New(p model.Profile, seed uint64) Saw { return Knowing(p, seed, nil) }

// Knowing is New with blades, by id, of which it is known how they truly are.
func Knowing(p model.Profile, seed uint64, blades map[string]Blade) Saw {
	r := chance(seed, "saw")
	return Saw{
		seed: seed, blades: blades, random: chance(seed, "readings"),
		wobble:     turned(float64(between(r, 1_000, 4_000)), r.Float64()*360),
		fenceOpens: float64(between(r, 50, 400)) / 1e6,
		slotOpens:  float64(between(r, -200, 200)) / 1e6,
		tipGap:     between(r, 4_500_000, 5_500_000),
		caliper:    instrument{scatter: 4_000, bias: between(r, -10_000, 10_000)},
		micrometer: instrument{scatter: 1_000},
		scale:      scale{offset: between(r, -300_000, 300_000), slope: float64(between(r, -800, 800)) / 1e6},
		throat:     between(r, 300_000_000, 400_000_000),
	}.With(p)
}

// Reading is the saw about to be read: what it draws follows from the seed and this name
// alone, and from nothing that was read before. Readings that may differ take different names.
func (s Saw) Reading(name string) Saw {
	s.random = chance(s.seed, "reading "+name)
	return s
}

// With is the same saw with what a profile has come to hold since: new blades and
// rings, other figures of the saw. Blades and rings that the saw knows stay as they
// truly are.
func (s Saw) With(p model.Profile) Saw {
	s.flange, s.inches = p.Saw.Flange, p.Units == model.IN
	s.flangeSize = or(p.Saw.FlangeDiameter, 80*model.Millimetre)
	s.throat = or(p.Saw.ThroatLength, s.throat)
	s.caliper.step = or(p.Instruments.Caliper, 10_000)
	s.micrometer.step = or(p.Instruments.Micrometer, 1_000)
	blades, rings := map[string]Blade{}, map[string]ring{}
	maps.Copy(blades, s.blades)
	maps.Copy(rings, s.rings)
	for _, b := range p.Blades {
		if _, known := blades[b.ID]; !known {
			blades[b.ID] = s.invent(b)
		}
	}
	for _, r := range p.Rings {
		rings[r.ID] = s.cast(r, rings[r.ID])
	}
	s.blades, s.rings = blades, rings
	return s.anchored(p)
}

// cast is what a sort of ring truly measures; those that are known stay as they are.
func (s Saw) cast(r model.Ring, known ring) ring {
	random, half := chance(s.seed, "ring "+r.ID), or(r.HalfWidth, model.DefaultRingHalfWidth)
	if r.Measured.Unit != model.NoUnit {
		half = s.micrometer.step / 2
	}
	out := ring{nominal: r.Thickness.Length}
	for range r.Count {
		out.pieces = append(out.pieces, max(r.Height()+between(random, -half, half), 1_000))
	}
	if known.nominal == out.nominal {
		copy(out.pieces, known.pieces)
	}
	return out
}

// anchored sets the scale once to a blade of the rack, as the saw's maker would
// have.
func (s Saw) anchored(p model.Profile) Saw {
	rack := p.Rack()
	if s.anchor.Kerf > 0 || s.flange == "" || len(rack) == 0 {
		return s
	}
	id := p.Reference
	if id == "" {
		id = rack[0].ID
	}
	s.anchor, s.scale.zero = s.blade(id), s.CutFace(id, p.Standing)
	return s
}

// invent is what a blade truly is, near what was read of it.
func (s Saw) invent(b model.Blade) Blade {
	r := chance(s.seed, "blade "+b.ID)
	out := Blade{Diameter: or(b.Diameter, 250*model.Millimetre)}
	out.Plate = like(r, b.Plate, between(r, 1_600_000, 2_300_000))
	out.Kerf = max(like(r, b.Kerf, out.Plate+between(r, 800_000, 1_000_000)), out.Plate+1_000)
	if b.Runout.Unit == model.NoUnit {
		out.Wobble = turned(float64(between(r, 2_000, 12_000)), r.Float64()*360)
		return out
	}
	// What was read at the rim is flange and blade together.
	flange := s.flangeAtRim(out.Diameter)
	out.Wobble = cmplx.Rect(float64(b.Runout.Length)/2-cmplx.Abs(flange), cmplx.Phase(flange))
	return out
}

// like is a true value that readings with a scatter of a few micrometres could be
// of; unread is taken where there are none.
func like(r *rand.Rand, readings []model.Measure, unread model.Length) model.Length {
	if len(readings) == 0 {
		return unread
	}
	return model.Sum(model.Lengths(readings))/model.Length(len(readings)) + bell(r, 500)
}

// blade is a blade of the rack. One that no profile named is invented.
func (s Saw) blade(id string) Blade {
	if b, known := s.blades[id]; known {
		return b
	}
	return s.invent(model.Blade{ID: id})
}

// Sharpened is the saw after a blade came back from the grinder: its kerf has lost
// 0.01 to 0.05 mm (from memory), its plate nothing.
func (s Saw) Sharpened(id string) Saw {
	blades := map[string]Blade{}
	maps.Copy(blades, s.blades)
	s.blades = blades
	b := s.blade(id)
	b.Kerf = max(b.Kerf-between(s.random, 10_000, 50_000), b.Plate+1_000)
	s.blades[id] = b
	return s
}

// CutFace is where the blade truly cuts with these rings, its mark at the arbor's:
// the wall of the kerf on the fence side, from the flange face, positive toward the
// fence. A ring that no profile named has no thickness.
func (s Saw) CutFace(id string, rings []string) model.Length {
	return s.cutFace(Setup{Blade: id, Rings: rings})
}

func (s Saw) cutFace(on Setup) model.Length {
	b := s.blade(on.Blade)
	// From the flange face to the near side of the plate, through the plate's middle
	// to the outermost tooth, which the wobble swings out on either side.
	middle := s.pile(on.Rings) + b.Plate/2
	tooth := b.Kerf/2 + model.Length(math.Round(cmplx.Abs(s.swing(on))))
	if s.flange == model.Near {
		return tooth - middle
	}
	return tooth + middle
}

// pile is how high the rings stand.
func (s Saw) pile(rings []string) model.Length {
	var height model.Length
	used := map[string]int{}
	for _, id := range rings {
		if pieces := s.rings[id].pieces; len(pieces) > 0 {
			height += pieces[used[id]%len(pieces)] + airBetween
			used[id]++
		}
	}
	return height
}

// flangeAtRim is the flange's wobble as it shows at a blade's rim.
func (s Saw) flangeAtRim(diameter model.Length) complex128 {
	return s.wobble * complex(float64(diameter)/float64(s.flangeSize), 0)
}

// swing is the wobble of the mounted blade at its rim.
func (s Saw) swing(on Setup) complex128 {
	b := s.blade(on.Blade)
	return s.flangeAtRim(b.Diameter) + b.Wobble*turned(1, on.Clocks)
}

func turned(size, degrees float64) complex128 { return cmplx.Rect(size, degrees*math.Pi/180) }

func or(m model.Measure, instead model.Length) model.Length {
	if m.Unit == model.NoUnit || m.Length <= 0 {
		return instead
	}
	return m.Length
}

// chance is a stream of its own for each thing, so that one more blade changes none
// of the others.
func chance(seed uint64, what string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(what))
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

func between(r *rand.Rand, lo, hi model.Length) model.Length {
	return lo + model.Length(r.Int64N(int64(hi-lo)+1))
}

// bell is a nearly normal deviate: the sum of twelve even ones has a standard
// deviation of one of their widths. In whole numbers no platform rounds otherwise.
func bell(r *rand.Rand, deviation model.Length) model.Length {
	var sum model.Length
	for range 12 {
		sum += between(r, 0, deviation)
	}
	return sum - 6*deviation
}
