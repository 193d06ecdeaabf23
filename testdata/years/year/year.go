package year

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/testdata/invented"
	"example.com/sawdatum/wizard/procedure"
)

// What happens in a year.
const (
	blades     = 8
	swaps      = 40
	sharpened  = 12
	bumps      = 2 // one that nobody notices, between two rips under one lock; one that somebody does
	dirts      = 2
	proveEvery = 30 // days
)

// Tally is what a year came to.
type Tally struct {
	Years, Runs, Strips, Mounted int

	Cuts      int            // mountings in which a blade called ready was worked with
	False     map[string]int // of them those that cut beyond the tolerance, by what it came of
	Checks    map[string]int // times that a blade which had been ready went to check, by the reason's code
	Needless  map[string]int // of them where it truly cuts within the tolerance, though strips or the flange put it there
	Knifeless int            // times that a wanted blade could not be put on since its knife was lost
	Unbrought int            // times that a wanted blade could not be made ready
	KnifeOut  map[string]int // mountings of a blade called ready whose knife stood out of its kerf, by how it was seen last
	Stopped   []string       // runs that an honest hand could not end
	Told      []string       // what there is to say of each false ready
	AtTheEnd  map[string]int // blades, by state
}

func newTally() Tally {
	return Tally{False: map[string]int{}, Checks: map[string]int{}, Needless: map[string]int{}, AtTheEnd: map[string]int{}, KnifeOut: map[string]int{}}
}

// Add takes another tally in.
func (t *Tally) Add(o Tally) {
	if t.False == nil {
		*t = newTally()
	}
	t.Years, t.Runs, t.Strips, t.Mounted = t.Years+o.Years, t.Runs+o.Runs, t.Strips+o.Strips, t.Mounted+o.Mounted
	t.Cuts, t.Unbrought, t.Knifeless = t.Cuts+o.Cuts, t.Unbrought+o.Unbrought, t.Knifeless+o.Knifeless
	for _, m := range []struct{ to, from map[string]int }{{t.False, o.False}, {t.Checks, o.Checks}, {t.Needless, o.Needless}, {t.AtTheEnd, o.AtTheEnd}, {t.KnifeOut, o.KnifeOut}} {
		for k, n := range m.from {
			m.to[k] += n
		}
	}
	t.Stopped, t.Told = append(t.Stopped, o.Stopped...), append(t.Told, o.Told...)
}

// year is one under way.
type year struct {
	*shop
	Tally
	profile model.Profile
	at      time.Time
	random  *rand.Rand
	seed    uint64
	cleans  bool // the flange is cleaned with the next mounting
	notices bool // the next bump of the fence is noticed
	loses   bool // the next run begins with a knife that is not found
	back    bool // and this one with another of its thickness
	ready   map[string]bool
}

// Play plays one year of an invented shop of eight blades, in which one day of so many repeats
// twice as badly; 0: none. The same seed plays the same.
func Play(seed uint64, tolerance model.Length, badDays int) Tally {
	y := &year{Tally: newTally(), random: rand.New(rand.NewPCG(seed, 11)), seed: seed, ready: map[string]bool{}}
	y.Years = 1
	flange := []model.Flange{model.Far, model.Near}[seed%2]
	var saw simsaw.Saw
	for shop := 1000 * seed; ; shop++ { // one with so many blades
		if y.profile, saw = invented.Shop(shop, flange); len(y.profile.Blades) == blades {
			break
		}
	}
	y.profile.Tolerance, y.profile.ProveEvery = tolerance.Of(model.MM), proveEvery
	y.profile.Saw.ContactBrake, y.profile.Saw.Scoring, y.profile.Saw.MotorTilt = model.No, model.No, model.No
	y.profile.Instruments.CaliperRange = (150 * mm).Of(model.MM)
	for i := range y.profile.Rings { // one of a sort, measured on the bench
		r := &y.profile.Rings[i]
		r.Count, r.Measured = 1, saw.Ring(r.ID).Of(model.MM)
	}
	y.shop = &shop{random: y.random, grimy: true}
	h := habits
	h.BadDays = badDays
	y.saw = saw.With(layered(y.profile, y.random)).Behaving(h, "")
	y.at = time.Date(2026, 1, 5, 7, 0, 0, 0, time.UTC)
	y.play(procedure.Options{}, nil, nil)
	for _, m := range y.calendar() {
		if len(y.Stopped) > 0 {
			break // nobody can go on with a run that does not end
		}
		day := time.Date(2026, 1, 5+m.day, 7+y.random.IntN(9), y.random.IntN(60), 0, 0, time.UTC)
		if day.After(y.at) {
			y.at = day
		}
		m.do(y)
	}
	for _, row := range y.plan().Blades {
		y.AtTheEnd[string(row.State)]++
	}
	return y.Tally
}

