package interlock

import (
	"strings"
	"time"
)

// saw is the saw as it is, and what was truly looked at since it could last have changed. It
// is written from the rules of the trade, knows no state and no pass, and says of each deed
// which rule it would break.
type saw struct {
	live, still, slow bool // still: since it was last switched off; slow: run-down, and nobody answers for it
	on                Fit
	seen, gap, line   bool   // of what is on
	checked, heard    bool   // the whole checklist since hands were in; the first start since
	touched           bool   // somebody was there while nobody typed
	laid              bool   // part a was typed to lie on the bench, and does
	fence             string // the lock that it stands under
}

// deed is an event, the age of the pass that it carries, and what it does to the saw.
type deed struct {
	Event
	age  string // none, forged, stale, kept, now
	does func(*saw) string
}

// Somebody whom nobody saw leaves one of these on the arbor.
var (
	a, b      = Fit{"a", "", "k"}, Fit{"b", "r", "k"}
	strangers = []Fit{{"?", "?", "?"}, a, {}}
)

// deeds are all that can be done or happen at a node, by people who do not lie.
func (n node) deeds() (out []deed) {
	if n.w.touched { // what somebody did is found out, or nobody types at all
		out = append(out, n.interruptions()...)
	} else {
		out = append(out, n.answers()...)
		out = append(out, n.interruptions()...)
	}
	for _, p := range n.passes(n.h.spell, n.s.Hands().spell) {
		out = append(out, n.withHands(Hands{p.spell}, p.age)...)
	}
	for _, p := range n.passes(n.t.spell, n.s.Turning().spell) {
		out = append(out, turning(Turning{p.spell}, p.age)...)
	}
	for _, p := range n.passes(n.b.spell, n.s.Bench("a").spell) {
		out = append(out, measured("a", p))
	}
	for _, part := range []string{"b", "r", "k"} {
		out = append(out, measured(part, pass{n.s.Bench(part).spell, "now"}))
	}
	return out
}

func measured(part string, p pass) deed {
	return deed{Measured(Bench{p.spell}), p.age, func(w *saw) string {
		if w.live && !(w.laid && part == "a") && (!w.seen || in(w.on, part)) {
			return "R1: measured in a live saw"
		}
		return ""
	}}
}

// in reports whether a part is in the saw.
func in(f Fit, part string) bool {
	return strings.Contains(" "+f.Blade+" "+f.Rings+" "+f.Knife+" ", " "+part+" ")
}

type pass struct {
	spell uint64
	age   string
}

// passes are the one that anybody can write, the one of now, and the one kept from earlier.
func (n node) passes(kept, now uint64) []pass {
	out := []pass{{0, "forged"}, {now, "now"}}
	switch {
	case kept != 0 && n.stale:
		out = append(out, pass{kept, "stale"})
	case kept != 0 && kept != now:
		out = append(out, pass{kept, "kept"})
	}
	return out
}

// withHands are the deeds under isolation.
func (n node) withHands(h Hands, age string) (out []deed) {
	add := func(e Event, rule func(*saw) string) {
		out = append(out, deed{e, age, func(w *saw) string {
			if w.live {
				return "R1: hands in a live saw"
			}
			w.checked = false
			return rule(w)
		}})
	}
	puts := func(f Fit) func(*saw) string {
		return func(w *saw) string {
			w.on, w.seen, w.gap, w.line, w.laid = f, true, false, false, false
			return ""
		}
	}
	looks := func(at func(*saw) *bool) func(*saw) string {
		return func(w *saw) string {
			if !w.seen || w.on.Blade == "" || w.on.Knife == "" {
				return "R2: looked at what nobody has seen"
			}
			*at(w) = true
			return ""
		}
	}
	for _, f := range []Fit{{}, a, b, {Blade: "a"}, {Knife: "k"}, {Rings: "r s"}} {
		add(Mounted(h, f), puts(f))
	}
	add(Sighted(h, n.w.on), puts(n.w.on))
	add(Handled(h), func(*saw) string { return "" })
	add(GapTyped(h), looks(func(w *saw) *bool { return &w.gap }))
	add(SeenInLine(h), looks(func(w *saw) *bool { return &w.line }))
	for i := range 6 {
		c := allTyped
		if i < 5 {
			*[]*bool{&c.Tight, &c.Free, &c.Guard, &c.Clear, &c.Off}[i] = false
		}
		add(PoweredUp(h, c), func(w *saw) string {
			if i < 5 || !w.gap || !w.line || w.slow {
				return "R2: power to what was not checked"
			}
			w.live, w.checked, w.still, w.heard = true, true, false, false
			return ""
		})
	}
	return out
}

