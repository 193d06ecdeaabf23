package main

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/testdata/walk"
)

// TestBothFacesAskTheSame goes through the whole setup of the built-in shop in the built
// program, in plain lines and on the full screen: the same questions in the same order, so
// that neither face lets an answer, a typed word or a gate out, or asks one more.
func TestBothFacesAskTheSame(t *testing.T) {
	t.Parallel()
	asked := map[bool][]string{}
	for _, plain := range []bool{true, false} {
		words := 0
		answer := func(q walk.Question) string {
			at := q.Place + ": " + q.Label
			if n := len(asked[plain]); n == 0 || asked[plain][n-1] != at {
				asked[plain] = append(asked[plain], at)
				if strings.HasPrefix(q.Hint, "type ") {
					words++
				}
			}
			return walk.Hand{}.To(q)
		}
		args, face := []string{"practice", "--seed", "1"}, walk.Screen
		if plain {
			args, face = append(args, "--plain"), walk.Plain
		}
		if err := face(start(t, 120, 40, false, args...), answer, walk.Never); err != nil {
			t.Fatal(err)
		}
		if words < 50 {
			t.Errorf("only %d typed words: isolation and the checklists have more", words)
		}
		t.Logf("plain lines %v: %d answers, %d of them typed words", plain, len(asked[plain]), words)
	}
	if !slices.Equal(asked[true], asked[false]) {
		t.Errorf("in plain lines\n%s\non the full screen\n%s", strings.Join(asked[true], "\n"), strings.Join(asked[false], "\n"))
	}
}
