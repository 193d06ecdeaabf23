package stages

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

// TestProveTheReference: the reference is held against a ready blade, and a pair that agrees
// renews both (job.md, After the setup). Its strips stay what the others are compared with.
func TestProveTheReference(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 40)
	h.again(procedure.Options{Mode: procedure.Prove, Blade: "general-48", Seed: 3})
	h.toTheEnd(nil)
	way := strings.Join(h.way, ", ")
	other := "rip-24" // the first of the rack that may be used
	if strings.Count(way, "mount") != 2 {
		t.Errorf("a pair takes two mountings: %s", way)
	}
	for _, id := range []string{"general-48", other} {
		row, _ := h.p.Plan().Row(id)
		if !strings.Contains(way, "proof "+id) || (row.State != model.StateReady || row.ProvedAt.Before(h.at.AddDate(0, 0, -1))) {
			t.Errorf("after a pair the %s is %s, proved %s, %v: %s", id, row.State, row.ProvedAt, row.Reasons, way)
		}
	}
	for _, s := range h.p.State().Strips {
		if s.Blade == "general-48" && s.For == model.ForBlade {
			t.Errorf("a strip of the reference is on record as one of a blade that is compared")
		}
	}
}

// withThinKnife is a profile whose thin blade has a knife of its own.
func withThinKnife(p model.Profile) model.Profile {
	p.Knives = append(slices.Clip(p.Knives), model.Knife{ID: "k20", Thickness: (2 * mm).Of(model.MM)})
	p.Blades = slices.Clone(p.Blades)
	for i := range p.Blades {
		if p.Blades[i].ID == "thin-40" {
			p.Blades[i].Knife = "k20"
		}
	}
	return p
}

// twoKnives is somebody before a setup of the built-in shop whose thin blade has a knife of its own.
func twoKnives(t *testing.T) *hand {
	h, o := newSetUp(t), procedure.Options{Seed: 1}
	h.p = procedure.New(withThinKnife(h.p.Profile()), House(o), solver.Judge, o)
	return h
}

// TestStandInOfAnotherKnife: the reference comes back from the grinder while a blade of
// another knife is on. That blade rips the strips that carry the datum, and though its knife
// then comes out for that of the reference, the strips still count: the reference is compared.
func TestStandInOfAnotherKnife(t *testing.T) {
	h := newSetUp(t)
	p := withThinKnife(h.p.Profile())
	h.p = procedure.New(p, House(procedure.Options{Seed: 1}), solver.Judge, procedure.Options{Seed: 1})
	h.toTheEnd(nil)
	h.at = h.at.AddDate(0, 0, 1)
	h.again(procedure.Options{Mode: procedure.Swap, Blade: "thin-40", Seed: 3})
	h.toTheEnd(nil)
	h.again(procedure.Options{Mode: procedure.OneBlade, Blade: "general-48", Seed: 4})
	h.toTheEnd(map[string]string{"reason why": "sharpened", "where where": "bench", "fence fence": "moved", "left left": "48-tooth general"})
	way := strings.Join(h.way, ", ")
	if row, _ := h.p.Plan().Row("general-48"); row.Basis != model.Measured || row.Verdict != model.In {
		t.Errorf("it is %s, %s after %s", row.State, row.Verdict, way)
	}
	if strings.Contains(way, "mount thin-40") {
		t.Errorf("the blade that was on was to carry the datum: %s", way)
	}
}

// TestStandsInOnce: a blade that was held against a stand-in cannot stand in itself (job.md):
// its strips would never count, and more and more would be asked for.
func TestStandsInOnce(t *testing.T) {
	h := setUp(t)
	run := h.oneBlade
	// The reference is away; a blade is compared with a stand-in, and is then the one that is on.
	run("general-48", 3, map[string]string{"reason why": "sharpened", "until": "grinder"})
	run("rip-24", 4, map[string]string{"reason why": "sharpened"})
	if row, _ := h.p.Plan().Row("rip-24"); row.Verdict != model.In || row.StandIn || h.p.State().On.Blade != "rip-24" {
		t.Fatalf("%s is on, and it is %s: %v", h.p.State().On.Blade, row.Verdict, row.StandIn)
	}
	run("general-48", 5, map[string]string{"reason why": "check"})
	if way := strings.Join(h.way, ", "); strings.Count(way, "reference") > shop.DatumStrips {
		t.Errorf("%s", way)
	}
}

