//go:build unix

package terminal

import "syscall"

// Stop stops the program where it is.
func (t *Terminal) Stop() error { return t.Command.Process.Signal(syscall.SIGSTOP) }

// Continue lets a program that was stopped go on.
func (t *Terminal) Continue() error { return t.Command.Process.Signal(syscall.SIGCONT) }
