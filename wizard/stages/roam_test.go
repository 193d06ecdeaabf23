package stages

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	honest "example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/testdata/roam"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// rover is a run of the procedure with the saw beside it.
type rover struct {
	p     procedure.Procedure
	saw   procedure.Saw
	truth trueSaw
	at    time.Time
	wide  map[string]model.Length // how much wider than the micrometer says a blade cuts
	faces string                  // how the knife lies to the tips, in mm: low, high
}

// shifted are readings that are so much wider.
func shifted(c context, text string, by model.Length) string {
	ms, err := model.ParseReadings(text, c.Unit())
	if err != nil || by == 0 {
		return text
	}
	for i, m := range ms {
		ms[i] = (m.Length + by).Of(model.MM)
	}
	return form.TypedAll(c, ms)
}

// answers are those of an honest hand, which reads off the saw what is there.
func (w rover) answers(v procedure.View) procedure.Answers {
	a, c := procedure.Answers{}, v.Context()
	for _, f := range v.Fields {
		text := honest.Answer(v, f, w.saw, a)
		switch at := v.Place.Step; {
		case f.Label == "Rings that came off":
			text = fmt.Sprint(len(strings.Fields(w.truth.rings)))
		case f.Key == "was":
			b, _ := c.Profile.BladeByID(w.truth.blade)
			text = fmt.Sprint(b.Teeth, " ", c.RingsTyped(strings.Fields(w.truth.rings)))
			if w.truth.blade == "" || f.Check(text) != nil {
				text = "other"
			}
		case at == "look" && f.Key == "blade" && w.truth.blade == stranger:
			text = "other"
		case at == "look" && f.Key == "blade" && w.truth.blade != "":
			text = c.Name(w.truth.blade)
		case at == "look" && f.Key == "rings":
			text = c.RingsTyped(strings.Fields(w.truth.rings))
			if ids, err := c.Profile.ParseStack(text); err != nil || strings.Join(ids, " ") != w.truth.rings { // one that was said to be lost
				text = "other"
			}
		case at == "look" && f.Key == "knife":
			k, _ := c.Profile.KnifeByID(w.truth.knife)
			text = form.Typed(k.Thickness)
		case f.Key == "fence" && w.truth.fence != c.State.Lock:
			text = "moved"
		case f.Key == "nobody" && w.truth.somebody:
			text = "somebody"
		case f.Key == "where":
			text = "isolate"
		case f.Key == "knife" && len(f.Options) == 2 && w.truth.knife == "":
			text = "out"
		case f.Key == "left" && w.truth.blade != "":
			text = c.Name(w.truth.blade)
		case f.Kind == procedure.FieldLength && f.Value != "": // as it was
			text = f.Value
		case f.Key == "readings":
			text = shifted(c, text, w.wide[w.truth.blade])
		case f.Key == "faces":
			text = w.faces
		}
		a[f.Key] = text
	}
	return a
}

// asRecorded reports whether what is on is what the records have.
func (w rover) asRecorded() bool {
	on := w.p.State().On
	return on.Blade == w.truth.blade && strings.Join(on.Rings, " ") == w.truth.rings && on.Knife == w.truth.knife
}

// answer does what the screen says, and types it.
func (w rover) answer(v procedure.View, a procedure.Answers) (roam.Run, error) {
	next := w
	next.at = w.at.Add(6 * time.Second)
	var err error
	for range 2 { // what is questioned is so
		if next.p, err = next.p.Apply(procedure.Event{Kind: procedure.Answer, At: next.at, Visit: v.Visit, Answers: a}); err == nil {
			break
		}
	}
	if err != nil { // a shop without any knife can go no further
		if !v.Correcting && !v.Begun && len(w.p.Now().Knives()) > 0 && (!w.p.State().Seen || w.asRecorded()) {
			return nil, fmt.Errorf("an honest hand is refused: %v: %w", a, err)
		}
		return nil, nil
	}
	if v.Correcting { // only typed
		if was, is := w.p.Now().Lock, next.p.Now().Lock; was != is {
			return nil, fmt.Errorf("correcting %s changed what may be done at the saw: %+v, %+v", v.Place, was, is)
		}
		return next, next.replay(w)
	}
	d := deeds[v.Place.Step]
	if broken := errors.Join(w.truth.check(d, v), w.truth.inKerf(v)); broken != nil {
		return nil, broken
	}
	for _, r := range next.p.Profile().Records[len(w.p.Profile().Records):] {
		if broken := w.truth.told(r); broken != nil {
			return nil, broken
		}
	}
	if d.hands {
		next.truth.checked, next.truth.started = false, false
	}
	next.truth.stands = maps.Clone(w.truth.stands)
	next.truth.turned = w.truth.turned || d.spins
	if d.do != nil {
		d.do(&next.truth, done{v, a, next.p.Now()})
	}
	return next, next.replay(w)
}

