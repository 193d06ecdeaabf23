package model

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// Kind names what a record tells.
type Kind string

// The kinds of record. KindTable says which keys each one has.
const (
	Isolation  Kind = "isolation"
	Arbor      Kind = "arbor"
	Mount      Kind = "mount"
	Boards     Kind = "boards"
	KnifeSet   Kind = "knife"
	KnifeMoved Kind = "knife_moved"
	KnifeGone  Kind = "knife_gone"
	KnifeBack  Kind = "knife_back"
	Scale      Kind = "scale"
	FenceLock  Kind = "fence_lock"
	FenceMoved Kind = "fence_moved"
	Sharpened  Kind = "sharpened"
	Void       Kind = "void"
	Note       Kind = "note"
	TakenOff   Kind = "taken_off"
	Line       Kind = "line"
	Felt       Kind = "felt"
	HeelToe    Kind = "heel_toe"
	Rim        Kind = "rim"
	StripCut   Kind = "strip"
	Kept       Kind = "kept"
	Remeasured Kind = "measured"
	Box        Kind = "box"
	Found      Kind = "found"
	Correction Kind = "correction"
)

// StripFor says what a strip was ripped for.
type StripFor string

// A strip that the others of its lock are compared with, one of a blade that is
// compared, and one of the reference at the end of a round, which tells whether the
// lock held.
const (
	Datum    StripFor = "datum"
	ForBlade StripFor = "blade"
	Closing  StripFor = "closing"
)

// DatumGoes says what becomes of the datum when the reference blade is sharpened.
type DatumGoes string

// It stays where it is, carried by a stand-in, or it moves to the sharpened blade.
const (
	DatumStays DatumGoes = "stays"
	DatumMoves DatumGoes = "moves"
)

// Words that records hold and the fold reads.
const (
	Again        = "again"   // Why of a void: the act is done again
	NothingFound = "nothing" // Text of a found: cleaned, and nothing lay there
)

// About says what a note is about, where the procedure reads it.
type About string

