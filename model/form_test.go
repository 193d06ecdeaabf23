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
