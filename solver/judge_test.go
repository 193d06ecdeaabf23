package solver

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// days writes what happens at the invented bay, record by record.
type days struct {
	p        model.Profile
	on       model.Record // mounted
	lock     string
	tomorrow int // days that have passed
}

func (d *days) do(r model.Record) *days {
	r.At, r.By = time.Date(2024, 3, 4+d.tomorrow, 7, len(d.p.Records), 0, 0, time.UTC), "KB"
	d.p.Records = append(slices.Clone(d.p.Records), r)
	if r.Kind == model.Mount {
		d.on = r
	}
	return d
}

func (d *days) last() model.Record { return d.p.Records[len(d.p.Records)-1] }

func (d *days) mount(blade string, rings ...string) *days {
	return d.do(model.Record{Kind: model.Mount, Blade: blade, Rings: rings, Knife: "k25"})
}

func (d *days) fence(lock string) *days {
	d.lock = lock
	return d.do(model.Record{Kind: model.FenceLock, Lock: lock, Width: given.Typed(120)})
}

func (d *days) rip(purpose model.StripFor, widths ...float64) *days {
	for _, w := range widths {
		d.do(model.Record{Kind: model.StripCut, Lock: d.lock, Blade: d.on.Blade, Rings: d.on.Rings, Mounting: d.on.Ref(), For: purpose, Readings: thrice(w)})
	}
	return d
}

// square squares the knife, the blade off.
func (d *days) square(gaps ...float64) *days {
	return d.do(model.Record{Kind: model.KnifeSet, Knife: "k25", Lock: d.lock, Blade: "general", Rings: d.p.Standing, Gaps: given.Readings(gaps...)})
}

// begun is the bay with general mounted, the knife squared and three datum strips under
// Lock l1. Its tolerance is 0.1 mm; rip wants 0.2 mm of rings, fine 0.2.
func begun() *days {
	p := shop()
	p.Tolerance = given.Typed(0.1)
	d := &days{p: p}
	d.mount("general").fence("l0").square(0.03, 0.03, 0.03, 0.03)
	return d.mount("general").fence("l1").rip(model.Datum, 120, 120.01, 120)
}

func (d *days) plan() model.Plan {
	return Judge(d.p, time.Date(2024, 3, 4+d.tomorrow, 12, 0, 0, 0, time.UTC))
}

func (d *days) row(t *testing.T, blade string) model.BladeRow {
	t.Helper()
	row, ok := d.plan().Row(blade)
	if !ok {
		t.Fatalf("no row for %s", blade)
	}
	return row
}

func expectRow(t *testing.T, what string, row model.BladeRow, state model.Readiness, verdict model.Verdict, codes ...string) {
	t.Helper()
	if row.State != state || row.Verdict != verdict {
		t.Errorf("%s: %s, %s, want %s, %s; %v", what, row.State, row.Verdict, state, verdict, row.Reasons)
	}
	for _, code := range codes {
		if !given.Has(row.Reasons, code) {
			t.Errorf("%s: nothing says %s: %v", what, code, row.Reasons)
		}
	}
}

