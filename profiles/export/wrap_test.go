package export

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

// TestLengthsStayWhole: no line ends within a length, its sign, its unit and what it is
// unsure by, nor in a blade's name at its hyphen.
func TestLengthsStayWhole(t *testing.T) {
	const text = "the 24-tooth rip cuts -0.012 mm / -0.0005 in +- 0.014 mm off, and 0.20 mm more ± 0.01 mm"
	for w := 34; w < 80; w++ {
		lines := strings.Split(wrapped(text, w), "\n")
		if got := strings.Join(lines, " "); got != text {
			t.Errorf("at %d: %q", w, got)
		}
		for _, line := range lines {
			if ansi.StringWidth(line) > w {
				t.Errorf("at %d: %q is wider", w, line)
			}
			if last := line[len(line)-1]; last >= '0' && last <= '9' || strings.HasSuffix(line, "/") || strings.HasSuffix(line, "-") || strings.HasSuffix(line, "±") {
				t.Errorf("at %d: a line ends in %q", w, line)
			}
		}
	}
}

// TestClipped: what has no room ends with what is said whole, or in dots behind a word.
func TestClipped(t *testing.T) {
	for _, v := range []struct {
		text string
		w    int
		want string
	}{
		{"short enough", 20, "short enough"},
		{"the knife does not go through the kerf, it is too thick", 20, "the knife does not\ngo through the kerf"},
		{"the knife does not go through the narrow kerf of it", 20, "the knife does not\ngo through the..."},
	} {
		if got := strings.Join(clipped(v.text, v.w, 2), "\n"); got != v.want {
			t.Errorf("%q in %d columns: %q, want %q", v.text, v.w, got, v.want)
		}
	}
}
