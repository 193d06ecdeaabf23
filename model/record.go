package model

import (
	"strings"
	"time"
)

// Kind names what a record tells.
type Kind string

// The kinds of record. KindTable says which keys each one has.
const (
	Isolation    Kind = "isolation"
	Arbor        Kind = "arbor"
	Mount        Kind = "mount"
	Boards       Kind = "boards"
	KnifeSet     Kind = "knife"
	Scale        Kind = "scale"
	FenceLock    Kind = "fence_lock"
	FenceMoved   Kind = "fence_moved"
	ReferenceCut Kind = "reference_cut"
	BladeCut     Kind = "blade_cut"
	Sharpened    Kind = "sharpened"
	Thickness    Kind = "thickness"
	Returned     Kind = "returned"
	Void         Kind = "void"
	Note         Kind = "note"
)

// Piece says on what a blade's comparison rip was made.
type Piece string

// A rip on the other half of the piece that the reference cut, or on a fresh piece
// whose width is compared with the reference readings of the same fence lock.
const (
	SamePiece  Piece = "same"
	FreshPiece Piece = "fresh"
)

// About says what a note is about, where the procedure reads it.
type About string

// A blade left for later, a blade whose rings were written down, or plain talk.
const (
	AboutLeft    About = "left"
	AboutWritten About = "written"
	AboutTalk    About = ""
)

// Pair is one point of the fence scale: what was set and what the caliper read.
type Pair struct {
	Set  Measure
	Read Measure
}

// Record is one thing that was done or read. Which fields are used follows from
// Kind (KindTable). Only raw readings and facts stand here: offsets, verdicts and
// readiness are always computed again.
type Record struct {
	At   time.Time // UTC
	By   string    // initials
	Kind Kind

	RunDown     time.Duration // isolation: from switching off to standstill
	How         string        // isolation: unplugged | locked
	Dead        string        // isolation: the word typed for the dead start control
	SpareThread Measure       // arbor
	Dial        []Measure     // arbor: readings round the flange; mount: round the rim
	DialTurned  []Measure     // mount: the same with the blade turned on the arbor
	TurnedDeg   float64       // mount: by how much it was turned
	Blade       string        // mount, boards, knife, reference_cut, blade_cut, sharpened, thickness, returned, note
	Rings       []string      // mount, boards, knife, reference_cut, blade_cut: ring ids, flange first
	SlotFront   Measure       // mount: one tooth to the mitre slot, tooth at the front
	SlotRear    Measure       // mount: the same tooth at the rear
	FenceFront  Measure       // mount: the same tooth to the fence
	FenceRear   Measure       // mount
	Span        Measure       // mount: distance between the two places of the tooth
	Lock        string        // boards, knife, fence_lock, fence_moved, reference_cut, blade_cut
	Width       Measure       // fence_lock: the fence setting
	Length      Measure       // boards: the gauge board's length
	Lead        Measure       // boards: its width at the leading end
	Tail        Measure       // boards: its width at the trailing end
	Knife       string        // knife: its id; mount: the knife fitted with the blade in place of another, not squared yet; note: written on its box
	Gaps        []Measure     // knife: feeler gaps, front low, front high, rear low, rear high
	TipGap      Measure       // knife: to the tooth tips
	Pairs       []Pair        // scale
	Cursor      Measure       // scale: how far the cursor was moved, + = toward the higher numbers
	Piece       string        // reference_cut: the piece's name; blade_cut: same | fresh
	Readings    []Measure     // reference_cut, blade_cut: widths
	Differences []Measure     // blade_cut: instead of widths, caliper zeroed on the reference half
	More        bool          // reference_cut, blade_cut: further readings of the cut before it, nothing cut anew
	Plate       []Measure     // sharpened, thickness, returned
	Kerf        []Measure     // sharpened, thickness, returned
	Runout      Measure       // thickness, returned: total indicator reading at the rim
	Of          string        // void: the Ref of the record that no longer counts
	Why         string        // void
	About       About         // note
	Text        string        // note
}

// Ref names a record for people and for void records: time, initials and kind. The
// program never writes two records with one Ref.
func (r Record) Ref() string {
	return strings.Join([]string{r.At.UTC().Format(time.RFC3339Nano), r.By, string(r.Kind)}, " ")
}

// Key names one field of a record as it stands in the file.
type Key string

// KeyUse says how a kind uses a key.
type KeyUse struct {
	Key      Key
	Required bool
}

// KindTable lists, for every kind, its keys in the order in which they are
// written, behind at, by and kind. It is the one place that says what a record
// may hold: reader, writer, schema and README follow it.
var KindTable = map[Kind][]KeyUse{
	Isolation:    {{"run_down", true}, {"how", true}, {"dead", true}},
	Arbor:        {{"spare_thread", true}, {"dial", false}},
	Mount:        {{"blade", true}, {"rings", true}, {"knife", false}, {"dial", false}, {"turned", false}, {"dial_turned", false}, {"span", false}, {"slot_front", false}, {"slot_rear", false}, {"fence_front", false}, {"fence_rear", false}},
	Boards:       {{"lock", true}, {"blade", true}, {"rings", true}, {"length", true}, {"lead", true}, {"tail", true}},
	KnifeSet:     {{"knife", true}, {"lock", true}, {"blade", true}, {"rings", true}, {"gaps", true}, {"tip_gap", true}},
	Scale:        {{"pairs", true}, {"cursor", false}},
	FenceLock:    {{"lock", true}, {"width", true}},
	FenceMoved:   {{"lock", true}},
	ReferenceCut: {{"lock", true}, {"blade", true}, {"rings", true}, {"piece", true}, {"readings", true}, {"more", false}},
	BladeCut:     {{"lock", true}, {"blade", true}, {"rings", true}, {"piece", true}, {"readings", false}, {"differences", false}, {"more", false}},
	Sharpened:    {{"blade", true}, {"plate", true}, {"kerf", true}},
	Thickness:    {{"blade", true}, {"plate", true}, {"kerf", true}, {"runout", false}},
	Returned:     {{"blade", true}, {"plate", true}, {"kerf", true}, {"runout", false}},
	Void:         {{"of", true}, {"why", true}},
	Note:         {{"about", false}, {"blade", false}, {"rings", false}, {"knife", false}, {"text", true}},
}