// From the first strip to ready: a stack is foretold; two strips give a verdict; one blade
// alone closes by itself; two blades want a closing strip.
func TestJudgeARound(t *testing.T) {
	d := begun()
	row := d.row(t, "rip")
	expectRow(t, "before a strip", row, model.StateNotReady, model.In, "needs-strips")
	if row.Basis != model.Predicted || !slices.Equal(row.Stack, []string{"r20"}) || !row.Inside {
		t.Errorf("%+v", row)
	}
	expectRow(t, "the reference", d.row(t, "general"), model.StateReady, model.In)
	d.mount("rip", "r20").rip(model.ForBlade, 120.01)
	row = d.row(t, "rip")
	if row.Basis != model.Predicted || row.Strips != 1 || !slices.Equal(row.Further, []model.StripFor{model.ForBlade}) || !slices.Equal(row.Stack, []string{"r20"}) {
		t.Errorf("after one strip: %+v", row)
	}
	d.rip(model.ForBlade, 120.02)
	row = d.row(t, "rip")
	expectRow(t, "after two", row, model.StateReady, model.In, "in", "not-yet-taken-off")
	if !given.Has(d.plan().Reasons, "mounting-unknown", "speaks for the mounting that was cut") || given.Has(begun().plan().Reasons, "mounting-unknown") {
		t.Errorf("%v", d.plan().Reasons)
	}
	if row.Basis != model.Measured || row.Strips != 2 || row.Datum != 3 || row.Offset != 11667 || row.Residual != -row.Offset || row.Proved == nil || row.Goes != 1 {
		t.Errorf("%+v", row)
	}
	lost := *d
	lost.p = lostRing(lostRing(d.p, "r20"), "r20")
	row = lost.row(t, "rip")
	expectRow(t, "after its ring was lost", row, model.StateNotReady, model.In, "predicted-in")
	if row.Basis != model.Predicted || !slices.Equal(row.Stack, []string{"r10", "r10"}) {
		t.Errorf("%+v", row)
	}
	first := *d
	last := first.p.Records[len(first.p.Records)-1]
	last.Round = true
	first.p.Records = append(slices.Clone(first.p.Records[:len(first.p.Records)-1]), last)
	expectRow(t, "the first of a round", first.row(t, "rip"), model.StateNotClosed, model.In, "not-closed")
	wider := first
	wider.p.Records = slices.Clone(first.p.Records)
	for i := range wider.p.Records[len(wider.p.Records)-2:] {
		r := &wider.p.Records[len(wider.p.Records)-2+i]
		r.Readings = given.Readings(120.07, 120.07, 120.07)
	}
	if row := wider.row(t, "rip"); !given.Has(row.Reasons, "off-prediction", "") || row.State != model.StateNotClosed || len(row.Against()) < 2 || row.Against()[0].Code != "not-closed" {
		t.Errorf("beside a doubt what its state is owed to is not said first: %v", row.Against())
	}
	if lock := first.plan().Lock; lock.Closing != 1 || lock.Round != 1 {
		t.Errorf("the first of a round: %+v", lock)
	}
	moved := first
	moved.do(model.Record{Kind: model.FenceMoved, Lock: "l1"})
	expectRow(t, "the first of a round whose lock was voided", moved.row(t, "rip"), model.StateCheck, model.In, "round-not-held")
	first.mount("general").rip(model.Closing, 120.01)
	expectRow(t, "the first of a round, closed without others", first.row(t, "rip"), model.StateReady, model.In)
	d.mount("fine", "r20").rip(model.ForBlade, 120, 120.01)
	plan := d.plan()
	for _, b := range []string{"rip", "fine"} {
		expectRow(t, b+" of an open round", d.row(t, b), model.StateNotClosed, model.In, "not-closed")
	}
	if plan.Lock.Closing != 1 || plan.Lock.Round != 2 || plan.Lock.Wanted != 0 || plan.Lock.Datum != 3 {
		t.Errorf("%+v", plan.Lock)
	}
	open := *d
	d.mount("general").rip(model.Closing, 120.01)
	for _, b := range []string{"rip", "fine", "general"} {
		expectRow(t, b+" of a closed round", d.row(t, b), model.StateReady, model.In)
	}
	if plan := d.plan(); plan.Lock.Closing != 0 || plan.Lock.Broken || !given.Has(plan.Lock.Reasons, "lock-held", "0.007 mm") || !given.Has(plan.Reasons, "mounting") {
		t.Errorf("%+v, %v", plan.Lock, plan.Reasons)
	}
	broken := open
	broken.mount("general").rip(model.Closing, 120.2)
	expectRow(t, "a broken round", broken.row(t, "rip"), model.StateCheck, model.In, "round-not-held")
	if plan := broken.plan(); !plan.Lock.Broken || !given.Has(plan.Lock.Reasons, "lock-broken", "0.197 mm") {
		t.Errorf("%+v", plan.Lock)
	}
	// The lock was voided before: to check, and a pair makes it ready.
	open.do(model.Record{Kind: model.FenceMoved, Lock: "l1"})
	expectRow(t, "a lock voided before", open.row(t, "rip"), model.StateCheck, model.In, "round-not-held")
	open.mount("rip", "r20").fence("l2").rip(model.ForBlade, 118, 118.01).mount("general").rip(model.Datum, 118, 118)
	row = open.row(t, "rip")
	expectRow(t, "after a pair", row, model.StateReady, model.In)
	if row.Proofs != 1 || given.Has(row.Reasons, "not-yet-taken-off") {
		t.Errorf("%+v", row)
	}
	expectRow(t, "the other one", open.row(t, "fine"), model.StateCheck, model.In)
}

// A verdict says that a strip under its lock was voided; not one under another.
func TestJudgeWithoutVoided(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.15)
	d.do(model.Record{Kind: model.Void, Of: d.p.Records[len(d.p.Records)-1].Ref(), Why: "burr"}).rip(model.ForBlade, 120.02)
	if row := d.row(t, "rip"); row.Strips != 2 || row.Offset != 11667 || !given.Has(row.Reasons, "without-voided", "without 1 strip under its fence lock that was voided") {
		t.Errorf("%+v", row)
	}
	d.mount("fine", "r20").rip(model.ForBlade, 120, 120.01)
	if row := d.row(t, "fine"); given.Has(row.Reasons, "without-voided") {
		t.Errorf("%+v", row.Reasons)
	}
}

// A strip counts only while its fence lock was in force. Two shifts each write what they know of,
// and one that ripped on after the other had moved the fence has strips under a lock that is void.
func TestJudgeStripsOfALockThatEnded(t *testing.T) {
	d := begun().mount("rip", "r20").do(model.Record{Kind: model.FenceMoved, Lock: "l1"}).rip(model.ForBlade, 120.01, 120)
	if row := d.row(t, "rip"); row.Basis != model.Predicted || row.Usable() {
		t.Errorf("ripped after the fence was moved: %s, %+v", row.State, row)
	}
	d = begun().mount("rip", "r20")
	d.lock = "l2"
	d.rip(model.ForBlade, 120.01, 120).mount("general").fence("l2").rip(model.Datum, 120, 120.01, 120)
	if row := d.row(t, "rip"); row.Basis != model.Predicted || row.Usable() {
		t.Errorf("ripped before the fence was locked: %s, %+v", row.State, row)
	}
}

