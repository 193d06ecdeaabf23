// Package interlock decides whether hands may go near the arbor and whether the blade may
// turn. It knows no step, no record and no screen: a State is what this run of the program
// was told of one saw, events change it, and passes say what it allows. An event that sends
// hands in or turns the blade takes a pass, and a pass is good only in the spell in which it
// was given; isolation, power, a lapse, an interruption, another thing on the arbor and an
// answer taken back each begin a new one.
package interlock

import (
	"slices"
	"strings"
)

// Power is what is known of the saw's power. Unknown counts as live.
type Power uint8

const (
	Unknown Power = iota
	Isolated
	Live
)

// Fit is what stands on the arbor, and the knife behind it, by their ids: of the rings all,
// flange first, joined by blanks. An empty word: nothing stands there.
type Fit struct{ Blade, Rings, Knife string }

func (f Fit) bare() bool     { return f.Blade == "" && f.Rings == "" }
func (f Fit) complete() bool { return f.Blade != "" && f.Knife != "" }
func (f Fit) has(part string) bool {
	return part == f.Blade || part == f.Knife || slices.Contains(strings.Fields(f.Rings), part)
}

// State is what this run was told of the saw. The zero State knows nothing, and no file
// ever holds one. It is a value: two that are equal allow the same.
type State struct {
	spell     uint64 // so many have ended
	power     Power
	lapsed    bool   // nobody typed for long, and nobody has vouched for the saw since
	standing  bool   // seen to stand still since it last turned or could have
	brake     bool   // a run-down over the limit for which nobody answers yet
	known     bool   // put on, or looked at, in this run
	on        Fit    // nothing, where it is not known
	gap, line bool   // of what is on: knife to tips within the rules; knife between the two sides of the teeth
	started   bool   // first start without stock, since power came back
	fence     string // the lock of which it is known that it was left alone
	bench     string // a part that was typed to lie on the bench
}

func (s State) Power() Power    { return s.power }
func (s State) On() (Fit, bool) { return s.on, s.known } // false: nobody has seen it in this run
func (s State) still() bool     { return s.power == Isolated || s.standing }

// The passes. Anybody can write a zero one: it is void in every state.
type (
	Hands   struct{ spell uint64 } // isolated: hands may be in
	Turning struct{ spell uint64 } // powered up after the checklist: the blade may turn
	Bench   struct{ spell uint64 } // the part is not in the saw, or nothing can turn it
)

func (s State) Hands() Hands     { return Hands{s.pass(s.power == Isolated)} }
func (s State) Turning() Turning { return Turning{s.pass(s.power == Live)} }
func (s State) Bench(part string) Bench {
	return Bench{s.pass(s.power == Isolated || s.bench == part || s.known && !s.on.has(part))}
}

func (s State) pass(allowed bool) uint64 {
	if s.lapsed || !allowed {
		return 0
	}
	return s.spell + 1
}

// Need is what a step needs of the saw.
type Need struct {
	Power Power  // Unknown: either will do
	On    Fit    // Fit{}: whatever is on, but where the blade turns a blade and a knife
	Bare  bool   // neither blade nor rings; the knife may stay
	Lock  string // of the fence, left alone since; "": either will do
	Still bool   // the blade stands: for moving the fence, and tilt and height by motor
}

// Gate is what has to be answered before a step.
type Gate uint8

// The gates, in the order in which they come.
const (
	Open        Gate = iota // none
	StillDead               // after a lapse of the isolated saw: plug or lock still mine; start pressed: dead
	NobodyThere             // after any other lapse; where somebody was at the saw it is an interruption
	Fence                   // nobody in this run knows that the lock was left alone
	Stop                    // switched off, and standing still
	Isolate                 // cut off, and proved dead
	TakeOff                 // the arbor is not bare, or nobody knows
	Sight                   // nobody in this run has seen what is on
	PutOn                   // it is not what is needed
	Gap                     // knife to tooth tips
	Line                    // straightedge along both sides of the teeth
	Brake                   // mended, or somebody answers for it
	PowerUp                 // the checklist, answered with the saw isolated
	FirstStart              // without stock
)

var gates = [...]string{"open", "still dead", "nobody there", "fence", "stop", "isolate", "take off", "sight", "put on", "gap", "line", "brake", "power up", "first start"}

func (g Gate) String() string { return gates[g] }

// Gates are all but Open, in their order.
func Gates() (all []Gate) {
	for g := range gates[1:] {
		all = append(all, Gate(g+1))
	}
	return all
}

// Next is the first gate before a step that needs n. The fence comes before the arbor, so
// that no blade goes on in vain. The checks of the power-up send hands to the blade: from
// unknown power the way is stop, isolate, checklist.
func (s State) Next(n Need) Gate {
	turns := n.Power == Live
	up := turns && s.power != Live
	dressed := n.Bare && !(s.known && s.on.bare())
	wrong := n.On != (Fit{}) && s.on != n.On || turns && !s.on.complete()
	hands := n.Power == Isolated || dressed || wrong || up
	switch {
	case s.lapsed && s.power == Isolated:
		return StillDead
	case s.lapsed:
		return NobodyThere
	case n.Lock != "" && s.fence != n.Lock:
		return Fence
	case hands && !s.still():
		return Stop
	case hands && s.power != Isolated:
		return Isolate
	case dressed:
		return TakeOff
	case wrong && !s.known:
		return Sight
	case wrong:
		return PutOn
	case up && !s.gap:
		return Gap
	case up && !s.line:
		return Line
	case turns && s.brake:
		return Brake
	case up:
		return PowerUp
	case turns && !s.started:
		return FirstStart
	case n.Still && !s.still():
		return Stop
	}
	return Open
}