// TestReferenceSharpenedTwice: a blade that was held against the reference after that was
// sharpened, and the datum stayed, can carry the datum when it is sharpened again.
func TestReferenceSharpenedTwice(t *testing.T) {
	h := setUp(t)
	for n, blade := range []string{"general-48", "rip-24", "general-48"} {
		h.oneBlade(blade, uint64(3+n), map[string]string{"reason why": "sharpened"})
		row, _ := h.p.Plan().Row(blade)
		if way := strings.Join(h.way, ", "); row.Verdict != model.In || row.Basis != model.Measured || strings.Count(way, "reference") > shop.DatumStrips {
			t.Fatalf("%d: the %s is %s after %s", n, blade, row.Verdict, way)
		}
	}
}

// TestNothingCarries: the reference is away at the grinder's, and every other blade is due, so
// that none stands in: no strip would count, and none is asked for.
func TestNothingCarries(t *testing.T) {
	h := setUp(t)
	h.oneBlade("general-48", 3, map[string]string{"reason why": "sharpened", "until": "grinder"})
	h.at = h.at.AddDate(0, 0, 60)
	h.oneBlade("rip-24", 4, map[string]string{"reason why": "check"})
	if c := h.p.Now(); carrier(c) != "general-48" || len(comparing(c)) > 0 {
		t.Errorf("%s carries the datum, and %v are compared", carrier(c), comparing(c))
	}
	if way := strings.Join(h.way, ", "); way != "who, reason, uncarried, close" {
		t.Errorf("%s", way)
	}
	// Nor is a pair ripped.
	h.again(procedure.Options{Mode: procedure.Prove, Blade: "crosscut-80", Seed: 6})
	for range 40 {
		if h.p.Finished() {
			break
		}
		h.step(map[string]string{"left left": "empty"})
	}
	if way := strings.Join(h.way, ", "); !h.p.Finished() || strings.Contains(way, "proof") || strings.Contains(way, "lock") || !strings.Contains(way, "uncarried") {
		t.Errorf("a pair: %s", way)
	}
	// What it says is a way out: another reference takes the datum, and the blades are compared.
	h.at = h.at.AddDate(0, 0, 1)
	p := h.p.Profile()
	p.Reference = "rip-24"
	o := procedure.Options{Seed: 5}
	h.p = procedure.New(p, House(o), solver.Judge, o)
	if uncarried(h.p.Now()) || len(comparing(h.p.Now())) == 0 {
		t.Errorf("under another reference nothing is compared")
	}
}

// oneBlade is a run of one blade on another day, to its end or until a row came.
func (h *hand) oneBlade(blade string, seed uint64, own map[string]string) {
	h.t.Helper()
	h.at = h.at.AddDate(0, 0, 1)
	h.again(procedure.Options{Mode: procedure.OneBlade, Blade: blade, Seed: seed})
	own["where where"], own["fence fence"] = "isolate", "moved"
	for range 200 {
		if h.p.Finished() || own["until"] != "" && strings.Contains(strings.Join(h.way, " "), own["until"]) {
			return
		}
		own["left left"] = "empty"
		if on, _ := h.p.Now().Lock.On(); on.Blade != "" {
			own["left left"] = h.p.Now().Name(on.Blade)
		}
		h.step(own)
	}
	h.t.Fatalf("it does not end: it stands at %s, after %s", h.p.View().Place, strings.Join(h.way[:60], ", "))
}

