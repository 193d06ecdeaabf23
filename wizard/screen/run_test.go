package screen

import (
	"testing"

	"github.com/charmbracelet/bubbles/cursor"
	tea "github.com/charmbracelet/bubbletea"
)

func TestACursorThatDoesNotBlinkIsNotHeard(t *testing.T) {
	c := cursor.New()
	c.Focus()
	first := c.BlinkCmd()
	c.BlinkCmd() // a key came: the first blink is called off
	if msg := first(); heard(nil, msg) != nil {
		t.Errorf("%T draws a frame", msg)
	}
	for _, msg := range []tea.Msg{tea.KeyMsg{}, cursor.BlinkMsg{}, tickMsg{}} {
		if heard(nil, msg) == nil {
			t.Errorf("%T is dropped", msg)
		}
	}
}
