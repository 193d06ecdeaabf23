package profiles

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// changed draws a head that a shift may have made of the demo's, and what it recorded.
func changed(t *rapid.T, label string) model.Profile {
	p := chosenDemo()
	p.Blades, p.Rings = slices.Clone(p.Blades), slices.Clone(p.Rings)
	edits := []func(){
		func() { p.Tolerance = mm(rapid.SampledFrom([]int{40_000, 80_000}).Draw(t, "tolerance")) },
		func() { p.Saw.Label = rapid.SampledFrom([]string{"Bay 2", "Bay 3", ""}).Draw(t, "label") },
		func() {
			p.Blades[1].Kerf = []model.Measure{mm(rapid.SampledFrom([]int{2_950_000, 2_960_000}).Draw(t, "kerf"))}
		},
		func() { p.Rings = slices.DeleteFunc(p.Rings, func(r model.Ring) bool { return r.ID == "r30" }) },
		func() {
			for _, id := range rapid.SampledFrom([][]string{{"r05"}, {"r07", "r05"}, {"r06"}}).Draw(t, "new rings") {
				at := rapid.IntRange(0, len(p.Rings)).Draw(t, "at")
				p.Rings = slices.Insert(p.Rings, at, model.Ring{ID: id, Thickness: mm(50_000), Count: 1})
			}
		},
		func() { slices.Reverse(p.Blades) },
		func() {
			b := p.Blades[2]
			b.ID = rapid.SampledFrom([]string{"rip-20", "rip-18"}).Draw(t, "new blade")
			b.Label = b.ID + " new"
			p.Blades = append(p.Blades, b)
			p.Records = append(p.Records, model.Record{At: at(5), By: "AB", Kind: model.Note, Text: "new", Blade: b.ID})
		},
		func() { p.Standing = []string{} },
		func() {
			p.Records = append(p.Records, model.Record{At: at(6), By: "KB", Kind: model.Note, Text: rapid.SampledFrom([]string{"one", "two"}).Draw(t, "note")})
		},
	}
	for _, edit := range edits {
		if rapid.IntRange(0, 2).Draw(t, label+" edit") == 0 {
			edit()
		}
	}
	return p
}

func TestChooseTakesEachValueFromItsSide(t *testing.T) {
	mixed := 0
	rapid.Check(t, func(t *rapid.T) {
		mine, theirs := changed(t, "mine"), changed(t, "theirs")
		d := text.Differences(mine, theirs)
		sides, swapped, all := map[string]Side{}, map[string]Side{}, map[Side]map[string]Side{Mine: {}, Theirs: {}}
		for _, x := range d {
			sides[x.Path], swapped[x.Path] = Mine, Theirs
			if rapid.Bool().Draw(t, x.Path) {
				sides[x.Path], swapped[x.Path] = Theirs, Mine
			}
			all[Mine][x.Path], all[Theirs][x.Path] = Mine, Theirs
		}
		choose := func(a, b model.Profile, sides map[string]Side) model.Profile {
			p, err := Choose(a, b, sides)
			if err != nil {
				t.Fatal(err)
			}
			return p
		}
		for _, side := range []Side{Mine, Theirs} {
			if x, y := text.Format(choose(mine, theirs, all[side])), text.Format(Take(mine, theirs, side)); x != y {
				t.Fatalf("all %s:\n%s\nTake:\n%s", side, x, y)
			}
		}
		got := choose(mine, theirs, sides)
		if x, y := text.Format(got), text.Format(choose(theirs, mine, swapped)); x != y {
			t.Fatalf("from the one side:\n%s\nfrom the other:\n%s", x, y)
		}
		again := map[string]Side{}
		for _, x := range text.Differences(got, theirs) {
			again[x.Path] = Mine
		}
		if x := text.Format(choose(got, theirs, again)); x != text.Format(got) {
			t.Fatalf("chosen:\n%s\nthe same copy taken in again:\n%s", text.Format(got), x)
		}
		if want := Take(mine, theirs, Mine); !slices.Equal(recordTexts(got), recordTexts(want)) {
			t.Fatal("records lost or doubled")
		}
		named := map[string]bool{} // by the records: these come along, retired or with none left
		for _, r := range got.Records {
			named["blades["+r.Blade+"]"] = true
		}
		fromMine, fromTheirs := map[string]bool{}, map[string]bool{}
		for _, x := range text.Differences(got, mine) {
			fromMine[x.Path] = true
		}
		for _, x := range text.Differences(got, theirs) {
			fromTheirs[x.Path] = true
		}
		used := map[Side]bool{}
		for _, x := range d {
			used[sides[x.Path]] = true
			off := fromMine
			if sides[x.Path] == Theirs {
				off = fromTheirs
			}
			if off[x.Path] && !named[x.Path] {
				t.Fatalf("%s is not that of %s: %s", x.Path, sides[x.Path], text.Format(got))
			}
		}
		if used[Mine] && used[Theirs] {
			mixed++
		}
	})
	if mixed < 10 {
		t.Errorf("only %d draws chose of both sides", mixed)
	}
}

// TestChooseRefusesWhatIsNoProfile: values that are right on either side need not be
// right together.
func TestChooseRefusesWhatIsNoProfile(t *testing.T) {
	mine, theirs := chosenDemo(), chosenDemo()
	theirs.Rings = append(slices.Clone(theirs.Rings), model.Ring{ID: "r05", Thickness: mm(50_000), Count: 1})
	theirs.Standing = []string{"r05"}
	_, err := Choose(mine, theirs, map[string]Side{"rings[r05]": Mine, "standing": Theirs})
	var findings text.Findings
	if !errors.As(err, &findings) || !strings.Contains(err.Error(), "standing[0]: ") || !strings.Contains(err.Error(), "r05") {
		t.Error(err)
	}
	if _, err := Choose(mine, theirs, map[string]Side{"rings[r05]": Mine}); err == nil || err.Error() != "standing: no side is chosen: write mine or theirs" {
		t.Error(err)
	}
	if p, err := Choose(mine, theirs, map[string]Side{"rings[r05]": Theirs, "standing": Mine}); err != nil || len(p.Rings) != len(theirs.Rings) || p.Standing[0] != "r10" {
		t.Error(p.Standing, err)
	}
}

func TestTheOrderIsAChoiceOfItsOwn(t *testing.T) {
	mine, theirs := chosenDemo(), chosenDemo()
	theirs.Blades = slices.Clone(theirs.Blades)
	slices.Reverse(theirs.Blades)
	theirs.Blades[0].Kerf = []model.Measure{mm(2_390_000)}
	d := text.Differences(mine, theirs)
	if len(d) != 2 || d[0].Path != "blades[thin-40].kerf" || d[1].Path != "blades" || d[1].Theirs != "in the order thin-40, laminate-96, crosscut-80, rip-24, general-48" {
		t.Fatal(d)
	}
	p, err := Choose(mine, theirs, map[string]Side{"blades[thin-40].kerf": Mine, "blades": Theirs})
	if err != nil || p.Blades[0].ID != "thin-40" || p.Blades[0].Kerf[0] != mm(2_401_000) {
		t.Errorf("%+v %v", p.Blades, err)
	}
}