// TestDoubtfulPair: a pair that leaves a doubt asks for so many strips more of the blade that is on
// as settle it, under the same lock and without another mounting, and then ends.
func TestDoubtfulPair(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 1)
	h.again(procedure.Options{Mode: procedure.Prove, Blade: "rip-24", Seed: 3})
	asked, before := 0, *h
	for off := 60; off < 160; off += 2 {
		*h = before
		ripped, first, more := map[string]int{}, "", 0
		for h.p.View().Place.Step != "proved" {
			v, own := h.p.View(), map[string]string{}
			if blade := v.Place.Blade; v.Place.Step == "proof" {
				own["proof readings"] = fmt.Sprintf("140.%03d 140.%03d 140.%03d", off, off, off) // so that the other is narrow
				if blade == "rip-24" {
					own["proof readings"] = "140.000 140.000 140.000"
				}
				if first == "" {
					first = blade
				}
				ripped[blade]++
			}
			h.step(own)
			if blade := v.Place.Blade; v.Place.Step == "proof" && blade != first && ripped[blade] == ripped[first] {
				row, _ := h.p.Plan().Row("rip-24")
				if more = row.MoreDatum; blade == "rip-24" {
					more = row.MoreOwn
				}
				told := slices.ContainsFunc(h.p.Report(), func(r reason) bool {
					return strings.Contains(r.Text, "do not settle it yet: one more of the "+h.p.Now().Name(blade))
				})
				if told != (more > 0) {
					t.Errorf("%d off: %d more strips are asked for, and why is told: %v, %v", off, more, told, h.p.Report())
				}
			}
			if len(h.way) > 100 {
				t.Fatalf("%d off: it does not end: %s", off, strings.Join(h.way, ", "))
			}
		}
		way := strings.Join(h.way, ", ")
		row, _ := h.p.Plan().Row("rip-24")
		doubt := slices.ContainsFunc(row.Reasons, func(r reason) bool { return r.Code == "proof-doubtful" || r.Code == "proof-rather-out" })
		if n := ripped["rip-24"] + ripped["general-48"] - 2*ripped[first]; n != more || strings.Count(way, "mount") > 2 || more > 0 && doubt {
			t.Errorf("%d off: %d strips more settle it, and %v were ripped, %v: %s", off, more, ripped, row.Reasons, way)
		}
		if more > 0 {
			asked++
		}
	}
	if asked == 0 {
		t.Error("no pair left a doubt that strips settle")
	}
}

// TestPairAfterCleaning: with the flange cleaned every blade is to be checked, and so is the
// reference: it is held against one of them all the same, and a pair that agrees speaks for both.
func TestPairAfterCleaning(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 1)
	p := h.p.Profile()
	p.Records = append(slices.Clone(p.Records), model.Record{Kind: model.Arbor, At: h.at, By: "KB"})
	o := procedure.Options{Mode: procedure.Prove, Blade: p.Reference, Seed: 3}
	h.p = procedure.New(p, House(o), solver.Judge, o)
	for _, row := range h.p.Plan().Blades {
		if row.Usable() {
			t.Fatalf("%s is %s", row.ID, row.State)
		}
	}
	h.way = nil
	h.toTheEnd(nil)
	ready := 0
	for _, row := range h.p.Plan().Blades {
		if row.Ready() {
			ready++
		}
	}
	if row, _ := h.p.Plan().Row(p.Reference); !row.Ready() || ready != 2 {
		t.Errorf("the reference is %s, and %d are ready: %s", row.State, ready, strings.Join(h.way, ", "))
	}
	// Not against one of which the newest pair says that it is out: another tells more.
	h.p = procedure.New(p, House(o), solver.Judge, o)
	first := partner(h.p.Now())
	for h.p.View().Place.Step != "close" {
		width := "140.000 140.000 140.000"
		if h.p.View().Place.Blade == first {
			width = "139.700 139.700 139.700"
		}
		h.step(map[string]string{"proof readings": width, "left left": "empty"})
	}
	h.again(procedure.Options{Mode: procedure.Prove, Blade: p.Reference, Seed: 5})
	if row, _ := h.p.Plan().Row(first); !shop.Disagreed(row) || partner(h.p.Now()) == first || partner(h.p.Now()) == "" {
		t.Errorf("the %s is %s, %v, and the next pair is with %q", first, row.State, row.Reasons, partner(h.p.Now()))
	}
}

