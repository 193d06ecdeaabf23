package profiles

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// shift draws what one shift records: notes, cuts, sharpenings and voids over a day,
// in time order, now and then in the same second as another shift or with the very
// same words.
func shift(t *rapid.T, label string) []model.Record {
	start := 0
	return rapid.Custom(func(t *rapid.T) []model.Record {
		var out []model.Record
		for range rapid.IntRange(0, 12).Draw(t, "records") {
			start += rapid.IntRange(0, 3).Draw(t, "later")
			r := model.Record{At: at(start), By: rapid.SampledFrom([]string{"KB", "AB"}).Draw(t, "by"), Kind: rapid.SampledFrom([]model.Kind{model.Note, model.Sharpened, model.FenceLock, model.Void, model.Arbor}).Draw(t, "kind")}
			switch r.Kind {
			case model.Note:
				r.Text = rapid.SampledFrom([]string{"one", "two"}).Draw(t, "text")
			case model.Sharpened:
				r.Blade, r.Plate, r.Kerf = "rip-24", []model.Measure{mm(2_200_000)}, []model.Measure{mm(rapid.IntRange(2_900_000, 2_900_002).Draw(t, "kerf"))}
			case model.FenceLock:
				r.Lock, r.Width = rapid.SampledFrom([]string{"a", "b"}).Draw(t, "lock"), mm(120_000_000)
			case model.Void:
				r.Of, r.Why = "x", "y"
			case model.Arbor:
				r.Dial = []model.Measure{mm(0), mm(10_000)}
			}
			out = append(out, r)
		}
		return out
	}).Draw(t, label)
}

func withRecords(p model.Profile, records []model.Record) model.Profile {
	p.Records = records
	return p
}

func recordTexts(p model.Profile) []string {
	out := make([]string, len(p.Records))
	for i, r := range p.Records {
		out[i] = text.FormatRecord(r)
	}
	return out
}

func TestMergeIsAUnion(t *testing.T) {
	demo := chosenDemo()
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := withRecords(demo, shift(t, "a")), withRecords(demo, shift(t, "b")), withRecords(demo, shift(t, "c"))
		merge := func(x, y model.Profile) model.Profile {
			m, d := Merge(x, y)
			if len(d) > 0 {
				t.Fatal("the heads are the same", d)
			}
			return m
		}
		same := func(what string, x, y model.Profile) {
			if text.Format(x) != text.Format(y) {
				t.Fatalf("%s:\n%s\n%s", what, text.Format(x), text.Format(y))
			}
		}
		same("commutative", merge(a, b), merge(b, a))
		same("associative", merge(merge(a, b), c), merge(a, merge(b, c)))
		same("idempotent", merge(merge(a, b), b), merge(a, b))
		same("a copy of itself", merge(a, a), merge(a, withRecords(demo, nil)))
		want := map[string]bool{}
		for _, s := range append(recordTexts(a), recordTexts(b)...) {
			want[s] = true
		}
		got := recordTexts(merge(a, b))
		for _, s := range got {
			if !want[s] {
				t.Fatal("doubled, or from nowhere: " + s)
			}
			delete(want, s)
		}
		if len(want) > 0 {
			t.Fatal("lost: ", want)
		}
		if !slices.IsSortedFunc(merge(a, b).Records, func(x, y model.Record) int { return x.At.Compare(y.At) }) {
			t.Fatal("not in time order")
		}
	})
}

// TestMergeKeepsTheOrderOfAShift: what one shift wrote one after the other, seconds
// apart, is in that order after the merge; so is what one step writes at once.
func TestMergeKeepsTheOrderOfAShift(t *testing.T) {
	p := chosenDemo()
	p.Records = []model.Record{
		{At: at(0), By: "KB", Kind: model.FenceLock, Lock: "a", Width: mm(1)}, {At: at(5), By: "KB", Kind: model.FenceMoved, Lock: "a"},
		{At: at(5), By: "KB", Kind: model.FenceLock, Lock: "b", Width: mm(1)}, {At: at(9), By: "KB", Kind: model.KnifeSet, Knife: "k25"}, {At: at(9), By: "KB", Kind: model.Mount, Blade: "rip-24"},
		{At: at(9), By: "AB", Kind: model.Void, Of: "x"},
	}
	p.Records[3], p.Records[4] = p.Records[4], p.Records[3]
	m, _ := Merge(withRecords(p, nil), p)
	if got := recordTexts(m); !slices.Equal(got, recordTexts(p)) {
		t.Errorf("%s", strings.Join(got, ""))
	}
}

