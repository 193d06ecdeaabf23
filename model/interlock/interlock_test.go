package interlock

import (
	"slices"
	"testing"
	"time"
)

var allTyped = Checklist{true, true, true, true, true}

// right is the right answer to a gate of a step that needs n.
func right(s State, g Gate, n Need) Event {
	h, fit := s.Hands(), n.On
	if fit == (Fit{}) {
		fit = Fit{Blade: "a", Knife: "k"}
	}
	switch g {
	case StillDead:
		return StillDeadNow()
	case NobodyThere:
		return NobodyWasThere()
	case Fence:
		return FenceVouched(n.Lock)
	case Stop:
		return Stopped(6*time.Second, 10*time.Second)
	case Isolate:
		return IsolatedNow()
	case TakeOff:
		return Mounted(h, Fit{})
	case Sight:
		return Sighted(h, Fit{Blade: "b", Rings: "r", Knife: "k"})
	case PutOn:
		return Mounted(h, fit)
	case Gap:
		return GapTyped(h)
	case Line:
		return SeenInLine(h)
	case Brake:
		return BrakeAnswered()
	case PowerUp:
		return PoweredUp(h, allTyped)
	case FirstStart:
		return Started(s.Turning())
	}
	return Event{}
}

// led answers the gates before a step rightly, and names them.
func led(t *testing.T, s State, n Need) (State, []Gate) {
	t.Helper()
	var met []Gate
	for range len(gates) + 1 {
		g := s.Next(n)
		if g == Open {
			return s, met
		}
		met = append(met, g)
		next, ok := s.Apply(right(s, g, n))
		if !ok {
			t.Fatalf("%s is refused at the gate %s, in %+v", right(s, g, n), g, s)
		}
		s = next
	}
	t.Fatalf("no way to %+v: %v", n, met)
	return s, met
}

// TestGatesOfADay walks a day at the saw: the gates before each step, all of them and none
// more. The order is job.md's, as typed here by hand.
func TestGatesOfADay(t *testing.T) {
	a, b := Fit{"a", "", "k"}, Fit{"b", "r", "k"}
	checks := []Gate{Gap, Line, PowerUp, FirstStart}
	steps := []struct {
		what string
		then []Event
		need Need
		want []Gate
	}{
		{"the saw is cleared", nil, Need{Power: Isolated, Bare: true}, []Gate{Stop, Isolate, TakeOff}},
		{"a part is measured on the bench", nil, Need{Bare: true}, nil},
		{"the first rip", nil, Need{Power: Live, On: a}, append([]Gate{PutOn}, checks...)},
		{"the second", nil, Need{Power: Live, On: a}, nil},
		{"the fence is moved", nil, Need{Still: true}, []Gate{Stop}},
		{"under its lock", []Event{FenceLocked("x")}, Need{Power: Live, On: a, Lock: "x"}, nil},
		{"another blade", nil, Need{Power: Live, On: b, Lock: "x"}, append([]Gate{Stop, Isolate, PutOn}, checks...)},
		{"a look at the arbor changes nothing", nil, Need{Power: Isolated}, []Gate{Stop, Isolate}},
		{"after it", nil, Need{Power: Live, On: b, Lock: "x"}, []Gate{PowerUp, FirstStart}},
		{"tilt by motor", nil, Need{Power: Live, Still: true}, []Gate{Stop}},
		{"lunch", []Event{Lapsed()}, Need{Power: Live, On: b, Lock: "x"}, []Gate{NobodyThere}},
		{"the brake is slow", []Event{Stopped(11*time.Second, 10*time.Second)}, Need{Power: Live, On: b}, []Gate{Brake}},
		{"lunch, isolated", []Event{Stopped(0, 0), IsolatedNow(), Lapsed()}, Need{Power: Isolated, On: b}, []Gate{StillDead}},
		{"somebody was there", []Event{Lapsed(), Interrupted()}, Need{Power: Live, On: b, Lock: "x"}, append([]Gate{Fence, Stop, Isolate, Sight}, checks...)},
		{"a word taken back", []Event{TakenBack()}, Need{Power: Live, On: b}, append([]Gate{Stop, Isolate}, checks...)},
		{"the knife is to be set anew", []Event{KnifeAnew()}, Need{Power: Live, On: b}, append([]Gate{Stop, Isolate}, checks...)},
		{"the fence was bumped", []Event{FenceMoved()}, Need{Lock: "x"}, []Gate{Fence}},
	}
	var s State
	for _, step := range steps {
		for _, e := range step.then {
			next, ok := s.Apply(e)
			if !ok {
				t.Fatalf("%s: %s is refused", step.what, e)
			}
			s = next
		}
		var met []Gate
		if s, met = led(t, s, step.need); !slices.Equal(met, step.want) {
			t.Errorf("%s: gates %v, want %v", step.what, met, step.want)
		}
		done := Measured(s.Bench("a"))
		switch n := step.need; {
		case n.Power == Isolated:
			done = Handled(s.Hands())
		case n.Power == Live && n.Still:
			done = TurnedAway() // nothing was driven
		case n.Power == Live:
			done = Ripped(s.Turning())
		case n.Lock != "" || n.Still:
			done = FenceVouched(n.Lock)
		}
		next, ok := s.Apply(done)
		if !ok {
			t.Errorf("%s: %s is refused at the open gate", step.what, done)
		}
		s = next
	}
}
