package procedure_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// TestGatesStayShut walks a whole setup, a run-down that is too long in it, and one
// blade again. At every place whose words stand between a person and the blade it
// tries what must not open it: nothing at all, each field empty, each wrong, the same
// answer sent twice, the answer to the gate before, and an answer named for another
// place.
func TestGatesStayShut(t *testing.T) {
	w := world{truth: exact}
	gates := map[string]int{}
	for _, walk := range []struct {
		options procedure.Options
		rundown string
	}{
		{procedure.Options{Seed: 1}, "6"},
		{procedure.Options{Seed: 2}, "14"},
		{procedure.Options{Seed: 3, Mode: procedure.IsolateOnly}, "6"},
	} {
		p, at := procedure.New(w.rack(), solver.Plan, walk.options), asFound()
		var before procedure.Event
		for range 60 {
			if p.Finished() {
				break
			}
			v := p.View()
			good := w.honest(p, &at, v)
			if v.Place.Step == "stop" {
				good["run_down"] = walk.rundown
			}
			answer := procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: good, At: typedAt(v.Place)}
			if v.Gate {
				gates[v.Place.Step]++
				shut(t, p, v, good)
				if before.Place.Step != "" {
					refused(t, p, before, "the answer to the gate before, "+before.Place.String())
				}
			}
			next, err := p.Apply(answer)
			if err != nil {
				t.Fatalf("%s: %v", v.Place, err)
			}
			if v.Gate {
				refused(t, next, answer, "the same answer twice")
				elsewhere := answer
				elsewhere.Place = next.Place()
				if next.View().Gate {
					refused(t, next, elsewhere, "the same answer, named for the next gate")
				}
				before = answer
			}
			w.does(&at, v, good, "", p, next)
			p = next
		}
		if !p.Finished() {
			t.Errorf("the walk ends at %s", p.Place())
		}
	}
	for _, step := range []string{"stop", "slow", "isolate", "power"} {
		if gates[step] == 0 {
			t.Errorf("no walk came to the gate %s", step)
		}
	}
	t.Log(gates)
}

// shut tries every answer with one thing wrong.
func shut(t *testing.T, p procedure.Procedure, v procedure.View, good map[string]string) {
	t.Helper()
	try := func(what string, change func(map[string]string)) {
		answers := clone(good)
		change(answers)
		refused(t, p, procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: noon}, what)
	}
	refused(t, p, procedure.Event{Kind: procedure.Answer, Place: v.Place, At: noon}, "no answers")
	try("an empty answer", func(a map[string]string) { clear(a) })
	for _, f := range v.Fields {
		try(f.Key+" left out", func(a map[string]string) { delete(a, f.Key) })
		wrong := append(spoiled(f, v.Place.Step), " ", "\n", "y", "yes", "ok", "true", f.Label, f.Key, "done "+f.Word, f.Word+f.Word)
		if f.Word != "" {
			wrong = append(wrong, f.Word[:len(f.Word)-1], f.Word+".", "\u200b"+f.Word)
			for _, other := range v.Fields {
				wrong = append(wrong, other.Word)
			}
		}
		for _, text := range wrong {
			bare := strings.TrimSpace(text)
			if strings.EqualFold(bare, good[f.Key]) || f.Kind == procedure.FieldInitials && slices.Contains([]string{"y", "yes", "ok", "true", "by", "done"}, bare) {
				continue // right, or somebody's initials
			}
			try(fmt.Sprintf("%s typed as %q", f.Key, text), func(a map[string]string) { a[f.Key] = text })
		}
	}
	for _, other := range []procedure.Place{{Step: "arbor"}, {Step: "power"}, {Step: "isolate"}, {Step: "cut", Blade: "rip"}, {Step: "nowhere"}} {
		if other != v.Place {
			refused(t, p, procedure.Event{Kind: procedure.Answer, Place: other, Answers: good, At: noon}, "an answer named for "+other.String())
		}
	}
}

// refused wants the event refused, and nothing moved by it.
func refused(t *testing.T, p procedure.Procedure, e procedure.Event, what string) {
	t.Helper()
	next, err := p.Apply(e)
	if err == nil {
		t.Errorf("%s: %s opened the gate", p.Place(), what)
		return
	}
	was, now := p.Known(), next.Known()
	was.Asked, now.Asked = "", ""
	if was != now || next.Place() != p.Place() || len(next.Profile().Records) != len(p.Profile().Records) {
		t.Errorf("%s: %s was refused and moved something", p.Place(), what)
	}
}
