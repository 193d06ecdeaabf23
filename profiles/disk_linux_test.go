package profiles

import (
	"bytes"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// smallDisk mounts a disk of so many bytes.
func smallDisk(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Fatal("a small disk cannot be mounted: ", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

func TestFullDisk(t *testing.T) {
	faulty(t)
	dir := smallDisk(t, "64k")
	f, err := Create(filepath.Join(dir, "bay.yaml"), chosenDemo())
	if err != nil {
		t.Fatal(err)
	}
	filler := filepath.Join(dir, "filler")
	if err := os.WriteFile(filler, bytes.Repeat([]byte("x"), 64<<10), 0o644); err == nil {
		t.Fatal("the disk is not full")
	}
	before := bytesOf(t, f.Path)
	next := plus(f.Profile, note(1, "KB", "one"))
	_, _, err = f.Save(next)
	keptElsewhere(t, f, next, err, "make room on the disk, or save elsewhere")
	if bytesOf(t, f.Path) != before {
		t.Error("the file has changed")
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	saved(t, f, next)
	if len(read(t, f.Path).Profile.Records) != 1 {
		t.Error("not saved when there was room again")
	}
}

func TestReadOnlyDisk(t *testing.T) {
	faulty(t)
	dir := smallDisk(t, "64k")
	f, err := Create(filepath.Join(dir, "bay.yaml"), chosenDemo())
	if err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	next := plus(f.Profile, note(1, "KB", "one"))
	_, _, err = f.Save(next)
	keptElsewhere(t, f, next, err, "the disk is read-only: save elsewhere")
}