// TestPairOfTwoKnives: a blade with little room beside its own knife is proved against the reference,
// which runs with another: each knife comes out for the other, and the run ends all the same. Where
// the room is enough for where the knife is seen, the blade is still in.
func TestPairOfTwoKnives(t *testing.T) {
	for _, room := range []model.Length{70, 95} { // micrometres; the knife is seen 0.05 mm behind the tips
		h := newSetUp(t)
		p := h.p.Profile()
		p.Knives = append(p.Knives, model.Knife{ID: "k20", Thickness: (2 * mm).Of(model.MM)})
		p.Rings = append(p.Rings, model.Ring{ID: "r100", Thickness: mm.Of(model.MM), Measured: mm.Of(model.MM), Count: 1, Outer: (78 * mm).Of(model.MM)})
		for i := range p.Blades {
			if b := &p.Blades[i]; b.ID == "thin-40" {
				kerf := (2*mm + room*mm/1000).Of(model.MM)
				b.Knife, b.Kerf = "k20", []model.Measure{kerf, kerf, kerf}
			}
		}
		o := procedure.Options{Seed: 1}
		h.saw, h.p = practice.New(p, 1), procedure.New(p, House(o), solver.Judge, o)
		h.toTheEnd(nil)
		if row, _ := h.p.Plan().Row("thin-40"); row.Basis != model.Measured || row.Verdict != model.In {
			t.Fatalf("%d: it is %s, %s: %v", room, row.State, row.Verdict, row.Reasons)
		}
		h.at = h.at.AddDate(0, 0, 1)
		h.again(procedure.Options{Mode: procedure.Prove, Blade: "thin-40", Seed: 3})
		h.toTheEnd(map[string]string{"left left": "empty"})
		first := strings.Join(h.way, ", ")
		h.oneBlade("thin-40", 4, map[string]string{"reason why": "check", "ways way": "later"})
		way := strings.Join(h.way, ", ")
		if strings.Count(first, "mount") > 3 || strings.Count(way, "mount") > 6 {
			t.Errorf("%d: %s; %s", room, first, way)
		}
		if row, _ := h.p.Plan().Row("thin-40"); room > 90 && (row.Verdict != model.In || !strings.Contains(way, "proof thin-40")) {
			t.Errorf("%d: it is %s, %s after %s", room, row.State, row.Verdict, way)
		}
	}
}

// TestFurtherStripBeforeAnotherKnife: a blade that wants another strip of the reference gets it as
// soon as that is on, before a blade with a third knife takes its place: else each would come off
// for the other without an end.
func TestFurtherStripBeforeAnotherKnife(t *testing.T) {
	h := newSetUp(t)
	p := h.p.Profile()
	p.Knives = append(p.Knives, model.Knife{ID: "k26", Thickness: (26 * mm / 10).Of(model.MM)}, model.Knife{ID: "k24", Thickness: (24 * mm / 10).Of(model.MM)})
	for i := range p.Blades {
		b := &p.Blades[i]
		b.Knife = map[string]string{"general-48": "k25", "rip-24": "k26", "crosscut-80": "k24", "laminate-96": "k26"}[b.ID]
	}
	p.Blades = p.Blades[:4]
	o := procedure.Options{Seed: 1}
	h.saw, h.p = practice.New(p, 1), procedure.New(p, House(o), solver.Judge, o)
	typed, n := []string{"140.000", "140.010", "140.000"}, 0
	step := func(off int) {
		own := map[string]string{"ways way": "later"}
		switch v := h.p.View(); v.Place.Step {
		case "reference", "further":
			w := typed[n%3]
			own[v.Place.Step+" readings"], n = w+" "+w+" "+w, n+1
		case "strip":
			own["strip readings"] = "140.003 140.003 140.003"
			if v.Place.Blade == "laminate-96" {
				w := fmt.Sprintf("139.%03d", 1000-off-20*(n%2))
				own["strip readings"], n = w+" "+w+" "+w, n+1
			}
		}
		h.step(own)
	}
	for h.p.View().Place != (procedure.Place{Step: "strip", Blade: "laminate-96"}) {
		if step(0); len(h.way) > 200 {
			t.Fatalf("it does not come to the laminate: %s", strings.Join(h.way, ", "))
		}
	}
	before, asked := *h, 0
	for off := 30; off < 120; off += 5 {
		*h = before
		h.way, n = nil, 0
		for !h.p.Finished() && h.p.View().Place.Step != "closing" {
			if step(off); len(h.way) > 120 {
				t.Fatalf("%d narrow: it does not end: ... %s", off, strings.Join(h.way[80:], ", "))
			}
		}
		if strings.Contains(strings.Join(h.way, " "), "further laminate-96") {
			asked++
		}
	}
	if asked == 0 {
		t.Error("no strip more of the reference was asked for")
	}
}

