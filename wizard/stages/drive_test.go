package stages

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/profiles"
	"example.com/sawdatum/wizard/procedure"
)

// honest is what an honest hand types into a field that shows it what is right.
func honest(f procedure.Field) string {
	switch {
	case f.Optional && f.Key != "off" || f.Key == "clear" && f.Word == "":
		return f.Value
	case f.Key == "more" || f.Key == "add":
		return "whole"
	case f.Key == "done":
		return "done"
	}
	if example := strings.Index(f.Hint, "such as "); example >= 0 {
		return strings.TrimSuffix(f.Hint[example+len("such as "):], " when it is right")
	}
	switch {
	case f.Key == "by":
		return "KB"
	case f.Key == "off" && f.Kind == procedure.FieldText:
		return "still"
	case f.Key == "off" && f.Kind == procedure.FieldCount:
		return "0"
	case f.Key == "blade" || f.Key == "rings":
		return "none"
	case f.Word != "":
		return f.Word
	case len(f.Options) > 0:
		return f.Options[0]
	}
	return f.Value
}

// TestToTheFirstStart goes from a saw of which nothing is known to the blade that turns
// for the first time, and sees by the way that nothing but the order of job.md comes up.
func TestToTheFirstStart(t *testing.T) {
	p := profiles.Demo()
	p.Reference, p.Standing = "general-48", []string{}
	now := procedure.New(p, House(procedure.Options{Seed: 5}), Judge, procedure.Options{Seed: 5})
	at := time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)
	var way []string
	for now.View().Place.Step != "boards" && len(way) < 40 {
		v := now.View()
		a := procedure.Answers{}
		for _, f := range v.Fields {
			a[f.Key] = honest(f)
		}
		at = at.Add(5 * time.Second)
		next, err := now.Apply(procedure.Event{Kind: procedure.Answer, At: at, Visit: v.Visit, Answers: a})
		if err != nil {
			t.Fatalf("%s: %v: %v", v.Place, a, err)
		}
		way, now = append(way, v.Place.Step), next
	}
	const want = "who stop isolate clear arbor unfit lock mount block heel-toe rim line power first"
	if got := strings.Join(way, " "); got != want {
		t.Errorf("the way went\n%s\nwant\n%s", got, want)
	}
}
