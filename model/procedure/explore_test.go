package procedure_test

import (
	"fmt"
	"hash/maphash"
	"reflect"
	"runtime/debug"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// node is a state that was reached, and how.
type node struct {
	p      procedure.Procedure
	saw    saw
	spent  int // changes of the head and voids on the way here
	parent int
	by     string // the event that led here
}

// violation is a rule that does not hold in a state.
type violation struct {
	rule string
	what string
	path []string
}

func (v violation) String() string {
	return fmt.Sprintf("%s: %s, after %d events:\n  %s", v.rule, v.what, len(v.path), strings.Join(v.path, "\n  "))
}

// events says which events a search tries, beside the honest answers.
type events struct {
	spoiled  bool // answers with a field wrong or empty, and answers that come late
	back     int  // 1: back, once at a time; 2: back and back again
	breaks   []procedure.EventKind
	mischief []string // done by somebody else during a break
	work     int      // so much other work on one way: bench, sharpening, voids
	bench    bool     // only as far as the bench goes: behind it is what another trial explores
}

// leave is to end the program and begin a new run with what was saved.
const leave procedure.EventKind = "leave"

// search visits every abstract state once, nearest first. The rules are asserted
// after every event, also where it leads to a state that was visited before.
type search struct {
	world       world
	nodes       []node
	seen        map[string]bool
	transitions int
	refused     int
	judge       model.Judge
	events      events
	bad         *violation
}

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

func (s *search) start(p procedure.Procedure, at saw, by string) {
	s.visit(-1, p, at, 0, by)
}

func (s *search) visit(parent int, p procedure.Procedure, at saw, spent int, by string) {
	if s.bad != nil {
		return
	}
	here := p.Place()
	if rule, what := s.world.broken(p, &at, here); rule != "" {
		s.fail(parent, rule, what, by)
		return
	}
	key := abstract(p, &at, here, spent)
	if s.seen[key] {
		return
	}
	s.seen[key] = true
	s.nodes = append(s.nodes, node{p: p, saw: at, spent: spent, parent: parent, by: by})
}

func (s *search) fail(at int, rule, what string, more ...string) {
	if s.bad != nil {
		return
	}
	path := more
	for i := at; i >= 0; i = s.nodes[i].parent {
		path = append([]string{s.nodes[i].by}, path...)
	}
	s.bad = &violation{rule, what, path}
}

// run expands every state under every event.
func (s *search) run() {
	for i := 0; i < len(s.nodes) && s.bad == nil; i++ {
		s.expand(i)
		s.nodes[i].p, s.nodes[i].saw = procedure.Procedure{}, saw{}
	}
}

func (s *search) expand(i int) {
	n := s.nodes[i]
	if s.events.bench && n.p.Known().Who {
		return
	}
	v := n.p.View()
	here := v.Place.String()
	known := n.p.Profile().Reference != "" && slices.Contains(bench, v.Place.Step)
	for k, t := range s.world.tries(n.p, &n.saw, v, s.events) {
		label, spent := here, n.spent
		if t.label != "" {
			label += ": " + t.label
		}
		if known && k > 0 && t.wrong == "" {
			if spent++; spent > s.events.work {
				continue
			}
		}
		s.apply(i, v, procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: t.answers}, label, t.wrong, spent)
	}
	if n.saw.last != "" && n.saw.last != v.Place.Step && s.events.spoiled {
		s.apply(i, v, procedure.Event{Kind: procedure.Answer, Place: procedure.Place{Step: n.saw.last, Blade: "rip"}, Answers: n.saw.lastTo}, "the answer to "+n.saw.last+" comes once more", "late", n.spent)
	}
	if new := len(n.p.Profile().Records) == 0 && !n.p.Known().Who; s.events.back > 0 && !v.Again || s.events.back > 1 && (new || !slices.Contains(bench, v.Place.Step)) {
		s.apply(i, v, procedure.Event{Kind: procedure.Back}, "back", "", n.spent)
	}
	s.apply(i, v, procedure.Event{Kind: procedure.Forward}, "forward", "", n.spent)
	for _, task := range n.p.Tasks() {
		switch step := task.Place.Step; {
		case step == "note" || step == "instruments" || step == "knives":
		case step == "fence-moved":
			s.otherwork(i, task.Place, 0)
		case n.spent < s.events.work:
			s.otherwork(i, task.Place, 1)
		}
	}
	for _, kind := range s.events.breaks {
		s.interrupt(i, kind, "")
		for _, mischief := range s.events.mischief {
			s.interrupt(i, kind, mischief)
		}
	}
}