// replay holds the interlock of the procedure against the saw: what it allows is true there.
// And whatever was recorded stands.
func (w rover) replay(was rover) error {
	lock := w.p.Now().Lock
	if (lock.Hands() != interlock.Hands{}) && !w.truth.isolated {
		return fmt.Errorf("R1: hands are allowed, and the saw is not cut off")
	}
	if (lock.Turning() != interlock.Turning{}) && (w.truth.isolated || !w.truth.checked) {
		return fmt.Errorf("R2: the blade may turn, and the saw is cut off %v, checked %v", w.truth.isolated, w.truth.checked)
	}
	if on, known := lock.On(); known && !w.truth.somebody && on.Blade != somethingElse && (on.Blade != w.truth.blade || on.Rings != w.truth.rings) {
		return fmt.Errorf("the %q with %q is known to be on, and it is the %q with %q", on.Blade, on.Rings, w.truth.blade, w.truth.rings)
	}
	for name := range w.p.State().Locks {
		if gate := lock.Next(interlock.Need{Lock: name}); gate == interlock.Open && name != w.truth.fence {
			return fmt.Errorf("R3: the fence counts as left alone under %q, and stands under %q", name, w.truth.fence)
		}
	}
	before, after := was.p.Profile().Records, w.p.Profile().Records
	if len(after) < len(before) || !slices.EqualFunc(before, after[:len(before)], func(a, b model.Record) bool { return a.Ref() == b.Ref() && len(a.Readings) == len(b.Readings) }) {
		return fmt.Errorf("R6: records are gone or changed: there were %d, there are %d", len(before), len(after))
	}
	return nil
}

// gone is the procedure after a lapse or an interruption, when nothing may be done before it
// is vouched for.
func (w rover) gone(was rover) error {
	lock := w.p.Now().Lock
	if (lock.Hands() != interlock.Hands{}) || (lock.Turning() != interlock.Turning{}) || w.truth.blade != "" && (lock.Bench(w.truth.blade) != interlock.Bench{}) {
		return fmt.Errorf("R4: a pass outlives it: %+v", lock)
	}
	return w.replay(was)
}

// send sends an event, with what happens at the saw meanwhile.
func (w rover) send(e procedure.Event, saw func(*trueSaw), holds func(rover, rover) error) func() (roam.Run, error) {
	return func() (roam.Run, error) {
		next := w
		next.at = w.at.Add(time.Hour)
		e.At = next.at
		var err error
		if next.p, err = w.p.Apply(e); err != nil {
			return nil, nil
		}
		if saw != nil {
			saw(&next.truth)
		}
		return next, holds(next, w)
	}
}

// wrong are answers that must not be taken.
func (w rover) wrong(v procedure.View) (out []roam.Move) {
	refused := func(what string, visit uint64, a procedure.Answers, must bool) {
		out = append(out, roam.Move{Name: what + " at " + v.Place.String(), Kind: roam.Wrong, Do: func() (roam.Run, error) {
			next, err := w.p.Apply(procedure.Event{Kind: procedure.Answer, At: w.at.Add(time.Minute), Visit: visit, Answers: a})
			if err == nil && must {
				return nil, fmt.Errorf("%s takes %s", v.Place, what)
			}
			if err != nil && (next.Now().Lock != w.p.Now().Lock || len(next.Profile().Records) != len(w.p.Profile().Records)) {
				return nil, fmt.Errorf("%s refuses %s, and something has changed", v.Place, what)
			}
			return nil, nil
		}})
	}
	honest := w.answers(v)
	refused("what was typed for another screen", v.Visit-1, honest, true)
	for _, f := range v.Fields {
		a := w.answers(v)
		a[f.Key] = "zz"
		refused("zz for "+f.Key, v.Visit, a, f.Kind == procedure.FieldWord || f.Kind == procedure.FieldChoice)
		a = w.answers(v)
		a[f.Key] = ""
		refused("nothing for "+f.Key, v.Visit, a, f.Kind == procedure.FieldWord)
		if f.Key == "tip_gap" { // EN 1870-1, 6.3: 3 to 8 mm; Cal. Code Regs. title 8, 4296: at most 1/2 in
			a = w.answers(v)
			a[f.Key] = strings.Replace(a[f.Key], strings.Fields(a[f.Key])[0], map[model.Rules]string{model.RulesEN: "9mm", model.RulesUS: "13mm"}[v.Context().Profile.Rules], 1)
			refused("too wide a gap", v.Visit, a, true)
		}
		if f.Key == "where" && w.in(v.Place.Blade) { // the records have it in the saw
			a = w.answers(v)
			a[f.Key] = "bench"
			refused("bench", v.Visit, a, true)
		}
	}
	return out
}

