package model

import (
	"strings"
	"testing"
)

// Dust between flange and blade pushes the blade off the flange: on a far flange toward the
// fence, so that the part comes out narrower, on a near one away from it.
func TestLikelyCauses(t *testing.T) {
	for _, v := range []struct {
		flange Flange
		off    Length
		dust   bool
	}{{Far, -1, true}, {Far, 1, false}, {Near, 1, true}, {Near, -1, false}} {
		if got := LikelyCauses(v.flange, v.off); strings.Contains(got, "dust") != v.dust || strings.Contains(got, "relief") == v.dust {
			t.Errorf("%s, %d: %s", v.flange, v.off, got)
		}
	}
}