// bench are the places of the first two steps, away from the saw.
var bench = []string{"saw", "flange", "thread", "knives", "instruments", "blade", "thickness", "rack", "rings", "datum", "unfit"}

// otherwork begins work at the bench and answers it in one go: what happens in
// between is explored for the work that has to do with the saw.
func (s *search) otherwork(i int, place procedure.Place, cost int) {
	n := s.nodes[i]
	begun, err := n.p.Apply(procedure.Event{Kind: procedure.Begin, Place: place, At: noon})
	s.transitions++
	if err != nil {
		return
	}
	v := begun.View()
	for _, t := range s.world.tries(begun, &n.saw, v, s.events) {
		label := "begin " + place.Step
		if t.label != "" {
			label += ": " + t.label
		}
		s.take(i, begun, v, procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: t.answers}, label, t.wrong, n.spent+cost)
	}
}

func (s *search) interrupt(i int, kind procedure.EventKind, mischief string) {
	n := s.nodes[i]
	at := n.saw
	at.interrupted(string(kind))
	switch mischief {
	case "fence bumped":
		if n.p.State().Lock == "" {
			return
		}
		at.fence++
	case "another blade on":
		if at.blade == "" || at.blade == "thin" {
			return
		}
		at.blade, at.rings = "thin", ""
	}
	if mischief == "other rings on" {
		if at.blade == "" || at.rings == "r25" {
			return
		}
		at.rings = "r25"
	}
	label := string(kind)
	if mischief != "" {
		label += ", " + mischief
	}
	s.transitions++
	if kind == leave {
		s.visit(i, procedure.New(n.p.Profile(), s.judge, n.p.Options()), at, n.spent, label)
		return
	}
	next, err := n.p.Apply(procedure.Event{Kind: kind, At: noon})
	if err != nil {
		s.refused++
		return
	}
	s.visit(i, next, at, n.spent, label)
}

func (s *search) apply(i int, v procedure.View, e procedure.Event, label, wrong string, spent int) {
	s.take(i, s.nodes[i].p, v, e, label, wrong, spent)
}

// take applies an event to a procedure that stands at this node.
func (s *search) take(i int, p procedure.Procedure, v procedure.View, e procedure.Event, label, wrong string, spent int) {
	if s.bad != nil {
		return
	}
	n := &s.nodes[i]
	e.At = noon
	s.transitions++
	next, err := p.Apply(e)
	old, now := p.Profile().Records, next.Profile().Records
	if !kept(old, now) || !benchKept(p.Profile(), next.Profile()) {
		s.fail(i, "R6", "a typed reading is gone or changed", label)
		return
	}
	if err != nil {
		s.refused++
		if len(now) != len(old) {
			s.fail(i, "R6", "a refused answer left a record", label)
			return
		}
		if next.Known().Asked != p.Known().Asked {
			s.visit(i, next, n.saw, n.spent, label+" (questioned)")
		}
		return
	}
	if e.Kind == procedure.Answer {
		at := n.saw
		s.world.does(&at, v, e.Answers, wrong, p, next)
		s.visit(i, next, at, spent, label)
		return
	}
	s.visit(i, next, n.saw, n.spent, label)
}

// kept reports whether the old records stand unchanged before the new ones.
func kept(old, now []model.Record) bool {
	if len(now) < len(old) {
		return false
	}
	if len(old) == 0 || &old[0] == &now[0] {
		return true
	}
	for i := range old {
		if !reflect.DeepEqual(old[i], now[i]) {
			return false
		}
	}
	return true
}

// benchKept reports whether the first readings of every blade stand unchanged.
func benchKept(old, now model.Profile) bool {
	for _, b := range old.Blades {
		after, _ := now.BladeByID(b.ID)
		if len(b.Plate) > 0 && !(slices.Equal(b.Plate, after.Plate) && slices.Equal(b.Kerf, after.Kerf)) {
			return false
		}
	}
	return true
}

