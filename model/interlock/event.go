package interlock

import "time"

// Event is what was done at the saw, or became of it. Only the functions below make one.
type Event struct {
	name   string
	lapsed bool // it can happen while a lapse waits to be vouched for
	do     func(*State) bool
}

func (e Event) String() string { return e.name }

func did(name string, do func(*State) bool) Event    { return Event{name, false, do} }
func became(name string, do func(*State) bool) Event { return Event{name, true, do} }

// Apply is the state after an event; false: its pass is void, or what has to come before it
// has not, and nothing changed.
func (s State) Apply(e Event) (State, bool) {
	next := s
	if e.do == nil || s.lapsed && !e.lapsed || !e.do(&next) {
		return s, false
	}
	return next, true
}

// turn begins a spell; nobody has seen the blade stand in it.
func (s *State) turn(p Power) bool {
	s.spell, s.power, s.standing, s.started = s.spell+1, p, false, false
	return true
}

// noPower begins a spell in which nothing turns: what was cut off stays so.
func (s *State) noPower() bool {
	if s.power == Live {
		return s.turn(Unknown)
	}
	return s.turn(s.power)
}

// put has something else on the arbor, of which nothing was looked at yet.
func (s *State) put(f Fit) bool {
	s.known, s.on, s.gap, s.line, s.bench = true, f, false, false, ""
	return true
}

func (s *State) hands(h Hands) bool  { return h.spell == s.spell+1 }
func (s *State) look(h Hands) bool   { return s.hands(h) && s.on.complete() }
func (s *State) lock(id string) bool { s.fence = id; return true }
func (s *State) wake() bool          { s.lapsed = !s.lapsed; return !s.lapsed }

// turning has the blade turn, or ready to.
func (s *State) turning(t Turning) bool {
	s.standing = false
	return t.spell == s.spell+1 && !s.brake
}

// Stopped: switched off, and still after runDown. Over the limit of the shop's rules the
// blade does not turn again before BrakeAnswered. It stood already: a runDown of 0.
func Stopped(runDown, limit time.Duration) Event {
	return did("stopped", func(s *State) bool {
		s.standing, s.brake = true, s.brake || runDown > limit
		return true
	})
}

// BrakeAnswered: the brake was mended, or somebody answers for it by name.
func BrakeAnswered() Event {
	return did("brake answered", func(s *State) bool { s.brake = false; return true })
}

// IsolatedNow: cut off and proved dead. An isolator that is opened while the blade turns can
// take the power from the brake: it stands first.
func IsolatedNow() Event {
	return did("isolated", func(s *State) bool { return s.standing && s.turn(Isolated) })
}

// Handled: hands were in, and left what is on and the knife as they were.
func Handled(h Hands) Event { return did("handled", func(s *State) bool { return s.hands(h) }) }

// Mounted: f was put on the right way round, with these rings, and nothing else is on;
// Fit{}: all is out. The same f again where the knife was out, or moved in its slot.
func Mounted(h Hands, f Fit) Event {
	return did("mounted", func(s *State) bool { return s.hands(h) && s.put(f) })
}

// Sighted: somebody looked at what is on, and found f, the right way round.
func Sighted(h Hands, f Fit) Event {
	return did("sighted", func(s *State) bool { return s.hands(h) && s.put(f) })
}

// GapTyped: knife to tooth tips, within the rules chosen, of a knife that fits.
func GapTyped(h Hands) Event {
	return did("gap typed", func(s *State) bool { s.gap = true; return s.look(h) })
}

// SeenInLine: a straightedge along both sides of the teeth has the knife between them.
func SeenInLine(h Hands) Event {
	return did("seen in line", func(s *State) bool { s.line = true; return s.look(h) })
}

// Checklist is the power-up checklist, each item typed.
type Checklist struct{ Tight, Free, Guard, Clear, Off bool }

