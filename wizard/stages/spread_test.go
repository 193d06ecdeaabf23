package stages

import (
	"strings"
	"testing"

	"example.com/sawdatum/wizard/procedure"
)

// TestSpreadWithinAStrip: readings of one strip that spread by more than the tolerance are
// questioned at their field, however many they are: their mean says little of that strip.
func TestSpreadWithinAStrip(t *testing.T) {
	for _, v := range []struct {
		readings string
		asked    bool
	}{
		{"140.08 140.20 140.14 140.09 140.19", true}, // 0.12 of 0.10
		{"140.10 140.18 140.14 140.11 140.17", false},
	} {
		h := newSetUp(t)
		h.upTo("strip")
		view := h.p.View()
		_, err := h.p.Apply(procedure.Event{Kind: procedure.Answer, At: h.at, Visit: view.Visit, Answers: procedure.Answers{"readings": v.readings}})
		if asked := err != nil && strings.Contains(err.Error(), "spread by 0.12 mm, more than the tolerance"); asked != v.asked {
			t.Errorf("%s: %v", v.readings, err)
		}
	}
}
