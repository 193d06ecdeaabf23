package plain

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
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

// TestStagesWhereThereAre: a setup and one blade again say at which of the eleven stages they are; a
// swap, a proof and an isolation go through moves of their own.
func TestStagesWhereThereAre(t *testing.T) {
	for mode, staged := range map[procedure.Mode]bool{
		procedure.Setup: true, procedure.OneBlade: true, procedure.Swap: false, procedure.Prove: false, procedure.IsolateOnly: false,
	} {
		var out bytes.Buffer
		o := wizard.Options{Store: wizard.Store{Profile: bay.Two()}, Run: procedure.Options{Mode: mode, Blade: "rip-24"}, In: strings.NewReader("/help\n"), Out: &out}
		_, _ = GoOn(wizard.NewJob(o), wizard.NewWatch(nil), o) // it ends with its input
		said := out.String()
		if strings.Contains(said, "\nStage ") != staged || strings.Contains(said, "\nNext: ") == staged || strings.Count(said, "Stage ") != 2*strings.Count(said, "of 11. ") {
			t.Errorf("mode %d, staged %v:\n%s", mode, staged, said)
		}
	}
}