// Strips that do not count any more say why: of four reasons the one that holds.
func TestJudgeWhyStripsCountNoMore(t *testing.T) {
	sharpened := model.Record{Kind: model.Sharpened, Blade: "rip", Plate: thrice(2.0), Kerf: thrice(2.97)}
	moved := model.Record{Kind: model.Sharpened, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.17), Datum: model.DatumMoves}
	for _, v := range []struct {
		name string
		d    *days
		want string
	}{
		{"a lock that had ended", begun().mount("rip", "r20").do(model.Record{Kind: model.FenceMoved, Lock: "l1"}).rip(model.ForBlade, 120.01, 120), "without the fence locked, or after it may have moved"},
		{"sharpened", begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120).do(sharpened), "before it was sharpened"},
		{"the datum moved", begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120).do(moved), "before the datum moved"},
	} {
		found := slices.ContainsFunc(v.d.row(t, "rip").Reasons, func(r model.Reason) bool {
			return r.Text == "its last strips were ripped "+v.want+": compare it again"
		})
		if !found {
			t.Errorf("%s: %+v", v.name, v.d.row(t, "rip").Reasons)
		}
	}
}

// What takes ready from a blade that has it.
func TestJudgeWhatMoves(t *testing.T) {
	ready := func() *days { return begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120) }
	expectRow(t, "ready", ready().row(t, "rip"), model.StateReady, model.In)
	for _, v := range []struct {
		name  string
		move  func(d *days)
		state model.Readiness
		code  string
	}{
		{"the flange cleaned", func(d *days) { d.do(model.Record{Kind: model.Arbor}) }, model.StateCheck, "flange-cleaned"},
		{"the knife taken out", func(d *days) {
			d.do(model.Record{Kind: model.TakenOff, Blade: "rip", Rings: []string{"r20"}, Knife: "k25"})
		}, model.StateCheck, "knife-unknown"},
		{"another stack on its box", func(d *days) {
			d.do(model.Record{Kind: model.Box, Blade: "rip", Rings: []string{"r10", "r10"}, Knife: "k25"})
		}, model.StateCheck, "box-differs"},
		{"its own stack on its box", func(d *days) { d.do(model.Record{Kind: model.Box, Blade: "rip", Rings: []string{"r20"}, Knife: "k25"}) }, model.StateReady, ""},
		{"sharpened", func(d *days) {
			d.do(model.Record{Kind: model.Sharpened, Blade: "rip", Plate: thrice(2.0), Kerf: thrice(2.97)})
		}, model.StateCheck, "sharpened-since"},
		{"away and back", func(d *days) {
			d.do(model.Record{Kind: model.Remeasured, Blade: "rip", Plate: thrice(2.0), Kerf: thrice(3.0), Back: true})
		}, model.StateCheck, "away-since"},
		{"the reference sharpened", func(d *days) {
			d.do(model.Record{Kind: model.Sharpened, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.17), Datum: model.DatumMoves})
		}, model.StateCheck, "datum-moved"},
		{"a knife that is too thick", func(d *days) { d.p.Knives = []model.Knife{{ID: "k25", Thickness: given.Typed(3.1)}} }, model.StateNotReady, "knife-too-thick"},
		{"another knife named", func(d *days) {
			d.p.Knives = append(slices.Clone(d.p.Knives), model.Knife{ID: "k24", Thickness: given.Typed(2.4)})
			d.p.Blades = slices.Clone(d.p.Blades)
			d.p.Blades[1].Knife = "k24"
		}, model.StateNotReady, "knife-unknown"},
		{"its ring gone", func(d *days) { d.p.Rings = slices.Clone(d.p.Rings[2:]) }, model.StateNotReady, "ring-gone"},
		{"another standing stack", func(d *days) { d.p.Standing = []string{"r10"} }, model.StateNotReady, "one-more-strip"},
		{"a strip voided", func(d *days) {
			d.do(model.Record{Kind: model.Void, Of: d.p.Records[len(d.p.Records)-1].Ref(), Why: "burr"})
		}, model.StateNotReady, "one-more-strip"},
	} {
		d := ready()
		v.move(d)
		row := d.row(t, "rip")
		if row.State != v.state || v.code != "" && !given.Has(row.Reasons, v.code) {
			t.Errorf("%s: %s, want %s: %v", v.name, row.State, v.state, row.Reasons)
		}
	}
}