// TestWhatNamesARecordOfItsSecondStandsBehindIt: records written by hand, to the second.
func TestWhatNamesARecordOfItsSecondStandsBehindIt(t *testing.T) {
	on := model.Record{At: at(1), By: "KB", Kind: model.Mount, Blade: "rip-24"}
	strip := model.Record{At: at(1), By: "KB", Kind: model.StripCut, Lock: "b", Blade: "rip-24", Mounting: on.Ref(), For: model.ForBlade, Readings: []model.Measure{mm(120_500_000)}}
	more := strip
	more.By, more.Of, more.Readings = "AB", strip.Ref(), []model.Measure{mm(120_100_000)}
	inOneSecond := []model.Record{
		{At: at(1), By: "KB", Kind: model.FenceLock, Lock: "b", Width: mm(120_000_000)}, on, strip, more,
		{At: at(1), By: "KB", Kind: model.Note, Text: "a word"},
		{At: at(1), By: "KB", Kind: model.Void, Of: note(1, "KB", "").Ref(), Why: "z: not a word"},
		{At: at(1), By: "AB", Kind: model.Void, Of: "2026-03-02T07:30:01Z KB void", Why: "a: a word after all"},
		{At: at(1), By: "KB", Kind: model.FenceMoved, Lock: "b"},
	}
	p := withRecords(chosenDemo(), inOneSecond)
	f := written(t, p)
	if _, err := Read(f.Path); err != nil {
		t.Fatal(err)
	}
	other := withRecords(p, []model.Record{note(0, "AB", "before")})
	m, _ := Merge(p, other)
	if faults := checked("", m, 0).Faults(); len(faults) > 0 || len(m.Records) != len(inOneSecond)+1 {
		t.Errorf("%v\n%s", faults, strings.Join(recordTexts(m), ""))
	}
	if texts := recordTexts(m); slices.Index(texts, text.FormatRecord(more)) < slices.Index(texts, text.FormatRecord(strip)) {
		t.Errorf("further readings are not behind the first:\n%s", strings.Join(recordTexts(m), ""))
	}
	// two that wait for each other stand in some order, the same from either side
	a, b := inOneSecond[4], inOneSecond[5]
	a.Of = b.Ref()
	x, _ := Merge(withRecords(p, []model.Record{a}), withRecords(p, []model.Record{b}))
	y, _ := Merge(withRecords(p, []model.Record{b}), withRecords(p, []model.Record{a}))
	if len(x.Records) != 2 || text.Format(x) != text.Format(y) {
		t.Errorf("%s", text.Format(x))
	}
}

func TestEveryKindHasItsRank(t *testing.T) {
	for k := range model.KindTable {
		if _, ok := rank[k]; !ok {
			t.Errorf("%s has no place among records of one instant", k)
		}
	}
}

// TestOneInstantIsReadInTheOrderOfTheWork: what one second holds stands as the work goes.
// Hands come out of isolation; what is in comes out before it is cleaned and measured; the
// fence is moved, and read, before it is locked, since either ends a lock; a blade goes on
// before anything is looked at on it, and is cut with last; what corrects or voids a record
// stands behind all that it may name. Typed from the order of the stages, not read off ours.
func TestOneInstantIsReadInTheOrderOfTheWork(t *testing.T) {
	work := []model.Kind{
		model.Isolation, model.TakenOff, model.Arbor, model.Found, model.Remeasured, model.FenceMoved, model.Scale, model.FenceLock, model.Mount,
		model.Line, model.HeelToe, model.Rim, model.Boards, model.KnifeSet, model.StripCut, model.Kept, model.Box, model.Note, model.Correction, model.Void,
	}
	for i := range work[1:] {
		first, then := model.Record{At: at(1), By: "KB", Kind: work[i]}, model.Record{At: at(1), By: "KB", Kind: work[i+1]}
		for _, sides := range [][2][]model.Record{{{first}, {then}}, {{then}, {first}}, {{then, first}, nil}} {
			if got := union(sides[0], sides[1]); len(got) != 2 || got[0].Kind != first.Kind {
				t.Errorf("%s comes before %s", then.Kind, first.Kind)
			}
		}
	}
}

