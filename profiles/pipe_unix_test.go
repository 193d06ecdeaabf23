//go:build unix

package profiles

import "syscall"

// mkfifo makes a file that is a pipe: who opens it waits for somebody at its other end.
func mkfifo(path string) error { return syscall.Mkfifo(path, 0o600) }
