//go:build unix

package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// isClosed reports whether nothing that is written to f can reach anybody. A standard stream that
// was closed when the program began is the null device, opened for reading and writing, by the
// time that it looks (Go's runtime opens it so, that no other file takes the number). Some callers open
// the null device just so themselves; a shell's >/dev/null opens it for writing alone.
func isClosed(f *os.File) bool {
	at, err := f.Stat()
	null, errNull := os.Stat(os.DevNull)
	if err != nil || errNull != nil || !os.SameFile(at, null) {
		return false
	}
	how, err := unix.FcntlInt(f.Fd(), unix.F_GETFL, 0)
	return err == nil && how&unix.O_ACCMODE == unix.O_RDWR
}
