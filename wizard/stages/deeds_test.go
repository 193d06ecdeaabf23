package stages

import (
	"fmt"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
)

// trueSaw is the saw as it truly is, told by nothing but what hands do at it.
type trueSaw struct {
	isolated, turned    bool // cut off and proved dead; may turn since it was last seen to stand
	blade, rings, knife string
	seen                bool // somebody saw the knife in line with what is on
	checked, started    bool // the power-up checklist since hands were in; a first start since
	fence               string
	somebody            bool              // was there while nobody typed
	ran, slow           bool              // ran down for longer than the rules allow; and it is on record, and nobody answers for it
	stands              map[string]stance // where each knife stands, by what was felt of it
}

// stranger is a blade that no rack names.
const stranger = "stranger"

// done is what an honest hand did: at which view, what it typed, and what the procedure made
// of it.
type done struct {
	procedure.View
	typed procedure.Answers
	after procedure.Context
}

// deed is what a step does at the saw, by its name: written from the table of stages in the
// design of the job, never from the rows. hands go in; the blade spins; a motor moves it
// while it stands; the fence is moved; it stands as it was locked; a part is measured: fixed in
// the saw, or the blade of the place; and what is on has to be the reference.
type deed struct {
	hands, spins, drives, fence, locked, fixed, part, reference bool
	do                                                          func(b *trueSaw, d done)
}

func put(b *trueSaw, d done) {
	need := d.Context().Need.On
	b.blade, b.rings, b.seen = need.Blade, need.Rings, false
	if d.typed["knife"] != "" { // else nobody was told to touch it
		b.puts(need.Knife)
	}
}

// puts has another knife in: where the one stands that came out, nobody knows.
func (b *trueSaw) puts(knife string) {
	if knife != b.knife {
		delete(b.stands, b.knife)
	}
	b.knife = knife
}

func takeAll(b *trueSaw, d done) {
	b.blade, b.rings, b.seen = "", "", false
	if d.typed["knife"] == "out" {
		b.puts("")
	}
}

// inLine sees the knife in line; where its thickness is typed too, the right one is there.
func inLine(b *trueSaw, d done) {
	if b.seen = true; len(strings.Fields(d.typed["tip_gap"])) == 2 {
		on, _ := d.after.Lock.On()
		b.puts(on.Knife)
	}
}

// squares sets a knife to the gauge board.
func squares(b *trueSaw, d done) {
	b.puts(d.Place.Blade)
	b.seen = false
	if d.typed["others"] == "moved" {
		clear(b.stands)
	}
	b.feels(d.typed["gaps"], d, 0)
}

// checks feels a knife behind the tips of a blade that is on, whose own offset counts.
func checks(b *trueSaw, d done) {
	inLine(b, d)
	o, _ := offsetOf(d.Context().Profile, b.blade, b.rings)
	b.feels(d.typed["faces"], d, o)
}

// wentAway: nobody sharpens a blade on the arbor.
func wentAway(b *trueSaw, d done) {
	if b.blade == d.Place.Blade {
		b.blade, b.rings, b.seen = "", "", false
	}
}

func locks(b *trueSaw, d done) { b.fence = d.after.State.Lock }

func movesFence(b *trueSaw, d done) {
	if d.typed["fence"] != "untouched" {
		b.fence = ""
	}
}

