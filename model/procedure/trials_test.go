package procedure_test

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// rack is the shop of the walk with three knives, and the blades of this saw.
func (g geometry) rack() model.Profile {
	p := shop()
	for id, t := range map[string]model.Length{"k24": 240 * hundredth, "k20": 200 * hundredth} {
		p.Knives = append(p.Knives, model.Knife{ID: id, Thickness: t.Of(model.MM)})
	}
	slices.SortFunc(p.Knives, func(a, b model.Knife) int { return int(b.Thickness.Length - a.Thickness.Length) })
	if g.near {
		p.Saw.Tilt, p.Saw.Flange = model.TiltRight, model.Near
	}
	for i := range p.Blades {
		plate, kerf := g.blank(p.Blades[i].ID, 0)
		p.Blades[i].Plate, p.Blades[i].Kerf = read(plate), read(kerf)
	}
	return p
}

func read(l model.Length) []model.Measure { return slices.Repeat([]model.Measure{l.Of(model.MM)}, 3) }

// asFound is a saw that nobody knows anything about yet.
func asFound() saw {
	return saw{live: true, lapsed: "restart", knife: "k25", blade: "thin", dirty: true, loose: true}
}

// trial is one exploration: where it begins, what is true at the saw, what happens.
type trial struct {
	name   string
	begin  func(*search)
	truth  truth
	events events
}

// The truths: the rip is as plate and kerf say; the first stack brings it too far;
// not far enough; no stack of the kit brings it in. After sharpening it always cuts
// wider than its new readings say. On a near flange's saw the second stack is then
// higher where the first was not far enough, and the cut face has moved away from the
// fence; a lower one moves it toward the fence.
var (
	exact   = truth{[2]model.Length{20 * hundredth, 35 * hundredth}, farSaw}
	far     = truth{[2]model.Length{11 * hundredth, 26 * hundredth}, farSaw}
	wide    = truth{[2]model.Length{34 * hundredth, 45 * hundredth}, farSaw}
	never   = truth{[2]model.Length{16 * hundredth, 30 * hundredth}, farSaw}
	shallow = truth{[2]model.Length{60 * hundredth, 75 * hundredth}, shallowSaw}

	nearExact   = truth{[2]model.Length{20 * hundredth, 10 * hundredth}, nearSaw}
	nearRaised  = truth{[2]model.Length{34 * hundredth, 24 * hundredth}, nearSaw}
	nearLowered = truth{[2]model.Length{11 * hundredth, 0}, nearSaw}
	nearNever   = truth{[2]model.Length{16 * hundredth, 5 * hundredth}, nearSaw}
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
	atOnce     = events{spoiled: true, back: 1, whole: true, work: 1, breaks: append([]procedure.EventKind{procedure.Joined}, everyBreak...), mischief: mischief}
	benchOnly  = events{spoiled: true, back: 2, bench: true, breaks: []procedure.EventKind{leave}}
	backOnly   = events{back: 1}
	joins      = events{spoiled: true, breaks: []procedure.EventKind{procedure.Joined}}
	twinBlades = events{spoiled: true, breaks: []procedure.EventKind{procedure.Idle}, mischief: mischief[1:2]}
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
	{"another shift's records come in", freshly, exact, joins},
	{"a file that somebody edited", edited, exact, wrongs},
	{"a file that somebody edited, other work", edited, exact, workOnly},
	{"teeth that stand out too little", freshly, shallow, wrongs},
	{"near flange, wrong answers", freshly, nearExact, wrongs},
	{"near flange, other work", freshly, nearExact, workOnly},
	{"near flange, stack raised, wrong answers", freshly, nearRaised, wrongs},
	{"near flange, stack raised, other work", freshly, nearRaised, workOnly},
	{"near flange, stack lowered, wrong answers", freshly, nearLowered, wrongs},
	{"near flange, nothing fits, wrong answers", freshly, nearNever, wrongs},
	{"near flange, one blade again: rip", once("rip"), nearRaised, idleWrongs},
	{"back and other work, early", freshly, exact, events{back: 2, work: 1, depth: 11}},
	{"resumed at every record, other work", resumed, exact, events{work: 1, free: true, depth: 4}},
	{"a doubtful reading, other work", doubtful, exact, events{work: 1, depth: 4}},
	{"another blade's piece only", anotherPiece, exact, events{back: 2, depth: 14}},
	{"a blade that waits for its knife", waiting, exact, leaving},
	{"a knife comes next", ripNext, exact, leaving},
	{"a knife comes next that the reference must not run with", thinNext, exact, leaving},
	{"a blade is back on the rack", returned, exact, workOnly},
	{"as many teeth", twins, exact, twinBlades},
	{"isolate only", isolateOnly, exact, everything},
	{"isolate only, back", isolateOnly, exact, backs},
	{"isolate only, all at once", isolateOnly, exact, atOnce},
}

func freshly(s *search) {
	s.start(procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), asFound(), "a profile without records")
}

