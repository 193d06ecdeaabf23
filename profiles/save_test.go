package profiles

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
)

// at is an instant of the invented shop's first day.
func at(seconds int) time.Time {
	return time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC).Add(time.Duration(seconds) * time.Second)
}

func mm(nm int) model.Measure { return model.Length(nm).Of(model.MM) }

func note(seconds int, by, text string) model.Record {
	return model.Record{At: at(seconds), By: by, Kind: model.Note, Text: text}
}

// chosenDemo is the invented shop with its datum chosen.
func chosenDemo() model.Profile {
	p := Demo()
	p.Reference, p.Standing = "general-48", []string{"r10"}
	return p
}

// everyKind is one record of each kind, with every key filled.
func everyKind() []model.Record {
	three := []model.Measure{mm(120_010_000), mm(120_020_000), mm(120_010_000)}
	return []model.Record{
		{At: at(0), By: "KB", Kind: model.Isolation, RunDown: 6500 * time.Millisecond, How: "unplugged", Dead: "dead"},
		{At: at(10), By: "KB", Kind: model.Arbor, Dial: []model.Measure{mm(0), mm(-10_000), mm(10_000)}},
		{At: at(20), By: "KB", Kind: model.Mount, Blade: "general-48", Rings: []string{"r10"}, Knife: "k25"},
		{At: at(30), By: "KB", Kind: model.FenceLock, Lock: "20260302-073030-KB", Width: mm(120_000_000)},
		{At: at(40), By: "KB", Kind: model.Boards, Lock: "20260302-073030-KB", Blade: "general-48", Rings: []string{"r10"}, Length: mm(900_000_000), Lead: mm(120_010_000), Tail: mm(120_020_000)},
		{At: at(50), By: "KB", Kind: model.KnifeSet, Knife: "k25", Lock: "20260302-073030-KB", Blade: "general-48", Rings: []string{"r10"}, Gaps: []model.Measure{mm(0), mm(50_000), mm(0), mm(50_000)}},
		{At: at(60), By: "KB", Kind: model.Scale, Pairs: []model.Pair{{Set: mm(50_000_000), Read: mm(50_100_000)}, {Set: mm(150_000_000), Read: mm(150_120_000)}}, Cursor: mm(-110_000)},
		{At: at(100), By: "KB", Kind: model.FenceMoved, Lock: "20260302-073030-KB"},
		{At: at(110), By: "KB", Kind: model.Sharpened, Blade: "rip-24", Plate: []model.Measure{mm(2_201_000)}, Kerf: []model.Measure{{Length: 2_778_125, Unit: model.Fraction}}},
		{At: at(115), By: "KB", Kind: model.Remeasured, Blade: "rip-24", Plate: []model.Measure{mm(2_201_000)}, Kerf: []model.Measure{mm(2_779_000)}, Runout: mm(40_000)},
		{At: at(117), By: "KB", Kind: model.Remeasured, Back: true, Blade: "rip-24", Plate: []model.Measure{mm(2_201_000)}, Kerf: []model.Measure{mm(2_700_000)}, Runout: mm(30_000)},
		{At: at(120), By: "KB", Kind: model.Note, About: model.AboutLeft, Blade: "thin-40", Text: "set aside: no knife"},
		{At: at(130), By: "KB", Kind: model.Void, Of: "2026-03-02T07:31:55Z KB measured", Why: "read the wrong blade"},
		{At: at(140), By: "KB", Kind: model.TakenOff, Rings: []string{}, Knife: "k25"},
		{At: at(141), By: "KB", Kind: model.Line, Blade: "general-48", Rings: []string{"r10"}, Knife: "k25", TipGap: mm(5_000_000), Faces: []model.Measure{mm(0), mm(50_000)}},
		{At: at(142), By: "KB", Kind: model.HeelToe, Blade: "general-48", Span: mm(200_000_000), SlotFront: mm(95_000_000), SlotRear: mm(95_030_000), FenceFront: mm(120_000_000), FenceRear: mm(120_040_000)},
		{At: at(143), By: "KB", Kind: model.Rim, Blade: "general-48", Dial: []model.Measure{mm(10_000), mm(0), mm(-10_000)}, DialTurned: []model.Measure{mm(0), mm(20_000), mm(-10_000)}, TurnedDeg: 90},
		{At: at(144), By: "KB", Kind: model.StripCut, Lock: "20260302-073030-KB", Blade: "general-48", Rings: []string{"r10"}, Mounting: "2026-03-02T07:30:20Z KB mount", For: model.Datum, Readings: three},
		{At: at(145), By: "KB", Kind: model.Mount, Blade: "rip-24", Rings: []string{}, Knife: "k25"},
		{At: at(146), By: "KB", Kind: model.StripCut, Lock: "20260302-073030-KB", Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", For: model.ForBlade, Differences: []model.Measure{mm(-10_000), mm(0)},
			Zeroed: []string{"2026-03-02T07:32:24Z KB strip", "2026-03-02T07:32:24Z KB strip"}},
		{At: at(147), By: "KB", Kind: model.StripCut, Lock: "20260302-073030-KB", Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", For: model.ForBlade, Readings: three, Of: "2026-03-02T07:32:26Z KB strip"},
		{At: at(148), By: "KB", Kind: model.Correction, Of: "2026-03-02T07:32:27Z KB strip", Lock: "20260302-073030-KB", Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", For: model.ForBlade, Readings: three[:2]},
		{At: at(149), By: "KB", Kind: model.Correction, Of: "2026-03-02T07:32:20Z KB taken_off", Rings: []string{}, Left: "k25"},
		{At: at(150), By: "KB", Kind: model.Sharpened, Blade: "general-48", Plate: []model.Measure{mm(2_201_000)}, Kerf: []model.Measure{mm(3_180_000)}, Datum: model.DatumStays},
		{At: at(151), By: "KB", Kind: model.Remeasured, Blade: "rip-24", Plate: []model.Measure{mm(2_201_000)}, Kerf: []model.Measure{mm(2_779_000)}, ToothPlate: []model.Measure{mm(2_210_000)}, Runout: mm(40_000), Back: true},
		{At: at(152), By: "KB", Kind: model.Box, Blade: "rip-24", Knife: "k25"},
		{At: at(153), By: "KB", Kind: model.Found, Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", Text: model.NothingFound},
		{At: at(154), By: "KB", Kind: model.Isolation, Still: true, How: "unplugged", Dead: "dead"},
		{At: at(155), By: "KB", Kind: model.Isolation, RunDown: 12 * time.Second, Typed: true, How: "unplugged", Dead: "dead", Answers: "R. Moor, plant"},
	}
}

func written(t *testing.T, p model.Profile) File {
	t.Helper()
	f, err := Create(filepath.Join(t.TempDir(), "bay.yaml"), p)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func bytesOf(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func read(t *testing.T, path string) File {
	t.Helper()
	f, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestEveryKindComesBackAsWritten(t *testing.T) {
	p := chosenDemo()
	p.Records = everyKind()
	if len(p.Records) <= len(model.KindTable) {
		t.Fatal("a kind is not tried here")
	}
	f := written(t, p)
	back := read(t, f.Path)
	if !sameProfile(back.Profile, p) {
		t.Errorf("read back:\n%s\nwritten:\n%s", Format(back.Profile), Format(p))
	}
	if len(back.Unfinished) > 0 {
		t.Error(back.Unfinished)
	}
}

func TestSaveAddsRecordsAndKeepsEveryEarlierByte(t *testing.T) {
	head := strings.TrimSuffix(string(demo), recordsLine)
	item := "- at: 2026-03-02T07:00:00Z\n  by: AB\n  kind: note\n  text: first\n"
	for name, text := range map[string]string{
		"nothing behind the key": head + "records:\n",
		"a comment behind it":    head + "records: # all of them\n# and a last word",
		"no key":                 head,
		"no end of line":         head + "records:\n" + strings.TrimSuffix(item, "\n"),
		"lines of Windows":       strings.ReplaceAll(head+"records:\n"+item, "\n", "\r\n"),
		"dashes at the margin":   head + "records:\n" + item + "# done\n",
		"dashes far in":          head + "records:\n" + indent(item, "      ") + "\n\n",
		"quoted over two lines":  head + "records:\n" + indent(item, "  ") + "  - {at: 2026-03-02T07:00:00Z, by: AB, kind: note, text: \"one\n      two\"}\n",
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "bay.yaml")
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := os.Chmod(path, 0o662); err != nil { // what no usual umask gives
				t.Fatal(err)
			}
			f := read(t, path)
			for i := range 3 {
				next := f.Profile
				next.Records = append(slices.Clip(next.Records), note(i, "KB", "said: \"yes\" # no"))
				var err error
				if f, _, err = f.Save(next); err != nil {
					t.Fatal(err)
				}
				now := bytesOf(t, path)
				if !strings.HasPrefix(now, text) {
					t.Fatalf("earlier bytes changed:\n%s", now)
				}
				if back := read(t, path); !sameProfile(back.Profile, next) {
					t.Fatalf("reads back differently:\n%s", now)
				}
			}
			if info, _ := os.Stat(path); info.Mode().Perm() != 0o662 && runtime.GOOS != "windows" {
				t.Errorf("permissions are %v", info.Mode())
			}
			if now := bytesOf(t, path); strings.Contains(text, "\r") && strings.Count(now, "\n") != strings.Count(now, "\r\n") {
				t.Errorf("two kinds of line ends:\n%q", now)
			}
		})
	}
}

func TestSaveIntoAnEmptyListOrAnAwkwardOne(t *testing.T) {
	head := strings.TrimSuffix(string(demo), recordsLine)
	for name, text := range map[string]string{
		"empty":        head + "records: [] # all of them\n# end\n",
		"empty, wide":  head + "records: [  ]\n",
		"over two":     head + "records: [\n]\n",
		"with a word":  head + "records: [ # none yet\n  ] # c\n",
		"on one line":  head + "records: [{at: 2026-03-02T07:00:00Z, by: AB, kind: note, text: first}] # c\n",
		"document end": head + "records:\n- at: 2026-03-02T07:00:00Z\n  by: AB\n  kind: note\n  text: first # c\n...\n",
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "bay.yaml")
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			f := read(t, path)
			next := f.Profile
			next.Records = append(slices.Clip(next.Records), note(1, "KB", "second"))
			f, _, err := f.Save(next)
			if err != nil {
				t.Fatal(err)
			}
			if back := read(t, path); !sameProfile(back.Profile, next) || len(f.Profile.Records) != len(next.Records) {
				t.Fatalf("reads back differently:\n%s", bytesOf(t, path))
			}
			if strings.Contains(text, "#") && !strings.Contains(bytesOf(t, path), "#") {
				t.Errorf("a comment is lost:\n%s", bytesOf(t, path))
			}
		})
	}
}