// in reports whether the records have a part in the saw.
func (w rover) in(part string) bool {
	on := w.p.State().On
	return part != "" && (part == on.Blade || part == on.Knife || slices.Contains(on.Rings, part))
}

// others are answers as honest and rarer: what lies on the bench, or is typed from the manual.
func (w rover) others(v procedure.View) (out []roam.Move) {
	for _, f := range v.Fields {
		if f.Key == "off" && f.Optional { // the blade ran on for 14 seconds
			a := w.answers(v)
			a[f.Key] = "14"
			out = append(out, roam.Move{Name: v.Place.String() + " 14", Kind: roam.Another, Do: func() (roam.Run, error) { return w.answer(v, a) }})
		}
		if f.Key == "quiet" || f.Key == "others" { // it rattles; a knife moved the one before
			a := w.answers(v)
			a[f.Key] = f.Options[1]
			out = append(out, roam.Move{Name: v.Place.String() + " " + f.Options[1], Kind: roam.Another, Do: func() (roam.Run, error) { return w.answer(v, a) }})
		}
		if f.Key != "where" {
			continue
		}
		for _, option := range f.Options {
			part := v.Context().Blade
			if option == "isolate" || option == "bench" && (part == w.truth.blade || part == w.truth.knife || !w.p.State().Seen || w.in(part) || !w.asRecorded()) {
				continue
			}
			a := w.answers(v)
			a[f.Key] = option
			out = append(out, roam.Move{Name: v.Place.String() + " " + option, Kind: roam.Another, Do: func() (roam.Run, error) { return w.answer(v, a) }})
		}
	}
	return out
}

// nothing is known of the saw after it was left alone.
func alone(b *trueSaw) {
	b.isolated, b.turned, b.checked, b.started, b.fence = false, true, false, false, ""
}

// changed is the saw after somebody put something else on it.
func changed(blade, rings, knife string) func(*trueSaw) {
	return func(b *trueSaw) {
		alone(b)
		b.blade, b.rings, b.knife, b.seen = blade, rings, knife, false
	}
}

// happened is what somebody else does, and what lets the saw alone.
func (w rover) happened() (out []roam.Move) {
	add := func(name string, do func() (roam.Run, error)) {
		out = append(out, roam.Move{Name: name, Kind: roam.Happened, Do: do})
	}
	add("idle", w.send(procedure.Event{Kind: procedure.Idle}, nil, rover.gone))
	if w.p.State().Lock != "" || w.truth.blade != "" {
		if !w.truth.isolated && w.p.Now().Lock.Power() != interlock.Unknown {
			for _, k := range w.p.Profile().Knives {
				add("idle, somebody was there and put in the knife "+k.ID, w.send(procedure.Event{Kind: procedure.Idle}, func(b *trueSaw) {
					changed(stranger, "", k.ID)(b)
					b.somebody = true
				}, rover.gone))
			}
		}
	}
	suspend := procedure.Event{Kind: procedure.Suspend}
	add("suspend", w.send(suspend, alone, rover.gone))
	anew := func(saw func(*trueSaw)) func() (roam.Run, error) {
		return func() (roam.Run, error) {
			next, o := w, w.p.Options()
			next.p = procedure.New(w.p.Profile(), House(o), solver.Judge, o)
			next.at = w.at.Add(time.Hour)
			saw(&next.truth)
			return next, next.gone(w)
		}
	}
	add("new run", anew(alone))
	profile := w.p.Profile()
	for _, b := range profile.Rack() {
		row, _ := w.p.Plan().Row(b.ID)
		rings := slices.Clone(row.Stack)
		if b.ID == profile.Reference {
			rings = slices.Clone(profile.Standing)
		}
		swapped := changed(b.ID, strings.Join(rings, " "), b.Knife)
		add("suspend, the "+b.ID+" was put on", w.send(suspend, swapped, rover.gone))
		add("new run, the "+b.ID+" was put on", anew(swapped))
		if b.Knife == "" {
			continue
		}
		merged := profile
		merged.Records = slices.Clone(profile.Records)
		at, on := w.at.Add(time.Minute).UTC().Truncate(time.Second), w.p.State().On
		if n := len(merged.Records); n > 0 && !at.After(merged.Records[n-1].At) {
			continue
		}
		merged.Records = append(merged.Records,
			record{Kind: model.TakenOff, At: at, By: "ZZ", Blade: on.Blade, Rings: reversed(on.Rings), Knife: on.Knife},
			record{Kind: model.Mount, At: at.Add(time.Second), By: "ZZ", Blade: b.ID, Rings: rings, Knife: b.Knife})
		add("another shift's records, with the "+b.ID+" on", w.send(procedure.Event{Kind: procedure.Joined, Profile: merged}, swapped, rover.gone))
	}
	if n := len(profile.Records); n > 0 && w.p.State().Lock != "" { // their clock is slow: it comes before the last of ours
		merged, lock := profile, fmt.Sprint("theirs-", n)
		merged.Records = slices.Insert(slices.Clone(profile.Records), n-1,
			record{Kind: model.FenceLock, At: profile.Records[n-1].At.Add(-time.Millisecond), By: "ZZ", Lock: lock, Width: profile.WorkingWidth})
		add("another shift's records, with a lock by a slow clock", w.send(procedure.Event{Kind: procedure.Joined, Profile: merged}, func(b *trueSaw) {
			alone(b)
			b.fence = lock
		}, func(next, was rover) error {
			was.p = procedure.New(merged, House(was.p.Options()), solver.Judge, was.p.Options())
			return next.gone(was)
		}))
	}
	for _, k := range append(slices.Clone(profile.Knives), model.Knife{}) {
		add("suspend, the knife "+k.ID+" was put in", w.send(suspend, changed(w.truth.blade, w.truth.rings, k.ID), rover.gone))
	}
	add("suspend, a blade of another saw was put on", w.send(suspend, changed(stranger, "", w.truth.knife), rover.gone))
	return out
}

