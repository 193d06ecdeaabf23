package plain

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/tell"
)

// TestTheTourTellsOfThisRun: what is written, and what is measured already, differ from run to run;
// the first place does not say otherwise than the tour before it.
func TestTheTourTellsOfThisRun(t *testing.T) {
	unread := bay.Two()
	unread.Blades = slices.Clone(unread.Blades)
	unread.Blades[1].Kerf = nil
	keep := func(model.Profile) error { return nil }
	for _, c := range []struct {
		profile    model.Profile
		keep       func(model.Profile) error
		says, does string
	}{
		{bay.Two(), nil, "nothing is written", "nothing of it is kept"},
		{bay.Two(), keep, "written to the file that you named", "it is saved"},
		{bay.Two(), nil, "on file already", ""},
		{unread, nil, "asked on the way", ""},
		{bay.New(), nil, "asked on the way", ""},
	} {
		f := bay.Run{Profile: c.profile, Practice: true, Save: c.keep}
		j := wizard.NewJob(f.Options())
		lines := tell.Tour(j)
		if tour := strings.Join(lines, " "); !strings.Contains(tour, c.says) {
			t.Errorf("%q is not said: %s", c.says, tour)
		}
		if do := strings.Join(j.Procedure.View().Do, " "); !strings.Contains(do, c.does) || c.keep == nil && strings.Contains(do, "it is saved") {
			t.Errorf("%q is not said at the first place: %s", c.does, do)
		}
	}
}
