package tell

import (
	"testing"

	"example.com/sawdatum/model"
)

// TestSoLine: what follows from an answer has the word of a danger before it, and no other.
func TestSoLine(t *testing.T) {
	for weight, want := range map[model.Weight]string{model.Explains: "The nut is tight.", model.Warns: "The nut is tight.", model.Danger: "DANGER: The nut is tight."} {
		if got := SoLine(model.Reason{Weight: weight, Text: "the nut is tight"}); got != want {
			t.Errorf("weight %d: %q, want %q", weight, got, want)
		}
	}
}
