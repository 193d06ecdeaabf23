//go:build unix

package screen

import (
	"os"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
)

// attend has the program take the terminal again when it was stopped from outside and
// goes on, and leave it as it was when its terminal hangs up.
func attend(p *tea.Program) (stop func()) {
	c := make(chan os.Signal, 1)
	signal.Notify(c, syscall.SIGCONT, syscall.SIGHUP)
	go func() {
		for s := range c {
			if s == syscall.SIGHUP {
				p.Quit()
			} else {
				p.Send(goesOn{})
			}
		}
	}()
	return func() {
		signal.Stop(c)
		close(c)
	}
}

// QuitQuietly has ctrl+\ end the program as ctrl+c does, where the language would tell
// of its own insides.
func QuitQuietly() {
	c := make(chan os.Signal, 1)
	signal.Notify(c, syscall.SIGQUIT)
	go func() {
		<-c
		_ = syscall.Kill(os.Getpid(), syscall.SIGINT)
	}()
}
