//go:build unix

package profiles

import (
	"errors"
	"os"
	"syscall"
)

func rename(from, to string) error { return os.Rename(from, to) }

// syncFolder makes a rename last through a power cut. A drive that cannot is passed over.
func syncFolder(dir string) {
	if dir == "" {
		dir = "."
	}
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
}

func isFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }
