package profiles

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/testdata/sample"
)

var at, mm, note, everyKind = sample.At, sample.MM, sample.Note, sample.EveryKind

// chosenDemo is the invented shop with its datum chosen.
func chosenDemo() model.Profile { return sample.Chosen(Demo()) }

func sameProfile(a, b model.Profile) bool { return text.Format(a) == text.Format(b) }

func indented(lines, by string) string {
	return by + strings.ReplaceAll(strings.TrimSuffix(lines, "\n"), "\n", "\n"+by) + "\n"
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
		t.Errorf("read back:\n%s\nwritten:\n%s", text.Format(back.Profile), text.Format(p))
	}
	if len(back.Unfinished) > 0 {
		t.Error(back.Unfinished)
	}
}

func TestSaveAddsRecordsAndKeepsEveryEarlierByte(t *testing.T) {
	head := strings.TrimSuffix(string(demo), "records: # what was done and read, oldest first; never edited, only added to\n")
	item := "- at: 2026-03-02T07:00:00Z\n  by: AB\n  kind: note\n  text: first\n"
	for name, text := range map[string]string{
		"nothing behind the key": head + "records:\n",
		"a comment behind it":    head + "records: # all of them\n# and a last word",
		"no key":                 head,
		"no end of line":         head + "records:\n" + strings.TrimSuffix(item, "\n"),
		"lines of Windows":       strings.ReplaceAll(head+"records:\n"+item, "\n", "\r\n"),
		"dashes at the margin":   head + "records:\n" + item + "# done\n",
		"dashes far in":          head + "records:\n" + indented(item, "      ") + "\n\n",
		"quoted over two lines":  head + "records:\n" + indented(item, "  ") + "  - {at: 2026-03-02T07:00:00Z, by: AB, kind: note, text: \"one\n      two\"}\n",
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
	head := strings.TrimSuffix(string(demo), "records: # what was done and read, oldest first; never edited, only added to\n")
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

// TestNothingIsWrittenThatIsTooLarge: what could not be read again is not saved.
func TestNothingIsWrittenThatIsTooLarge(t *testing.T) {
	f := written(t, chosenDemo())
	long := append([]byte(bytesOf(t, f.Path)), strings.Repeat("# "+strings.Repeat("x", 1021)+"\n", text.MaxFile>>10-4)...)
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

// TestCommentsStay: above the first key too, whatever sets them apart and however the lines
// end, where the head changes.
func TestCommentsStay(t *testing.T) {
	for name, text := range map[string]string{
		"close":         "# our saw\n# ask Jo\nsawdatum: 1 # yes\nname: bay-two # Jo's\n# below\nrecords:\n",
		"apart":         "# our saw\n\n# ask Jo\n\n\nsawdatum: 1 # yes\n\n# named\n\nname: bay-two # Jo's\n# below\nrecords:\n",
		"with a begin":  "# our saw\n--- # ask Jo\n\n# once more\nsawdatum: 1\nname: bay-two\n# below\nrecords:\n",
		"with a mark":   "\ufeff# our saw\n\nsawdatum: 1\nname: bay-two\n# below\nrecords:\n",
		"to be evened":  "# our saw\n\nsawdatum: 1\nname: bay-two\n# below\nrecords: [{at: 2026-03-02T07:00:00Z, by: AB, kind: note, text: x}] # listed\n",
		"wholly inside": "# our saw\n\n  sawdatum: 1\n  name: bay-two\n  # below\n  records:\n",
		"in an old way": "# our saw\n\nsawdatum: 0\nname: bay-two\nwidth: 110 mm # of the old fence\n# below\nrecords:\n",
	} {
		for _, text := range []string{text, strings.ReplaceAll(text, "\n", "\r\n")} {
			path := filepath.Join(t.TempDir(), "bay.yaml")
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			f := read(t, path)
			next := f.Profile
			next.Units = model.MM
			saved(t, f, next)
			got := bytesOf(t, path)
			for line := range strings.Lines(text) {
				if _, comment, ok := strings.Cut(line, "#"); ok && strings.Count(got, "#"+strings.TrimRight(comment, "\r\n")) != 1 {
					t.Errorf("%s: %q stands %d times in\n%q", name, comment, strings.Count(got, comment), got)
				}
			}
			if strings.Contains(text, "\r") && strings.Count(got, "\n") != strings.Count(got, "\r\n") {
				t.Errorf("%s: the lines end otherwise in\n%q", name, got)
			}
			if name == "close" {
				if want := strings.Replace(text, "# below", "units: mm"+map[bool]string{true: "\r"}[strings.Contains(text, "\r")]+"\n# below", 1); got != want {
					t.Errorf("got\n%q\nwant\n%q", got, want)
				}
			}
		}
	}
}

// TestALostCommentIsKept: what the YAML library drops is kept beside, and that is said.
func TestALostCommentIsKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "bay.yaml")
	text := "sawdatum: 1\nname: bay-two\nrings:\n  - {id: r10, thickness: 0.1 mm, count: 1}\n# from Jo\n\n  - {id: r20, thickness: 0.2 mm, count: 1}\nrecords:\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	f := read(t, path)
	next := f.Profile
	next.Units = model.MM
	_, report, err := f.Save(next)
	if err != nil {
		t.Fatal(err)
	}
	if kept := filepath.Join(filepath.Dir(path), "bay.before.yaml"); !strings.Contains(bytesOf(t, path), "# from Jo") && (report.Kept != kept || bytesOf(t, kept) != text) {
		t.Errorf("%+v: %s", report, bytesOf(t, path))
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
