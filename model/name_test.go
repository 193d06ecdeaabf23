package model

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestFormsDoWhatTheirPatternsSay holds the forms against the regular expressions
// that stand in the schema.
func TestFormsDoWhatTheirPatternsSay(t *testing.T) {
	for _, f := range []Form{NameForm, IDForm, InitialsForm} {
		pattern := regexp.MustCompile(f.Pattern)
		for _, s := range []string{"", "a", "é", "9", "-a", "_a", ".a", "a.b", "a-b_c", "a b", "a/b", "KB", "KBCDE", "ß٣", "a\n", "\xff", "a\x00", "\ufffd",
			strings.Repeat("x", 60), strings.Repeat("x", 61), strings.Repeat("ß", 60), strings.Repeat("ß", 61)} {
			if got, want := f.MatchString(s), pattern.MatchString(s); got != want {
				t.Errorf("%s matches %q: %v, and the pattern says %v", f.Pattern, s, got, want)
			}
		}
		for _, s := range []string{"\u115f", "a\u1160", "\u3164", "a\uffa0"} { // fillers of Hangul: letters drawn as nothing (Unicode, DerivedCoreProperties.txt)
			if f.MatchString(s) || !pattern.MatchString(s) {
				t.Errorf("%s matches %q, which nobody sees, or its pattern does not", f.Pattern, s)
			}
		}
		rapid.Check(t, func(t *rapid.T) {
			s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[\pL\pN._-]{0,62}`)).Draw(t, "s")
			if got, want := f.MatchString(s), pattern.MatchString(s) && !strings.ContainsAny(s, "\u115f\u1160\u3164\uffa0"); got != want {
				t.Errorf("%s matches %q: %v, and the pattern says %v", f.Pattern, s, got, want)
			}
		})
	}
}

func TestAlikeAreNamesThatAPersonTakesForOne(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"rip-24", "RIP-24", true}, {"rip-24", "r1p-24", true}, {"rip-24", "rlp-24", true}, {"b0", "bO", true}, {"a b", "a  b ", true},
		{"48-tooth", "48‑tooth", true},                    // a hyphen that does not break, U+2011
		{"scope", "\u0455\u0441\u043e\u0440\u0435", true}, // Cyrillic throughout (an example of UTS #39, from memory)
		{"NOTE", "\u039d\u039f\u03a4\u0395", true},        // Greek capitals
		{"k25", "\uff4b\uff12\uff15", true},
		{"rip-24", "rip-25", false}, {"general", "generals", false}, {"48-tooth", "48 tooth", false}, {"k25", "k2.5", false}, {"ä", "a", false},
	} {
		if Alike(c.a, c.b) != c.want || Alike(c.b, c.a) != c.want {
			t.Errorf("%q and %q: alike %v", c.a, c.b, !c.want)
		}
	}
}