// TestNoPairWithoutItsKnife: the knife of a blade is missed while a pair of it begins: it is not
// mounted, and the run ends.
func TestNoPairWithoutItsKnife(t *testing.T) {
	h := newSetUp(t)
	p := withThinKnife(h.p.Profile())
	o := procedure.Options{Seed: 1}
	h.p = procedure.New(p, House(o), solver.Judge, o)
	h.toTheEnd(nil)
	h.at = h.at.AddDate(0, 0, 1)
	p = h.p.Profile()
	p.Records = append(slices.Clone(p.Records), model.Record{Kind: model.KnifeGone, At: h.at, By: "KB", Knife: "k20", Text: "lost"})
	o = procedure.Options{Mode: procedure.Prove, Blade: "thin-40", Seed: 3}
	h.p, h.way = procedure.New(p, House(o), solver.Judge, o), nil
	h.toTheEnd(map[string]string{"left left": "empty"})
	if way := strings.Join(h.way, ", "); strings.Contains(way, "mount thin-40") || strings.Contains(way, "proof thin-40") {
		t.Errorf("%s", way)
	}
}

// TestNoProofOutsideItsKerf: in the midst of a proof a strip of the blade is corrected, and by
// that its cut leaves the knife outside the kerf. It does not turn with it, wherever the knife was
// seen last: neither one that stood all the while nor one that was out for another.
func TestNoProofOutsideItsKerf(t *testing.T) {
	for _, blade := range []string{"rip-24", "thin-40"} {
		for _, place := range []string{"lock", "mount " + blade, "proof " + blade} {
			h := twoKnives(t)
			h.toTheEnd(map[string]string{"left left": "empty"})
			h.at = h.at.AddDate(0, 0, 40)
			h.again(procedure.Options{Mode: procedure.Prove, Blade: blade, Seed: 3})
			for h.p.View().Place.String() != place {
				h.step(nil)
			}
			for v := h.p.View(); !v.Correcting || v.Place.Blade != blade; v = h.p.View() {
				next, err := h.p.Apply(procedure.Event{Kind: procedure.Back, At: h.at})
				if err != nil {
					t.Fatal(err)
				}
				h.p = next
			}
			h.step(map[string]string{"proof readings": "140.60 140.60 140.60"})
			before := len(h.way)
			h.toTheEnd(map[string]string{"left left": "empty"})
			row, _ := h.p.Plan().Row(blade)
			if way := strings.Join(h.way[before:], ", "); row.Inside || row.Usable() || strings.Contains(way, "first") || strings.Contains(way, "proof ") {
				t.Errorf("%s, corrected at %s: inside %v, %s, and then came %s", blade, place, row.Inside, row.State, way)
			}
		}
	}
}

// TestHalfAPairSaysNothing: while the strips of a proof are ripped no older verdict stands beside
// them, and the order says what is left of the blanks that were there before its strips asked for more.
func TestHalfAPairSaysNothing(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 40)
	h.again(procedure.Options{Mode: procedure.Prove, Blade: "rip-24", Seed: 3})
	own, last, strips := map[string]string{}, 0, 0
	for range 200 {
		if h.upTo("proof"); len(proofStrips(h.p.Now(), "rip-24")) == 1 && strips > 3 {
			break
		}
		m := leftInOrders.FindStringSubmatch(strings.Join(h.p.View().Do, " "))
		n, _ := strconv.Atoi(m[1])
		if strips > 0 && n != last-1 {
			t.Errorf("strip %d: %d blanks are left, and there were %d before", strips+1, n, last)
		}
		last, own["proof readings"] = n, "140.10 140.10 140.10"
		if strips == 1 { // the second asks for a third
			own["proof readings"] = "140.40 140.40 140.40"
		}
		h.step(own)
		strips++
		for _, r := range h.p.Report() {
			t.Errorf("after strip %d: %s", strips, r.Text)
		}
	}
	if strips != 4 {
		t.Errorf("%d strips were ripped until the first of the blade was followed by none", strips)
	}
}