// abstract is what matters of a state, so that the search ends. Left out: times,
// initials, words of the gates, names of locks, and how often a thing was done.
// Facts of the past stand as they relate to the present: same fence or another, the
// present datum or an older one. What the next event cannot depend on is left out
// too: where the blade stands while the saw is isolated, the dial once heel and toe
// were read.
func abstract(p procedure.Procedure, s *saw, here procedure.Place, spent int) string {
	b := make(key, 0, 200)
	st, profile, known := p.State(), p.Profile(), p.Known()
	squared := st.Seated != nil && st.Seated.SlotFront.Unit != model.NoUnit
	stopped, live, locked := known.Stopped, known.Power == procedure.Live, st.Lock != ""
	b.add(uint8(p.Options().Mode), uint8(spent), uint8(known.Power))
	b.say(here.Step, here.Blade, known.Again.Step, known.Again.Blade, known.Knife, known.Asked)
	b.is(known.Who, known.Fence, stopped, stopped && known.Long && !known.Slow, known.Adding, known.Rack, known.Rim && !squared, known.Seen, known.Reason, known.Sharp, known.Held, known.Finished)
	for _, bl := range profile.Blades {
		b.say(bl.ID, bl.Knife)
		b.is(bl.Teeth > 0, bl.Retired, len(bl.Kerf) > 0)
	}
	b.say(profile.Reference)
	b.say(profile.Standing...)
	b.add(uint8(len(profile.Rings)), uint8(len(profile.Knives)))
	b.is(profile.Rings == nil, profile.Standing == nil, profile.Saw.Tilt != "", profile.Saw.Flange != "", profile.Saw.SpareThread.Unit != 0, profile.Instruments.Caliper.Unit != 0)
	b.is(locked, st.Cleaned != nil, st.Boards != nil, st.Aligned, st.Scaled != nil, squared, st.Seated != nil, !squared && st.Seated != nil && len(st.Seated.Dial) > 0)
	if st.Mounted != nil {
		b.say(st.Mounted.Blade)
		b.say(st.Mounted.Rings...)
	}
	if st.Knife != nil {
		b.say(st.Knife.Knife)
	}
	b.say("f", st.Fitted)
	pieces, datum := st.ReferencePieces(st.Lock), s.datum(profile)
	for _, bl := range profile.Rack() {
		bs := st.Blades[bl.ID]
		row, _ := p.Plan().Blade(bl.ID)
		b.say("|", string(row.Verdict), string(row.Knife))
		b.say(row.Stack...)
		b.is(pieces[bl.ID], bs.Left != nil, bs.LeftNow, bs.Written != nil, row.Ready, row.More > 0, row.More < 0)
		b.add(uint8(min(s.worn.count(bl.ID), 1)))
		if c, ok := bs.Last(); ok {
			f := s.made[index(profile.Records, c.Record)]
			b.add('c', uint8(min(len(c.Readings)+len(c.Differences), 4)))
			b.say(c.Rings...)
			b.is(len(c.Differences) > 0, c.Piece == model.FreshPiece, c.Lock == st.Lock, c.Aligned,
				f.fence == s.fence, f.datum == datum, f.setting == s.setting, f.worn == s.worn.count(bl.ID), f.genuine)
		}
		if h := bs.History; len(h) > 0 && locked {
			b.is(h[len(h)-1].Lock == st.Lock, h[len(h)-1].Piece == model.FreshPiece)
			b.say(h[len(h)-1].Rings...)
		}
		if h := s.halves.of(bl.ID); bl.ID != profile.Reference && h.cut && h.fence == s.fence {
			b.add('p', uint8((h.width-s.set())/hundredth))
		}
	}
	b.say(s.blade, s.rings, s.knife, s.last)
	b.is(s.live, s.proved, stopped && s.still, stopped && s.slow, live && s.checked, known.Fence && s.asked, st.Aligned && s.squared == datum,
		st.Boards != nil && s.board.datum == datum, st.Boards != nil && s.board.fence == s.fence, locked && fenceOf(p, s) == s.fence, locked && s.spoken == s.fence)
	return string(b)
}

