package model

import "time"

// Readiness says whether a blade may be used.
type Readiness string

// A blade is ready with a verdict of in that its own strips carry, with the stack on
// record, under the present datum, and a knife that fits it and stands inside its kerf;
// due where the last proof is older than the profile allows (swap and work go on); in,
// not closed, until the round ends; to check where something moved that a pair of
// strips, or the knife check, can set right; else not ready.
const (
	StateReady     Readiness = "ready"
	StateDue       Readiness = "due"
	StateNotClosed Readiness = "not-closed"
	StateCheck     Readiness = "check"
	StateNotReady  Readiness = "not-ready"
)

// Plan is what the numbers say about the whole rack, by the readings and strips on record.
type Plan struct {
	Name           string
	Reference      string
	Standing       []string // ring ids, flange first
	StandingHeight Length
	Blades         []BladeRow // in the order of the rack, the reference included
	Reasons        []Reason   // about the rack
	Questioned     []Question // strips to look at before any verdict is shown
	Lock           LockPlan   // of the fence lock in force
}

// Row finds a blade's row.
func (p Plan) Row(id string) (BladeRow, bool) {
	for _, b := range p.Blades {
		if b.ID == id {
			return b, true
		}
	}
	return BladeRow{}, false
}

// PairWords is what the newest pair of a blade tells: by how much wider than the reference it cuts.
type PairWords struct {
	Offset   Length
	Expanded Length // U of it; 0: no pair was ripped to its end
}

// LockPlan is what a fence lock still wants.
type LockPlan struct {
	Datum   int    // datum strips that count under it
	Carrier string // the blade that cut the datum strips which others are compared with; empty: none counts
	Wanted  int    // further ones before blades can be judged
	Round   int    // blades compared under it; several, or one that others follow, want a closing strip
	Closing int    // closing strips wanted now to close it: 0, or 1
	Broken  bool
	Reasons []Reason
}

// Question is a strip that lies farther from its fellows than strips do: burr, chip or
// snipe. It is voided with its reason and another ripped, or kept.
type Question struct {
	Strip  int // index of its record
	Number int // of those that the blade ripped in one mounting, from 1
	Blade  string
	Far    Length // from the mean of its fellows
	Limit  Length
	Reason Reason
}

// BladeRow is what the numbers say about one blade. Offset is positive where the blade
// cuts a wider part than the reference: predicted, with no rings behind either;
// measured, with Stack on. Residual is the cut face with Stack on minus the datum face,
// + = toward the fence.
type BladeRow struct {
	ID        string
	Basis     Basis
	Offset    Length
	Expanded  Length // U of Offset; of the one that decides, where it was measured
	Strips    int    // of the blade, in Offset
	Datum     int    // datum strips it was compared with
	Want      Length // wanted stack height; negative: no stack can make it
	Stack     []string
	Height    Length
	Residual  Length
	Verdict   Verdict
	UsedUp    bool // doubtful, and no further strip counts
	OutKnife  bool // out because the knife stands outside the kerf
	State     Readiness
	Owed      string    // code of the reason that State is owed to; empty: to the verdict, the knife, or to nothing
	KnifeOnly bool      // to be checked for its knife alone, which needs no strip
	Proved    *Record   // the strip that proves Stack, while it counts
	ProvedAt  time.Time // zero: never
	Due       time.Time // from then on DUE; zero: never
	Proofs    int       // mountings beside the first that were proved
	StandIn   bool      // it may carry the datum for the reference, once its knife is checked: its strips were held against those of the reference itself
	Moved     bool      // its newest pair does not agree, and the other blade of that agreed with a third one since
	PairSays  PairWords // what its newest pair tells, beside Offset
	Pair      int       // strips of each blade that a pair takes to decide, it lying where it was last seen
	MoreOwn   int       // strips more of the blade that would settle its newest pair, under the lock in force; 0: none does, or it is settled
	MoreDatum int       // and of what it was held against, instead
	Knife     KnifeFit
	Play      Length     // kerf less knife
	Gap       Length     // from the datum face to the knife, its largest; before it is squared, as planned
	Inside    bool       // a knife that fits stands inside the kerf of the cut that is coming: a rip may be offered, a work setting shown
	Feel      bool       // it is felt behind the tips before power: seen outside the kerf, or inside where a strip says otherwise
	Unseen    bool       // it was moved or taken out, and only a check of it tells whether it does
	Further   []StripFor // strips that would settle a doubtful verdict, in their order
	Left      int        // further strips that still count for this stack
	Goes      int        // stacks of this blade that were cut under this datum
	Ways      []Way      // out of an OUT, or of a stack used up
	Fallback  Measure    // fence setting for the working width, NOT READY; zero Unit: none
	CutFace   Length     // predicted cut face from the flange face without rings, + = toward the fence
	Reasons   []Reason
}

// Ready reports whether the blade may be used and is not due.
func (r BladeRow) Ready() bool { return r.State == StateReady }

// Usable reports whether the blade may be worked with: ready, or due to be proved.
func (r BladeRow) Usable() bool { return r.State == StateReady || r.State == StateDue }

// Against are the reasons that speak against using the blade: first the one that its state is owed to.
func (r BladeRow) Against() (out []Reason) {
	for _, reason := range r.Reasons {
		switch {
		case reason.Code == r.Owed:
			out = append([]Reason{reason}, out...)
		case reason.Weight != Explains:
			out = append(out, reason)
		}
	}
	return out
}

// WayKind is one way on from a stack that is out.
type WayKind string

// The ways on.
const (
	WayRead    WayKind = "read"    // read the strips again
	WayClean   WayKind = "clean"   // clean, and cut again with the same rings
	WayStack   WayKind = "stack"   // put on other rings
	WayOwn     WayKind = "own"     // put on other rings though nothing speaks for them
	WayMeasure WayKind = "measure" // measure rings with the micrometer
	WayRing    WayKind = "ring"    // get another ring
	WayHistory WayKind = "history" // compare other blades first: how rips repeat is known better then
	WayCaliper WayKind = "caliper" // read with a finer caliper
	WayLook    WayKind = "look"    // have arbor, flange, rings and blade looked at
	WayDatum   WayKind = "datum"   // choose another reference, or standing stack: the datum moves with it
)

// Way is a way on, with its cost.
type Way struct {
	Kind   WayKind
	Stack  []string // rings to put on, flange first
	Rings  []string // rings to measure
	Swaps  int      // times that the blade comes off
	Strips int      // that are ripped at the least
	Expect Length   // residual that Stack is to leave, + = toward the fence
	Chance float64  // that the blade comes in by it; 0: not known
	Text   string   // one sentence
}
