package model

import "slices"

// State is what the records of a profile say, read in their order. Power, and
// whether the fence was left alone since, are never in it: no file can know them.
type State struct {
	Lock    string  // the fence lock in force by the records; empty: none
	Width   Measure // its fence setting
	Mounted *Record // the last mount, by which the blade is on the arbor; nil: nobody knows of one
	Cleaned *Record // the last look at arbor and flange
	Seated  *Record // the reference mounted as the present datum wants it; the fullest such record
	Boards  *Record // ripped under the present datum and lock, so that the knife can be set by them
	Fitted  string  // the knife that stands behind the blade; empty: none on record
	Knife   *Record // the last alignment of a knife, whatever the datum was then
	Aligned bool    // Knife was aligned to the present datum, and is still fitted so
	Scaled  *Record // the fence scale verified under the present datum
	Blades  map[string]BladeState

	references map[string]map[string][]int // lock, piece: the newest counting reference cut and further readings of it
	records    []Record
}

// BladeState is what the records say about one blade.
type BladeState struct {
	Plate   []Measure // as read last: on the bench, after sharpening or when it came back to the rack
	Kerf    []Measure
	Runout  Measure // zero Unit: not read
	Cuts    []Cut   // that count against the present datum, oldest first
	History []Cut   // every cut that had reference readings of its lock, oldest first
	Half    Half    // what it ripped last
	Left    *Record // left for later: nothing was cut or sharpened since
	LeftNow bool    // and neither datum nor knife has moved since
	Written *Record // what was last written on its box; nil: nothing yet

	boxOpen bool // and that was voided: nobody knows what stands there
}

// BoxTells reports whether no other rings, flange first, and no other knife can stand
// on the blade's box. A box that nobody wrote on tells nothing else.
func (b BladeState) BoxTells(rings []string, knife string) bool {
	w := b.Written
	return w == nil || !b.boxOpen && slices.Equal(w.Rings, rings) && (w.Knife == "" || w.Knife == knife)
}

// Last is the cut that says where the blade stands; false when none counts.
func (b BladeState) Last() (Cut, bool) {
	if len(b.Cuts) == 0 {
		return Cut{}, false
	}
	return b.Cuts[len(b.Cuts)-1], true
}

// Cut is one comparison rip with the readings that belong to it. Either Readings
// (widths of the blade's half) or Differences (caliper zeroed on the reference
// half) are there.
type Cut struct {
	Record      *Record
	Lock        string
	Rings       []string
	Piece       Piece
	Readings    []Measure
	Differences []Measure
	Reference   []Measure // widths of the reference cut under the same fence lock
	Aligned     bool      // made under the present alignment of the knife
	pooled      bool      // on a fresh piece, or cut again on one
}

// Half is the half of a comparison piece that a blade ripped last. It is ripped also
// where the readings of it were voided.
type Half struct {
	Lock   string // the fence lock under which it was ripped; empty: none yet
	Rings  []string
	Piece  Piece
	Unsure bool // blade or flange was worked on since, or its readings were voided: heights of stacks tell nothing of how the next cut lies to it
	pooled bool // on a fresh piece, or ripped again on one
}

// References lists the newest counting readings of the reference blade under a
// lock: those of the named piece, or, where that was not cut or the name is empty,
// of all pieces together.
func (s State) References(lock, piece string) []Measure {
	pieces := s.references[lock]
	cuts, ok := pieces[piece]
	if !ok {
		for _, of := range pieces {
			cuts = append(cuts[:len(cuts):len(cuts)], of...)
		}
		slices.Sort(cuts)
	}
	var all []Measure
	for _, i := range cuts {
		all = append(all, s.records[i].Readings...)
	}
	return all
}

// ReferencePieces names the pieces whose first half was cut by the reference
// blade under a lock.
func (s State) ReferencePieces(lock string) map[string]bool {
	out := map[string]bool{}
	for piece := range s.references[lock] {
		out[piece] = true
	}
	return out
}

// NeedsFreshPiece reports whether a rip with these rings proves nothing on the
// piece that this blade cut last under the present lock: a pass removes material
// only where the cut face moved toward the fence since. first reports that the
// blade has not cut under this lock yet.
func (s State) NeedsFreshPiece(p Profile, blade string, rings []string) (fresh, first bool) {
	half := s.Blades[blade].Half
	if half.Lock == "" || half.Lock != s.Lock {
		return !s.ReferencePieces(s.Lock)[blade] && !Dropped("fresh-first"), true
	}
	if half.Unsure && !Dropped("fresh-unsure") {
		return true, false
	}
	before, _ := p.StackHeight(half.Rings)
	now, _ := p.StackHeight(rings)
	if p.Saw.Flange == Near {
		return now >= before, false
	}
	return now <= before, false
}
