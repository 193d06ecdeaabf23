package stages

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	honest "example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/testdata/roam"
	"example.com/sawdatum/wizard/procedure"
)

// trueSaw is the saw as it truly is, told by nothing but what hands do at it.
type trueSaw struct {
	isolated, turned    bool // cut off and proved dead; switched on since it was last seen to stand
	blade, rings, knife string
	seen                bool // somebody saw the knife in line with what is on
	checked, started    bool // the power-up checklist since hands were in; a first start since
	fence               string
}

// deed is what a step does at the saw, by its name: written from the table of stages in the
// design of the job, never from the rows. hands go in; the blade spins; part is measured.
type deed struct {
	hands, spins bool
	part         bool
	do           func(b *trueSaw, v procedure.View, after procedure.Context)
}

func put(b *trueSaw, v procedure.View, _ procedure.Context) {
	need := v.Context().Need.On
	b.blade, b.rings, b.knife, b.seen = need.Blade, need.Rings, need.Knife, false
}

func takeAll(b *trueSaw, _ procedure.View, after procedure.Context) {
	on, _ := after.Lock.On()
	b.blade, b.rings, b.knife, b.seen = "", "", on.Knife, false
}

func locks(b *trueSaw, _ procedure.View, after procedure.Context) { b.fence = after.State.Lock }

// deeds has a line for every step that does something at the saw.
var deeds = map[string]deed{
	"stop":        {do: func(b *trueSaw, _ procedure.View, _ procedure.Context) { b.turned = false }},
	"isolate":     {do: func(b *trueSaw, _ procedure.View, _ procedure.Context) { b.isolated = true }},
	"clear":       {hands: true, do: takeAll},
	"empty":       {hands: true, do: takeAll},
	"emptied":     {hands: true, do: takeAll},
	"arbor":       {hands: true},
	"flange":      {part: true},
	"thread":      {part: true},
	"thickness":   {part: true},
	"blade":       {part: true},
	"grinder":     {part: true},
	"look":        {hands: true},
	"mount":       {hands: true, do: put},
	"line":        {hands: true, do: func(b *trueSaw, _ procedure.View, _ procedure.Context) { b.seen = true }},
	"block":       {hands: true},
	"heel-toe":    {hands: true},
	"rim":         {hands: true},
	"clean":       {hands: true},
	"knife-check": {hands: true, do: func(b *trueSaw, _ procedure.View, _ procedure.Context) { b.seen = true }},
	"knife-seen":  {hands: true, do: func(b *trueSaw, _ procedure.View, _ procedure.Context) { b.seen = true }},
	"knife": {hands: true, do: func(b *trueSaw, v procedure.View, _ procedure.Context) {
		b.knife, b.seen = v.Place.Blade, false
	}},
	"power": {hands: true, do: func(b *trueSaw, _ procedure.View, _ procedure.Context) {
		b.checked, b.isolated, b.started = true, false, false
	}},
	"first":      {spins: true, do: func(b *trueSaw, _ procedure.View, _ procedure.Context) { b.started = true }},
	"boards":     {spins: true},
	"pairs":      {spins: true, do: func(b *trueSaw, _ procedure.View, _ procedure.Context) { b.fence = "" }},
	"scale":      {spins: true},
	"reference":  {spins: true},
	"further":    {spins: true},
	"strip":      {spins: true},
	"closing":    {spins: true},
	"proof":      {spins: true},
	"lock":       {do: locks},
	"lock-again": {do: locks},
}

