package year

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages"
)

// run is one run of the program, and who sits at it.
type run struct {
	*shop
	procedure.Procedure
	at  time.Time
	who string
	own map[string]string // answers that are chosen beforehand, by row and field
	way []string
}

// leastChance is what other rings have to promise before somebody puts them on.
const leastChance = 0.3

// mostAnswers is more than any run of a shop of eight blades takes.
const mostAnswers = 250

// play goes through a run to its end as an honest hand does. between may begin other work
// before a view is answered.
func (s *shop) play(p model.Profile, o procedure.Options, at time.Time, who string, own map[string]string, between func(*run)) (*run, error) {
	r := &run{shop: s, Procedure: procedure.New(p, stages.House(o), solver.Judge, o), at: at, who: who, own: own}
	s.strips, s.ripped = nil, 0
	for range mostAnswers {
		if r.Finished() {
			return r, nil
		}
		if between != nil {
			between(r)
		}
		if err := r.step(); err != nil {
			return r, err
		}
	}
	return r, fmt.Errorf("it does not end: it stands at %s after ... %s", r.View().Place, strings.Join(r.way[len(r.way)-60:], ", "))
}

// begin begins other work.
func (r *run) begin(step string) error {
	next, err := r.Apply(procedure.Event{Kind: procedure.Begin, At: r.at, Place: procedure.Place{Step: step}})
	if err == nil {
		r.Procedure = next
	}
	return err
}

// step answers the present view: does what it says, and types it.
func (r *run) step() error {
	v := r.View()
	before(r, v)
	a := procedure.Answers{}
	for _, f := range v.Fields {
		a[f.Key] = r.answer(v, f, a)
	}
	r.at = r.at.Add(8 * time.Second)
	var err error
	for range 2 { // what is questioned is so
		var next procedure.Procedure
		next, err = r.Apply(procedure.Event{Kind: procedure.Answer, At: r.at, Visit: v.Visit, Answers: a})
		if r.Procedure = next; err == nil {
			break
		}
	}
	if err != nil {
		return fmt.Errorf("an honest hand is refused: %v: %w, after ... %s", a, err, strings.Join(r.way[max(0, len(r.way)-12):], ", "))
	}
	r.way = append(r.way, v.Place.String())
	after(r, v, a)
	return nil
}

// answer is what is typed into a field: what was chosen beforehand, what is read off the
// true saw, else what the screen asks for.
func (r *run) answer(v procedure.View, f procedure.Field, a procedure.Answers) string {
	if text, ok := r.own[v.Place.Step+" "+f.Key]; ok {
		return text
	}
	c := v.Context()
	if read, ok := reads[f.Key]; ok {
		if text := read(r, v, f); text != "" {
			return text
		}
	}
	if f.Label == "Rings that came off" {
		return strconv.Itoa(len(r.rings))
	}
	if v.Place.Step == "look" {
		return r.seen(c, f)
	}
	return hand.Answer(v, f, nil, a)
}

// seen is what somebody sees on the arbor.
func (r *run) seen(c procedure.Context, f procedure.Field) string {
	switch f.Key {
	case "blade":
		if r.blade == "" {
			return "none"
		}
		return c.Name(r.blade)
	case "rings":
		return c.RingsTyped(r.rings)
	}
	k, _ := c.Profile.KnifeByID(r.knife)
	if k.Thickness.Unit == model.NoUnit {
		return ""
	}
	return k.Thickness.String()
}

