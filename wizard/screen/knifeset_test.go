package screen

import (
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/tell"
)

// TestKnifeOfTheStrip: a knife of which a check with a blade on tells where it stands is set, also
// if no gauge board ever was ripped for it; until then, and once it was moved, it is not.
func TestKnifeOfTheStrip(t *testing.T) {
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	line := model.Record{Kind: model.Line, Blade: "general-48", Knife: "k25", TipGap: bay.MM("5")[0]}
	checked := line
	checked.Faces = bay.MM("0.05", "0.05")
	for _, c := range []struct {
		what    string
		records []model.Record
		want    string
	}{
		{"seen in line", []model.Record{line}, "2.5 not set"},
		{"checked with a blade on", []model.Record{line, checked}, "2.5 set"},
		{"moved since", []model.Record{line, checked, {Kind: model.KnifeMoved, Knife: "k25"}}, "2.5 not set"},
	} {
		p := bay.Two()
		for i, r := range c.records {
			r.At, r.By = at.Add(time.Duration(i)*time.Minute), "KB"
			p.Records = append(p.Records, r)
		}
		var said string
		for _, f := range tell.Saw(wizard.NewJob(bay.Run{Profile: p}.Options()).Procedure) {
			if f.Head == "KNIFE" {
				said = f.Words()
			}
		}
		if said != c.want {
			t.Errorf("%s: %q, want %q", c.what, said, c.want)
		}
	}
}
