package background

import (
	"testing"

	"github.com/charmbracelet/lipgloss"
)

func TestInitAnswersBeforeAnybodyAsks(t *testing.T) {
	if !lipgloss.HasDarkBackground() {
		t.Error("the default must be a dark background, set without a question to the terminal")
	}
}

func TestDark(t *testing.T) {
	for _, c := range []struct {
		dark, light bool
		env         string
		want        bool
	}{
		{false, false, "", true},
		{true, false, "0;15", true},
		{false, true, "15;0", false},
		{true, true, "0;15", false},
		{false, false, "15;0", true},
		{false, false, "0;15", false},
		{false, false, "0;default;15", false},
		{false, false, "15;8", true},
		{false, false, "0;7", false},
		{false, false, "12;6", true},
		{false, false, "nonsense", true},
	} {
		if got := Dark(c.dark, c.light, c.env); got != c.want {
			t.Errorf("Dark(%v, %v, %q) = %v, want %v", c.dark, c.light, c.env, got, c.want)
		}
	}
}