// deeds has a line for every step that does something at the saw.
var deeds = map[string]deed{
	"stop": {do: func(b *trueSaw, d done) { // HSE WIS16: 10 s; in the United States the saw's manual
		b.turned = false
		b.ran = d.typed["off"] == "14" && d.Context().Profile.Rules == model.RulesEN
	}},
	"brake":       {do: func(b *trueSaw, _ done) { b.ran, b.slow = false, false }},
	"isolate":     {do: func(b *trueSaw, _ done) { b.isolated, b.slow, b.ran = true, b.slow || b.ran, false }},
	"fence":       {do: movesFence},
	"fence-moved": {do: movesFence},
	"nobody-there": {do: func(b *trueSaw, d done) {
		if b.somebody = false; d.typed["nobody"] == "somebody" {
			b.fence = ""
		}
	}},
	"clear":       {hands: true, do: takeAll},
	"empty":       {hands: true, do: takeAll},
	"emptied":     {hands: true, do: takeAll},
	"arbor":       {hands: true},
	"hold":        {hands: true},
	"flange":      {fixed: true},
	"thread":      {fixed: true},
	"thickness":   {part: true},
	"blade":       {part: true},
	"grinder":     {part: true, do: wentAway},
	"returned":    {part: true, do: wentAway},
	"look":        {hands: true},
	"mount":       {hands: true, do: put},
	"line":        {hands: true, do: inLine},
	"block":       {reference: true, hands: true},
	"block-motor": {reference: true, hands: true},
	"heel-toe":    {reference: true, hands: true, locked: true},
	"rim":         {reference: true, hands: true},
	"clean":       {hands: true},
	"feel":        {hands: true},
	"knife-check": {hands: true, do: checks},
	"knife-seen":  {hands: true, do: checks},
	"knife-after": {hands: true, do: checks},
	"out-off":     {hands: true, do: takeAll},
	"knife":       {hands: true, locked: true, do: squares},
	"power":       {hands: true, do: func(b *trueSaw, _ done) { b.checked, b.isolated, b.started = true, false, false }},
	"driven":      {drives: true, do: func(b *trueSaw, _ done) { b.checked, b.started = false, false }},
	"first":       {spins: true, do: func(b *trueSaw, d done) { b.started = d.typed["quiet"] == "quiet" }},
	"boards":      {spins: true, locked: true},
	"pairs":       {reference: true, spins: true, do: func(b *trueSaw, _ done) { b.fence = "" }},
	"scale":       {reference: true, spins: true, locked: true},
	"reference":   {spins: true, locked: true},
	"further":     {spins: true, locked: true},
	"strip":       {spins: true, locked: true},
	"closing":     {spins: true, locked: true},
	"proof":       {spins: true, locked: true},
	"lock":        {fence: true, do: locks},
	"lock-again":  {fence: true, do: locks},
}

// check is the rule that a deed would break.
func (b trueSaw) check(d deed, v procedure.View) error {
	what, power := v.Place.String(), d.spins || d.drives
	switch {
	case d.hands && !b.isolated:
		return fmt.Errorf("R1: hands are in at %s while the saw may start", what)
	case what == "isolate" && b.turned:
		return fmt.Errorf("the isolator is opened while the blade may turn")
	case d.fence && b.turned && !b.isolated:
		return fmt.Errorf("the fence is set at %s while the blade may turn", what)
	case d.locked && (b.fence == "" || b.fence != v.Context().State.Lock):
		return fmt.Errorf("R3: %s wants the fence as it was locked (%q), and that stands under %q", what, v.Context().State.Lock, b.fence)
	case d.reference && b.blade != v.Context().Profile.Reference && !knifeGone(v.Context(), v.Context().Profile.Reference):
		return fmt.Errorf("R3: %s is done with the %q on", what, b.blade)
	case d.drives && b.turned:
		return fmt.Errorf("%s moves a blade that may turn", what)
	case !b.isolated && (d.fixed && !v.Context().FromPaper() || d.part && v.Place.Blade == b.blade):
		return fmt.Errorf("R1: %s is measured in a saw that may start", what)
	case power && b.isolated:
		return fmt.Errorf("%s wants a saw to run that is cut off", what)
	case power && (b.blade == "" || !b.seen):
		return fmt.Errorf("R2: at %s the blade %q turns with a knife seen in line: %v", what, b.blade, b.seen)
	case power && !b.fits(v.Context().Profile):
		return fmt.Errorf("R2: at %s the blade %q turns with the knife %q", what, b.blade, b.knife)
	case power && !b.checked:
		return fmt.Errorf("R2: at %s the blade turns unchecked", what)
	case power && b.slow:
		return fmt.Errorf("%s turns a blade whose brake nobody has mended", what)
	case v.Place.Step == "brake" && v.Context().Profile.Rules == model.RulesUS:
		return fmt.Errorf("the rules of the United States have no limit of a run-down")
	case power && v.Place.Step != "first" && !b.started:
		return fmt.Errorf("R2: %s comes without a first start", what)
	}
	return nil
}

