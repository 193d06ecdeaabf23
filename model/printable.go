package model

import (
	"fmt"
	"strings"
	"unicode"
)

// Printable makes a text from outside (a file's name, an error that quotes a file)
// harmless to a terminal: what is not to be printed becomes a visible escape.
func Printable(s string) string {
	var b strings.Builder
	for _, r := range s {
		if Visible(r) && r != unicode.ReplacementChar {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, "<%04X>", r)
		}
	}
	return b.String()
}