// The reference sharpened, and the datum stays: the others stay as they are, and the
// reference is compared with a stand-in.
func TestJudgeAReferenceThatStays(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120)
	d.do(model.Record{Kind: model.Sharpened, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.16), Datum: model.DatumStays})
	expectRow(t, "the stand-in", d.row(t, "rip"), model.StateReady, model.In)
	expectRow(t, "the reference, sharpened", d.row(t, "general"), model.StateCheck, model.Doubtful, "reference-sharpened")
	d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.02, 119.02)
	row := d.row(t, "general")
	expectRow(t, "compared with the stand-in", row, model.StateReady, model.In)
	// 0.0167 wider than the stand-in, which is 0.0017 wide itself.
	if (row.Offset - given.MM(0.0184)).Abs() > given.MM(0.0002) {
		t.Errorf("offset %v", row.Offset)
	}
	d.fence("l3").rip(model.Datum, 130, 130, 130).mount("fine", "r20").rip(model.ForBlade, 130, 130)
	if row := d.row(t, "fine"); row.Basis != model.Measured || (row.Offset-given.MM(0.0184)).Abs() > given.MM(0.0002) {
		t.Errorf("against the sharpened reference: %+v", row)
	}
}

// The reference sharpened so that its strips say out: a way on stands on its row; and once no
// blade stands in for it any more, the plan says that nothing carries the datum.
func TestJudgeAReferenceThatNothingCarries(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120)
	d.do(model.Record{Kind: model.Sharpened, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.16), Datum: model.DatumStays})
	d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.2, 119.2)
	row := d.row(t, "general")
	if row.Verdict != model.Out || !slices.ContainsFunc(row.Ways, func(w model.Way) bool { return w.Kind == model.WayDatum }) {
		t.Errorf("%s: %+v", row.Verdict, row.Ways)
	}
	if plan := d.plan(); given.Has(plan.Reasons, "datum-uncarried") {
		t.Errorf("the rip stands in: %v", plan.Reasons)
	}
	d.p.ProveEvery, d.tomorrow = 30, 40
	if plan := d.plan(); !given.Has(plan.Reasons, "datum-uncarried") {
		t.Errorf("the rip is due, and nothing stands in: %v", plan.Reasons)
	}
	d.p.Reference = "rip"
	if plan := d.plan(); given.Has(plan.Reasons, "datum-uncarried") {
		t.Errorf("the datum has moved: %v", plan.Reasons)
	}
}

// Proofs: a pair renews, one that is out puts to check; what is older than the shop wants
// is due.
func TestJudgeProofs(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120)
	d.p.ProveEvery = 30
	first := d.row(t, "rip")
	if want := first.ProvedAt.AddDate(0, 0, 30); !first.Due.Equal(want) || !first.ProvedAt.Equal(d.p.Records[len(d.p.Records)-1].At) {
		t.Errorf("proved %v, due %v", first.ProvedAt, first.Due)
	}
	d.tomorrow = 30
	expectRow(t, "after 30 days", JudgeRow(d, first.Due), model.StateReady, model.In)
	expectRow(t, "a second later", JudgeRow(d, first.Due.Add(time.Second)), model.StateDue, model.In, "due")
	d.mount("rip", "r20").fence("l2").rip(model.ForBlade, 118.01, 118).mount("general").rip(model.Datum, 118, 118.01)
	renewed := d.row(t, "rip")
	expectRow(t, "renewed", renewed, model.StateReady, model.In)
	if !renewed.ProvedAt.After(first.ProvedAt) || renewed.Offset != first.Offset || renewed.Proofs != 1 {
		t.Errorf("%+v", renewed)
	}
	if general := d.row(t, "general"); !general.ProvedAt.Equal(renewed.ProvedAt) {
		t.Errorf("the reference was proved at %v, the pair at %v", general.ProvedAt, renewed.ProvedAt)
	}
	d.mount("rip", "r20").fence("l3").rip(model.ForBlade, 117.8, 117.8).mount("general").rip(model.Datum, 118, 118.01)
	expectRow(t, "a pair that is out", d.row(t, "rip"), model.StateCheck, model.In, "proof-out")
	d.mount("rip", "r20").fence("l4").rip(model.ForBlade, 118, 118).mount("general").rip(model.Datum, 118, 118.01)
	expectRow(t, "and one that is in again", d.row(t, "rip"), model.StateReady, model.In)
}

// One strip of a proof that leaves the knife outside its kerf is enough: no second is offered
// with that stack, and the blade is not ready (job.md, Where the knife stands in the kerf).
func TestProofThatLeavesTheKnifeOutside(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120)
	d.mount("general").fence("l2").rip(model.Datum, 118, 118.01).mount("rip", "r20").rip(model.ForBlade, 118.2)
	row := d.row(t, "rip")
	expectRow(t, "wide by 0.2", row, model.StateNotReady, model.Out, "knife-outside")
	if row.Inside || !row.OutKnife || len(row.Ways) == 0 || row.Fallback.Unit != model.NoUnit {
		t.Errorf("%+v", row)
	}
	d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.p.Records[len(d.p.Records)-1].Mounting, Text: "dust"})
	if row := d.row(t, "rip"); !row.Inside || row.Verdict != model.In {
		t.Errorf("with what was found there its strip is void: %+v", row)
	}
}