func TestMergeReportsTheHeadKeyByKey(t *testing.T) {
	mine, theirs := chosenDemo(), chosenDemo()
	mine.Tolerance = mm(80_000)
	theirs.Saw.Label = "Bay 2"
	theirs.Blades = slices.Clone(theirs.Blades)
	theirs.Blades[1].Kerf = []model.Measure{mm(2_950_000)}
	mine.Rings = slices.Delete(slices.Clone(mine.Rings), 1, 2)
	mine.Standing = []string{}
	merged, d := Merge(mine, theirs)
	want := []text.Difference{
		{Path: "tolerance", Mine: "0.08 mm", Theirs: "0.1 mm"}, {Path: "saw.label", Mine: "Practice bay saw", Theirs: "Bay 2"}, {Path: "blades[rip-24].kerf", Mine: "[3.003 mm, 2.998 mm, 3.001 mm]", Theirs: "[2.95 mm]"},
		{Path: "rings[r15]", Mine: "not given", Theirs: "{id: r15, thickness: 0.15 mm, measured: 0.149 mm, count: 1, outer: 78 mm, bore: 30 mm}"}, {Path: "standing", Mine: "[]", Theirs: "[r10]"},
	}
	if !slices.Equal(d, want) {
		t.Errorf("got  %v\nwant %v", d, want)
	}
	if !text.SameHead(merged, mine) || !text.SameHead(Take(mine, theirs, Mine), mine) || !text.SameHead(Take(mine, theirs, Theirs), theirs) {
		t.Error("the head is not that of the side chosen")
	}
}

func TestWhatRecordsNameComesAlong(t *testing.T) {
	mine, theirs := chosenDemo(), chosenDemo()
	theirs.Knives = append(slices.Clone(theirs.Knives), model.Knife{ID: "k22", Thickness: mm(2_200_000)})
	blade := theirs.Blades[1]
	blade.ID, blade.Label, blade.Knife = "rip-20", "20-tooth rip", "k22"
	theirs.Blades = append(slices.Clone(theirs.Blades), blade)
	theirs.Rings = append(slices.Clone(theirs.Rings), model.Ring{ID: "r05", Thickness: mm(50_000), Count: 1})
	theirs.Records = []model.Record{{At: at(1), By: "AB", Kind: model.Mount, Blade: "rip-20", Rings: []string{"r05"}}}
	merged := Take(mine, theirs, Mine)
	b, _ := merged.BladeByID("rip-20")
	r, ok := merged.RingByID("r05")
	if !b.Retired || !ok || r.Count != 0 {
		t.Errorf("%+v %+v", b, r)
	}
	if f := merged.Validate(); len(f) > 0 {
		t.Error(f)
	}
}

// twoShifts is one profile in two files, as two shifts carry it on.
func twoShifts(t *testing.T) (first, second File) {
	t.Helper()
	p := chosenDemo()
	p.Records = everyKind()[:4]
	dir := t.TempDir()
	first, err := Create(filepath.Join(dir, "first.yaml"), p)
	if err != nil {
		t.Fatal(err)
	}
	second, err = Create(filepath.Join(dir, "second.yaml"), p)
	if err != nil {
		t.Fatal(err)
	}
	return first, second
}

