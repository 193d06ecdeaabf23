package text

import (
	"strings"
	"testing"

	"example.com/sawdatum/testdata/sample"
)

func TestShowLeavesNothingThatActs(t *testing.T) {
	for _, s := range sample.Hostile {
		got := Show(s)
		if !sample.Harmless(got) || strings.Contains(got, "\n") {
			t.Errorf("%q is shown as %q", s, got)
		}
		if Show(got) != got {
			t.Errorf("%q is not shown as it stands", got)
		}
	}
	for _, s := range []string{"plain", "½ Ø12 ∠45° é 日本", "e\u0301", "48-tooth \"general\""} {
		if Show(s) != s {
			t.Errorf("%q is shown as %q", s, Show(s))
		}
	}
	if got := Show("a\x1b[2J\u202e\xff\ufffd"); got != `a\x1b[2J\u202e\xff\ufffd` {
		t.Errorf("%q", got)
	}
	if n := len(Show(strings.Repeat("x", 10<<20))); n > 1000 {
		t.Errorf("%d bytes of a long text", n)
	}
}
