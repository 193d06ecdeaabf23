package text

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/sawdatum/model"
)

// Show is a text made harmless for one line of a terminal, a card or a message: what
// would not be seen as it stands (control characters, escapes, bidirectional
// overrides, invisible characters, invalid bytes) becomes an escape that can be read.
// A long text is cut.
func Show(s string) string {
	const most = 400
	plain, marks := true, 0
	for _, r := range s {
		if marks = combining(r, marks); !model.Visible(r) || r == utf8.RuneError || marks > model.MaxMarks {
			plain = false
			break
		}
	}
	if plain && len(s) <= most {
		return s
	}
	var b strings.Builder
	marks = 0
	for i, size := 0, 0; i < len(s); i += size {
		if b.Len() > most {
			b.WriteString("...")
			break
		}
		var r rune
		r, size = utf8.DecodeRuneInString(s[i:])
		marks = combining(r, marks)
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case !unicode.IsPrint(r) && r < 0x80:
			fmt.Fprintf(&b, `\x%02x`, r)
		case !model.Visible(r) || r == utf8.RuneError || marks > model.MaxMarks:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func combining(r rune, before int) int {
	if r < 0x300 || !unicode.In(r, unicode.Mn, unicode.Me) {
		return 0
	}
	return before + 1
}
