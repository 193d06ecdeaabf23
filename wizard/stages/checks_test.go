package stages

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/practice"
)

// asking is one check of the table of stages in the design of the job: the words by which a
// screen asks for it, and the steps where it belongs. typed: an answer says so, by a field of
// its own or one that names it; else an order or a caution does.
type asking struct {
	stage int
	words string
	typed bool
	steps string
}

// asked is job.md's table, stage by stage, written from it and not from the rows.
var everyCheck = []asking{
	{1, "initials", true, "who"},
	{1, "press stop", false, "stop"},
	{1, "type still", false, "stop"},
	{1, "isolated how", true, "isolate"},
	{1, "start was pressed, nothing happened", true, "isolate"},
	{1, "the word", true, "isolate power"},
	{1, "guard, throat plate", false, "clear"},
	{1, "order they came off", false, "clear"},
	{1, "riving knife", true, "clear"},
	{1, "nothing is left on the arbor", true, "clear"},

	{2, "units", true, "layout"},
	{2, "rules of this shop", true, "saw"},
	{2, "blade tilts", true, "saw"},
	{2, "fence is, seen from the front", true, "saw"},
	{2, "the fixed flange is", true, "flange"},
	{2, "manual does not forbid", true, "manual"},
	{2, "brake that fires", true, "manual"},
	{2, "scoring unit", true, "manual"},
	{2, "arbor, diameter", true, "flange"},
	{2, "flange, diameter", true, "flange"},
	{2, "relief, diameter", true, "flange"},
	{2, "flange face to the first thread", true, "thread"},
	{2, "flange face to the thread's end", true, "thread"},
	{2, "loose flange, thickness", true, "flange"},
	{2, "nut, thickness", true, "flange"},
	{2, "pitch", true, "thread"},
	{2, "throat opening, length", true, "manual"},
	{2, "caliper reads to", true, "instruments"},
	{2, "caliper opens to", true, "instruments"},
	{2, "micrometer reads to", true, "instruments"},
	{2, "tolerance", true, "instruments"},

	{3, "flanges clean, no burrs, arbor marked", true, "arbor"},
	{3, "dial round it", true, "arbor"},

	{4, "thickness of each knife", true, "knives"},
	{4, "teeth, counted", true, "blade"},
	{4, "resin off", false, "blade"},
	{4, "bore", true, "blade rings"},
	{4, "bore of all rings", true, "rings"},
	{4, "greatest speed marked", true, "blade"},
	{4, "spindle speed", true, "manual"},
	{4, "where the flange beds", false, "thickness"},
	{4, "plate readings", true, "thickness"},
	{4, "plate beside the teeth", true, "thickness"},
	{4, "kerf readings", true, "thickness"},
	{4, "gently", false, "thickness"},
	{4, "runout at the rim", true, "thickness"},
	{4, "outer diameter", true, "rings"},
	{4, "what it measures", true, "rings"},
	{4, "reference blade", true, "datum"},
	{4, "standing stack", true, "datum"},

	{5, "crack or lost tip", false, "mount"},
	{5, "top ones toward you", true, "mount"},
	{5, "rings on", true, "mount"},
	{5, "mark at the arbor's mark", false, "mount"},
	{5, "loose flange, nut tight", false, "mount"},
	{5, "square on the plate, tilt locked", true, "block"},
	{5, "height of the block", true, "block"},
	{5, "to the slot", true, "heel-toe"},
	{5, "to the fence", true, "heel-toe"},
	{5, "straightedge along each side of the teeth", false, "line"},
	{5, "to the tips", true, "line"},
	{5, "nut tight, flange and marks right, wrench and pin off", true, "power"},
	{5, "a full turn touches nothing", true, "power"},
	{5, "guard on", true, "power"},
	{5, "wrenches counted, fence locked", true, "power"},
	{5, "eyes, ears", false, "power"},
	{5, "main switch off; then plug in, or unlock", true, "power"},
	{5, "it ran and stopped", true, "first"},
	{5, "out of the line of the blade", false, "first"},

	{6, "width at the leading end", true, "boards"},
	{6, "width at the trailing end", true, "boards"},
	{6, "clamp a block to the rail", false, "lock lock-again"},

	{7, "knife that is in", true, "knife"},
	{7, "board to the fence at both ends", false, "knife"},
	{7, "four gaps", true, "knife"},

	{8, "settings and readings", true, "pairs"},
	{8, "locked: the scale reads", true, "lock lock-again"},
	{8, "width of the strip", true, "scale"},
	{8, "no second try", false, "scale"},
	{8, "cursor moved by", true, "scale"},

	{9, "reference strip", true, "reference"},
	{10, "set the height by its block", false, "line"},
	{10, "rings that came off", true, "clear mount"},
	{10, "widths of strip", true, "strip"},
	{10, "closing strip", true, "closing"},
	{10, "rings as written", true, "box"},
	{11, "what stays on", true, "left"},
}