// A reference of which the knife stands outside its kerf, as last checked, is not ready.
func TestReferenceWithItsKnifeOutside(t *testing.T) {
	d := begun()
	d.p.Blades = slices.Clone(d.p.Blades)
	d.p.Blades[0].Kerf = thrice(2.56) // 0.06 of play
	if row := d.row(t, "general"); !row.Inside || row.State != model.StateReady {
		t.Fatalf("%+v", row)
	}
	d.do(model.Record{Kind: model.Line, Blade: "general", Rings: []string{}, Knife: "k25", TipGap: given.Typed(5), Faces: given.Readings(0.05, 0.09)})
	if row := d.row(t, "general"); row.Inside || row.State != model.StateNotReady {
		t.Errorf("0.09 behind, with 0.06 of play: %+v", row)
	}
}

// A knife that is squared to the cut of a blade which cuts wide: what every other blade cuts is
// reckoned from there (job.md, Where the knife stands in the kerf).
func TestKnifeSquaredToAnotherBlade(t *testing.T) {
	d := begun()
	d.p.Tolerance = given.Typed(0.25)
	d.mount("rip", "r20").rip(model.ForBlade, 120.2, 120.2)
	expectRow(t, "wide by 0.197, squared to the reference", d.row(t, "rip"), model.StateNotReady, model.Out, "knife-outside")
	d.do(model.Record{Kind: model.KnifeSet, Knife: "k25", Lock: "l1", Blade: "rip", Rings: []string{"r20"}, Gaps: given.Readings(0, 0.05, 0, 0.05)})
	for _, v := range []struct {
		blade  string
		kerf   float64
		inside bool
	}{
		{"rip", 3.0, true},
		{"general", 3.2, true},   // 0.05 + 0.197 behind its cut face, and 0.7 of play
		{"general", 2.75, true},  // 0.25 of play
		{"general", 2.74, false}, // 0.24
	} {
		d.p.Blades = slices.Clone(d.p.Blades)
		for i := range d.p.Blades {
			if d.p.Blades[i].ID == v.blade {
				d.p.Blades[i].Kerf = thrice(v.kerf)
			}
		}
		if row := d.row(t, v.blade); row.Inside != v.inside {
			t.Errorf("%+v: %+v", v, row)
		}
	}
	// Checked with that blade on, it still stands behind its own cut.
	d.do(model.Record{Kind: model.Line, Blade: "rip", Rings: []string{"r20"}, Knife: "k25", TipGap: given.Typed(5), Faces: given.Readings(0.01, 0.06)})
	if row := d.row(t, "rip"); !row.Inside || (row.Gap-given.MM(0.257)).Abs() > given.MM(0.001) {
		t.Errorf("checked: %+v", row)
	}
}

// JudgeRow is the row of rip at a moment.
func JudgeRow(d *days, now time.Time) model.BladeRow {
	row, _ := Judge(d.p, now).Row("rip")
	return row
}

// Out: three ways with their cost; a stack that was found out is not offered again; what
// was cut teaches which other.
func TestJudgeOut(t *testing.T) {
	d := begun().mount("rip", "r10").rip(model.ForBlade, 120.24, 120.25)
	row := d.row(t, "rip")
	expectRow(t, "out", row, model.StateNotReady, model.Out, "out", "off-prediction")
	var kinds []model.WayKind
	for _, w := range row.Ways {
		kinds = append(kinds, w.Kind)
		if w.Text == "" {
			t.Errorf("%+v", w)
		}
	}
	if !slices.Equal(kinds, []model.WayKind{model.WayRead, model.WayClean, model.WayStack}) || !row.OutKnife {
		t.Fatalf("%+v", row)
	}
	// 0.24 wide with 0.10 on: 0.34 wanted, of 0.10 0.10 0.20 0.20 0.50.
	if other := row.Ways[2]; !slices.Equal(other.Stack, []string{"r10", "r20"}) || other.Chance < 0.9 || other.Swaps != 1 || other.Strips != 2 {
		t.Errorf("%+v", other)
	}
	if row.Fallback.Unit != model.NoUnit {
		t.Errorf("a work setting with the knife outside its kerf: %+v", row.Fallback)
	}
	said := ""
	for _, r := range row.Reasons {
		said += r.Text + "\n"
	}
	if !strings.Contains(said, "a ring left off or in the relief") {
		t.Error(said)
	}
	// Rings of a far flange move the cut toward the fence, so 0.24 wide with 0.10 on becomes about 0.04 wide with 0.30.
	if text := row.Ways[2].Text; !strings.Contains(text, "it is expected to cut 0.04") || !strings.Contains(text, " mm wide, with a chance of") {
		t.Error(text)
	}
	// Cleaned and nothing found: found out, and not offered again.
	found := *d
	found.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound})
	for _, w := range found.row(t, "rip").Ways {
		if w.Kind == model.WayClean || w.Kind == model.WayRead {
			t.Errorf("%+v", w)
		}
	}
	// With nothing to put on instead, the kit cannot; the user may still try.
	few := found
	few.p.Rings = []model.Ring{d.p.Rings[0]}
	few.p.Rings[0].Count = 1
	row = few.row(t, "rip")
	expectRow(t, "found out, and no other", row, model.StateNotReady, model.Cannot, "cannot")
	// Something found voids the strips.
	found = *d
	found.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: "resin"})
	if row := found.row(t, "rip"); row.Basis != model.Predicted || row.Strips != 0 {
		t.Errorf("%+v", row)
	}
}