// check is the rule that a deed would break.
func (b trueSaw) check(d deed, v procedure.View) error {
	what := v.Place.String()
	switch {
	case d.hands && !b.isolated:
		return fmt.Errorf("R1: hands are in at %s while the saw may start", what)
	case what == "isolate" && b.turned:
		return fmt.Errorf("the isolator is opened while the blade may turn")
	case d.part && !b.isolated && (v.Place.Blade == "" || v.Place.Blade == b.blade):
		return fmt.Errorf("R1: %s is measured in a saw that may start", what)
	case d.spins && b.isolated:
		return fmt.Errorf("%s wants a saw to run that is cut off", what)
	case d.spins && (b.blade == "" || b.knife == "" || !b.seen):
		return fmt.Errorf("R2: at %s the blade %q turns with the knife %q, seen in line: %v", what, b.blade, b.knife, b.seen)
	case d.spins && !b.checked:
		return fmt.Errorf("R2: at %s the blade turns unchecked", what)
	case d.spins && v.Place.Step != "first" && !b.started:
		return fmt.Errorf("R2: %s comes without a first start", what)
	}
	return nil
}

// rover is a run of the procedure with the saw beside it.
type rover struct {
	p     procedure.Procedure
	saw   procedure.Saw
	truth trueSaw
	at    time.Time
}

// answers are those of an honest hand, which reads off the saw what is there.
func (w rover) answers(v procedure.View) procedure.Answers {
	a := procedure.Answers{}
	for _, f := range v.Fields {
		text := honest.Answer(v, f, w.saw, a)
		switch {
		case f.Key == "off" && f.Kind == procedure.FieldCount:
			text = fmt.Sprint(len(strings.Fields(w.truth.rings)))
		case v.Place.Step == "look" && f.Key == "blade" && w.truth.blade != "":
			text = v.Context().Name(w.truth.blade)
		case v.Place.Step == "look" && f.Key == "rings":
			text = v.Context().RingsTyped(strings.Fields(w.truth.rings))
		case v.Place.Step == "look" && f.Key == "knife":
			k, _ := v.Context().Profile.KnifeByID(w.truth.knife)
			text = typed(k.Thickness)
		case f.Key == "fence" && w.truth.fence != v.Context().State.Lock:
			text = "moved"
		case f.Key == "where":
			text = f.Options[len(f.Options)-1]
		case f.Key == "knife" && len(f.Options) == 2 && w.truth.knife == "":
			text = "out"
		}
		a[f.Key] = text
	}
	return a
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
	if err != nil {
		if on := w.p.State().On; !v.Correcting && !v.Begun && (!w.p.State().Seen || on.Blade == w.truth.blade) {
			return nil, fmt.Errorf("an honest hand is refused: %v: %w", a, err)
		}
		return nil, nil
	}
	d := deeds[v.Place.Step]
	if v.Correcting {
		d = deed{}
	}
	if broken := w.truth.check(d, v); broken != nil {
		return nil, broken
	}
	if d.hands {
		next.truth.checked, next.truth.started = false, false
	}
	if d.spins {
		next.truth.turned = true
	}
	if d.do != nil {
		d.do(&next.truth, v, next.p.Now())
	}
	return next, next.replay()
}

// replay holds the interlock of the procedure against the saw: what it allows is true there.
func (w rover) replay() error {
	lock := w.p.Now().Lock
	if (lock.Hands() != interlock.Hands{}) && !w.truth.isolated {
		return fmt.Errorf("R1: hands are allowed, and the saw is not cut off")
	}
	if on, known := lock.On(); known && on.Blade != somethingElse && (on.Blade != w.truth.blade || on.Rings != w.truth.rings) {
		return fmt.Errorf("the %q with %q is known to be on, and it is the %q with %q", on.Blade, on.Rings, w.truth.blade, w.truth.rings)
	}
	return nil
}