// visited is what a screen asked.
type visited struct{ step, asks, types string }

// walked goes through a whole setup, and notes what each screen asks; own is what is typed otherwise
// than an honest hand does, by step and field.
func walked(h *hand, own map[string]string) (all []visited) {
	h.t.Helper()
	for range 300 {
		if h.p.Finished() {
			return all
		}
		v := h.p.View()
		at := visited{step: v.Place.Step}
		for _, f := range v.Fields {
			at.types += strings.ToLower(f.Label) + "\n"
		}
		at.asks = strings.ToLower(strings.Join(slices.Concat([]string{v.Title}, v.Do, v.Why), "\n")) + "\n" + at.types
		all = append(all, at)
		h.step(own)
	}
	h.t.Fatalf("it does not end: it stands at %s", h.p.View().Place)
	return nil
}

// TestEveryCheckWhereItBelongs walks the setup of a saw of which nothing is known, and that of
// the built-in shop, and holds them against job.md's table of stages: each check is asked
// where it belongs, and the answer to it nowhere else.
func TestEveryCheckWhereItBelongs(t *testing.T) {
	o := procedure.Options{Seed: 1}
	unknown := model.Profile{Version: 1, Name: "new"}
	all := walked(&hand{t: t, p: procedure.New(unknown, House(o), solver.Judge, o), at: time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)}, map[string]string{"manual motor_tilt": "no"})
	all = append(all, walked(newSetUp(t), nil)...)
	for _, c := range everyCheck {
		belongs, came := strings.Fields(c.steps), map[string]int{}
		for _, at := range all {
			text := at.asks
			if c.typed {
				text = at.types
			}
			switch has, here := strings.Contains(text, c.words), slices.Contains(belongs, at.step); {
			case has:
				came[at.step]++
				if c.typed && !here {
					t.Errorf("stage %d: %q is asked at %s too; it belongs to %s", c.stage, c.words, at.step, c.steps)
				}
			}
		}
		for _, step := range belongs {
			if came[step] == 0 {
				t.Errorf("stage %d: %q is not asked at %s", c.stage, c.words, step)
			}
		}
	}
}

// TestNothingTwice counts what a whole setup of the built-in shop asks, with a dial and without:
// each check once where something could have changed since, and no more.
func TestNothingTwice(t *testing.T) {
	for name, own := range map[string]map[string]string{"dial": nil, "no dial": {"rim dial": "", "arbor dial": ""}} {
		t.Run(name, func(t *testing.T) { nothingTwice(t, own) })
	}
}

func nothingTwice(t *testing.T, own map[string]string) {
	h := newSetUp(t)
	times, thickness := map[string]int{}, 0
	for _, at := range walked(h, own) {
		times[at.step]++
		if strings.Contains(at.types, "thickness") {
			thickness++
		}
	}
	compared := 0
	for _, b := range h.p.Profile().Rack() {
		if row, _ := h.p.Plan().Row(b.ID); b.ID != h.p.Profile().Reference && row.Knife == model.KnifeFits {
			compared++
		}
	}
	if compared != 3 {
		t.Fatalf("%d blades are compared", compared)
	}
	on := 2 + compared + 1 // the reference, again after its knife was squared, each blade, the reference to close
	for step, want := range map[string]int{
		"layout": 1, "who": 1, "arbor": 1, "lock": 1, "block": 1, "heel-toe": 1, "rim": 1, "boards": 1, "knife": 1, "pairs": 1, "lock-again": 1, "scale": 1,
		"reference": 3, "strip": 2 * compared, "box": compared, "closing": 1, "left": 1, "close": 1, "unfit": 1,
		"mount": on, "line": on, "power": on, "first": on,
		"isolate": on,     // at first, for the knife, for each blade, to close
		"stop":    on + 1, // and before the fence is moved
		"clear":   2,
	} {
		if times[step] != want {
			t.Errorf("%s comes up %d times, want %d", step, times[step], want)
		}
		delete(times, step)
	}
	for _, step := range []string{"rack", "rings", "datum"} { // tables of what is on file, looked at once
		if times[step] > 1 {
			t.Errorf("%s comes up %d times", step, times[step])
		}
		delete(times, step)
	}
	if len(times) > 0 {
		t.Errorf("asked besides: %s", fmt.Sprint(times))
	}
	if thickness != 2 { // as it goes in at first, and as it is squared
		t.Errorf("the thickness of the knife is asked %d times", thickness)
	}
}

