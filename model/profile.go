// Package model is a saw and its shop as values: lengths, the profile and its records, what
// the records add up to (Fold), what cannot be (Validate), and what the trade finds doubtful.
// It reads no file and computes no stack. Lengths are whole nanometres. A cut face and a
// residual are positive toward the fence, where the part comes out narrower.
package model

import (
	"cmp"
	"strings"
)

// FormatVersion is the version of the profile file that this program writes.
const FormatVersion = 1

// Tilt and Side name the hands of the saw as the user stands before it; Flange
// names the side of the blade that its fixed flange is on.
type (
	Tilt   string
	Side   string
	Flange string
)

// The values of Tilt, Side and Flange.
const (
	TiltLeft  Tilt   = "left"
	TiltRight Tilt   = "right"
	SideLeft  Side   = "left"
	SideRight Side   = "right"
	Far       Flange = "far"  // the flange is on the side of the blade away from the fence
	Near      Flange = "near" // the flange is on the fence side
)

// RingsMove is the side to which rings behind a blade move its cut.
func (f Flange) RingsMove() string {
	if f == Near {
		return Toward(-1)
	}
	return Toward(1)
}

// UsualFlange is where the flange sits on the usual saw: a left-tilting saw has it
// left of the blade, a right-tilting saw right of it (common practice; some saws
// differ, so the user looks and confirms).
func UsualFlange(t Tilt, fence Side) Flange {
	if string(t) == string(fence) {
		return Near
	}
	return Far
}

// Profile is one saw with its rack and what was done to it. It is a plain value;
// a slice in it is never written to in place once the profile was handed on.
type Profile struct {
	Version       int
	Name          string
	Units         Unit // MM or IN: how lengths are shown, and read when typed bare
	Tolerance     Measure
	WorkingWidth  Measure
	ProveEvery    int // days after which a blade that was ready is due to be proved; zero: never
	Saw           Saw
	Knives        []Knife
	KnifeMargin   Measure // least knife thickness over plate; zero: DefaultKnifeMargin
	Rules         Rules   // which published rules hold for gap, run-down and words; empty: not chosen yet
	IdleMinutes   int     // isolation is unknown after so long without a key; zero: DefaultIdleMinutes
	HalfRunout    Measure // the most that runout nobody read moves a cut face; zero: DefaultHalfRunout
	RingHalfWidth Measure // how far a nominal ring may be off where the ring says nothing; zero: DefaultRingHalfWidth
	Instruments   Instruments
	Blades        []Blade
	Rings         []Ring
	Reference     string   // blade id; empty: not chosen yet
	Standing      []string // ring ids behind the reference, flange first; nil: not chosen yet
	Records       []Record
}

// Saw is the machine as looked at and measured once. A zero Unit in a measure
// means that it has not been typed yet.
type Saw struct {
	Label          string
	Tilt           Tilt
	FenceSide      Side
	Flange         Flange
	FlangeDiameter Measure
	FlangeRelief   Measure // inner diameter of the bearing rim; 0: a flat flange
	ArborDiameter  Measure
	PlainPart      Measure // flange face to the first thread
	ThreadEnd      Measure // flange face to the end of the thread
	LooseFlange    Measure // its thickness
	Nut            Measure // its thickness
	ThreadPitch    Measure
	ThroatLength   Measure
	SpindleSpeed   int      // rpm; zero: not known
	MotorTilt      YesNo    // tilt and height are driven by a motor
	ContactBrake   YesNo    // a brake that fires when skin touches the blade
	Scoring        YesNo    // a scoring unit
	FromPaper      []string // keys of the saw whose values were read from the manual or an earlier profile
}

// YesNo is an answer; empty: not asked yet.
type YesNo string

// The two answers.
const (
	Yes YesNo = "yes"
	No  YesNo = "no"
)

// Knife is a riving knife.
type Knife struct {
	ID        string
	Thickness Measure
}

// Instruments holds the resolution of what the shop measures with.
type Instruments struct {
	Caliper      Measure
	CaliperRange Measure // the widest that it opens; zero Unit: not known
	Micrometer   Measure
}

// Blade is one blade of the rack, as read on the bench.
type Blade struct {
	ID          string
	Label       string
	Diameter    Measure
	Teeth       int
	Bore        Measure
	MarkedSpeed int       // greatest speed marked on it, rpm; zero: none
	Plate       []Measure // readings of the plate's thickness where the flange beds
	ToothPlate  []Measure // and beside the teeth, where it differs
	Kerf        []Measure // readings over the teeth
	Runout      Measure   // total indicator reading at the rim; zero Unit: not read
	Knife       string    // knife id
	Retired     bool      // no longer on the rack; kept because records name it
}

// Ring is one sort of shim ring and how many there are of it.
type Ring struct {
	ID        string
	Thickness Measure // nominal
	Measured  Measure // zero Unit: not measured
	Count     int
	Outer     Measure // outer diameter; zero Unit: not known
	Bore      Measure // zero Unit: not known
	HalfWidth Measure // how far a nominal thickness may be off; zero Unit: DefaultRingHalfWidth
}

