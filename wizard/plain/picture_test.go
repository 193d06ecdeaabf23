package plain

import (
	"strings"
	"testing"
)

// TestAReadingIsSeenInThePicture: what a reading changes in a picture is said once it is taken, and
// nothing else of that picture again.
func TestAReadingIsSeenInThePicture(t *testing.T) {
	p := &person{}
	if _, err := practise(p, 1, nil); err != nil {
		t.Fatal(err)
	}
	said := p.out.String()
	for _, want := range []string{
		"Picture: Strip 1 is 0.", "Picture: Strip 2 is 0.", // wider or narrower
		"Picture: One setting of the fence scale is read", "Picture: The caliper reads ", // before it is asked how far the cursor was moved
	} {
		if !strings.Contains(said, "\n"+want) {
			t.Errorf("%q is not said", want)
		}
	}
	at := strings.Index(said, "\nPicture: Strip 1 is 0.")
	if line, _, _ := strings.Cut(said[at+1:], "\n"); strings.Contains(line, "reference strips are") || strings.Contains(line, "not read") {
		t.Errorf("told again: %s", line)
	}
}