// TestCautionsOfRips: whatever asks for a rip has push stick, guard, the line of the blade and
// what to do when it binds on its screen, in two lines at the most, and not behind F1
// (job.md, Cautions to show).
func TestCautionsOfRips(t *testing.T) {
	rips := 0
	for mode := procedure.Setup; mode <= procedure.Prove; mode++ {
		o := procedure.Options{Mode: mode, Proves: true}
		c := procedure.New(profiles.Demo(), House(o), solver.Judge, o).Now()
		for _, b := range House(o).Blocks {
			for _, r := range b.Rows {
				if !deeds[r.Name].spins {
					continue
				}
				rips++
				why := strings.ToLower(strings.Join(r.Why(c), " "))
				if len(r.Why(c)) > 2 {
					t.Errorf("%s has %d lines of cautions", r.Name, len(r.Why(c)))
				}
				for _, words := range []string{"guard", "push stick", "not in line with the blade", "binds: stop, isolate"} {
					if !strings.Contains(why, words) {
						t.Errorf("%s does not say %q: %s", r.Name, words, why)
					}
				}
			}
		}
	}
	if rips < 9 {
		t.Errorf("only %d rows rip", rips)
	}
}

// TestKnifeCheckNamesTheRingsSeen: what is behind the blade, by who looked, is what the record
// of the knife check names, whatever the records before it have.
func TestKnifeCheckNamesTheRingsSeen(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 1)
	h.again(procedure.Options{Seed: 3})
	h.step(nil) // who
	next, err := h.p.Apply(procedure.Event{Kind: procedure.Begin, At: h.at, Place: procedure.Place{Step: "knife-check"}})
	if err != nil {
		t.Fatal(err)
	}
	h.p = next
	h.upTo("look")
	h.step(map[string]string{"look blade": "48-tooth general", "look rings": "0.15"})
	for range 12 { // the ring does not belong there: it comes off, and the blade goes on anew
		if h.p.View().Place.Step == "knife-check" {
			break
		}
		h.step(nil)
	}
	on, _ := h.p.Now().Lock.On()
	h.step(nil)
	last := h.p.Profile().Records[len(h.p.Profile().Records)-1]
	if last.Kind != model.Line || len(last.Faces) == 0 || last.Blade != on.Blade || strings.Join(last.Rings, " ") != on.Rings {
		t.Errorf("%q with %q is on, and the check says %+v", on.Blade, on.Rings, last)
	}
	seen := false
	for _, r := range h.p.Profile().Records {
		seen = seen || r.Kind == model.Mount && strings.Join(r.Rings, " ") == "r15"
	}
	if !seen {
		t.Errorf("the ring of 0.15 that was seen is on no record; after %s", strings.Join(h.way, ", "))
	}
}

// TestSecondKnifeThatMovesTheFirst: what was squared first, and moved since, is asked for again
// (job.md, stage 7).
func TestSecondKnifeThatMovesTheFirst(t *testing.T) {
	p := shops()[1].fresh
	o := procedure.Options{Seed: 1}
	h := &hand{t: t, p: procedure.New(p, House(o), solver.Judge, o), saw: practice.New(p, 1), at: time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)}
	var squared []string
	for range 80 {
		v := h.p.View()
		own := map[string]string{}
		if v.Place.Step == "knife" {
			if squared = append(squared, v.Place.Blade); len(squared) == 2 {
				own["knife others"] = "moved"
			}
		}
		if v.Place.Step == "pairs" {
			break
		}
		h.step(own)
	}
	if got, want := strings.Join(squared, " "), "k20 k25 k20"; got != want {
		t.Errorf("squared were %s, want %s", got, want)
	}
}

// TestLookedAtIsDrawnWhole: what is on the arbor is drawn by the records until blade and rings are typed: without its
// rings a blade that is right looks dangerous.
func TestLookedAtIsDrawnWhole(t *testing.T) {
	h := setUp(t)
	c := later(t, h, procedure.Options{Mode: procedure.Swap, Blade: "crosscut-80"}).p.Now()
	draw := func(a procedure.Answers) string { return lookedAt(c, a).Sentence() }
	by := draw(nil)
	for _, typed := range []procedure.Answers{{"blade": "80"}, {"blade": "80", "rings": " "}, {"blade": "80", "rings": "0.2x"}, {"rings": "0.20"}} {
		if got := draw(typed); got != by {
			t.Errorf("%v: %s; by the records: %s", typed, got, by)
		}
	}
	if got := draw(procedure.Answers{"blade": "80", "rings": "0.20"}); got == by || !strings.Contains(got, "0.20") {
		t.Errorf("typed whole: %s", got)
	}
}
