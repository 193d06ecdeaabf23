package model

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Verdict is what a residual is worth against the tolerance.
type Verdict string

// The verdicts (guarded acceptance, ILAC-G8:09/2019), and cannot: no stack of the
// kit comes within the acceptance zone.
const (
	In       Verdict = "in"
	Out      Verdict = "out"
	Doubtful Verdict = "doubtful"
	Cannot   Verdict = "cannot"
)

// Basis says where an offset comes from.
type Basis string

// From micrometer readings of plate and kerf, or from a comparison rip.
const (
	Predicted Basis = "predicted"
	Measured  Basis = "measured"
)

// KnifeFit says whether a blade may run with the knife that it names.
type KnifeFit string

// Fits; the knife is as thick as the kerf or thicker; it is not thick enough over
// the plate; the blade names no knife.
const (
	KnifeFits     KnifeFit = "fits"
	KnifeTooThick KnifeFit = "too-thick"
	KnifeTooThin  KnifeFit = "too-thin"
	KnifeNone     KnifeFit = "none"
)

// Weight says how loud a reason is.
type Weight uint8

// A reason explains, warns, or names a danger to people or to the work.
const (
	Explains Weight = iota
	Warns
	Danger
)

// Reason is one sentence that travels beside a number.
type Reason struct {
	Code   string // stable, for programs: knife-too-thick
	Weight Weight
	Text   string // one sentence for people, with figures and direction
}

// Sentence makes the text of a reason, or of a refusal, stand alone: a capital at the
// beginning, a stop at the end.
func Sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	text = string(unicode.ToUpper(first)) + text[size:]
	if !strings.ContainsRune(".?!", rune(text[len(text)-1])) {
		text += "."
	}
	return text
}

// Plan is what the numbers say about the whole rack.
type Plan struct {
	Name           string
	Reference      string
	Standing       []string // ring ids, flange first
	StandingHeight Length
	Blades         []BladePlan // in the order of the rack, the reference included
	Reasons        []Reason    // about the rack
}

// Blade finds a blade's row.
func (p Plan) Blade(id string) (BladePlan, bool) {
	for _, b := range p.Blades {
		if b.ID == id {
			return b, true
		}
	}
	return BladePlan{}, false
}

// BladePlan is what the numbers say about one blade. Offset is positive where the
// blade cuts a wider part than the reference: predicted, with no rings behind
// either; measured, with the rings of the last cut on. Residual is the cut face
// with Stack on minus the datum face, + = toward the fence.
type BladePlan struct {
	ID       string
	Basis    Basis
	Offset   Length
	Expanded Length   // U of Offset, about 95 %
	Want     Length   // wanted stack height; negative: no stack can make it
	Stack    []string // ring ids, flange first
	Height   Length
	Residual Length
	Verdict  Verdict
	Ready    bool
	Proved   *Record // the cut that proves Stack, while it counts
	Knife    KnifeFit
	Play     Length   // kerf less knife
	Outside  Length   // how far the knife stands out of its kerf with Stack on: + toward the fence, - on the far side; 0: inside it
	More     int      // further readings of its half expected to settle a doubtful verdict; -1: this caliper cannot
	MoreHalf int      // and of the reference half, where it needs them too
	WasOut   Length   // the same of its last cut, with the rings that were on
	Fallback Measure  // fence setting for the working width with this blade as it is, where nothing fits and its knife stands inside its kerf
	CutFace  Length   // predicted cut face from the flange face without rings, + = toward the fence
	Reasons  []Reason // why this verdict, why not ready, what to do
}

// Judge computes the plan of a profile. The solver has the real one; the
// procedure takes it as a value.
type Judge func(Profile) Plan
