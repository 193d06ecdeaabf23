package model

import "time"

// State is what the records of a profile say, read in their order: corrected
// records as they were corrected, voided ones not at all but for what hands did all
// the same. Power, and whether the fence was left alone since, are never in it: no
// file can know them.
type State struct {
	Lock  string               // the fence lock in force by the records; empty: none
	Width Measure              // its fence setting
	Locks map[string]LockSpell // every lock that was not voided
	On    Fitted               // what is on the arbor by the records
	Seen  bool                 // some record tells what is on it; else nothing is known

	RunDown time.Duration // the longest since the brake was mended, or somebody last answered for it

	Cleaned *Record // the newest look at arbor and flange; nil: none, or it was voided
	Arbor   int     // index of the last one, voided or not; -1: none. What was ripped before is to be checked against the datum
	HeelToe *Record // the newest that count under the present datum
	Rim     *Record
	Boards  *Record // the gauge board, by the blade that it names; serves to square a knife only while its lock is in force
	Scaled  *Record

	Knives map[string]KnifeState // by knife id; every knife of the head
	Felt   []Feel                // every time that a knife was felt behind the tips of a blade, oldest first
	Gone   map[string]*Record    // by knife id: the record by which it is lost, broken or given away; not there: the shop has it
	Strips []Strip               // every strip that was not voided, by itself or with its mounting, oldest first
	Blades map[string]BladeState // by blade id; every blade of the head

	// Datum is the index of the last record that moved the datum: the reference
	// sharpened, and the datum moved to it, or back on the rack; -1: none. Another
	// reference or standing stack is in the head, and shows by strips that do not match.
	Datum int
}

// Fitted is what is on the arbor, and the knife behind it.
type Fitted struct {
	Blade    string   // empty: none
	Rings    []string // flange first
	Knife    string   // empty: none on record
	Mounting string   // Ref of its mount record; empty: it was seen on the arbor, and no record says that it was mounted
}

// LockSpell is one fence lock, from the record that made it to the one that ended it.
type LockSpell struct {
	Made  int // index of its record
	Ended int // index of the record after which it was no longer in force: another lock, or the fence may have moved; -1: in force
}

// KnifeState is what the records say about one knife.
type KnifeState struct {
	Set     *Record // squared to a gauge board since the datum last moved; its blade and rings say whose board
	SetAt   int     // its index, where there is one
	Check   *Record // checked with a blade on, since then
	CheckAt int     // its index, where there is one
	Unknown bool    // never set, or moved or taken out since Set and Check: nobody knows where it stands
}

// Feel is a knife felt behind the tips of a blade that is on, by a straightedge.
type Feel struct {
	Index    int
	Record   *Record    // a line with faces, or a felt
	Mounting string     // Ref of the mount record; empty: the blade was seen on the arbor
	Knife    KnifeState // as it was known until then
}

// There are those of some knives that the shop still has, in their order.
func (s State) There(knives []Knife) []Knife {
	var out []Knife
	for _, k := range knives {
		if s.Gone[k.ID] == nil {
			out = append(out, k)
		}
	}
	return out
}

// Strip is one strip with all the readings that were taken of it.
type Strip struct {
	Index       int     // of its first record
	Record      *Record // its first record, as it was corrected
	Lock        string
	Blade       string
	Rings       []string // flange first
	Mounting    string   // Ref of the mount record that it was ripped in; blade and rings are those of that
	For         StripFor
	Round       bool // of several blades: a closing strip follows
	Readings    []Measure
	Differences []Measure
	Zeroed      []string // Refs of the datum strips that Differences were zeroed on, one each; none: zeroed otherwise

	// Present: it was ripped while its fence lock was in force, after the datum last
	// moved and after its blade was last sharpened or away, under a lock whose datum
	// strips are not all those of another datum. A datum strip is present where the
	// reference ripped it with the standing stack, or where it is Carried and its blade
	// was compared before, with the same rings. Strips by which the reference made the
	// datum, or closed a round of it, stay present where it was sharpened and the datum
	// stayed.
	Present bool
	// Carried: a datum strip of a stand-in, or of the reference once it was sharpened
	// and the datum stayed: its blade's own offset has to be taken off.
	Carried  bool
	FoundOut bool // cleaned, and nothing was found: the stack is found out
	Further  int  // how many records of further readings were joined
	Kept     bool // it stood apart, was looked at with the readings that it has, and counts
	Held     bool // its lock was in force when it was ripped
}

// BladeState is what the records say about one blade.
type BladeState struct {
	Plate      []Measure // as read last
	Kerf       []Measure
	ToothPlate []Measure // beside the teeth; none: as Plate
	Runout     Measure   // zero Unit: not read
	Life       int       // index of the record that its present life began with: sharpened, or back; -1: on file from the start
	Sharpened  *Record   // the newest
	DatumStays bool      // it is the reference, and the datum stayed when it was last sharpened
	Box        *Record   // what was last written on its box; nil: nothing, or nobody knows what
	Left       *Record   // left for later: nothing was ripped with it or sharpened since
	LeftNow    bool      // and neither the datum has moved nor its knife been set since
}
