package export

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// Row is what is told of one blade: on every paper and on the closing screen alike. Its
// texts are harmless to show.
type Row struct {
	Blade     model.Blade
	Plan      model.BladeRow
	Name      string
	Reference bool
	Usable    bool     // READY or DUE: its rings and its knife may be followed
	Mark      string   // READY, DUE, IN, NOT CLOSED, CHECK, KNIFE CHECK or NOT READY
	Rings     []string // flange first, in both units where both are wanted; empty: none
	Shared    []string // of these, the sorts of which the kit has too few for all blades that may be used
	Knife     string   // 2.5 mm, NONE, 2.5 mm TOO THICK
	Residual  []string // 0.008 mm wide +- 0.011 mm, in each unit that is wanted; of the reference: the datum
	Proved    string   // 2026-03-02 KB; empty: not yet
	Due       string   // 2026-04-01; empty: never
	Age       string   // at the moment that it is told: 12 days; for 3 days
	Why       []model.Reason
}

// marks are what papers and screens call the states.
var marks = map[model.Readiness]string{
	model.StateReady:     "READY",
	model.StateDue:       "DUE",
	model.StateNotClosed: "IN, NOT CLOSED",
	model.StateCheck:     "CHECK",
	model.StateNotReady:  notReadyMark,
}

// knifeCheck is the mark of a blade that wants its knife checked and nothing else, as each does whose
// knife came out for another.
const knifeCheck = "KNIFE CHECK"

// day is how papers and screens write a date.
const day = "2006-01-02"

// Rows tells of every blade of a plan, in its order.
func Rows(p model.Profile, plan model.Plan, opt Options) []Row {
	wanted := map[string]int{} // rings of a sort that the blades that may be used need together
	for _, b := range plan.Blades {
		for _, id := range b.Stack {
			if b.Usable() {
				wanted[id]++
			}
		}
	}
	rows := make([]Row, len(plan.Blades))
	for i, b := range plan.Blades {
		rows[i] = rowOf(p, plan, b, opt)
		for _, id := range slices.Compact(slices.Clone(b.Stack)) {
			if r, ok := p.RingByID(id); b.Usable() && ok && wanted[id] > r.Count {
				rows[i].Shared = append(rows[i].Shared, ringWords(p, id, false))
			}
		}
	}
	return rows
}

func rowOf(p model.Profile, plan model.Plan, b model.BladeRow, opt Options) Row {
	blade, _ := p.BladeByID(b.ID)
	r := Row{Blade: blade, Plan: b, Name: text.Show(p.BladeName(b.ID)), Reference: b.ID == plan.Reference, Usable: b.Usable(), Mark: marks[b.State],
		Knife: knifeWords(p, blade, b.Knife, opt.BothUnits), Residual: residualWords(p, b, opt.BothUnits)}
	if b.KnifeOnly {
		r.Mark = knifeCheck
	}
	for _, id := range b.Stack {
		r.Rings = append(r.Rings, ringWords(p, id, opt.BothUnits))
	}
	if r.Reference && b.Offset == 0 {
		r.Residual = []string{"the datum"}
	}
	if b.Proved != nil {
		r.Proved = b.Proved.At.UTC().Format(day) + " " + text.Show(b.Proved.By)
		days := int(opt.Now.Sub(b.Proved.At).Hours() / 24)
		r.Age = howMany(max(days, 0), "day")
	}
	if !b.Due.IsZero() {
		r.Due = b.Due.UTC().Format(day)
		if b.State == model.StateDue {
			r.Age = "for " + howMany(max(int(opt.Now.Sub(b.Due).Hours()/24), 0), "day")
		}
	}
	if !r.Usable {
		r.Age, r.Why = "", whyNot(b)
	}
	return r
}