// TestAThirdBladeTellsWhichHasMoved: where a pair does not agree, and the reference agrees with a third blade after
// that, the first one is said to have moved: where the pair is read, and where the blade stands.
func TestAThirdBladeTellsWhichHasMoved(t *testing.T) {
	h := later(t, setUp(t), procedure.Options{Mode: procedure.Prove, Blade: "rip-24"})
	for range 150 {
		if h.p.Finished() {
			break
		}
		h.step(map[string]string{"proof readings": map[string]string{"rip-24": "139.90 139.90 139.90", "general-48": "140.05 140.05 140.05"}[h.p.View().Place.Blade]})
	}
	row, _ := h.p.Plan().Row("rip-24")
	if row.Moved || !strings.Contains(row.Against()[0].Text, "it or the 48-tooth general has moved") {
		t.Fatalf("after the first pair: %+v", row.Against())
	}
	h = later(t, h, procedure.Options{Mode: procedure.Prove, Blade: "crosscut-80"})
	told := ""
	for range 150 {
		if h.p.Finished() {
			break
		}
		v := h.p.View()
		if told += " " + strings.Join(v.Do, " "); v.Place.Step == "proof" {
			h.step(map[string]string{"proof readings": "140.05 140.05 140.05"})
			continue
		}
		h.step(nil)
	}
	row, _ = h.p.Plan().Row("rip-24")
	if !row.Moved || !strings.Contains(row.Against()[0].Text, "it has moved, since the 48-tooth general agreed with the 80-tooth fine crosscut") {
		t.Errorf("after the third blade: %+v", row.Against())
	}
	if !strings.Contains(told, "So it is the 24-tooth rip that has moved") {
		t.Error("nobody is told:", told)
	}
}

// TestStripsOfTwoCarriersDoNotAddUp: a blade that a pair found out is brought in again by a run about it, which begins
// with a stand-in that is on the saw. Two strips of that and one of the reference are no three of either: the stand-in
// goes on, and the run ends.
func TestStripsOfTwoCarriersDoNotAddUp(t *testing.T) {
	wide := map[string]string{"rip-24": "139.90 139.90 139.90", "general-48": "140.05 140.05 140.05", "crosscut-80": "140.05 140.05 140.05"}
	run := func(h *hand) *hand {
		for range 250 {
			if h.p.Finished() {
				return h
			}
			v := h.p.View()
			width := wide[cmp.Or(v.Place.Blade, h.p.State().On.Blade)]
			if on := h.p.State().On; on.Blade == "rip-24" && !slices.Equal(on.Rings, []string{"r10"}) {
				width = "140.04 140.04 140.04" // the other stack is right
			}
			h.step(map[string]string{"proof readings": width, "reference readings": wide["general-48"], "further readings": wide["general-48"], "strip readings": width, "reason why": "check", "ways way": "rings", "fence fence": "moved"})
		}
		t.Fatalf("it does not end: %s", strings.Join(h.way, ", "))
		return nil
	}
	h := run(later(t, setUp(t), procedure.Options{Mode: procedure.Prove, Blade: "rip-24"}))
	h = run(later(t, h, procedure.Options{Mode: procedure.Prove, Blade: "crosscut-80"}))
	from := len(h.p.Profile().Records)
	h = run(later(t, h, procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24"}))
	row, _ := h.p.Plan().Row("rip-24")
	if n := strips(h.p.Profile().Records[from:]); row.State != model.StateReady || n != 7 {
		t.Errorf("it is %s after %d strips: %s", row.State, n, strings.Join(h.way, ", "))
	}
}
