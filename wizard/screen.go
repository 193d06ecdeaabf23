package wizard

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/wizard/procedure"
)

// screen is one thing that fills the terminal. It finishes a message within one
// update: what the root has to do about it comes back at once as a report, never as a
// later message that could answer another screen. Its view changes nothing.
type screen interface {
	update(msg tea.Msg) (next screen, report any, cmd tea.Cmd)
	view(w, h int) []string // at most h lines of at most w cells
}

// base is a screen that others are laid over; begin is its command when it is shown
// first.
type base interface {
	screen
	begin() tea.Cmd
}

// The reports of screens.
type (
	answered struct {
		visit   uint64
		answers map[string]string
	}
	led struct {
		kind  procedure.EventKind
		place procedure.Place
	}
	opened    struct{ path string } // a profile was chosen
	created   struct{ name string } // a new saw was named
	practised struct{}              // practice was chosen
	copied    struct{ path string } // a file for a copy was named
	naming    struct{}              // a new saw is to be named
	closed    struct{}              // back to what lies beneath
)
