package terminal

import (
	"io"
	"regexp"

	"github.com/charmbracelet/x/vt"
)

// frameEnd is what the library writes behind every frame of a full screen: the cursor
// goes to the beginning of its last line.
var frameEnd = regexp.MustCompile(`\x1b\[\d+;H`)

// Frames plays what a program wrote to a terminal of so many columns and rows once
// more, and gives every screen that stood there when a frame had been drawn, also
// those that stood too short a time to be looked at.
func Frames(output string, width, height int) []string {
	e := vt.NewSafeEmulator(width, height)
	go io.Copy(io.Discard, e)
	defer e.Close()
	var frames []string
	for from := 0; ; {
		end := frameEnd.FindStringIndex(output[from:])
		if end == nil {
			return frames
		}
		e.Write([]byte(output[from : from+end[1]]))
		frames = append(frames, text(e))
		from += end[1]
	}
}
