package profiles

import (
	"errors"
	"os"
	"syscall"
	"time"
)

// What Windows says while somebody (a virus scanner, an indexer, another reader)
// holds the file open, and when the disk is full or protected (winerror.h).
const (
	sharingViolation syscall.Errno = 32
	lockViolation    syscall.Errno = 33
	writeProtected   syscall.Errno = 19
	handleDiskFull   syscall.Errno = 39
	diskFull         syscall.Errno = 112
)

// rename tries again for a second and a half.
func rename(from, to string) error {
	for wait := 5 * time.Millisecond; ; wait *= 2 {
		err := os.Rename(from, to)
		busy := errors.Is(err, sharingViolation) || errors.Is(err, lockViolation) || errors.Is(err, syscall.ERROR_ACCESS_DENIED)
		if !busy || wait > time.Second {
			return err
		}
		time.Sleep(wait)
	}
}

func syncFolder(string) {} // a rename through the system lasts

func isFull(err error) bool { return errors.Is(err, diskFull) || errors.Is(err, handleDiskFull) }

func isReadOnly(err error) bool { return errors.Is(err, writeProtected) }