func (w rover) Moves() ([]roam.Move, error) {
	if w.p.Finished() {
		return nil, nil
	}
	v := w.p.View()
	out := []roam.Move{{Name: v.Place.String(), Kind: roam.Honest, Do: func() (roam.Run, error) { return w.answer(v, w.answers(v)) }}}
	out = append(append(append(out, w.others(v)...), w.wrong(v)...), w.happened()...)
	turns := func(b *trueSaw) { b.turned = b.turned || !b.isolated } // nobody looked at it meanwhile
	out = append(out,
		roam.Move{Name: "back", Kind: roam.Back, Do: w.send(procedure.Event{Kind: procedure.Back}, turns, rover.replay)},
		roam.Move{Name: "forward", Kind: roam.Back, Do: w.send(procedure.Event{Kind: procedure.Forward}, nil, rover.replay)},
	)
	for _, task := range w.p.Tasks() {
		out = append(out, roam.Move{Name: "begin " + task.Place.String(), Kind: roam.Redo, Do: w.send(procedure.Event{Kind: procedure.Begin, Place: task.Place}, turns, rover.replay)})
	}
	return out, nil
}

// shops are the practice shop in its kinds, before anything is done, and after its whole
// setup: with one knife; with a second one for the thin blade, and tilt by a motor; with a
// near flange, in inches, by the rules of the United States; with the fence on the left.
var shops = sync.OnceValue(func() (all [4]struct {
	fresh, done model.Profile
	saw         trueSaw
}) {
	for i := range all {
		p := profiles.Demo()
		p.Reference, p.Standing = "general-48", []string{}
		for b := range p.Blades {
			p.Blades[b].Retired = b > 2
		}
		switch i {
		case 1:
			p.Knives = append(p.Knives, model.Knife{ID: "k20", Thickness: model.Measure{Length: 2 * model.Millimetre, Unit: model.MM}})
			p.Blades[4].Retired, p.Blades[4].Knife, p.Blades[2].Retired = false, "k20", true
			p.Saw.MotorTilt = model.Yes
		case 2:
			p.Units, p.Rules = model.IN, model.RulesUS
			p.Saw.Tilt, p.Saw.Flange = model.TiltRight, model.Near
			p.Reference, p.Standing = "", nil
		case 3:
			p.Saw.FenceSide, p.Saw.Tilt, p.Saw.Flange = model.SideLeft, model.TiltRight, model.Far
			p.Rules = model.RulesUS
		}
		all[i].fresh = p
		w := foundAsIs(p, procedure.Options{Seed: 1})
		for range 400 {
			if w.p.Finished() {
				break
			}
			v := w.p.View()
			next, err := w.answer(v, w.answers(v))
			if err != nil || next == nil {
				panic(fmt.Sprint("the setup of shop ", i, " stops at ", v.Place, ": ", err))
			}
			w = next.(rover)
		}
		all[i].done, all[i].saw = w.p.Profile(), w.truth
	}
	return all
})

