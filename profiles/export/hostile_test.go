package export

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/sample"
)

// TestHostileTextInExports goes past the reader, which refuses most of it: an export
// must be harmless whoever made the profile.
func TestHostileTextInExports(t *testing.T) {
	clean, plan := shop()
	tags := wellFormed(t, written(t, "html", clean, plan, true))
	for _, s := range sample.Hostile {
		p, plan := shop()
		p.Name, p.Saw.Label, p.Knives[0].ID, p.Rings[0].ID, plan.Standing = s, s, s, s, []string{s}
		for i := range p.Blades {
			p.Blades[i].Label, p.Blades[i].Knife = s, s
			plan.Blades[i].Stack = []string{s, "r50"}
			plan.Blades[i].Reasons = []model.Reason{{Weight: model.Danger, Text: s}}
		}
		proof := *plan.Blades[1].Proved
		proof.By = s
		plan.Blades[1].Proved = &proof
		for _, as := range []string{"card", "labels", "html", "csv"} {
			if text := model.Loose(written(t, as, p, plan, true)); !sample.Harmless(text) {
				t.Errorf("%s of %q is not harmless", as, s)
			}
		}
		if got := wellFormed(t, written(t, "html", p, plan, true)); strings.Join(got, " ") != strings.Join(tags, " ") {
			t.Errorf("%q adds tags to the page", s)
		}
	}
}
