package model

import "testing"

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