// A blade left for later, or plain talk.
const (
	AboutLeft About = "left"
	AboutTalk About = ""
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
	Still       bool          // isolation: it stood already
	Typed       bool          // isolation: the seconds were typed, not timed
	How         string        // isolation: unplugged | locked
	Dead        string        // isolation: the word typed for the dead start control
	Answers     string        // isolation: who answers for a run-down over the limit
	Dial        []Measure     // arbor: readings round the flange; rim: round the rim
	DialTurned  []Measure     // rim: the same with the blade turned on the arbor
	TurnedDeg   float64       // rim: by how much it was turned
	Blade       string        // which one; taken_off: empty where none was on
	Rings       []string      // ring ids, flange first; taken_off: in the order in which they came off
	SlotFront   Measure       // heel_toe: one tooth to the mitre slot, tooth at the front; 0: a dial was zeroed on it
	SlotRear    Measure       // heel_toe: the same tooth at the rear; by the zeroed dial, + = farther away
	FenceFront  Measure       // heel_toe: the same tooth to the fence; 0: a dial was zeroed on it
	FenceRear   Measure       // heel_toe
	Span        Measure       // heel_toe: distance between the two places of the tooth
	Lock        string        // boards, knife, fence_lock, fence_moved, strip: the name of the fence lock
	Width       Measure       // fence_lock: the fence setting
	Length      Measure       // boards: the gauge board's length
	Lead        Measure       // boards: its width at the leading end
	Tail        Measure       // boards: its width at the trailing end
	Knife       string        // knife, knife_gone, knife_back: its id; mount: the knife put in; line, felt: the knife seen; taken_off: the knife that came out; box: written on it
	Left        string        // taken_off: the knife that stays in the saw
	Gaps        []Measure     // knife: feeler gaps, front low, front high, rear low, rear high
	TipGap      Measure       // line: to the tooth tips
	Faces       []Measure     // line, felt: knife's face behind a straightedge on the fence-side tips, low, high; negative in front of it
	Pairs       []Pair        // scale
	Cursor      Measure       // scale: how far the cursor was moved, + = toward the higher numbers
	Mounting    string        // strip, found: the Ref of the mount record
	For         StripFor      // strip
	Round       bool          // strip: of a blade, in a round of several: a closing strip follows
	Readings    []Measure     // strip: widths
	Differences []Measure     // strip: instead of widths, + = wider than what the caliper was zeroed on
	Zeroed      []string      // strip: the Refs of the datum strips that the differences were zeroed on, one a reading; none: zeroed otherwise
	Plate       []Measure     // sharpened, measured: where the flange beds
	Kerf        []Measure     // sharpened, measured
	ToothPlate  []Measure     // measured: plate beside the teeth, where it differs
	Runout      Measure       // measured: total indicator reading at the rim
	Datum       DatumGoes     // sharpened: of the reference only
	Back        bool          // measured: the blade came back to the rack
	Of          string        // void, correction, kept, strip (further readings): the Ref of the record that it is about
	Why         string        // void
	About       About         // note
	Text        string        // note; found: what lay there; knife_gone: what became of it
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
// may hold: reader, writer, schema and README follow it. A correction has, behind
// its own key, those of the kind that it corrects (Keys).
var KindTable = map[Kind][]KeyUse{
	Isolation:  {{"run_down", false}, {"still", false}, {"typed", false}, {"how", true}, {"dead", true}, {"answers", false}},
	TakenOff:   {{"blade", false}, {"rings", true}, {"knife", false}, {"left", false}},
	Arbor:      {{"dial", false}},
	Mount:      {{"blade", true}, {"rings", true}, {"knife", false}},
	Line:       {{"blade", true}, {"rings", true}, {"knife", true}, {"tip_gap", true}, {"faces", false}},
	Felt:       {{"blade", true}, {"rings", true}, {"knife", true}, {"faces", true}},
	HeelToe:    {{"blade", true}, {"span", true}, {"slot_front", true}, {"slot_rear", true}, {"fence_front", true}, {"fence_rear", true}},
	Rim:        {{"blade", true}, {"dial", true}, {"turned", false}, {"dial_turned", false}},
	Boards:     {{"lock", true}, {"blade", true}, {"rings", true}, {"length", true}, {"lead", true}, {"tail", true}},
	KnifeSet:   {{"knife", true}, {"lock", true}, {"blade", true}, {"rings", true}, {"gaps", true}},
	KnifeMoved: {{"knife", true}},
	KnifeGone:  {{"knife", true}, {"text", true}},
	KnifeBack:  {{"knife", true}},
	Scale:      {{"pairs", true}, {"cursor", false}},
	FenceLock:  {{"lock", true}, {"width", true}},
	FenceMoved: {{"lock", true}},
	StripCut:   {{"lock", true}, {"blade", true}, {"rings", true}, {"mounting", true}, {"for", true}, {"round", false}, {"readings", false}, {"differences", false}, {"zeroed", false}, {"of", false}},
	Kept:       {{"of", true}},
	Sharpened:  {{"blade", true}, {"plate", true}, {"kerf", true}, {"datum", false}},
	Remeasured: {{"blade", true}, {"plate", true}, {"kerf", true}, {"tooth_plate", false}, {"runout", false}, {"back", false}},
	Box:        {{"blade", true}, {"rings", true}, {"knife", true}},
	Found:      {{"blade", true}, {"mounting", true}, {"text", true}},
	Correction: {{"of", true}},
	Void:       {{"of", true}, {"why", true}},
	Note:       {{"about", false}, {"blade", false}, {"answers", false}, {"text", true}},
}

// Keys are the keys that a record may have, in the order in which they are written. A
// correction says anew every key of the record that it corrects; which one that is
// stays as it was.
func (r *Record) Keys() []KeyUse {
	own := KindTable[r.Kind]
	if r.Kind != Correction {
		return own
	}
	return slices.Concat(own, slices.DeleteFunc(slices.Clone(KindTable[RefKind(r.Of)]), func(u KeyUse) bool { return u.Key == "of" }))
}

// RefKind is the kind of the record that a Ref names.
func RefKind(ref string) Kind { return Kind(ref[strings.LastIndexByte(ref, ' ')+1:]) }

// Correctable reports whether a record of a kind can be corrected by another. Another
// correction is of the first record, what was voided stays so, and that a strip was kept
// has nothing to correct.
func Correctable(k Kind) bool {
	_, ok := KindTable[k]
	return ok && k != Correction && k != Void && k != Kept
}

// Shifts is who wrote the newest records, and where those begin: behind the last record of
// somebody else. Other is empty, and First 0, where nobody else has written yet.
type Shifts struct {
	By, Other string
	Since     time.Time // of the other's last record
	First     int       // index of the first record after it
}

// ShiftsOf finds the two shifts of a profile.
func ShiftsOf(records []Record) Shifts {
	var s Shifts
	for i := len(records) - 1; i >= 0; i-- {
		r := records[i]
		if s.By = cmp.Or(s.By, r.By); r.By != s.By {
			s.Other, s.Since, s.First = r.By, r.At, i+1
			break
		}
	}
	return s
}

// Before is the profile as the other shift left it, under the head that it has now. But each blade
// has the knife that was behind it last, and the rings that it ran with are there: what names
// another knife, or misses a ring, is a change.
func Before(p Profile) Profile {
	p.Records = slices.Clip(p.Records[:ShiftsOf(p.Records).First])
	p.Blades, p.Rings = slices.Clone(p.Blades), slices.Clone(p.Rings)
	counted := Counted(p.Records)
	for i, b := range p.Blades {
		last := lastRun(counted, b.ID)
		if _, ok := p.KnifeByID(last.Knife); ok {
			p.Blades[i].Knife = last.Knife
		}
		for j, ring := range p.Rings {
			n := 0
			for _, id := range last.Rings {
				if id == ring.ID {
					n++
				}
			}
			p.Rings[j].Count = max(ring.Count, n)
		}
	}
	return p
}

// lastRun is the newest record of what stood with a blade: seen in line with it, or on its box.
func lastRun(records []Record, blade string) Record {
	for _, r := range slices.Backward(records) {
		if r.Blade == blade && (r.Kind == Line || r.Kind == Box) {
			return r
		}
	}
	return Record{}
}
