package interlock

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

// node is a state, the saw beside it, passes kept from earlier, and whether the spell in
// which they were given has ended.
type node struct {
	s     State
	w     saw
	h     Hands
	t     Turning
	b     Bench
	stale bool
}

// same brings nodes that differ only in how many spells there were to the same value.
func (n node) same() node {
	age := func(pass uint64) uint64 {
		switch pass {
		case 0:
			return 0
		case n.s.spell + 1:
			return 2
		}
		return 1
	}
	n.h.spell, n.t.spell, n.b.spell, n.s.spell = age(n.h.spell), age(n.t.spell), age(n.b.spell), 1
	return n
}

// ends are the events that begin a new spell.
var ends = []string{"isolated", "powered up", "driven", "interrupted", "other on", "knife anew", "lapsed", "taken back"}

// needed are needs that steps have, and the deed that each is for.
var needed = []struct {
	Need
	deed func(State) Event
}{
	{Need{Power: Isolated}, func(s State) Event { return Handled(s.Hands()) }},
	{Need{Power: Isolated, Bare: true}, func(s State) Event { return Mounted(s.Hands(), a) }},
	{Need{Power: Isolated, On: b}, func(s State) Event { return GapTyped(s.Hands()) }},
	{Need{Power: Live, On: a}, func(s State) Event { return Ripped(s.Turning()) }},
	{Need{Power: Live, On: b, Lock: "x"}, func(s State) Event { return Ripped(s.Turning()) }},
	{Need{Power: Live}, func(s State) Event { return Ripped(s.Turning()) }},
	{Need{Power: Live, Still: true}, func(s State) Event { return Driven(s.Turning()) }},
	{Need{Still: true}, func(State) Event { return FenceLocked("x") }},
	{Need{Bare: true}, func(s State) Event { return Measured(s.Bench("a")) }},
	{Need{On: b}, func(s State) Event { return Measured(s.Bench("a")) }},
	{Need{Lock: "x"}, func(State) Event { return BrakeAnswered() }},
	{Need{}, func(State) Event { return BrakeAnswered() }},
}

// holds is the need read off the saw itself.
func (w saw) holds(n Need) bool {
	return (n.On == Fit{} || w.seen && w.on == n.On) && (n.Lock == "" || w.fence == n.Lock) && (!n.Still || w.still || !w.live) &&
		(!n.Bare || w.seen && w.on.Blade == "" && w.on.Rings == "") && (n.Power != Isolated || !w.live) &&
		(n.Power != Live || w.live && w.checked && w.heard && !w.slow && w.on.Blade != "" && w.on.Knife != "")
}

// broken is the rule that a node breaks by itself.
func (n node) broken() string {
	if n.s.lapsed && (n.s.Hands() != Hands{} || n.s.Turning() != Turning{} || n.s.Bench("a") != Bench{}) {
		return "a pass was given before anybody vouched for the saw"
	}
	for _, step := range needed {
		gate, holds := n.s.Next(step.Need), n.w.holds(step.Need)
		if gate == Open && n.w.touched {
			return fmt.Sprintf("R4: %+v is open, and somebody was there", step.Need)
		}
		if !n.s.lapsed && holds != (gate == Open) && !(gate == Fence && n.w.fence == "x") {
			return fmt.Sprintf("gate %s before %+v; the saw is so: %v", gate, step.Need, holds)
		}
		if _, ok := n.s.Apply(step.deed(n.s)); gate == Open && !ok {
			return fmt.Sprintf("open for %+v, and refused", step.Need)
		}
		if why := n.reaches(step.Need); why != "" {
			return why
		}
	}
	return ""
}

// reaches answers each gate rightly until the need is open; no gate is met twice, but Stop.
func (n node) reaches(need Need) string {
	if n.w.touched {
		n.s, _ = n.s.Apply(Interrupted())
	}
	var met []Gate
	for {
		gate := n.s.Next(need)
		if gate == Open {
			return ""
		}
		next, ok := n.s.Apply(right(n.s, gate, need))
		if !ok || gate != Stop && slices.Contains(met, gate) || len(met) > len(gates) {
			return fmt.Sprintf("stuck at %s on the way to %+v: %v", gate, need, met)
		}
		n.s, met = next, append(met, gate)
	}
}

// wrong is what is wrong with a deed being taken, or not, at a node. What breaks no rule at
// the saw is taken, so that no gate is more than is needed.
func (n node) wrong(d deed, taken bool) (why string, saw saw) {
	saw = n.w
	rule := d.does(&saw)
	var may bool
	switch d.age {
	case "forged", "stale":
	case "news":
		may = true
	case "wakes":
		may = n.s.lapsed && rule == ""
	default:
		may = !n.s.lapsed && rule == ""
	}
	if taken == may {
		return "", saw
	}
	return fmt.Sprintf("%s with a pass %q: taken %v (%s)", d, d.age, taken, rule), saw
}

// TestEveryState sends every event, with passes of now, kept, stale and forged, in every
// state that honest people can bring about, and does in the modelled saw what is taken.
func TestEveryState(t *testing.T) {
	start, seen, transitions := time.Now(), map[node]bool{}, 0
	var queue []node
	for _, on := range strangers {
		queue = append(queue, node{w: saw{live: true, on: on}}.same())
	}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		if why := at.broken(); why != "" {
			t.Fatalf("%s\nin %+v", why, at)
		}
		for _, d := range at.deeds() {
			transitions++
			next, taken := at.s.Apply(d.Event)
			why, w := at.wrong(d, taken)
			if why != "" {
				t.Fatalf("%s\nin %+v", why, at)
			}
			if !taken {
				if next != at.s {
					t.Fatalf("%s was refused and changed something", d)
				}
				continue
			}
			to := at
			to.s, to.w, to.stale = next, w, at.stale || slices.Contains(ends, d.name)
			fresh := node{next, w, next.Hands(), next.Turning(), next.Bench("a"), false}
			for _, n := range []node{to.same(), fresh.same()} {
				if !seen[n] {
					seen[n] = true
					queue = append(queue, n)
				}
			}
		}
	}
	t.Logf("%d states, %d transitions, %s", len(seen), transitions, time.Since(start).Round(time.Millisecond))
	if len(seen) < 1000 {
		t.Errorf("only %d states", len(seen))
	}
}
