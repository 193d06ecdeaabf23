//go:build unix

package profiles

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/sample"
)

// TestMain lets the tests start this binary as another program that saves.
func TestMain(m *testing.M) {
	switch path := os.Getenv("SAWDATUM_TEST_FILE"); os.Getenv("SAWDATUM_TEST_CHILD") {
	case "":
		os.Exit(m.Run())
	case "save":
		saveForever(path)
	case "lock":
		holdLock(path)
	case "load":
		loadOnce(path)
	case "replace":
		if err := ReplaceFile(path, []byte("new\n"), 0); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

func program(t *testing.T, what, path string) *exec.Cmd {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "SAWDATUM_TEST_CHILD="+what, "SAWDATUM_TEST_FILE="+path)
	c.Stderr = os.Stderr
	return c
}

// saveForever adds records and says each time which one is saved.
func saveForever(path string) {
	f, err := Read(path)
	for err == nil {
		n := len(f.Profile.Records)
		if f, _, err = f.Save(plus(f.Profile, note(n, "KB", "reading "+strconv.Itoa(n)))); err == nil {
			fmt.Println(n)
		}
	}
	fmt.Fprintln(os.Stderr, err)
	os.Exit(1)
}

func holdLock(path string) {
	_, err := lock(path)
	fmt.Println("held", err)
	time.Sleep(time.Minute)
}

// TestKilledWhileSaving kills a program at random instants while it saves in a loop.
// The file is always whole, and nothing that was reported saved is lost.
// SAWDATUM_KILLS says how often; CI takes 2,000.
func TestKilledWhileSaving(t *testing.T) {
	kills := 25
	if s := os.Getenv("SAWDATUM_KILLS"); s != "" {
		kills, _ = strconv.Atoi(s)
	}
	dir := t.TempDir()
	var path string
	during := 0
	for kill := range kills {
		if kill%50 == 0 {
			f, err := Create(filepath.Join(dir, fmt.Sprintf("bay-%d.yaml", kill)), chosenDemo())
			if err != nil {
				t.Fatal(err)
			}
			path = f.Path
		}
		c := program(t, "save", path)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		reported := -1
		lines := bufio.NewScanner(out)
		for first := true; lines.Scan(); first = false {
			reported, _ = strconv.Atoi(lines.Text())
			if first {
				time.AfterFunc(time.Duration(rand.IntN(6000))*time.Microsecond, func() { _ = c.Process.Kill() })
			}
		}
		_ = c.Wait()
		f, err := Read(path)
		if err != nil {
			t.Fatalf("kill %d: %v", kill, err)
		}
		if n := len(f.Profile.Records); n <= reported {
			t.Fatalf("kill %d: reading %d was reported saved, the file has %d", kill, reported, n)
		}
		for i, r := range f.Profile.Records {
			if r.Text != "reading "+strconv.Itoa(i) {
				t.Fatalf("kill %d: record %d is %q", kill, i, r.Text)
			}
		}
		if left, _ := filepath.Glob(filepath.Join(dir, ".*.tmp")); len(left) > 0 {
			during++
			for _, name := range left {
				_ = os.Remove(name)
			}
		}
	}
	t.Logf("%d kills, %d of them while a file was being written", kills, during)
	if kills >= 1000 && during == 0 {
		t.Error("no kill hit a save")
	}
}

func TestALockOfADeadProgramHoldsNobodyUp(t *testing.T) {
	f := written(t, chosenDemo())
	c := program(t, "lock", f.Path)
	out, _ := c.StdoutPipe()
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if line, _ := bufio.NewReader(out).ReadString('\n'); line != "held <nil>\n" {
		t.Fatal(line)
	}
	defer func(was time.Duration) { lockPatience = was }(lockPatience)
	lockPatience = 100 * time.Millisecond
	if _, _, err := f.Save(plus(f.Profile, note(1, "KB", "one"))); err == nil || !strings.Contains(err.Error(), "another program has been saving it") {
		t.Error("a living program holds the lock:", err)
	}
	_ = c.Process.Kill()
	_ = c.Wait()
	saved(t, f, plus(f.Profile, note(1, "KB", "one")))
}

func TestEightProgramsSaveAtOnce(t *testing.T) {
	f := written(t, chosenDemo())
	done := make(chan error)
	for w := range 8 {
		go func() {
			mine := f
			for i := range 10 {
				var err error
				if mine, _, err = mine.Save(plus(mine.Profile, note(i*8+w, "KB", fmt.Sprint(w, " ", i)))); err != nil {
					done <- err
					return
				}
			}
			done <- nil
		}()
	}
	for range 8 {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
	if n := len(read(t, f.Path).Profile.Records); n != 80 {
		t.Errorf("%d records of 80", n)
	}
}

// keptElsewhere holds an error to its promise: one line that says what to do, the
// file as it was, nothing left lying about, and the same profile saved elsewhere.
func keptElsewhere(t *testing.T, f File, next model.Profile, err error, words string) {
	t.Helper()
	var disk *DiskError
	if !errors.As(err, &disk) || !strings.Contains(err.Error(), words) || strings.Contains(err.Error(), "\n") {
		t.Fatalf("want %q, got %v", words, err)
	}
	other, err := Create(filepath.Join(t.TempDir(), "elsewhere.yaml"), next)
	if err != nil || len(read(t, other.Path).Profile.Records) != len(next.Records) {
		t.Error("not saved elsewhere:", err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(f.Path), ".*.tmp")); len(left) > 0 {
		t.Error("left behind:", left)
	}
}

func TestVanished(t *testing.T) {
	f := written(t, chosenDemo())
	next := plus(f.Profile, note(1, "KB", "one"))
	if err := os.Remove(f.Path); err != nil {
		t.Fatal(err)
	}
	_, _, err := f.Save(next)
	keptElsewhere(t, f, next, err, "the file is not there any more: put it back, or save elsewhere")
	if err := os.Mkdir(f.Path, 0o755); err != nil {
		t.Fatal(err)
	}
	_, _, err = f.Save(next)
	keptElsewhere(t, f, next, err, "something else stands in its place now")
	if strings.Count(err.Error(), filepath.Base(f.Path)) != 1 {
		t.Error("it names the file twice:", err)
	}
	if err := os.RemoveAll(filepath.Dir(f.Path)); err != nil {
		t.Fatal(err)
	}
	_, _, err = f.Save(next)
	keptElsewhere(t, f, next, err, "its folder is not there any more")
	if _, err := Create(f.Path, next); err == nil || !strings.Contains(err.Error(), "the folder is not there") {
		t.Error(err)
	}
}

func TestSymlinksAreFollowed(t *testing.T) {
	f := written(t, chosenDemo())
	link := filepath.Join(t.TempDir(), "link.yaml")
	if err := os.Symlink(f.Path, link); err != nil {
		t.Fatal(err)
	}
	l := read(t, link)
	saved(t, l, plus(l.Profile, note(1, "KB", "one")))
	if info, _ := os.Lstat(link); info.Mode()&os.ModeSymlink == 0 || len(read(t, f.Path).Profile.Records) != 1 {
		t.Error("the link was replaced, not the file")
	}
}

// TestClockSetBack: the file's own time means nothing, and a record with a time before
// that of the last one goes where its time says.
func TestClockSetBack(t *testing.T) {
	f := written(t, plus(chosenDemo(), note(100, "KB", "before")))
	for _, when := range []time.Time{time.Unix(0, 0), time.Now().Add(24 * time.Hour)} {
		other := read(t, f.Path)
		saved(t, other, plus(other.Profile, note(int(when.Unix()%1000)+200, "AB", "theirs")))
		if err := os.Chtimes(f.Path, when, when); err != nil {
			t.Fatal(err)
		}
	}
	f = saved(t, f, plus(f.Profile, note(150, "KB", "mine")))
	if n := len(read(t, f.Path).Profile.Records); n != 4 {
		t.Errorf("%d records of 4", n)
	}
	f = saved(t, f, plus(f.Profile, note(50, "KB", "an hour back")))
	if back := read(t, f.Path).Profile.Records; len(back) != 5 || back[0].Text != "an hour back" {
		t.Errorf("%d records, the first %q", len(back), back[0].Text)
	}
}

func TestWhatCannotBeReadAgainIsKeptBeside(t *testing.T) {
	f := written(t, chosenDemo())
	before := bytesOf(t, f.Path)
	_, _, err := f.Save(plus(f.Profile, model.Record{At: at(1), By: "KB", Kind: model.Mount, Blade: "not-there"}))
	var beside *BesideError
	if !errors.As(err, &beside) || bytesOf(t, f.Path) != before {
		t.Fatal(err)
	}
	if text := bytesOf(t, beside.Beside); !strings.Contains(text, "blade: not-there") {
		t.Error("lost")
	}
	f, _, _ = f.Save(plus(f.Profile, model.Record{At: at(1), By: "KB", Kind: model.Mount, Blade: "not-there"}))
	_, _, err = f.Save(plus(f.Profile, model.Record{At: at(1), By: "KB", Kind: model.Mount, Blade: "neither"}))
	if again := new(BesideError); !errors.As(err, &again) || !strings.Contains(bytesOf(t, again.Beside), "blade: neither") {
		t.Error(err)
	}
	if all, _ := filepath.Glob(filepath.Join(filepath.Dir(f.Path), "*.yaml")); len(all) != 2 {
		t.Error("a file for each save:", all)
	}
}

func TestAnOlderFormatIsBroughtUpAndKept(t *testing.T) {
	old := strings.NewReplacer("sawdatum: 1", "sawdatum: 0 # old", "working_width:", "width:").Replace(sample.Whole)
	path := filepath.Join(t.TempDir(), "bay.yaml")
	if err := os.WriteFile(path, []byte(old), 0o600); err != nil {
		t.Fatal(err)
	}
	f := read(t, path)
	if f.Profile.WorkingWidth != mm(120_000_000) || f.Profile.Version != model.FormatVersion {
		t.Errorf("%+v", f.Profile)
	}
	if bytesOf(t, path) != old {
		t.Error("reading alone changed the file")
	}
	last := f.Profile.Records[len(f.Profile.Records)-1]
	next := f.Profile
	next.Records = append(next.Records[:len(next.Records):len(next.Records)], model.Record{At: last.At.Add(time.Second), By: "KB", Kind: model.Note, Text: "on"})
	_, report, err := f.Save(next)
	if err != nil || bytesOf(t, report.Kept) != old {
		t.Fatal(report, err)
	}
	if text := bytesOf(t, path); !strings.Contains(text, "sawdatum: 1 # old") || !strings.Contains(text, "working_width: 120 mm") || !sameProfile(read(t, path).Profile, next) {
		t.Error(text)
	}
}

// faulty runs where SAWDATUM_FAULTS is set, as in CI: it needs the right to mount.
func faulty(t *testing.T) {
	t.Helper()
	if os.Getenv("SAWDATUM_FAULTS") == "" {
		t.Skip("SAWDATUM_FAULTS is not set")
	}
}

func TestReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		faulty(t)
		if err := asNobody(t); err != nil {
			t.Fatal(err)
		}
	}
	dir := t.TempDir()
	f, err := Create(filepath.Join(dir, "bay.yaml"), chosenDemo())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	next := plus(f.Profile, note(1, "KB", "one"))
	_, _, err = f.Save(next)
	keptElsewhere(t, f, next, err, "ask for the right to read and write here, or save elsewhere")
	if len(read(t, f.Path).Profile.Records) != 0 || !bytes.Equal(f.doc.Data, []byte(bytesOf(t, f.Path))) {
		t.Error("the file has changed")
	}
}

// TestReadOnlyFile: what somebody has protected is not put aside by another file.
func TestReadOnlyFile(t *testing.T) {
	f := written(t, chosenDemo())
	before, next := bytesOf(t, f.Path), plus(f.Profile, note(1, "KB", "one"))
	if err := os.Chmod(f.Path, 0o444); err != nil {
		t.Fatal(err)
	}
	_, _, err := f.Save(next)
	keptElsewhere(t, f, next, err, "the file is read-only: take its protection away, or save elsewhere")
	if bytesOf(t, f.Path) != before {
		t.Error("the file has changed")
	}
}

// asNobody drops the rights of root for the rest of a test.
func asNobody(t *testing.T) error {
	t.Setenv("TMPDIR", nobodysFolder(t))
	if err := syscall.Setreuid(-1, 65534); err != nil {
		return err
	}
	t.Cleanup(func() { _ = syscall.Setreuid(-1, 0) })
	return nil
}

func nobodysFolder(t *testing.T) string {
	dir, err := os.MkdirTemp("", "nobody")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	return dir
}