// One strip that leaves the knife outside its kerf is enough: no second one with that
// stack (job.md, Where the knife stands in the kerf). Play is 3.0 - 2.5 = 0.5, the largest
// gap 0.03, so 0.10 wide and 0.47 narrow are the limits.
func TestJudgeTheKnife(t *testing.T) {
	for _, v := range []struct {
		width   float64
		outside bool
	}{{120.10, false}, {120.1034, true}, {119.54, false}, {119.53, true}, {120.24, true}} {
		d := begun().mount("rip", "r20").rip(model.ForBlade, v.width)
		row := d.row(t, "rip")
		if row.OutKnife != v.outside || v.outside != (row.Verdict == model.Out) || v.outside == slices.Contains(row.Further, model.ForBlade) {
			t.Errorf("%v: %+v", v.width, row)
		}
		if v.outside && (row.Inside || !given.Has(row.Reasons, "knife-outside")) {
			t.Errorf("%v: %v", v.width, row.Reasons)
		}
	}
	// Against a stand-in its own offset counts: rip cuts 0.0617 wide, so fine's 0.05 beyond it
	// is 0.11 wide.
	stand := begun().mount("rip", "r20").rip(model.ForBlade, 120.065, 120.065).fence("l2").rip(model.Datum, 121, 121, 121)
	if row := stand.mount("fine", "r20").rip(model.ForBlade, 121.05).row(t, "fine"); !row.OutKnife || (row.Offset-given.MM(0.1117)).Abs() > given.MM(0.0001) {
		t.Errorf("%+v", row)
	}
	// A stack found out so counts, and is not offered again.
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.24).mount("rip", "r10").rip(model.ForBlade, 120.34)
	row := d.row(t, "rip")
	if row.Goes != 2 || !row.OutKnife {
		t.Errorf("%+v", row)
	}
	for _, w := range row.Ways {
		if one := evidence.Canonical(w.Stack); one == "r10" || one == "r20" {
			t.Errorf("offered again: %+v", w)
		}
	}
}

// The knife checked with a blade on renews it, without a strip: its faces are typed behind
// the tips of that blade, which cuts wide or narrow itself (job.md, Procedure).
func TestJudgeTheKnifeCheck(t *testing.T) {
	for _, v := range []struct {
		width      float64 // of rip's strips, against 120.00333
		low, high  float64
		gap, proud float64
	}{
		{120.02, 0, 0.05, 0.0667, 0}, // wide by 0.0167
		{119.98, 0.01, 0.05, 0.0267, 0.0133},
		{119.98, 0.03, 0.02, 0.0067, 0.0033},
	} {
		d := begun().mount("rip", "r20").rip(model.ForBlade, v.width, v.width)
		d.do(model.Record{Kind: model.TakenOff, Blade: "rip", Rings: []string{"r20"}, Knife: "k25"})
		expectRow(t, "taken out", d.row(t, "rip"), model.StateCheck, model.In, "knife-unknown")
		d.mount("rip", "r20").do(model.Record{Kind: model.Line, Blade: "rip", Rings: []string{"r20"}, Knife: "k25", TipGap: given.Typed(5), Faces: given.Readings(v.low, v.high)})
		row := d.row(t, "rip")
		expectRow(t, "checked", row, model.StateReady, model.In)
		if (row.Gap - given.MM(v.gap)).Abs() > given.MM(0.0001) {
			t.Errorf("%+v: gap %v", v, row.Gap)
		}
		if _, proud := judgingOf(d.p, time.Time{}).knifeStands("k25"); (proud - given.MM(v.proud)).Abs() > given.MM(0.0001) {
			t.Errorf("%+v: proud %v", v, proud)
		}
	}
}