type mishap struct {
	day int
	do  func(*year)
}

// calendar is what happens on which day.
func (y *year) calendar() []mishap {
	var out []mishap
	add := func(n int, do func(*year)) {
		for range n {
			out = append(out, mishap{1 + y.random.IntN(360), do})
		}
	}
	add(swaps, func(y *year) { y.bring(y.another()) })
	add(sharpened, (*year).sharpen)
	add(1, func(y *year) { y.cleans = true })
	for n := range bumps {
		add(1, func(y *year) {
			by := model.Length(60+y.random.IntN(240)) * micrometre
			y.bump, y.notices = by*model.Length(1-2*y.random.IntN(2)), n == 0
		})
	}
	gone := 30 + y.random.IntN(250)
	out = append(out, mishap{gone, func(y *year) { y.loses = true }}, mishap{gone + 10 + y.random.IntN(40), func(y *year) { y.back = true }})
	for n := range dirts {
		add(1, func(y *year) { y.dirt = n + 1 })
	}
	slices.SortStableFunc(out, func(a, b mishap) int { return a.day - b.day })
	return out
}

func (y *year) plan() model.Plan { return solver.Judge(y.profile, y.at) }

// another is a blade that is wanted on the saw.
func (y *year) another() string {
	for {
		b := y.profile.Rack()[y.random.IntN(len(y.profile.Rack()))]
		if b.ID != y.blade {
			return b.ID
		}
	}
}

// play plays one run, by whoever's shift it is, and looks at what it left behind.
func (y *year) play(o procedure.Options, own map[string]string, between func(*run)) {
	y.Runs++
	o.Seed = y.seed + uint64(y.Runs)
	y.lock = "" // the fence is used between runs
	y.saw = y.saw.OnDay(y.at.YearDay())
	if y.bump != 0 && y.notices {
		between = both(between, y.noticed())
	}
	if y.cleans {
		between = both(between, y.cleaned())
	}
	own, between = y.lost(own, between)
	who := "KB"
	if y.at.Hour() >= 12 {
		who = "AL"
	}
	was := y.mounted
	r, err := y.shop.play(y.profile, o, y.at, who, own, between)
	y.profile, y.at = r.Profile(), r.at.Add(10*time.Minute)
	y.Strips += len(y.strips)
	y.Mounted += y.mounted - was
	if err != nil {
		y.Stopped = append(y.Stopped, fmt.Sprintf("year %d, %s, %v: %v", y.seed, y.at.Format(time.DateOnly), o, err))
	}
	y.look()
}

// look is what a run left behind: the blade that is on is worked with, if it is called
// ready; and blades went to check.
func (y *year) look() {
	plan := y.plan()
	tolerance := y.profile.Tolerance.Length
	for _, row := range plan.Blades {
		if y.ready[row.ID] && row.State == model.StateCheck {
			code := ""
			for _, r := range row.Reasons {
				if slices.Contains(checking, r.Code) {
					code = r.Code
				}
			}
			y.Checks[code]++
			if code != "knife-unknown" && y.clean(row.ID, row.Stack).Abs() <= tolerance {
				y.Needless[code]++
			}
		}
		y.ready[row.ID] = row.Usable()
	}
	row, on := plan.Row(y.blade)
	if !on || !row.Usable() || !slices.Equal(row.Stack, y.rings) {
		return
	}
	y.Cuts++
	blade, _ := y.profile.BladeByID(y.blade)
	at := y.residual()
	if wide := y.knifeAt - face(y.saw, y.setup(), habits.Mounting); blade.Knife != y.knife || model.Fold(y.profile).Gone[y.knife] != nil || wide > 100*micrometre || -wide > row.Play {
		y.KnifeOut[cmp.Or(y.knifeSeen, y.unseen(row), "seen right")]++
		y.Told = append(y.Told, fmt.Sprintf("year %d, %s: the knife stands %s behind the cut face of the %s, which has %s of play; by the records it names the knife %s, and %s is in", y.seed, y.at.Format(time.DateOnly), (-wide).Of(model.MM), y.blade, row.Play.Of(model.MM), blade.Knife, y.knife))
	}
	if at.Abs() <= tolerance {
		return
	}
	usual, why := y.clean(y.blade, y.rings), "other"
	switch {
	case y.dust != "" && !y.stripped:
		why = "dust that no strip was ripped on"
	case y.dust != "":
		why = "dust, and strips ripped on it"
	case usual.Abs() > tolerance && y.unseen(row) != "":
		why = y.unseen(row) + ", unseen"
	case usual.Abs() > tolerance:
		why = "the verdict of its strips"
	default:
		why = "how it sits this time"
	}
	y.False[why]++
	y.Told = append(y.Told, fmt.Sprintf("year %d, %s: the %s cuts %s off, %s as it usually sits; by the records %s, plus or minus %s, from %d strips; %s", y.seed, y.at.Format(time.DateOnly), y.blade, at.Of(model.MM), usual.Of(model.MM), row.Residual.Of(model.MM), row.Expanded.Of(model.MM), row.Strips, why))
}

