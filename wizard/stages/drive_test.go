package stages

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	honest "example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/wizard/procedure"
)

// TestToTheFirstStart goes from a saw of which nothing is known to the blade that turns
// for the first time, and sees by the way that nothing but the order of job.md comes up.
func TestToTheFirstStart(t *testing.T) {
	p := profiles.Demo()
	p.Reference, p.Standing = "general-48", []string{}
	now := procedure.New(p, House(procedure.Options{Seed: 5}), solver.Judge, procedure.Options{Seed: 5})
	at := time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)
	var way []string
	for now.View().Place.Step != "boards" && len(way) < 40 {
		v := now.View()
		a := procedure.Answers{}
		for _, f := range v.Fields {
			a[f.Key] = honest.Answer(v, f, nil, a)
		}
		at = at.Add(5 * time.Second)
		next, err := now.Apply(procedure.Event{Kind: procedure.Answer, At: at, Visit: v.Visit, Answers: a})
		if err != nil {
			t.Fatalf("%s: %v: %v", v.Place, a, err)
		}
		way, now = append(way, v.Place.Step), next
	}
	const want = "layout who stop isolate clear arbor unfit lock mount block heel-toe rim line power first"
	if got := strings.Join(way, " "); got != want {
		t.Errorf("the way went\n%s\nwant\n%s", got, want)
	}
}