// Without its knife no blade is ready, and which would do is said: from the plate of 2.0 and 0.2 mm
// to under the kerf of 3.0. There again, it waits for the knife check alone.
func TestJudgeAKnifeThatIsGone(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01)
	d.do(model.Record{Kind: model.KnifeGone, Knife: "k25", Text: "broken"})
	row := d.row(t, "rip")
	expectRow(t, "gone", row, model.StateNotReady, model.In, "knife-gone")
	if row.Knife != model.KnifeMissing || row.StandIn || !given.Has(row.Reasons, "knife-gone", "2.5 mm is gone (broken)", "one from 2.20 mm to under 3.00 mm") {
		t.Errorf("%s: %v", row.Knife, row.Reasons)
	}
	for _, b := range Judge(d.p, time.Time{}).Blades {
		if b.Ready() || b.Knife == model.KnifeFits {
			t.Errorf("the %s is %s", b.ID, b.State)
		}
	}
	// A reference that must not run is sent to no mounting, and what it has lost is said.
	p := d.p
	p.Records = []model.Record{{At: d.p.Records[0].At, By: "KB", Kind: model.KnifeGone, Knife: "k25", Text: "lost"}}
	bare := Judge(p, time.Time{})
	if r, _ := bare.Row("general"); given.Has(r.Reasons, "needs-datum-strips") || !given.Has(r.Reasons, "knife-gone") {
		t.Errorf("the reference: %v", r.Reasons)
	}
	if wrong, _ := CheckDatum(p, bare, Lost(bare)); !given.Has(wrong, "reference-unfit", "the general has no knife any more", "get one") {
		t.Errorf("%v", wrong)
	}
	// Another reference is one that has its knife.
	p = d.p
	p.Knives, p.Blades = append(slices.Clone(p.Knives), model.Knife{ID: "k24", Thickness: given.Typed(2.4)}), slices.Clone(p.Blades)
	p.Blades[2].Knife, p.Reference, p.Standing = "k24", "", nil // the fine one, of a narrower kerf
	if plan := Judge(p, time.Time{}); plan.Reference != "fine" {
		t.Errorf("the %s is offered as the reference", plan.Reference)
	}
	d.do(model.Record{Kind: model.KnifeBack, Knife: "k25"})
	row = d.row(t, "rip")
	expectRow(t, "there again", row, model.StateCheck, model.In, "knife-unknown")
	if !row.KnifeOnly {
		t.Errorf("%v", row.Reasons)
	}
}

// A strip far from its fellows is questioned before any verdict.
func TestJudgeQuestions(t *testing.T) {
	d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.15)
	plan := d.plan()
	if len(plan.Questioned) != 1 || plan.Questioned[0].Strip != len(d.p.Records)-1 || plan.Questioned[0].Blade != "rip" || plan.Questioned[0].Far != given.MM(0.14) || plan.Questioned[0].Reason.Text == "" {
		t.Errorf("%+v", plan.Questioned)
	}
	if plan := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).plan(); len(plan.Questioned) != 0 {
		t.Errorf("%+v", plan.Questioned)
	}
	if plan := begun().rip(model.Datum, 120.2).plan(); len(plan.Questioned) != 1 || plan.Questioned[0].Blade != "general" {
		t.Errorf("%+v", plan.Questioned)
	}
}

// A strip that was looked at and kept is not questioned again, until its readings change
// (solver.md 3: void it with its reason and rip another, or keep it).
func TestJudgeQuestionsOnce(t *testing.T) {
	odd := func() (*days, string) {
		d := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.15)
		return d, d.p.Records[len(d.p.Records)-1].Ref()
	}
	keep := func(d *days, ref string) string {
		d.do(model.Record{Kind: model.Kept, Of: ref})
		return d.p.Records[len(d.p.Records)-1].Ref()
	}
	for name, c := range map[string]struct {
		asked int
		then  func(d *days, strip, kept string)
	}{
		"kept":            {0, func(d *days, strip, kept string) {}},
		"the keep voided": {1, func(d *days, _, kept string) { d.do(model.Record{Kind: model.Void, Of: kept, Why: "a burr after all"}) }},
		"corrected since": {1, func(d *days, strip, _ string) {
			fix := d.p.Records[len(d.p.Records)-2]
			fix.Kind, fix.Of, fix.Readings = model.Correction, strip, []model.Measure{given.MM(120.25).Of(model.MM)}
			d.do(fix)
		}},
		"read again since": {1, func(d *days, strip, _ string) {
			more := d.p.Records[len(d.p.Records)-2]
			more.Of = strip
			d.do(more)
		}},
	} {
		d, strip := odd()
		c.then(d, strip, keep(d, strip))
		if got := d.plan().Questioned; len(got) != c.asked {
			t.Errorf("%s: %d questions, want %d: %+v", name, len(got), c.asked, got)
		}
	}
}

// A profile that is being filled in gives a plan, whatever it lacks.
func TestJudgeAnything(t *testing.T) {
	whole := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120).p
	for name, change := range map[string]func(*model.Profile){
		"empty":        func(p *model.Profile) { *p = model.Profile{} },
		"no blades":    func(p *model.Profile) { p.Blades = nil },
		"no rings":     func(p *model.Profile) { p.Rings = nil },
		"no knives":    func(p *model.Profile) { p.Knives = nil },
		"no flange":    func(p *model.Profile) { p.Saw.Flange = "" },
		"no tolerance": func(p *model.Profile) { p.Tolerance = model.Measure{} },
		"no caliper":   func(p *model.Profile) { p.Instruments = model.Instruments{} },
		"no reference": func(p *model.Profile) { p.Reference = "" },
		"gone":         func(p *model.Profile) { p.Reference = "gone" },
		"no kerf": func(p *model.Profile) {
			p.Blades = slices.Clone(p.Blades)
			for i := range p.Blades {
				p.Blades[i].Kerf = nil
			}
		},
		"no gaps": func(p *model.Profile) {
			p.Records = slices.Clone(p.Records)
			for i := range p.Records {
				p.Records[i].Gaps = nil
			}
		},
		"no strips' readings": func(p *model.Profile) {
			p.Records = slices.Clone(p.Records)
			for i := range p.Records {
				p.Records[i].Readings = nil
			}
		},
	} {
		p := whole
		change(&p)
		plan := Judge(p, time.Now())
		if len(plan.Blades) != len(p.Rack()) {
			t.Errorf("%s: %+v", name, plan)
		}
		for _, row := range plan.Blades {
			if row.State == model.StateReady && name != "no rings" && name != "no caliper" && name != "no gaps" { // without gaps the widest is taken
				t.Errorf("%s: %s is ready", name, row.ID)
			}
		}
	}
}