// unseen is what nobody saw as the reference was compared last with the blade that carried the
// datum, else as strips of this one were ripped with its stack; empty: nothing.
func (y *year) unseen(row model.BladeRow) string {
	spoiled := func(row model.BladeRow, of func(model.StripFor) bool) string {
		for _, r := range slices.Backward(y.profile.Records) {
			if r.Kind == model.StripCut && of(r.For) && r.Blade == row.ID && slices.Equal(r.Rings, row.Stack) && y.spoiled[r.Lock] != "" {
				return y.spoiled[r.Lock]
			}
		}
		return ""
	}
	if ref, ok := y.plan().Row(y.profile.Reference); ok && ref.ID != row.ID {
		if how := spoiled(ref, func(f model.StripFor) bool { return f == model.ForBlade }); how != "" {
			return "as the datum was carried: " + how
		}
	}
	return spoiled(row, func(model.StripFor) bool { return true })
}

// checking are the codes of what puts a blade to check.
var checking = []string{"datum-moved", "sharpened-since", "away-since", "fence-not-held", "reference-sharpened", "round-not-held", "knife-unknown", "flange-cleaned", "proof-out", "proof-rather-out", "box-differs", "strip-or-knife", "knife-doubted"}

// bring has a blade on the saw that may be worked with, by what the program says it takes.
func (y *year) bring(id string) {
	for range 5 {
		if len(y.Stopped) > 0 {
			return
		}
		row := y.carried(id)
		if ref, _ := y.plan().Row(y.profile.Reference); id != ref.ID && row.State == model.StateCheck && !row.KnifeOnly && ref.State == model.StateCheck && !ref.KnifeOnly {
			y.bring(ref.ID)
		}
		strips, mounted := y.Strips, y.mounted
		switch row.State {
		case model.StateReady:
			if y.blade != id {
				y.play(procedure.Options{Mode: procedure.Swap, Blade: id}, nil, nil)
			}
			return
		case model.StateDue:
			if y.blade != id {
				y.play(procedure.Options{Mode: procedure.Swap, Blade: id, Proves: true}, nil, nil)
				return
			}
			y.play(procedure.Options{Mode: procedure.Prove, Blade: id}, nil, nil)
		case model.StateCheck:
			if row.KnifeOnly { // the swap has the knife checked
				y.play(procedure.Options{Mode: procedure.Swap, Blade: id}, nil, nil)
				continue
			}
			if row.Basis == model.Predicted {
				y.play(procedure.Options{Mode: procedure.OneBlade, Blade: id}, map[string]string{"reason why": "check"}, nil)
				continue
			}
			y.play(procedure.Options{Mode: procedure.Prove, Blade: id}, nil, nil)
		default:
			if ref, _ := y.plan().Row(y.profile.Reference); ref.State == model.StateNotReady {
				y.play(procedure.Options{}, nil, nil)
				continue
			}
			y.play(procedure.Options{Mode: procedure.OneBlade, Blade: id}, map[string]string{"reason why": "check"}, nil)
		}
		if y.Strips == strips && y.mounted == mounted {
			break // nothing more can be done with it
		}
	}
	if row, _ := y.plan().Row(id); row.Knife == model.KnifeMissing {
		y.Knifeless++
	} else if !row.Usable() {
		y.Unbrought++
		var why []string
		for _, r := range row.Reasons {
			why = append(why, r.Code)
		}
		y.Told = append(y.Told, fmt.Sprintf("year %d, %s: %s truly %s; the %s could not be brought: %s %s %s", y.seed, y.at.Format(time.DateOnly), id, y.clean(id, row.Stack).Of(model.MM), id, row.State, row.Verdict, strings.Join(why, " ")))
	}
}

// sharpen has a blade back from the grinder.
func (y *year) sharpen() {
	b := y.profile.Rack()[y.random.IntN(len(y.profile.Rack()))]
	y.saw = y.saw.Sharpened(b.ID)
	if y.blade == b.ID {
		y.takeOff() // and went there before anybody looked
	}
	row, _ := y.plan().Row(b.ID)
	own := map[string]string{"reason why": "sharpened"}
	if row.Usable() || row.State == model.StateCheck {
		y.play(procedure.Options{Mode: procedure.OneBlade, Blade: b.ID}, own, nil)
		return
	}
	own["sharpened blade"] = b.Name()
	y.play(procedure.Options{Mode: procedure.OneBlade, Blade: b.ID}, own, once("sharpened"))
}

// once begins other work at the first view at which it can.
func once(step string) func(*run) {
	done := false
	return func(r *run) { done = done || r.begin(step) == nil }
}
