package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/wizard"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// twoCopies are two copies of a shop whose heads differ in three values, each with a
// note of its own.
func twoCopies(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	for i, name := range []string{"mine", "theirs"} {
		p := profiles.Demo()
		p.Records = []model.Record{{At: noon.AddDate(0, 0, i), By: "KB", Kind: model.Note, Text: "by " + name}}
		if name == "theirs" {
			p.Tolerance, p.WorkingWidth = (80_000 * model.Nanometre).Of(model.MM), (100 * model.Millimetre).Of(model.MM)
			p.Saw.Label = "Bay 2 saw"
		}
		if _, err := profiles.Create(filepath.Join(dir, name+".yaml"), p); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// importing runs import in a terminal and answers its questions, line by line.
func importing(t *testing.T, dir string, lines ...string) (status int, said string) {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(path, "import", "theirs.yaml", "--into", "mine.yaml")
	c.Dir = dir
	c.Env = []string{"HOME=" + dir, "SAWDATUM_DIR=" + dir, "TERM=dumb"}
	term, err := terminal.Start(c, 120, 40, false)
	if err != nil {
		t.Fatal(err)
	}
	defer term.Close()
	for i, line := range lines {
		asked := func(string) bool { return strings.Count(term.Output(), "> ") == i+1 }
		if err := term.Wait(fmt.Sprintf("question %d", i+1), patience, asked); err != nil {
			t.Fatal(err)
		}
		if err := term.Type(line); err != nil {
			t.Fatal(err)
		}
	}
	status, err = term.Exit(patience)
	if err != nil {
		t.Fatal(err)
	}
	return status, term.Output()
}

// TestImportAsksForEachValue: where the heads differ and there is a terminal, each value
// is chosen by itself, and nothing by an empty line.
func TestImportAsksForEachValue(t *testing.T) {
	t.Parallel()
	dir := twoCopies(t)
	status, said := importing(t, dir, "\n", "m\n", "Theirs\n", "mine\n", "theirs\n")
	for _, want := range []string{
		"The two copies do not agree on 3 values. Mine is mine.yaml, theirs is theirs.yaml.",
		"Question 1 of 3. tolerance (type mine or theirs).", "Mine: 0.1 mm", "Theirs: 0.08 mm", "Nothing typed: type mine or theirs", `"m" is neither`,
		"Question 2 of 3. working_width", "Question 3 of 3. saw.label", "mine.yaml: 1 record taken over",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q", want)
		}
	}
	f, err := profiles.Read(filepath.Join(dir, "mine.yaml"))
	if err != nil || status != done {
		t.Fatal(status, err, said)
	}
	p, width := f.Profile, profiles.Demo().WorkingWidth
	if p.Tolerance.String() != "0.08 mm" || p.WorkingWidth != width || p.Saw.Label != "Bay 2 saw" || len(p.Records) != 2 {
		t.Errorf("tolerance %s, width %s, saw %s, %d records", p.Tolerance, p.WorkingWidth, p.Saw.Label, len(p.Records))
	}
}

// TestImportAsksForWhatIsDatedAhead: a record from well after now is taken over where
// somebody says so, and no saw is set up on from it.
func TestImportAsksForWhatIsDatedAhead(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	for _, name := range []string{"mine", "theirs"} {
		p := profiles.Demo()
		if name == "theirs" {
			p.Records = []model.Record{{At: time.Now().AddDate(0, 0, 2).UTC().Truncate(time.Second), By: "KB", Kind: model.Note, Text: "late"}}
		}
		if _, err := profiles.Create(filepath.Join(dir, name+".yaml"), p); err != nil {
			t.Fatal(err)
		}
	}
	before := read(t, dir, "mine.yaml")
	for _, answer := range []string{"no\n", "\x04"} {
		status, said := importing(t, dir, answer)
		if status != answerNo || !strings.Contains(said, "1 record dated well after now: records[0].at: ") || !strings.Contains(said, "theirs.yaml: nothing was written: ") || read(t, dir, "mine.yaml") != before {
			t.Errorf("status %d: %s", status, said)
		}
	}
	if status, said := importing(t, dir, "\n", "yes\n"); status != done || !strings.Contains(said, "1 record taken over") {
		t.Errorf("status %d: %s", status, said)
	}
	if _, err := inStep(profiles.Read(filepath.Join(dir, "mine.yaml"))); err == nil || !strings.Contains(err.Error(), "mine.yaml:") {
		t.Error(err)
	}
	if status, _ := importing(t, dir, "no\n"); status != answerNo {
		t.Error("what is ahead in one's own file is not asked for")
	}
}

func TestImportThatIsLeftChangesNothing(t *testing.T) {
	t.Parallel()
	dir := twoCopies(t)
	before := read(t, dir, "mine.yaml")
	for last, why := range map[string]string{"quit\n": "left before the end", "\x04": "the input ended before the question was answered"} {
		status, said := importing(t, dir, "theirs\n", last)
		if status != answerNo || !strings.Contains(said, "mine.yaml: nothing was written: "+why) {
			t.Errorf("%q: status %d: %s", last, status, said)
		}
	}
	if read(t, dir, "mine.yaml") != before {
		t.Error("the profile has changed")
	}
}

func TestImportRefusesWhatDoesNotGoTogether(t *testing.T) {
	t.Parallel()
	dir := twoCopies(t)
	f, err := profiles.Read(filepath.Join(dir, "mine.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	p := f.Profile
	p.Tolerance, p.WorkingWidth, p.Saw.Label = (80_000 * model.Nanometre).Of(model.MM), (100 * model.Millimetre).Of(model.MM), "Bay 2 saw"
	p.Rings = append(p.Rings, model.Ring{ID: "r05", Thickness: (50_000 * model.Nanometre).Of(model.MM), Count: 1})
	p.Standing = []string{"r05"}
	if _, _, err := f.Save(p); err != nil {
		t.Fatal(err)
	}
	before := read(t, dir, "mine.yaml")
	status, said := importing(t, dir, "theirs\n", "mine\n") // the ring goes, and is to stay behind the reference
	if status != answerNo || !strings.Contains(said, "what was chosen does not go together and nothing was written: ") || !strings.Contains(said, "standing[0]: ") {
		t.Errorf("status %d: %s", status, said)
	}
	if read(t, dir, "mine.yaml") != before {
		t.Error("the profile has changed")
	}
	if _, err := os.Stat(filepath.Join(dir, "mine.mine.yaml")); err == nil {
		t.Error("something was written beside")
	}
}

// TestTheCureOfAConflictWorks: where both have changed the head, the wizard names a
// command with real paths, and that command brings the two together.
func TestTheCureOfAConflictWorks(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "bay 2's saw")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	f, err := profiles.Create(filepath.Join(dir, "shop.yaml"), profiles.Demo())
	if err != nil {
		t.Fatal(err)
	}
	store, other := storeOf(f), f.Profile
	other.Tolerance = (80_000 * model.Nanometre).Of(model.MM)
	if _, _, err := f.Save(other); err != nil {
		t.Fatal(err)
	}
	mine := f.Profile
	mine.WorkingWidth = (100 * model.Millimetre).Of(model.MM)
	mine.Records = []model.Record{{At: noon, By: "KB", Kind: model.Note, Text: "mine"}}
	_, err = store.Save(mine)
	var aside *wizard.AsideError
	if !errors.As(err, &aside) || len(aside.Values) != 2 || aside.Path != filepath.Join(dir, "shop.mine.yaml") {
		t.Fatalf("%+v, %v", aside, err)
	}
	// what is done next goes to the file beside
	mine.Records = append(mine.Records, model.Record{At: noon.Add(time.Minute), By: "KB", Kind: model.Note, Text: "more"})
	if _, err := store.Save(mine); err != nil {
		t.Fatal(err)
	}
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command("sh", "-c", strings.Replace(aside.Cure, "sawdatum ", path+" ", 1)+" --take theirs")
	if out, err := c.CombinedOutput(); err != nil || !strings.Contains(string(out), "2 records taken over") {
		t.Fatalf("%s: %v: %s", aside.Cure, err, out)
	}
	if f, err = profiles.Read(f.Path); err != nil || f.Profile.WorkingWidth != mine.WorkingWidth || len(f.Profile.Records) != 2 {
		t.Error(f.Profile.WorkingWidth, err)
	}
}

// TestAStoreGivesBackWhatTheFileHolds: also after a save whose outcome nobody took in,
// since the next answer was there already.
func TestAStoreGivesBackWhatTheFileHolds(t *testing.T) {
	f, err := profiles.Create(filepath.Join(t.TempDir(), "shop.yaml"), profiles.Demo())
	if err != nil {
		t.Fatal(err)
	}
	note := func(minute int, by string) model.Record {
		return model.Record{At: noon.Add(time.Duration(minute) * time.Minute), By: by, Kind: model.Note, Text: "by " + by}
	}
	store, other := storeOf(f), f.Profile
	other.Records = []model.Record{note(0, "AB")}
	if _, _, err := f.Save(other); err != nil {
		t.Fatal(err)
	}
	mine := f.Profile
	for i := range 2 {
		mine.Records = append(mine.Records, note(1+i, "KB"))
		file, err := store.Save(mine)
		if err != nil || len(file.Records) != 2+i || file.Records[0].By != "AB" {
			t.Errorf("%d records, %v", len(file.Records), err)
		}
	}
}