// PoweredUp: the whole checklist with the saw isolated, then plug or lock.
func PoweredUp(h Hands, c Checklist) Event {
	return did("powered up", func(s *State) bool {
		return c == Checklist{true, true, true, true, true} && s.gap && s.line && !s.brake && s.hands(h) && s.turn(Live)
	})
}

// Started: the first start, without stock, stopped again, and what was heard was right.
func Started(t Turning) Event {
	return did("first start", func(s *State) bool { s.started = true; return s.turning(t) })
}

// Ripped: stock went past the blade.
func Ripped(t Turning) Event {
	return did("ripped", func(s *State) bool { return s.started && s.turning(t) })
}

// Driven: tilt or height was moved by its motor, the checklist passed and the blade still.
// It may touch the throat plate now: isolation comes before it turns again.
func Driven(t Turning) Event {
	return did("driven", func(s *State) bool {
		still := s.started && s.standing && s.turning(t) && s.turn(Unknown)
		s.standing = still
		return still
	})
}

// LaidOut: a part was typed to lie on the bench. in is what the records have in the saw, told
// whether they know; what they have in it, and anything where they do not know, gets to the
// bench by being taken off under isolation.
func LaidOut(part string, in Fit, told bool) Event {
	return did("laid out", func(s *State) bool {
		s.bench = part
		return told && !in.has(part) && !s.on.has(part)
	})
}

// Measured: a part was measured.
func Measured(b Bench) Event {
	return did("measured", func(s *State) bool { return b.spell == s.spell+1 })
}

// FenceLocked: set and locked, which is done only while the blade stands.
func FenceLocked(id string) Event {
	return did("fence locked", func(s *State) bool { return s.still() && s.lock(id) })
}

// FenceVouched: this lock was left alone, by the word of who knows.
func FenceVouched(id string) Event {
	return did("fence vouched", func(s *State) bool { return s.lock(id) })
}

// FenceMoved: it moved, or may have.
func FenceMoved() Event { return became("fence moved", func(s *State) bool { return s.lock("") }) }

// StillDeadNow: after a lapse of the isolated saw, plug or lock is still mine, start was
// pressed, nothing happened, and nobody was at the saw.
func StillDeadNow() Event {
	return became("still dead", func(s *State) bool { return s.power == Isolated && s.wake() })
}

// NobodyWasThere: after any other lapse.
func NobodyWasThere() Event {
	return became("nobody there", func(s *State) bool { return s.power != Isolated && s.wake() })
}

// TurnedAway: back, or other work: what stood may turn again.
func TurnedAway() Event {
	return became("turned away", func(s *State) bool { s.standing = false; return true })
}

// TakenBack: an answer at a gate was wrong, or holds no more (other rules for the gap). The
// saw is stopped and isolated, and what was looked at is looked at again.
func TakenBack() Event {
	return became("taken back", func(s *State) bool {
		s.gap, s.line, s.bench = false, false, ""
		return s.turn(Unknown)
	})
}

// OtherOn: by somebody's word something else is on the arbor, or the knife stands otherwise.
func OtherOn() Event {
	return became("other on", func(s *State) bool {
		s.put(Fit{})
		s.known = false
		return s.noPower()
	})
}

// KnifeAnew: by somebody's word the knife is to be set anew. Nothing was touched for it yet:
// what is on stays known, and the knife is seen in line again before that turns.
func KnifeAnew() Event {
	return became("knife anew", func(s *State) bool {
		s.gap, s.line = false, false
		return s.noPower()
	})
}

// Lapsed: nobody typed for long. All of it waits for the short form.
func Lapsed() Event {
	return became("lapsed", func(s *State) bool {
		s.spell, s.lapsed, s.standing = s.spell+1, true, false
		return true
	})
}

// Interrupted: restart, suspend, another shift, somebody at the saw: nothing is known but
// that the brake was slow.
func Interrupted() Event {
	return became("interrupted", func(s *State) bool { *s = State{spell: s.spell + 1, brake: s.brake}; return true })
}