// reads are the fields that are read off the true saw, or answered by what is so.
var reads = map[string]func(*run, procedure.View, procedure.Field) string{
	"by":       func(r *run, _ procedure.View, _ procedure.Field) string { return r.who },
	"readings": func(r *run, v procedure.View, _ procedure.Field) string { return r.stripRead(v) },
	"read":     func(r *run, v procedure.View, _ procedure.Field) string { return r.stripRead(v) },
	"pairs": func(r *run, _ procedure.View, f procedure.Field) string {
		_, example, _ := strings.Cut(f.Hint, "such as ")
		set, _, _ := strings.Cut(example, "=")
		m, err := model.ParseLength(set, f.Unit)
		if err != nil {
			return ""
		}
		strip := r.saw.RipStrip(r.setup(), r.saw.SetFence(m.Length))
		return set + "=" + typed(r.saw.ReadStrip(strip, 0, 1))
	},
	"plate": func(r *run, v procedure.View, _ procedure.Field) string { return typed(r.saw.Plate(v.Place.Blade, 5)) },
	"kerf":  func(r *run, v procedure.View, _ procedure.Field) string { return typed(r.saw.Kerf(v.Place.Blade, 5)) },
	"length": func(r *run, _ procedure.View, _ procedure.Field) string {
		return typed([]model.Length{r.saw.BoardLength()})
	},
	"lead": func(r *run, _ procedure.View, _ procedure.Field) string { return r.boardEnd() },
	"tail": func(r *run, _ procedure.View, _ procedure.Field) string { return r.boardEnd() },
	"slot_front": func(r *run, _ procedure.View, _ procedure.Field) string {
		return typed([]model.Length{r.saw.HeelToe(r.setup(), r.fence).SlotFront})
	},
	"slot_rear": func(r *run, _ procedure.View, _ procedure.Field) string {
		return typed([]model.Length{r.saw.HeelToe(r.setup(), r.fence).SlotRear})
	},
	"fence_front": func(r *run, _ procedure.View, _ procedure.Field) string {
		return typed([]model.Length{r.saw.HeelToe(r.setup(), r.fence).FenceFront})
	},
	"fence_rear": func(r *run, _ procedure.View, _ procedure.Field) string {
		r.saw = r.saw.TurnFence()
		return typed([]model.Length{r.saw.HeelToe(r.setup(), r.fence).FenceFront + 20*micrometre})
	},
	"span": func(r *run, _ procedure.View, _ procedure.Field) string {
		return typed([]model.Length{r.saw.HeelToe(r.setup(), r.fence).Span})
	},
	"tip_gap": func(r *run, v procedure.View, f procedure.Field) string {
		on, _ := v.Context().Lock.On()
		gap := typed([]model.Length{r.saw.TipGap(on.Blade)})
		if f.Kind == procedure.FieldLengths {
			k, _ := v.Context().Profile.KnifeByID(r.knife)
			gap += " " + typed([]model.Length{k.Thickness.Length})
		}
		return gap
	},
	"gaps": func(r *run, _ procedure.View, f procedure.Field) string {
		for r.gap = 20 * micrometre; r.gap > 0 && f.Check(typed([]model.Length{r.gap, r.gap, r.gap, r.gap})) != nil; {
			r.gap -= 10 * micrometre // it is pressed to the board better
		}
		return typed([]model.Length{r.gap, r.gap, r.gap, r.gap})
	},
	"faces": func(r *run, v procedure.View, f procedure.Field) string {
		behind := r.behind()
		switch set := strings.Contains(strings.Join(v.Do, " "), "set it by the manual"); {
		case v.Place.Step == "feel": // nobody moves it
		case v.Place.Step != "line":
			behind = r.checked()
		case set && f.Check(typed([]model.Length{behind, behind})) != nil: // else it is only looked at
			behind = r.checked()
		}
		return typed([]model.Length{behind, behind})
	},
	"fence": func(r *run, v procedure.View, _ procedure.Field) string {
		if r.lock == "" || r.lock != v.Context().State.Lock {
			return "moved"
		}
		return "untouched"
	},
	"where": func(r *run, v procedure.View, f procedure.Field) string {
		if part := v.Place.Blade; part == "" || part == r.blade || part == v.Context().State.On.Blade || !v.Context().State.Seen {
			return "isolate"
		}
		return "bench"
	},
	"found": func(r *run, v procedure.View, _ procedure.Field) string {
		if v.Place.Step == "apart" {
			return r.onStrip(v)
		}
		if r.lay != "" {
			return "dust"
		}
		return "nothing"
	},
	"way": func(_ *run, v procedure.View, f procedure.Field) string {
		if slices.Contains(f.Options, "clean") {
			return "clean"
		}
		row, _ := v.Context().Plan.Row(v.Place.Blade)
		for _, w := range row.Ways {
			if w.Chance > leastChance {
				return "rings"
			}
		}
		return "later"
	},
	"left": func(r *run, v procedure.View, _ procedure.Field) string {
		if r.blade == "" {
			return "empty"
		}
		return v.Context().Name(r.blade)
	},
}

// typed are readings as somebody types them.
func typed(ls []model.Length) string {
	out := make([]string, len(ls))
	for i, l := range ls {
		out[i], _, _ = strings.Cut(l.Of(model.MM).String(), " ")
	}
	return strings.Join(out, " ")
}

// stripRead rips a strip and reads it: at three places, at five where those scatter.
func (r *run) stripRead(v procedure.View) string {
	strip := r.rip()
	ls := r.saw.ReadStrip(strip, 0, 3)
	if slices.Max(ls)-slices.Min(ls) > v.Context().Profile.Instruments.Caliper.Length {
		ls = append(ls, r.saw.ReadStrip(strip, 3, 2)...)
	}
	return typed(ls)
}

func (r *run) boardEnd() string {
	lead, _ := r.saw.Ends(r.saw.Rip(r.setup(), r.fence))
	return typed([]model.Length{lead})
}

// onStrip is what somebody finds on a strip that stands apart: a burr, where its readings
// show one.
func (r *run) onStrip(v procedure.View) string {
	c := v.Context()
	for _, q := range c.Plan.Questioned {
		if q.Blade != v.Place.Blade {
			continue
		}
		ls := model.Lengths(c.All()[q.Strip].Readings)
		if len(ls) > 0 && slices.Max(ls)-slices.Min(ls) > habits.Burr/2 {
			return "burr"
		}
	}
	return "keep"
}

// before is what is done at the saw while the view is open: before its fields are read.
func before(r *run, v procedure.View) {
	switch c := v.Context(); v.Place.Step {
	case "reference":
		if c.State.On.Blade == c.Profile.Reference && !c.State.Blades[c.Profile.Reference].DatumStays {
			r.defines(c.State.Datum, c.Profile.Reference, c.Profile.Standing)
		}
	case "boards":
		r.defines(c.State.Datum, c.Profile.Reference, c.Profile.Standing)
	}
}

// after is what was done at the saw once the answer is taken, by the name of its row.
func after(r *run, v procedure.View, a procedure.Answers) {
	c := v.Context()
	switch v.Place.Step {
	case "mount":
		if a["knife"] != "" {
			r.knifeIn(c.Need.On.Knife)
		}
		r.put(c.Need.On.Blade, strings.Fields(c.Need.On.Rings))
	case "clear", "empty", "emptied":
		r.takeOff()
		if a["knife"] == "out" {
			r.knife = ""
		}
	case "knife":
		r.knifeIn(v.Place.Blade)
		r.knifeAt = face(r.saw, simsaw.Setup{Blade: c.Profile.Reference, Rings: r.under(c.Profile.Standing, "")}, 0) - r.gap
	case "lock", "lock-again":
		now := r.Now()
		r.fence, r.lock = r.saw.SetFence(now.State.Width.Length), now.State.Lock
	case "pairs", "fence-moved":
		r.lock = ""
	case "clean":
		r.lay = ""
	case "cleaned":
		r.takeOff()
		r.grimy = false
	}
}
