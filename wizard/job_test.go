package wizard

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// TestWhatNoFileCanHoldIsNotTaken: an answer after which the profile could not be read again is
// refused with the reason, and the work stands where it was; what the profile lacked before is
// no reason.
func TestWhatNoFileCanHoldIsNotTaken(t *testing.T) {
	lengths := procedure.Row{
		Name: "tolerance", Stage: 2, Title: func(procedure.Context) string { return "Tolerance" },
		Done: func(c procedure.Context) bool { return c.Profile.Tolerance.Unit != model.NoUnit },
		Act: procedure.Paper{
			Says:   func(procedure.Context) []string { return nil },
			Accept: func(t *procedure.Taking) { t.Head(func(p *model.Profile) { p.Tolerance = t.Length("tolerance") }) },
		},
		Fields: func(procedure.Context) []procedure.Field {
			return []procedure.Field{{Key: "tolerance", Label: "Tolerance", Kind: procedure.FieldLength, Unit: model.MM, Min: -model.Millimetre, Max: model.Millimetre}}
		},
	}
	begun := model.Profile{Version: model.FormatVersion, Name: "bay"}
	j := NewJob(Options{Store: Store{Profile: begun}})
	j.Procedure = procedure.New(begun, procedure.House{Blocks: []procedure.Block{{Rows: []procedure.Row{lengths}}}, Ends: true}, solver.Judge, procedure.Options{})
	for typed, want := range map[string]string{"-0.1": "-0.1 mm cannot be: write a length above zero", "0.1": ""} {
		next, changed, err := j.Answer(j.Procedure.View().Visit, map[string]string{"tolerance": typed})
		got := ""
		if refusal, ok := err.(*procedure.Refusal); ok {
			got = strings.Join(refusal.Unmet, " ")
		}
		if want == "" && (err != nil || !changed) || want != "" && (!strings.Contains(got, want) || changed || Differs(next.Procedure.Profile(), begun)) {
			t.Errorf("%s: changed %v, %v, %q", typed, changed, err, got)
		}
	}
}
