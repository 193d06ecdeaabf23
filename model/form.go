package model

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Form is how a name looks: letters, digits where they may stand, and marks behind
// the first. It does what its pattern says, which would take the start of every
// command several milliseconds to compile, but takes no letter that cannot be seen.
type Form struct {
	Pattern string // as a regular expression, for the schema and for people
	digits  bool
	marks   string
	longest int
}

// The forms of names in a profile.
var (
	NameForm     = Form{`^[\pL\pN][\pL\pN_-]{0,59}$`, true, "_-", 60} // a profile's name is a file name too
	IDForm       = Form{`^[\pL\pN][\pL\pN._-]{0,59}$`, true, "._-", 60}
	InitialsForm = Form{`^\pL{1,4}$`, false, "", 4}
)

// MatchString reports whether s has the form.
func (f Form) MatchString(s string) bool {
	n := 0
	for i, r := range s {
		switch {
		case r == utf8.RuneError: // no letter, and what invalid bytes read as
			return false
		case !Visible(r): // some letters are drawn as nothing
			return false
		case unicode.IsLetter(r), f.digits && unicode.IsNumber(r), i > 0 && strings.ContainsRune(f.marks, r):
		default:
			return false
		}
		n++
	}
	return n >= 1 && n <= f.longest
}