type key []byte

func (k *key) add(bs ...uint8) { *k = append(*k, bs...) }

func (k *key) say(words ...string) {
	for _, w := range words {
		*k = append(append(*k, w...), ' ')
	}
	*k = append(*k, '.')
}

func (k *key) is(bs ...bool) {
	for _, b := range bs {
		if b {
			*k = append(*k, '1')
		} else {
			*k = append(*k, '0')
		}
	}
}

func index(records []model.Record, r *model.Record) int {
	for i := range records {
		if &records[i] == r {
			return i
		}
	}
	panic("a cut that is in no record")
}

// remembered is the real judge, asked once for profiles that differ only in times,
// initials and what it does not read.
func remembered(judge model.Judge) model.Judge {
	seed := maphash.MakeSeed()
	plans := map[uint64]model.Plan{}
	return func(p model.Profile) model.Plan {
		var h maphash.Hash
		h.SetSeed(seed)
		locks := map[string]int{}
		refs := map[string]int{}
		for i, r := range p.Records {
			if r.Kind == model.Void {
				for j := range i {
					refs[p.Records[j].Ref()] = j
				}
			}
		}
		for _, b := range p.Blades {
			fmt.Fprint(&h, b.ID, b.Teeth, b.Knife, b.Retired, len(b.Plate), len(b.Kerf))
			for _, m := range slices.Concat(b.Plate, b.Kerf) {
				fmt.Fprint(&h, int64(m.Length))
			}
		}
		fmt.Fprint(&h, len(p.Rings), p.Reference, p.Standing == nil, p.Standing, len(p.Knives), int64(p.Tolerance.Length), p.Saw.Flange, int64(p.Saw.SpareThread.Length), int64(p.Instruments.Caliper.Length))
		for i := range p.Records {
			r := &p.Records[i]
			if r.Kind == model.Isolation || r.Kind == model.Note && len(refs) == 0 {
				continue
			}
			if _, ok := locks[r.Lock]; !ok {
				locks[r.Lock] = len(locks)
			}
			h.WriteString(string(r.Kind))
			h.WriteString(r.Blade)
			h.WriteByte(byte(locks[r.Lock]))
			h.WriteString(r.Piece)
			h.WriteString(r.Knife)
			for _, id := range r.Rings {
				h.WriteString(id)
			}
			for _, ms := range [][]model.Measure{r.Readings, r.Differences, r.Plate, r.Kerf, {r.TipGap}} {
				h.WriteByte('/')
				for _, m := range ms {
					for k := range 6 {
						h.WriteByte(byte(m.Length >> (8 * k)))
					}
				}
			}
			if r.Kind == model.Void {
				h.WriteByte(byte(refs[r.Of]))
			}
			if r.More {
				h.WriteByte('+')
			}
		}
		sum := h.Sum64()
		if plan, ok := plans[sum]; ok {
			return plan
		}
		if len(plans) > 50_000 {
			clear(plans)
		}
		plan := judge(p)
		plans[sum] = plan
		return plan
	}
}

// rack is the shop of the walk with three knives.
func rack() model.Profile {
	p := shop()
	for id, t := range map[string]model.Length{"k24": 240 * hundredth, "k20": 200 * hundredth} {
		p.Knives = append(p.Knives, model.Knife{ID: id, Thickness: t.Of(model.MM)})
	}
	slices.SortFunc(p.Knives, func(a, b model.Knife) int { return int(b.Thickness.Length - a.Thickness.Length) })
	return p
}

// asFound is a saw that nobody knows anything about yet.
func asFound() saw { return saw{live: true, lapsed: "restart", knife: "k25", blade: "thin"} }

// trial is one exploration: where it begins, what is true at the saw, what happens.
type trial struct {
	name   string
	begin  func(*search)
	truth  truth
	events events
}

// The truths: the rip is as plate and kerf say; the first stack brings it too far;
// not far enough; no stack of the kit brings it in. After sharpening it always cuts
// wider than its new readings say.
var (
	exact = truth{[2]model.Length{20 * hundredth, 35 * hundredth}}
	far   = truth{[2]model.Length{11 * hundredth, 26 * hundredth}}
	wide  = truth{[2]model.Length{34 * hundredth, 45 * hundredth}}
	never = truth{[2]model.Length{16 * hundredth, 30 * hundredth}}
)