func TestSaveRewritesTheHeadAndKeepsCommentsAndOrder(t *testing.T) {
	text := `# our saw
sawdatum: 1
units: mm  # we work in millimetres
name: bay-two
tolerance: 0.050 mm
saw:
  # ask Jo before changing this
  fence_side: right
  tilt: left
rings: # in the red tin
  - id: r25
    thickness: 0.250 mm # as printed
    count: 1
# below: what we did
records:   # the log
  # the first day
  - {at: 2026-03-02T07:00:00Z, by: AB, kind: note, text: first}
`
	path := filepath.Join(t.TempDir(), "bay.yaml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	f := read(t, path)
	next := f.Profile
	next.WorkingWidth = mm(120_000_000)
	next.Saw.Flange = model.Near
	next.Rings = append(slices.Clip(next.Rings), model.Ring{ID: "r50", Thickness: mm(500_000), Count: 2})
	next.Records = append(slices.Clip(next.Records), note(5, "KB", "a ring more"))
	if _, _, err := f.Save(next); err != nil {
		t.Fatal(err)
	}
	want := `# our saw
sawdatum: 1
units: mm # we work in millimetres
name: bay-two
tolerance: 0.050 mm
working_width: 120 mm
saw:
  # ask Jo before changing this
  fence_side: right
  flange: near
  tilt: left
rings: # in the red tin
  - id: r25
    thickness: 0.250 mm # as printed
    count: 1
  - {id: r50, thickness: 0.5 mm, count: 2}
# below: what we did
records:   # the log
  # the first day
  - {at: 2026-03-02T07:00:00Z, by: AB, kind: note, text: first}
  - at: 2026-03-02T07:30:05Z
    by: KB
    kind: note
    text: a ring more
`
	if got := bytesOf(t, path); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestNothingIsWrittenThatReadsDifferently hands over records in a layout that is not
// the text's: what would be written is read back, and made in another way.
func TestNothingIsWrittenThatReadsDifferently(t *testing.T) {
	for name, wrong := range map[string]layout{
		"no key":         {form: absent},
		"dashes too far": {form: listed, indent: "      ", line: 1},
		"an empty list":  {form: empty, line: 2, value: 1},
	} {
		f := written(t, plus(chosenDemo(), note(1, "KB", "first")))
		wrong.items = f.layout.items
		f.layout = wrong
		next := plus(f.Profile, note(2, "KB", "second"))
		out, err := f.rewrite(next, true)
		if p, faults := Parse("", out.data); err != nil || len(faults) > 0 || !sameProfile(p, next) || !slices.Equal(out.layout.items, parse("", out.data).layout.items) {
			t.Errorf("%s: %v, %v:\n%s", name, err, faults, out.data)
		}
	}
}

// TestNothingIsWrittenThatIsTooLarge: what could not be read again is not saved.
func TestNothingIsWrittenThatIsTooLarge(t *testing.T) {
	f := written(t, chosenDemo())
	long := append([]byte(bytesOf(t, f.Path)), strings.Repeat("# "+strings.Repeat("x", 1021)+"\n", MaxFile>>10-4)...)
	if err := os.WriteFile(f.Path, long, 0o600); err != nil {
		t.Fatal(err)
	}
	f = read(t, f.Path)
	next := f.Profile
	for i := range 30 {
		next = plus(next, note(i, "KB", strings.Repeat("y", 200)))
	}
	if _, _, err := f.Save(next); err == nil || !strings.Contains(err.Error(), "the file is too large") || bytesOf(t, f.Path) != string(long) {
		t.Error(err)
	}
}

// TestACommentOfWindowsStays: also above the first key, where the head changes.
func TestACommentOfWindowsStays(t *testing.T) {
	text := strings.ReplaceAll("# our saw\n# ask Jo\nsawdatum: 1 # yes\nname: bay-two # Jo's\n# below\nrecords:\n", "\n", "\r\n")
	path := filepath.Join(t.TempDir(), "bay.yaml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	f := read(t, path)
	next := f.Profile
	next.Units = model.MM
	saved(t, f, next)
	if got, want := bytesOf(t, path), strings.Replace(text, "# below", "units: mm\r\n# below", 1); got != want {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
}

func TestNoStandingStackIsAChoice(t *testing.T) {
	f := written(t, Demo())
	next := f.Profile
	next.Reference = "general-48"
	f = saved(t, f, next)
	next.Standing = []string{}
	saved(t, f, next)
	if back := read(t, f.Path); back.Profile.Standing == nil || len(back.Unfinished) > 0 {
		t.Errorf("%v %v", back.Profile.Standing, back.Unfinished)
	}
}

func TestSaveSweepsUpAfterAKilledOne(t *testing.T) {
	f := written(t, chosenDemo())
	dir := filepath.Dir(f.Path)
	old, fresh, other := filepath.Join(dir, ".bay.yaml.1-0.tmp"), filepath.Join(dir, ".bay.yaml.2-0.tmp"), filepath.Join(dir, ".other.yaml.1-0.tmp")
	for _, name := range []string{old, fresh, other} {
		if err := os.WriteFile(name, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{old, other} {
		if err := os.Chtimes(name, at(0), at(0)); err != nil {
			t.Fatal(err)
		}
	}
	saved(t, f, plus(f.Profile, note(1, "KB", "one")))
	if left, _ := filepath.Glob(filepath.Join(dir, ".*.tmp")); !slices.Equal(left, []string{fresh, other}) {
		t.Error(left)
	}
}
