//go:build unix

package sample

import "syscall"

// Posix: files have modes, anybody may make a link, and names take any character.
const (
	Posix    = true
	EvilName = "evil\x1b[31m\nb"
)

// Mkfifo makes a file that is a pipe: who opens it waits for somebody at its other end.
func Mkfifo(path string) error { return syscall.Mkfifo(path, 0o600) }
