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

// lookalikes are small letters and digits beside what looks like them, or like their
// capitals, in most letterings. The letters of other scripts follow the table of
// confusable characters of Unicode (UTS #39), from memory.
var lookalikes = func() map[rune]rune {
	out := map[rune]rune{}
	for _, pair := range []string{
		"o0", "il1|", "-_\u2010\u2011\u2012\u2013\u2014\u2212",
		"aаα", "bвβ", "cс", "eеε", "hнη", "iіι", "jј", "kкκ", "mмμ", "nν", "oоο", "pрρ", "sѕ", "tтτ", "xхχ", "yуυ", "zζ", "3з",
	} {
		letters := []rune(pair)
		for _, r := range letters[1:] {
			out[r] = letters[0]
		}
	}
	return out
}()

// look is what a name looks like: names of one look are one to a person.
func look(name string) string {
	return strings.Map(func(r rune) rune {
		if r >= 0xff01 && r <= 0xff5e { // the same in full width
			r -= 0xff01 - '!'
		}
		r = unicode.ToLower(r)
		if plain, ok := lookalikes[r]; ok {
			return plain
		}
		return r
	}, strings.Join(strings.Fields(name), " "))
}

// Alike reports whether two names are one to a person: but for capitals and letters that
// look alike they are the same.
func Alike(a, b string) bool { return a == b || look(a) == look(b) }

// Namesake is a blade that a name could be taken for, by its label or its id: of the
// rack, or else one that has left it. own is the id of the blade that has the name.
func (p Profile) Namesake(name, own string) (b Blade, ok bool) {
	for _, other := range p.Blades {
		if other.ID != own && (!ok || b.Retired && !other.Retired) && (Alike(other.Name(), name) || Alike(other.ID, name)) {
			b, ok = other, true
		}
	}
	return b, ok
}
