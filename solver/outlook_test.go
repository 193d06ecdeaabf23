package solver

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
)

// TestOutlookNamesDriftAndWear puts the individuals of the NIST/SEMATECH e-Handbook
// (6.3.2.2) and one far beyond its limits into a profile as comparison rips.
func TestOutlookNamesDriftAndWear(t *testing.T) {
	mm := func(s string) model.Measure {
		m, err := model.ParseLength(s, model.MM)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	three := func(s string) []model.Measure { return []model.Measure{mm(s), mm(s), mm(s)} }
	p := model.Profile{Units: model.MM, Tolerance: mm("0.05"), WorkingWidth: mm("120"), Reference: "ref", Standing: []string{},
		Saw:         model.Saw{Flange: model.Far, SpareThread: mm("9"), ThreadPitch: mm("2")},
		Instruments: model.Instruments{Caliper: mm("0.01"), Micrometer: mm("0.001")},
		Blades:      []model.Blade{{ID: "ref", Plate: three("2.2"), Kerf: three("3.2")}, {ID: "rip", Plate: three("2.2"), Kerf: three("3.2")}},
	}
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	record := func(r model.Record) {
		at = at.Add(time.Hour)
		r.At, r.By = at, "KB"
		p.Records = append(p.Records, r)
	}
	record(model.Record{Kind: model.FenceLock, Lock: "L", Width: mm("120")})
	record(model.Record{Kind: model.ReferenceCut, Lock: "L", Blade: "ref", Rings: []string{}, Piece: "rip", Readings: three("120")})
	for _, v := range []string{"49.6", "47.6", "49.9", "51.3", "47.8", "51.2", "52.6", "52.4", "53.6", "52.1", "90"} {
		record(model.Record{Kind: model.BladeCut, Lock: "L", Blade: "rip", Rings: []string{}, Piece: "same", Differences: three("-0.0" + strings.ReplaceAll(v, ".", ""))})
	}
	if n := len(Proofs(p, "rip")); n != 11 {
		t.Fatalf("%d proofs, want 11", n)
	}
	if got := Proofs(p, "rip")[0].Residual; got != 49_600 {
		t.Errorf("the first proof is %d nm toward the fence, want 49600", got)
	}
	record(model.Record{Kind: model.Sharpened, Blade: "rip", Plate: three("2.2"), Kerf: three("3.16")})
	var texts []string
	for _, r := range Outlook(p, Plan(p)) {
		texts = append(texts, r.Code+" "+r.Text)
	}
	all := strings.Join(texts, "\n")
	for _, want := range []string{"drift-beyond rip: ", "kerf-lost rip: a sharpening takes 0.040 mm", "a stack 0.020 mm higher"} {
		if !strings.Contains(all, want) {
			t.Errorf("the outlook lacks %q:\n%s", want, all)
		}
	}
	p.Records = append(p.Records, model.Record{At: at, By: "KB", Kind: model.Void, Of: p.Records[len(p.Records)-1].Ref()})
	if n := len(Kerfs(p, "rip")); n != 1 {
		t.Errorf("%d kerfs once the sharpening is void, want 1", n)
	}
}