// turning are the deeds with power.
func turning(t Turning, age string) (out []deed) {
	add := func(e Event, heard bool, then func(*saw) string) {
		out = append(out, deed{e, age, func(w *saw) string {
			if !w.live || !w.checked || !w.gap || !w.line || w.slow || heard && !w.heard {
				return "R2: the blade turned unchecked"
			}
			return then(w)
		}})
	}
	turns := func(w *saw) string { w.still, w.heard = false, true; return "" }
	add(Started(t), false, turns)
	add(Ripped(t), true, turns)
	add(Driven(t), true, func(w *saw) string {
		if !w.still {
			return "tilt was driven while the blade turned"
		}
		w.checked, w.heard = false, false // it may touch the throat plate
		return ""
	})
	return out
}

// answers are what somebody at the saw says truly, without a pass.
func (n node) answers() (out []deed) {
	add := func(e Event, does func(*saw) string) { out = append(out, deed{e, "none", does}) }
	fine := func(f func(*saw)) func(*saw) string { return func(w *saw) string { f(w); return "" } }
	for _, over := range []time.Duration{0, 1} {
		add(Stopped(10*time.Second+over, 10*time.Second), fine(func(w *saw) { w.still, w.slow = true, w.slow || over > 0 }))
	}
	add(BrakeAnswered(), fine(func(w *saw) { w.slow = false }))
	add(Event{}, func(*saw) string { return "nothing happened" })
	if n.w.live {
		add(IsolatedNow(), func(w *saw) string {
			if !w.still {
				return "the isolator was opened while the blade turned"
			}
			w.live, w.heard, w.checked = false, false, false
			return ""
		})
	}
	for _, told := range []bool{true, false} {
		for _, records := range []Fit{{}, a, b} {
			if told && records != a && in(n.w.on, "a") && !n.w.seen {
				continue // it would be a lie, and nobody could know
			}
			add(LaidOut("a", records, told), func(w *saw) string {
				if !told || records == a || w.seen && in(w.on, "a") {
					return "R1: typed to lie on the bench, and nothing says that it came out"
				}
				w.laid = true
				return ""
			})
		}
	}
	add(FenceLocked("x"), func(w *saw) string {
		if w.live && !w.still {
			return "the fence was moved while the blade turned"
		}
		w.fence = "x"
		return ""
	})
	if n.w.fence == "x" {
		add(FenceVouched("x"), fine(func(*saw) {}))
	}
	return out
}

// interruptions are what happens, and the short forms after a lapse.
func (n node) interruptions() (out []deed) {
	add := func(e Event, f func(*saw)) {
		out = append(out, deed{e, "news", func(w *saw) string { f(w); return "" }})
	}
	off := func(w *saw) { w.still = w.still && !w.live }
	for _, on := range strangers {
		nothing := saw{live: true, on: on, slow: n.w.slow, touched: true}
		add(Lapsed(), func(w *saw) { *w = nothing })
		add(Interrupted(), func(w *saw) { *w = nothing; w.touched = false })
		if !n.w.touched {
			add(OtherOn(), func(w *saw) {
				off(w)
				w.on, w.seen, w.gap, w.line, w.checked, w.heard, w.laid = on, false, false, false, false, false, false
			})
		}
	}
	add(Lapsed(), off)
	add(TurnedAway(), off)
	add(KnifeAnew(), func(w *saw) {
		off(w)
		w.gap, w.line, w.checked, w.heard = false, false, false, false
	})
	add(TakenBack(), func(w *saw) {
		w.live, w.still, w.gap, w.line, w.checked, w.heard, w.laid = true, false, false, false, false, false, false
	})
	add(FenceMoved(), func(w *saw) { w.fence = "" })
	if n.w.touched {
		return out
	}
	for _, e := range []deed{{StillDeadNow(), "dead", nil}, {NobodyWasThere(), "nobody", nil}} {
		short := e.age
		out = append(out, deed{e.Event, "wakes", func(w *saw) string {
			if short == "dead" == w.live {
				return "R4: the wrong short form"
			}
			return ""
		}})
	}
	return out
}