func unknown(s *search) {
	empty := model.Profile{Version: 1, Name: "new"}
	s.start(procedure.New(empty, s.judge, procedure.Options{Seed: 1}), asFound(), "a saw that nothing is known of")
}

// complete is a setup that an honest person took to its end, and the saw at each
// record on the way.
func (s *search) complete() (model.Profile, []saw) {
	p, at := procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), asFound()
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
	p := procedure.New(withThinKnife(profile), s.judge, procedure.Options{Seed: 1})
	s.world.honestly(&p, &at)
	p, _ = p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "change-knife"}})
	p, err := p.Apply(procedure.Event{Kind: procedure.Answer, At: noon, Answers: map[string]string{"knife": "k20"}})
	if err != nil {
		s.fail(-1, "the honest way", err.Error())
	}
	s.start(p, at, "a whole setup, and now the knife of the thin blade")
}

// ripNext is a rack whose rip runs with a knife of its own, and no blade but the
// reference with the one that is set first.
func ripNext(s *search) {
	profile := s.world.rack()
	profile.Blades[1].Knife = "k24"
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "a rip that runs with a knife of its own, and no other")
}

// thinNext is a rack without the rip, so that no other blade runs with the knife of the
// reference blade.
func thinNext(s *search) {
	profile := withThinKnife(s.world.rack())
	for i := range profile.Blades {
		profile.Blades[i].Retired = profile.Blades[i].ID == "rip"
	}
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "a thin blade that runs with a knife of its own, and no other")
}

// withThinKnife has the thin blade run with the knife of 2.0 mm, and a ring for it.
func withThinKnife(profile model.Profile) model.Profile {
	profile.Blades = slices.Clone(profile.Blades)
	for i := range profile.Blades {
		if b := &profile.Blades[i]; b.ID == "thin" {
			b.Knife = "k20"
		}
	}
	profile.Rings = append(slices.Clone(profile.Rings), model.Ring{ID: "r50", Thickness: (50 * hundredth).Of(model.MM), Count: 1, Outer: (78 * model.Millimetre).Of(model.MM)})
	return profile
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

// waiting is a rack whose rip names another knife than the one that is set first.
func waiting(s *search) {
	profile := s.world.rack()
	more := profile.Blades[1]
	more.ID, more.Label, more.Teeth = "spare-rip", "spare-rip", 30
	profile.Blades[1].Knife, profile.Blades[2] = "k24", more
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "a rip that runs with a knife of its own")
}

// returned is a whole setup after which the rip left the rack; it may come back.
func returned(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	profile.Blades = slices.Clone(profile.Blades)
	profile.Blades[1].Retired = true
	p := procedure.New(profile, s.judge, procedure.Options{Seed: 1})
	s.world.honestly(&p, &at)
	s.start(p, at, "a whole setup, after which the rip left the rack")
}

// twins is a rack in which the foreign blade that is put on now and then has as many
// teeth as the reference.
func twins(s *search) {
	profile := s.world.rack()
	profile.Blades[2].Teeth = profile.Blades[0].Teeth
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "two blades with as many teeth")
}

// anotherPiece is a whole setup after which one more blade like the rip was compared,
// under a fence lock of its own: no half was cut for the rip under it.
func anotherPiece(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	more := profile.Blades[1]
	more.ID, more.Label, more.Teeth = "spare-rip", "spare-rip", 30
	profile.Blades = append(slices.Clone(profile.Blades), more)
	t := tale{s: s, p: procedure.New(profile, s.judge, procedure.Options{Seed: 1, Mode: procedure.OneBlade, Blade: more.ID}), at: at, saws: saws}
	t.until("fence", "moved")
	t.until("written", "")
	t.at.interrupted("leave")
	s.start(procedure.New(t.p.Profile(), s.judge, procedure.Options{Seed: 1}), t.at, "a whole setup, and one more blade compared after it")
}

// doubtful is a setup in which the reference half was read with scatter, and then more.
func doubtful(s *search) {
	at := asFound()
	t := tale{s: s, p: procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), at: at, saws: []saw{at}}
	t.until("reference", "scattered")
	t.until("cut", "")
	t.until("more", "")
	s.start(t.p, t.at, "a reference half read with scatter, and both halves read further")
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
	s.start(procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1, Mode: procedure.IsolateOnly}), asFound(), "isolate only")
}

func (t trial) search() *search {
	w := world{truth: t.truth, reads: strings.Contains(t.name, "edited")}
	return &search{world: w, seen: map[digest][]uint32{}, odd: map[string]int{}, fresh: map[digest]bool{}, judge: remembered(solver.Plan), events: t.events}
}

func (t trial) explore(limit int) *search {
	s := t.search()
	t.begin(s)
	s.run(limit, 1)
	return s
}

func TestExplore(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	var states, transitions, refused atomic.Int64
	t.Run("all", func(t *testing.T) {
		for _, c := range trials {
			t.Run(c.name, func(t *testing.T) {
				t.Parallel()
				s := c.explore(0)
				t.Logf("%d states, %d transitions, %d of them refused", len(s.seen), s.transitions, s.refused)
				states.Add(int64(len(s.seen)))
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