func (w rover) Moves() ([]roam.Move, error) {
	if w.p.Finished() {
		return nil, nil
	}
	v := w.p.View()
	out := []roam.Move{{Name: v.Place.String(), Kind: roam.Honest, Do: func() (roam.Run, error) { return w.answer(v, w.answers(v)) }}}
	for i := range v.Fields {
		wrong := w.answers(v)
		wrong[v.Fields[i].Key] = "zz"
		out = append(out, roam.Move{Name: "zz at " + v.Place.String() + " " + v.Fields[i].Key, Kind: roam.Wrong, Do: func() (roam.Run, error) {
			if _, err := w.p.Apply(procedure.Event{Kind: procedure.Answer, At: w.at.Add(time.Minute), Visit: v.Visit, Answers: wrong}); err == nil && v.Gate && v.Fields[i].Kind == procedure.FieldWord {
				return nil, fmt.Errorf("%s takes zz at %s", v.Place, v.Fields[i].Key)
			}
			return nil, nil
		}})
	}
	send := func(e procedure.Event, saw func(*trueSaw)) func() (roam.Run, error) {
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
			return next, next.replay()
		}
	}
	out = append(out,
		roam.Move{Name: "back", Kind: roam.Back, Do: send(procedure.Event{Kind: procedure.Back}, nil)},
		roam.Move{Name: "forward", Kind: roam.Back, Do: send(procedure.Event{Kind: procedure.Forward}, nil)},
		roam.Move{Name: "idle", Kind: roam.Happened, Do: send(procedure.Event{Kind: procedure.Idle}, nil)},
		roam.Move{Name: "suspend, somebody was there", Kind: roam.Happened, Do: send(procedure.Event{Kind: procedure.Suspend}, func(b *trueSaw) {
			b.isolated, b.turned, b.checked, b.fence = false, true, false, ""
		})},
		roam.Move{Name: "new run", Kind: roam.Happened, Do: func() (roam.Run, error) {
			next := w
			o := w.p.Options()
			next.p = procedure.New(w.p.Profile(), House(o), solver.Judge, o)
			next.truth.isolated, next.truth.checked, next.truth.fence = false, false, ""
			return next, next.replay()
		}},
	)
	for _, task := range w.p.Tasks() {
		out = append(out, roam.Move{Name: "begin " + task.Place.String(), Kind: roam.Redo, Do: send(procedure.Event{Kind: procedure.Begin, Place: task.Place}, nil)})
	}
	return out, nil
}

// TestRoam goes at random through whole setups beside the saw: honest answers and wrong
// ones, corrections, acts done again, other work, idle spells, interruptions with somebody at
// the saw. It is sampling; the interlock alone is explored whole.
func TestRoam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := profiles.Demo()
		p.Reference, p.Standing = "general-48", []string{}
		for i := range p.Blades {
			p.Blades[i].Retired = i > 2
		}
		mode := rapid.SampledFrom([]procedure.Mode{procedure.Setup, procedure.Setup, procedure.OneBlade, procedure.IsolateOnly}).Draw(t, "mode")
		o := procedure.Options{Mode: mode, Blade: "rip-24", Seed: 3}
		w := rover{p: procedure.New(p, House(o), solver.Judge, o), saw: Practice(p, 2), at: time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)}
		w.truth = trueSaw{blade: "rip-24", rings: "r20", knife: "k25", turned: true}
		choose := func(n int, what string) int { return rapid.IntRange(0, n-1).Draw(t, what) }
		if err := roam.Walk(w, 120, choose); err != nil {
			t.Fatal(err)
		}
	})
}

// TestEveryActHasADeed: whatever row sends hands in or spins the blade has its line in the
// table of deeds.
func TestEveryActHasADeed(t *testing.T) {
	check := func(r row) {
		d := deeds[r.Name]
		switch r.Act.(type) {
		case procedure.HandsIn:
			if !d.hands && r.Name != "hold" && r.Name != "block-motor" {
				t.Errorf("%s sends hands in and has no line that says so", r.Name)
			}
		case procedure.Spins:
			if !d.spins && r.Name != "driven" {
				t.Errorf("%s spins the blade and has no line that says so", r.Name)
			}
		}
	}
	for mode := procedure.Setup; mode <= procedure.IsolateOnly; mode++ {
		h := House(procedure.Options{Mode: mode, Proves: true})
		for _, b := range h.Blocks {
			for _, r := range b.Rows {
				check(r)
			}
		}
		for _, r := range h.Work {
			check(r)
		}
		for _, g := range interlock.Gates() {
			check(*h.Gate(g, procedure.Context{}))
		}
	}
}