// foundAsIs is a rover at a saw that nobody knows yet.
func foundAsIs(p model.Profile, o procedure.Options) rover {
	return rover{p: procedure.New(p, House(o), solver.Judge, o), saw: practice.New(p, 1), at: time.Date(2026, 9, 26, 8, 0, 0, 0, time.UTC), faces: "0.05mm 0.05mm", truth: trueSaw{blade: "rip-24", rings: "r20", knife: "k25", turned: true}}
}

// TestRoam goes at random through setups and the days after them beside the saw: honest
// answers and wrong ones, corrections, acts done again, other work, idle spells, restarts and
// interruptions, with somebody at the saw who changes blade or knife, with another shift's
// records; blades that cut elsewhere than they measure, knives that lie near the tips or in
// front of them. It is sampling; the interlock alone is explored whole.
func TestRoam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shop := shops()[rapid.IntRange(0, 3).Draw(t, "shop")]
		runs := []procedure.Options{
			{}, {Mode: procedure.OneBlade, Blade: "rip-24"}, {Mode: procedure.IsolateOnly},
			{Mode: procedure.Swap, Blade: "rip-24"}, {Mode: procedure.Swap, Blade: "rip-24", Offers: true}, {Mode: procedure.Swap, Blade: "general-48", Proves: true}, {Mode: procedure.Swap, Blade: "thin-40"},
			{Mode: procedure.Prove, Blade: "rip-24"}, {Mode: procedure.Prove, Blade: "general-48"}, {Mode: procedure.OneBlade, Blade: "general-48"}, {Mode: procedure.OneBlade, Blade: "thin-40"},
		}
		o := rapid.SampledFrom(runs).Draw(t, "run")
		o.Seed = 3
		p, truth := shop.fresh, trueSaw{blade: "rip-24", rings: "r20", knife: "k25", turned: true}
		if o.Mode > procedure.OneBlade || rapid.Bool().Draw(t, "set up") {
			p, truth = shop.done, shop.saw
			alone(&truth)
		}
		if b, ok := p.BladeByID(o.Blade); o.Blade != "" && (!ok || b.Retired) {
			o.Blade = "rip-24"
		}
		w := rover{p: procedure.New(p, House(o), solver.Judge, o), saw: practice.New(p, 2), at: time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC), truth: truth}
		w.wide = map[string]model.Length{"rip-24": rapid.SampledFrom([]model.Length{0, mm / 3, -mm / 2}).Draw(t, "the rip cuts wider by")}
		w.faces = rapid.SampledFrom([]string{"0.05mm 0.05mm", "-0.09mm -0.07mm", "0.1mm 0.1mm"}).Draw(t, "faces")
		choose := func(n int, what string) int { return rapid.IntRange(0, n-1).Draw(t, what) }
		if err := roam.Walk(w, 120, choose); err != nil {
			t.Fatal(err)
		}
	})
}

// TestInterruptedAtEveryStep: at each step of a setup everything happens that lets the saw alone
// or changes what is on it, and an honest hand goes on from there until the step was done: no
// rule is broken by the way, and none of what happened lets it pass a gate.
func TestInterruptedAtEveryStep(t *testing.T) {
	o := procedure.Options{Seed: 4}
	for shop := range 2 {
		w := foundAsIs(shops()[shop].fresh, o)
		seen := map[string]bool{}
		for range 400 {
			v := w.p.View()
			if !v.Gate && !seen[v.Place.Step] {
				seen[v.Place.Step] = true
				for _, m := range w.happened() {
					if err := w.goesOn(m, v.Place); err != nil {
						t.Errorf("shop %d, at %s: %s: %v", shop, v.Place, m.Name, err)
					}
				}
			}
			next, err := w.answer(v, w.answers(v))
			if err != nil || next == nil {
				t.Fatal(v.Place, err)
			}
			if w = next.(rover); w.p.Finished() {
				break
			}
		}
		if !seen["closing"] || !w.p.Finished() {
			t.Errorf("shop %d: the setup is not whole: %v", shop, seen)
		}
	}
}

// goesOn has something happen, and answers honestly until a step was done.
func (w rover) goesOn(m roam.Move, until procedure.Place) error {
	next, err := m.Do()
	for range 25 {
		if err != nil || next == nil {
			return err
		}
		now := next.(rover)
		if now.p.Finished() {
			return nil
		}
		v := now.p.View()
		if next, err = now.answer(v, now.answers(v)); v.Place == until {
			return err
		}
	}
	return nil
}