var (
	everyBreak = []procedure.EventKind{procedure.Idle, procedure.Suspend, leave}
	mischief   = []string{"fence bumped", "another blade on", "other rings on"}
	everything = events{spoiled: true, breaks: everyBreak, mischief: mischief}
	wrongs     = events{spoiled: true, breaks: []procedure.EventKind{leave}, mischief: mischief}
	idleWrongs = events{spoiled: true, breaks: []procedure.EventKind{procedure.Idle}, mischief: mischief}
	backs      = events{back: 2, breaks: []procedure.EventKind{procedure.Idle}}
	backOnce   = events{back: 1, breaks: []procedure.EventKind{leave}, mischief: mischief[:1]}
	otherWork  = events{work: 1, breaks: []procedure.EventKind{leave}}
	workOnly   = events{work: 1}
	benchOnly  = events{spoiled: true, back: 2, bench: true, breaks: []procedure.EventKind{leave}}
	backOnly   = events{back: 1}
	leaving    = events{breaks: []procedure.EventKind{leave}, mischief: mischief[:1]}
)

var trials = []trial{
	{"wrong answers", freshly, exact, everything},
	{"back and interruptions", freshly, exact, backOnce},
	{"back and back again", freshly, exact, backs},
	{"other work", freshly, exact, otherWork},
	{"too far, wrong answers", freshly, far, wrongs},
	{"too far, other work", freshly, far, workOnly},
	{"too wide, wrong answers", freshly, wide, wrongs},
	{"too wide, other work", freshly, wide, workOnly},
	{"nothing fits, wrong answers", freshly, never, wrongs},
	{"new saw", unknown, exact, benchOnly},
	{"resumed at every record", resumed, exact, wrongs},
	{"one blade again: rip", once("rip"), exact, idleWrongs},
	{"one blade again: rip, back", once("rip"), exact, backOnly},
	{"one blade again: rip too far", once("rip"), far, idleWrongs},
	{"one blade again: the reference", once("general"), exact, leaving},
	{"one blade again: thin", once("thin"), exact, everything},
	{"knife changed, other work", knives("k24"), exact, workOnly},
	{"knife changed to and fro, other work", knives("k24", "k25"), exact, workOnly},
	{"the thin knife set, other work", thinKnife, exact, workOnly},
	{"the thin knife set, wrong answers", thinKnife, exact, wrongs},
	{"a kerf read once more", narrowed, exact, everything},
	{"isolate only", isolateOnly, exact, everything},
	{"isolate only, back", isolateOnly, exact, backs},
}

func freshly(s *search) {
	s.start(procedure.New(rack(), s.judge, procedure.Options{Seed: 1}), asFound(), "a profile without records")
}

func unknown(s *search) {
	empty := model.Profile{Version: 1, Name: "new"}
	s.start(procedure.New(empty, s.judge, procedure.Options{Seed: 1}), asFound(), "a saw that nothing is known of")
}

// complete is a setup that an honest person took to its end, and the saw at each
// record on the way.
func (s *search) complete() (model.Profile, []saw) {
	p, at := procedure.New(rack(), s.judge, procedure.Options{Seed: 1}), asFound()
	saws := []saw{at}
	for range 60 {
		if p.Finished() {
			return p.Profile(), saws
		}
		next := s.world.honestly(&p, &at)
		if !next {
			break
		}
		for len(saws) <= len(p.Profile().Records) {
			saws = append(saws, at)
		}
	}
	s.fail(-1, "the honest way", "does not come to its end, but to "+p.Place().String())
	return p.Profile(), saws
}

// honestly answers the present place; false when it is refused.
func (w world) honestly(p *procedure.Procedure, at *saw) bool {
	v := p.View()
	answers := w.honest(*p, at, v)
	next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: noon})
	if err != nil {
		return false
	}
	w.does(at, v, answers, "", *p, next)
	*p = next
	return true
}

