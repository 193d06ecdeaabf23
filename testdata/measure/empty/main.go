// Command empty is the least that a bubbletea program can be: it writes one line,
// and writes it anew at each key. What the real program takes is held against it.
package main

import (
	"fmt"
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

type model int

func (model) Init() tea.Cmd { return nil }

func (m model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if key, ok := msg.(tea.KeyMsg); ok {
		if key.Type == tea.KeyCtrlC {
			return m, tea.Quit
		}
		return m + 1, nil
	}
	return m, nil
}

func (m model) View() string { return fmt.Sprintf("ready %d", m) }

func main() {
	if _, err := tea.NewProgram(model(0), tea.WithAltScreen()).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
