//go:build !unix

package wizard

import (
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

// continued never tells: programs cannot be stopped here.
func continued() <-chan os.Signal { return nil }

// attend has nothing to attend to.
func attend(*tea.Program) (stop func()) { return func() {} }

// QuitQuietly has nothing to do: no key ends a program loudly here.
func QuitQuietly() {}
