package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/testdata/walk"
)

// TestBothFacesAskTheSame goes through the whole setup of the built-in shop in the built
// program, in plain lines and on the full screen: the same questions in the same order, so
// that neither face lets an answer, a typed word or a gate out, or asks one more; and what
// is kept calls ready what has to be.
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
		kept := filepath.Join(t.TempDir(), "kept.yaml")
		args, face := []string{"practice", "--seed", "1", "--keep", kept}, walk.Screen
		if plain {
			args, face = append(args, "--plain"), walk.Plain
		}
		term := start(t, 80, 24, false, args...)
		if err := face(term, answer, walk.Never); err != nil {
			t.Fatal(err)
		}
		if status, err := term.Exit(patience); err != nil || status != done {
			t.Fatalf("exit status %d, %v; the screen:\n%s", status, err, term.Screen())
		}
		readyOf(t, kept)
		if words < 50 {
			t.Errorf("only %d typed words: isolation and the checklists have more", words)
		}
		t.Logf("plain lines %v: %d answers, %d of them typed words", plain, len(asked[plain]), words)
	}
	if !slices.Equal(asked[true], asked[false]) {
		t.Errorf("in plain lines\n%s\non the full screen\n%s", strings.Join(asked[true], "\n"), strings.Join(asked[false], "\n"))
	}
}

// readyOf fails where the kept setup of the built-in shop calls a blade ready that is not, or
// one not that is.
func readyOf(t *testing.T, kept string) {
	t.Helper()
	f, err := profiles.Read(kept)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range solver.Judge(f.Profile, f.Profile.Records[len(f.Profile.Records)-1].At).Blades {
		// the thin blade's kerf is thinner than the only knife
		if want := row.ID != "thin-40"; row.Usable() != want {
			t.Errorf("%s is %s, may be used: %v, want %v", row.ID, row.State, row.Usable(), want)
		}
	}
}
