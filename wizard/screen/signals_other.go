//go:build !unix

package screen

import (
	tea "github.com/charmbracelet/bubbletea"
)

// attend has nothing to attend to.
func attend(*tea.Program) (stop func()) { return func() {} }

// QuitQuietly has nothing to do: no key ends a program loudly here.
func QuitQuietly() {}