// knives is a whole setup after which other knives were set, and the saw.
func knives(ids ...string) func(*search) {
	return func(s *search) {
		profile, saws := s.complete()
		at := saws[len(saws)-1]
		at.interrupted("leave")
		p := procedure.New(profile, s.judge, procedure.Options{Seed: 1})
		s.world.honestly(&p, &at)
		for _, id := range ids {
			p, _ = p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "change-knife"}})
			p, _ = p.Apply(procedure.Event{Kind: procedure.Answer, At: noon, Answers: map[string]string{"knife": id}})
			for range 20 {
				if k := p.State().Knife; k != nil && k.Knife == id {
					break
				}
				s.world.honestly(&p, &at)
			}
		}
		s.start(p, at, "a whole setup, and after it the knife "+strings.Join(ids, ", then "))
	}
}

// thinKnife is a whole setup of a rack whose thin blade runs with a knife of its own,
// which is now to be set.
func thinKnife(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	profile.Blades = slices.Clone(profile.Blades)
	for i := range profile.Blades {
		if b := &profile.Blades[i]; b.ID == "thin" {
			b.Knife = "k20"
		}
	}
	profile.Rings = append(slices.Clone(profile.Rings), model.Ring{ID: "r50", Thickness: (50 * hundredth).Of(model.MM), Count: 1, Outer: (78 * model.Millimetre).Of(model.MM)})
	p := procedure.New(profile, s.judge, procedure.Options{Seed: 1})
	s.world.honestly(&p, &at)
	p, _ = p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "change-knife"}})
	p, err := p.Apply(procedure.Event{Kind: procedure.Answer, At: noon, Answers: map[string]string{"knife": "k20"}})
	if err != nil {
		s.fail(-1, "the honest way", err.Error())
	}
	s.start(p, at, "a whole setup, and now the knife of the thin blade")
}

// narrowed is a whole setup after which the kerf of the rip was read once more, and
// was found narrower than its knife.
func narrowed(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	at.narrow = true
	profile.Blades = slices.Clone(profile.Blades)
	for i := range profile.Blades {
		if b := &profile.Blades[i]; b.ID == "rip" {
			kerf := (245 * hundredth).Of(model.MM)
			b.Kerf = []model.Measure{kerf, kerf, kerf}
		}
	}
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), at, "a whole setup, and then a kerf of 2.45 mm read on the rip")
}

func resumed(s *search) {
	profile, saws := s.complete()
	for k := range saws {
		part, at := profile, saws[k]
		part.Records = profile.Records[:k:k]
		at.made = at.made[:k:k]
		at.interrupted("leave")
		s.start(procedure.New(part, s.judge, procedure.Options{Seed: 1}), at, fmt.Sprintf("resumed after record %d", k))
	}
}

func once(blade string) func(*search) {
	return func(s *search) {
		profile, saws := s.complete()
		at := saws[len(saws)-1]
		at.interrupted("leave")
		s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1, Mode: procedure.OneBlade, Blade: blade}), at, "a whole setup, and now "+blade)
	}
}

func isolateOnly(s *search) {
	s.start(procedure.New(rack(), s.judge, procedure.Options{Seed: 1, Mode: procedure.IsolateOnly}), asFound(), "isolate only")
}

func (t trial) explore() *search {
	w := world{truth: t.truth, late: t.events.spoiled}
	s := &search{world: w, seen: map[string]bool{}, judge: remembered(solver.Plan), events: t.events}
	t.begin(s)
	s.run()
	return s
}

func TestExplore(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	var states, transitions, refused atomic.Int64
	t.Run("all", func(t *testing.T) {
		for _, c := range trials {
			t.Run(c.name, func(t *testing.T) {
				t.Parallel()
				s := c.explore()
				t.Logf("%d states, %d transitions, %d of them refused", len(s.nodes), s.transitions, s.refused)
				states.Add(int64(len(s.nodes)))
				transitions.Add(int64(s.transitions))
				refused.Add(int64(s.refused))
				if s.bad != nil {
					t.Error(s.bad)
				}
			})
		}
	})
	t.Logf("in all %d states, %d transitions, %d of them refused", states.Load(), transitions.Load(), refused.Load())
}
