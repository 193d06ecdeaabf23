//go:build unix

package wizard

import (
	"os"
	"os/signal"
	"syscall"
)

// Continued tells of each time that the stopped program goes on.
func Continued() <-chan os.Signal {
	c := make(chan os.Signal, 1)
	signal.Notify(c, syscall.SIGCONT)
	return c
}
