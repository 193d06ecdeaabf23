// Package background decides whether the terminal is taken for dark or light,
// without asking it. Its import path sorts before bubbletea's, so its init comes
// first, and bubbletea's own init then has nothing left to ask: a terminal that does
// not answer would otherwise hold up every command for five seconds. It must import
// nothing that asks.
package background

import (
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

func init() { lipgloss.SetHasDarkBackground(true) }

// Dark reports whether to draw for a dark background: what was asked for on the
// command line; else the last figure of COLORFGBG, which some terminals set (0 to 6
// and 8 are dark); else dark.
func Dark(dark, light bool, colorFGBG string) bool {
	if dark != light {
		return dark
	}
	fields := strings.Split(colorFGBG, ";")
	n, err := strconv.Atoi(fields[len(fields)-1])
	return err != nil || n <= 6 || n == 8
}

// Set makes the choice that all colours follow.
func Set(dark bool) { lipgloss.SetHasDarkBackground(dark) }
