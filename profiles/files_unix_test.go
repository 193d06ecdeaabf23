//go:build unix

package profiles

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/testdata/sample"
)

// TestOnlyPlainFilesAreOpened: nothing waits for the other end of a pipe.
func TestOnlyPlainFilesAreOpened(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe.yaml")
	if err := sample.Mkfifo(pipe); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(pipe); err == nil || !strings.Contains(err.Error(), "pipe.yaml: is no plain file: name a profile") {
		t.Error(err)
	}
	if entries, err := List(dir); err != nil || len(entries) != 1 || !strings.Contains(entries[0].Fault, "is no plain file") {
		t.Error(entries, err)
	}
	if err := sample.Mkfifo(filepath.Join(dir, text.SchemaName)); err != nil {
		t.Fatal(err)
	}
	if err := Prepare(dir); err != nil {
		t.Error(err)
	}
	f := written(t, chosenDemo())
	lock := filepath.Join(filepath.Dir(f.Path), ".bay.yaml.lock")
	if err := os.Remove(lock); err != nil {
		t.Fatal(err)
	}
	if err := sample.Mkfifo(lock); err != nil {
		t.Fatal(err)
	}
	before := bytesOf(t, f.Path)
	if _, _, err := f.Save(plus(f.Profile, note(1, "KB", "one"))); err == nil || !strings.Contains(err.Error(), "move it away, then save again") || bytesOf(t, f.Path) != before {
		t.Error(err)
	}
}

// TestEveryAccountMayLock: whatever the mask of the account that made the lock.
func TestEveryAccountMayLock(t *testing.T) {
	defer syscall.Umask(syscall.Umask(0o077))
	f := written(t, chosenDemo())
	lock := filepath.Join(filepath.Dir(f.Path), ".bay.yaml.lock")
	for range 2 {
		if info, err := os.Stat(lock); err != nil || info.Mode().Perm() != 0o666 {
			t.Error(info.Mode(), err)
		}
		if err := os.Chmod(lock, 0o600); err != nil { // as an older program left it
			t.Fatal(err)
		}
		f = saved(t, f, plus(f.Profile, note(len(f.Profile.Records), "KB", "one")))
	}
}

// TestWithoutALockNothingIsSaved: another account's lock that nobody else may open.
func TestWithoutALockNothingIsSaved(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("takes two accounts")
	}
	faulty(t)
	dir := nobodysFolder(t)
	path := filepath.Join(dir, "bay.yaml")
	if err := os.WriteFile(filepath.Join(dir, ".bay.yaml.lock"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text.Format(chosenDemo())), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o666); err != nil {
		t.Fatal(err)
	}
	if err := asNobody(t); err != nil {
		t.Fatal(err)
	}
	f := read(t, path)
	before := bytesOf(t, path)
	next := plus(f.Profile, note(1, "KB", "one"))
	_, _, err := f.Save(next)
	keptElsewhere(t, f, next, err, "not saved, since .bay.yaml.lock cannot be locked against other programs: permission denied: ask for the right")
	if bytesOf(t, path) != before {
		t.Error("the file has changed")
	}
}
