package text

import (
	"slices"
	"strings"
	"testing"
)

func TestChosenOrderIsTheSameFromEitherSide(t *testing.T) {
	for _, v := range []struct{ mine, theirs, want string }{
		{"a z b", "a t b", "a t b z"},
		{"z y a", "t a", "z y a t"},
		{"a z", "t", "a z t"},
		{"", "b a", "b a"},
		{"a b c", "a c d", "a b c d"},
	} {
		mine, theirs := strings.Fields(v.mine), strings.Fields(v.theirs)
		for _, got := range [][]string{chosenOrder(slices.Clone(mine), slices.Clone(theirs), "blades", nil), chosenOrder(slices.Clone(theirs), slices.Clone(mine), "blades", nil)} {
			if strings.Join(got, " ") != v.want {
				t.Errorf("%s with %s: %v, want %s", v.mine, v.theirs, got, v.want)
			}
		}
	}
	if got := strings.Join(chosenOrder([]string{"a", "x", "b"}, []string{"b", "a"}, "blades", map[string]bool{"blades": true}), " "); got != "b a x" {
		t.Error(got)
	}
}