// year is weekly proofs of three blades, of which rip may move in week 20.
func year(weeks int, moves float64) *days {
	noise := []float64{0, 0.01, -0.01, 0.005, -0.005, 0.01, 0, -0.01, 0.005, 0.01, 0, -0.005}

	d := begun()
	blades := map[string][]string{"rip": {"r20"}, "fine": {"r20"}, "wide": {"r10"}}
	d.p.Blades = append(d.p.Blades, d.p.Blades[1])
	d.p.Blades[len(d.p.Blades)-1].ID, d.p.Blades[len(d.p.Blades)-1].Label = "wide", "wide"
	for week := range weeks {
		d.tomorrow = 7 * week
		for k, b := range []string{"rip", "fine", "wide"} {
			off := noise[(week*(k+1)+k)%len(noise)]
			if week >= 20 && b == "rip" {
				off += moves
			}
			d.mount(b, blades[b]...).fence(b+string(rune('A'+week))).rip(model.ForBlade, 120+off).mount("general").rip(model.Datum, 120)
		}
	}
	return d
}

// A year of weekly proofs of three blades: steady ones say so; one that moves in week 20 is
// told, since about then; what begins a new chart does.
func TestWatchRack(t *testing.T) {
	of := func(d *days, blade string) BladeWatch {
		for _, w := range WatchRack(d.p) {
			if w.Blade == blade {
				return w
			}
		}
		t.Fatalf("no chart of %s", blade)
		return BladeWatch{}
	}
	if w := of(year(5, 0), "rip"); w.Missing == nil || w.Missing.Proofs != 3 || !given.Has(w.Reasons, "watch-begins", "3 proofs more") {
		t.Errorf("%+v", w)
	}
	if w := of(year(26, 0), "rip"); w.Missing != nil || w.Watch.Moved || len(w.Proofs) != 26 || !given.Has(w.Reasons, "watch-steady", "26 proofs") {
		t.Errorf("%+v", w)
	}
	moved := year(26, -0.05)
	w := of(moved, "rip")
	if !w.Watch.Moved || w.Watch.Since < 19 || w.Watch.Since > 21 || !given.Has(w.Reasons, "watch-moved", "2024-07-22", "toward the fence") {
		t.Errorf("%+v", w)
	}
	if w := of(year(26, 0.05), "rip"); !w.Watch.Moved || !given.Has(w.Reasons, "watch-moved", "away from the fence") {
		t.Errorf("%+v", w)
	}
	if w := of(moved, "fine"); w.Watch.Moved {
		t.Errorf("%+v", w)
	}
	// Another squaring of the knife begins another chart.
	moved.square(0.02, 0.02, 0.02, 0.02).mount("rip", "r20").fence("x").rip(model.ForBlade, 120).mount("general").rip(model.Datum, 120)
	for _, w := range WatchRack(moved.p) {
		if w.Blade == "rip" {
			t.Errorf("a chart of %d proofs", len(w.Proofs))
		}
	}
}

func TestKerfs(t *testing.T) {
	d := begun()
	d.do(model.Record{Kind: model.Sharpened, Blade: "rip", Plate: thrice(2), Kerf: thrice(2.97)})
	d.do(model.Record{Kind: model.Sharpened, Blade: "rip", Plate: thrice(2), Kerf: thrice(2.9)})
	d.do(model.Record{Kind: model.Void, Of: d.p.Records[len(d.p.Records)-1].Ref(), Why: "slip"})
	d.do(model.Record{Kind: model.Sharpened, Blade: "fine", Plate: thrice(2), Kerf: thrice(2.7)})
	d.do(model.Record{Kind: model.Remeasured, Blade: "rip", Plate: thrice(2), Kerf: thrice(2.96)})
	if got := Kerfs(d.p, "rip"); !slices.Equal(got, given.Lengths(3, 2.97)) { // read again is no sharpening
		t.Errorf("%v", got)
	}
	d.do(model.Record{Kind: model.Remeasured, Blade: "rip", Plate: thrice(2), Kerf: thrice(2.95), Back: true})
	if got := Kerfs(d.p, "gone"); got != nil {
		t.Errorf("a blade that is not there: %v", got)
	}
	if got := Kerfs(d.p, "rip"); !slices.Equal(got, given.Lengths(2.95)) {
		t.Errorf("%v", got)
	}
}