// fits reports whether the knife that is in is that of the blade, and inside its window: at
// least 0.2 mm over the plate (EN 1870-1, figure 6), and thinner than the kerf.
func (b trueSaw) fits(p model.Profile) bool {
	blade, _ := p.BladeByID(b.blade)
	knife, known := p.KnifeByID(b.knife)
	t := knife.Thickness.Length
	return known && blade.Knife == knife.ID && len(blade.Plate) > 0 && len(blade.Kerf) > 0 &&
		t >= blade.Plate[0].Length+model.Millimetre/5 && t < blade.Kerf[0].Length
}

// told is what is wrong with a record of a strip: another blade, other rings or another fence
// than were there.
func (b trueSaw) told(r model.Record) error {
	if r.Kind == model.StripCut && r.Of == "" && (r.Blade != b.blade || strings.Join(r.Rings, " ") != b.rings || r.Lock != b.fence || b.fence == "") {
		return fmt.Errorf("R3: a strip is on record of the %s with %q under %q, and it is the %s with %q under %q", r.Blade, r.Rings, r.Lock, b.blade, b.rings, b.fence)
	}
	return nil
}

// TestEveryActHasADeed: whatever row sends hands in or spins the blade has its line in the
// table of deeds.
func TestEveryActHasADeed(t *testing.T) {
	check := func(r row) {
		d := deeds[r.Name]
		switch r.Act.(type) {
		case procedure.HandsIn:
			if !d.hands {
				t.Errorf("%s sends hands in and has no line that says so", r.Name)
			}
		case procedure.Spins:
			if !d.spins && !d.drives {
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

// TestSeenIsRecorded: what is read off the arbor, or comes off it, and no record tells of, is
// on record then: a strip names the blade and the rings that cut it, and a knife that was moved
// is checked.
func TestSeenIsRecorded(t *testing.T) {
	done := setUp(t)
	begun := func(blade, step string) *hand {
		h := &hand{t: t, p: done.p, saw: done.saw, at: done.at.AddDate(0, 0, 1)}
		h.again(procedure.Options{Mode: procedure.Swap, Blade: blade, Seed: 3})
		return h.upTo(step)
	}
	h := begun(done.p.State().On.Blade, "look")
	h.step(map[string]string{"look blade": "80-tooth fine crosscut", "look rings": "0.15", "look knife": "2.5"})
	if on := h.p.State().On; on.Blade != "crosscut-80" || strings.Join(on.Rings, " ") != "r15" || h.p.State().Knives["k25"].Unknown {
		t.Errorf("the crosscut with the ring of 0.15 was seen, and on record is %+v", on)
	}
	h = begun(done.p.State().On.Blade, "look")
	h.step(map[string]string{"look blade": "80-tooth fine crosscut", "look rings": "0.15", "look knife": ""})
	if on := h.p.State().On; on.Blade != "crosscut-80" || !h.p.State().Knives["k25"].Unknown {
		t.Errorf("no knife was seen, and on record is %+v, %+v", on, h.p.State().Knives["k25"])
	}

	h = begun(done.p.State().On.Blade, "look")
	h.step(map[string]string{"look blade": done.p.Now().Name(done.p.State().On.Blade), "look rings": "other", "look knife": "2.5"})
	if on, _ := h.p.Now().Lock.On(); on.Blade != somethingElse {
		t.Errorf("its rings were not to be seen, and %+v is on", on)
	}

	h = begun("rip-24", "mount")
	for text, taken := range map[string]bool{"48 none": true, "80 0.15": true, "other": true, "none": true, "48": false, "47 none": false, "80 0.77": false} {
		if err := h.p.View().Fields[0].Check(text); (err == nil) != taken {
			t.Errorf("%q at %s: %v", text, h.p.View().Fields[0].Label, err)
		}
	}
	n := len(h.p.Profile().Records)
	h.step(map[string]string{"mount was": "80 0.15"})
	if r := h.p.Profile().Records[n]; r.Kind != model.Mount || r.Blade != "crosscut-80" || strings.Join(r.Rings, " ") != "r15" {
		t.Errorf("the crosscut with the ring of 0.15 came off, and on record is %+v", r)
	}
	h = begun("rip-24", "mount")
	h.step(map[string]string{"mount was": "other"})
	if r := h.p.Profile().Records[n]; r.Kind != model.TakenOff || r.Blade != "" || r.Left != "k25" {
		t.Errorf("a strange blade came off, and on record is %+v", r)
	}
}
