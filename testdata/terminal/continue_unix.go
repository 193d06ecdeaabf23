//go:build unix

package terminal

import "syscall"

// Continue lets a program that was stopped go on.
func (t *Terminal) Continue() error { return t.Command.Process.Signal(syscall.SIGCONT) }