func howMany(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Status is the mark with its age: READY, 12 days; DUE for 3 days.
func (r Row) Status() string {
	switch {
	case r.Age == "":
		return r.Mark
	case r.Plan.State == model.StateDue:
		return r.Mark + " " + r.Age
	}
	return r.Mark + ", " + r.Age
}

// Stack is the rings in one line, flange first.
func (r Row) Stack() string {
	if len(r.Rings) == 0 {
		return "no rings"
	}
	return strings.Join(r.Rings, " + ")
}

// toCome are the reasons that only say what comes next.
var toCome = []string{"needs-strips", "needs-datum-strips", "one-more-strip"}

// whyNot is what keeps a blade from being ready, the weightiest first, of equal ones the one that its
// state is owed to; how to work until then comes last. Where nothing weighs, it is what comes next.
func whyNot(b model.BladeRow) []model.Reason {
	out := b.Against()
	if len(out) == 0 {
		out = nextOf(b.Reasons)
	}
	for i := range out {
		out[i].Text = text.Show(out[i].Text)
	}
	last := func(r model.Reason) int {
		if r.Code == "fallback" {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(out, func(a, b model.Reason) int {
		return cmp.Or(last(a)-last(b), int(b.Weight)-int(a.Weight))
	})
	return out
}

// nextOf is what comes next for a blade that nothing speaks against.
func nextOf(reasons []model.Reason) []model.Reason {
	var next []model.Reason
	for _, r := range reasons {
		switch {
		case slices.Contains(toCome, r.Code):
			next = slices.Insert(next, 0, r)
		case r.Code != "knife-fits":
			next = append(next, r)
		}
	}
	return next[:min(len(next), 1)]
}

// ringWords names a ring as the screens do; by its id too where two sorts have one
// thickness.
func ringWords(p model.Profile, id string, both bool) string {
	r, ok := p.RingByID(id)
	if !ok {
		return text.Show(id)
	}
	words := inBoth(r.Label(), r.Thickness, both)
	if slices.ContainsFunc(p.Rings, func(o model.Ring) bool { return o.ID != id && o.Label() == r.Label() }) {
		words += " (" + text.Show(id) + ")"
	}
	return words
}

func knifeWords(p model.Profile, blade model.Blade, fit model.KnifeFit, both bool) string {
	k, ok := p.KnifeByID(blade.Knife)
	if !ok {
		return "NONE"
	}
	words := inBoth(k.Label(), k.Thickness, both)
	if slices.ContainsFunc(p.Knives, func(o model.Knife) bool { return o.ID != k.ID && o.Thickness == k.Thickness }) {
		words += " (" + text.Show(k.ID) + ")"
	}
	switch fit {
	case model.KnifeTooThick:
		words += " TOO THICK"
	case model.KnifeTooThin:
		words += " TOO THIN"
	case model.KnifeMissing:
		words += " GONE"
	}
	return words
}

// typedWords is a length as it was typed, with the other unit where both are wanted.
func typedWords(m model.Measure, both bool) string {
	if m.Unit == model.NoUnit {
		return "not given"
	}
	return inBoth(m.String(), m, both)
}

func inBoth(text string, m model.Measure, both bool) string {
	switch {
	case !both:
		return text
	case m.Unit == model.MM:
		return text + " / " + m.Length.Show(model.IN, model.Inch/10_000)
	}
	return text + " / " + m.Length.Show(model.MM, model.Millimetre/1000)
}

// sideWords is by how much a blade cuts wide or narrow.
func sideWords(offset model.Length, unit model.Unit, digit model.Length) string {
	size, zero := offset.Abs().Show(unit, digit), model.Length(0).Show(unit, digit)
	switch {
	case size == zero:
		return size
	case offset > 0:
		return size + " wide"
	}
	return size + " narrow"
}

// residualWords is by how much a part comes out wide or narrow, with its uncertainty, one
// digit finer than a caliper shows. A cut face toward the fence makes it narrow.
func residualWords(p model.Profile, b model.BladeRow, both bool) []string {
	in := func(unit model.Unit, digit model.Length) string {
		return sideWords(-b.Residual, unit, digit) + " +- " + b.Expanded.Show(unit, digit)
	}
	out := []string{in(model.MM, model.Millimetre/1000), in(model.IN, model.Inch/10_000)}
	if p.Units == model.IN {
		slices.Reverse(out)
	}
	if !both {
		return out[:1]
	}
	return out
}