// Height is what the ring adds to a stack: as measured, else nominal.
func (r Ring) Height() Length {
	if r.Measured.Unit != NoUnit {
		return r.Measured.Length
	}
	return r.Thickness.Length
}

// ringPlay is how much wider than the arbor a ring may be bored (common practice): a ring is
// cut looser than a blade is bored.
const ringPlay = Millimetre / 2

// Sits reports whether the ring goes on an arbor and does not hang off centre there. A bore
// that is not known is taken for the arbor's.
func (r Ring) Sits(arbor Length) bool {
	play := r.Bore.Length - arbor
	return r.Bore.Unit == NoUnit || play >= 0 && play <= ringPlay
}

// Label is the ring's nominal thickness as people write it, with two decimals of a
// millimetre or three of an inch at least: 0.10 mm, 0.010 in.
func (r Ring) Label() string { return r.Thickness.Padded(0) }

// Rules names the published rules that the shop goes by.
type Rules string

// The rules: EN 1870-1 with the HSE's advice, and Cal. Code Regs. title 8.
const (
	RulesEN Rules = "en"
	RulesUS Rules = "us"
)

// Figures of the trade that a profile may change.
const (
	DefaultKnifeMargin   = 200_000 * Nanometre // EN 1870-1 fig. 6: knife >= plate + 0.2 mm
	DefaultRingHalfWidth = 20_000 * Nanometre  // common practice
	DefaultHalfRunout    = 20_000 * Nanometre  // common practice
	DefaultIdleMinutes   = 20
	MaxIdleMinutes       = 60
	MaxProveEvery        = 3650 // days
	MaxSpeed             = 20_000
	MaxText              = 200 // characters in a text field
	MaxRingKit           = 32  // rings that a stack is searched among
)

// BladeByID finds a blade of the rack.
func (p Profile) BladeByID(id string) (Blade, bool) {
	for _, b := range p.Blades {
		if b.ID == id {
			return b, true
		}
	}
	return Blade{}, false
}

// Name is the blade as people call it: its label, else its id.
func (b Blade) Name() string { return cmp.Or(b.Label, b.ID) }

// BladeName is a blade as people call it; an id that is not on file stands as it is.
func (p Profile) BladeName(id string) string {
	b, _ := p.BladeByID(id)
	return cmp.Or(b.Name(), id)
}

// Label is a knife's thickness as people write it: 2.5 mm, 3/32 in, 0.100 in.
func (k Knife) Label() string {
	if k.Thickness.Unit == IN {
		return k.Thickness.Padded(0)
	}
	return k.Thickness.String()
}

// KnifeName is a knife as people call it, by its thickness; an id that is not on file
// stands as it is.
func (p Profile) KnifeName(id string) string {
	if k, ok := p.KnifeByID(id); ok {
		return k.Label()
	}
	return id
}

// RingNames names rings in the order in which they go on: 0.10 mm + 0.25 mm. An id
// that is not in the kit stands as it is.
func (p Profile) RingNames(ids []string) string {
	if len(ids) == 0 {
		return "no rings"
	}
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = id
		if r, ok := p.RingByID(id); ok {
			out[i] = r.Label()
		}
	}
	return strings.Join(out, " + ")
}

// Rack lists the blades that are not retired.
func (p Profile) Rack() []Blade {
	out := make([]Blade, 0, len(p.Blades))
	for _, b := range p.Blades {
		if !b.Retired {
			out = append(out, b)
		}
	}
	return out
}

// KnifeByID finds a knife of the shop.
func (p Profile) KnifeByID(id string) (Knife, bool) {
	for _, k := range p.Knives {
		if k.ID == id {
			return k, true
		}
	}
	return Knife{}, false
}

// RingByID finds a sort of ring of the kit.
func (p Profile) RingByID(id string) (Ring, bool) {
	for _, r := range p.Rings {
		if r.ID == id {
			return r, true
		}
	}
	return Ring{}, false
}

// StackHeight adds up rings by id. An unknown id reports false.
func (p Profile) StackHeight(ids []string) (Length, bool) {
	var sum Length
	for _, id := range ids {
		r, ok := p.RingByID(id)
		if !ok {
			return 0, false
		}
		sum += r.Height()
	}
	return sum, true
}

// KitHas reports whether a stack can be put on: every ring of it is in the kit, and as often
// as it stands in the stack.
func (p Profile) KitHas(ids []string) bool {
	used := map[string]int{}
	for _, id := range ids {
		r, ok := p.RingByID(id)
		if used[id]++; !ok || used[id] > r.Count {
			return false
		}
	}
	return true
}

// Margin is the least thickness of a knife over the plate in force.
func (p Profile) Margin() Length {
	if p.KnifeMargin.Unit == NoUnit {
		return DefaultKnifeMargin
	}
	return p.KnifeMargin.Length
}