func saved(t *testing.T, f File, p model.Profile) File {
	t.Helper()
	f, _, err := f.Save(p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func plus(p model.Profile, records ...model.Record) model.Profile {
	p.Records = slices.Concat(p.Records, records)
	return p
}

func TestBothShiftsEndWithTheSameBytes(t *testing.T) {
	first, second := twoShifts(t)
	for i := range 5 {
		first = saved(t, first, plus(first.Profile, note(200+7*i, "KB", fmt.Sprint("first ", i))))
		second = saved(t, second, plus(second.Profile, note(203+5*i, "AB", fmt.Sprint("second ", i))))
	}
	a, _ := Merge(first.Profile, second.Profile)
	b, _ := Merge(second.Profile, first.Profile)
	first, second = saved(t, first, a), saved(t, second, b)
	if x, y := bytesOf(t, first.Path), bytesOf(t, second.Path); x != y {
		t.Errorf("first\n%s\nsecond\n%s", x, y)
	}
	if n := len(read(t, first.Path).Profile.Records); n != 14 {
		t.Errorf("%d records, want 14", n)
	}
	// and once more: nothing changes
	before := bytesOf(t, first.Path)
	a, _ = Merge(first.Profile, second.Profile)
	if first = saved(t, first, a); bytesOf(t, first.Path) != before {
		t.Error("a second import changes the file")
	}
}

// TestMergePutsTheOtherShiftsBladesBack: the state after a merge is the fold of all
// records, so that a datum that one shift moved unsettles the other shift's blade.
func TestMergePutsTheOtherShiftsBladesBack(t *testing.T) {
	width := []model.Measure{mm(120_000_000)}
	base := chosenDemo()
	base.Records = []model.Record{
		{At: at(0), By: "KB", Kind: model.FenceLock, Lock: "a", Width: mm(120_000_000)},
		{At: at(5), By: "KB", Kind: model.Mount, Blade: "general-48", Rings: []string{"r10"}},
	}
	base = plus(base, model.Record{At: at(10), By: "KB", Kind: model.StripCut, Lock: "a", Blade: "general-48", Rings: []string{"r10"}, Mounting: base.Records[1].Ref(), For: model.Datum, Readings: width})
	on := model.Record{At: at(28), By: "AB", Kind: model.Mount, Blade: "rip-24", Rings: []string{"r10", "r10"}}
	strip := model.Record{At: at(30), By: "AB", Kind: model.StripCut, Lock: "a", Blade: "rip-24", Rings: on.Rings, Mounting: on.Ref(), For: model.ForBlade, Readings: width}
	sharp := model.Record{At: at(35), By: "KB", Kind: model.Sharpened, Blade: "general-48", Plate: []model.Measure{mm(2_200_000)}, Kerf: []model.Measure{mm(3_150_000)}, Datum: model.DatumMoves}
	other := model.Record{At: at(25), By: "KB", Kind: model.Sharpened, Blade: "thin-40", Plate: []model.Measure{mm(1_600_000)}, Kerf: []model.Measure{mm(2_380_000)}}
	counting := func(s model.State) (n int) {
		for _, strip := range s.Strips {
			if strip.Blade == "rip-24" && strip.Present {
				n++
			}
		}
		return n
	}
	second := plus(base, on, strip)
	both, _ := Merge(plus(base, other), second)
	if state := model.Fold(both); counting(state) != 1 || state.Blades["thin-40"].Kerf[0] != mm(2_380_000) {
		t.Error("two blades re-run on one day do not both survive")
	}
	moved, _ := Merge(plus(base, sharp), second)
	if state := model.Fold(moved); counting(state) != 0 {
		t.Error("the datum has moved since that strip, and it still counts")
	}
	void := model.Record{At: at(40), By: "AB", Kind: model.Void, Of: strip.Ref(), Why: "wrong strip"}
	voided, _ := Merge(second, plus(base, on, strip, void))
	if state := model.Fold(voided); counting(state) != 0 || len(voided.Records) != len(second.Records)+1 {
		t.Error("a void does not travel")
	}
}

func TestCommentsStayWithTheirRecords(t *testing.T) {
	first, second := twoShifts(t)
	text := strings.Replace(bytesOf(t, first.Path), "  - at: 2026-03-02T07:30:20Z\n", "  # the new mark\n  - at: 2026-03-02T07:30:20Z # early\n", 1)
	if err := ReplaceFile(first.Path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	second = saved(t, second, plus(second.Profile, note(40, "AB", "theirs")))
	m, _ := Merge(read(t, first.Path).Profile, withRecords(second.Profile, append([]model.Record{{At: at(15), By: "AB", Kind: model.Note, Text: "between"}}, second.Profile.Records...)))
	saved(t, read(t, first.Path), m)
	got := bytesOf(t, first.Path)
	i, j := strings.Index(got, "text: between"), strings.Index(got, "  # the new mark\n  - at: 2026-03-02T07:30:20Z # early\n")
	if i < 0 || j < i || len(read(t, first.Path).Profile.Records) != 6 {
		t.Errorf("%s", got)
	}
}
