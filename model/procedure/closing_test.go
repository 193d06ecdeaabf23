package procedure_test

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model/procedure"
)

// atTheEnd walks to the closing place.
func atTheEnd(t *testing.T, options procedure.Options) procedure.Procedure {
	t.Helper()
	p := procedure.New(shop(), simpleJudge, options)
	for minute := range 100 {
		if p.View().Last {
			return p
		}
		p = step(t, p, noon.Add(time.Duration(minute)*time.Minute))
	}
	t.Fatal("the closing place never came")
	return p
}

// TestClosingPlaceTakesExports: what is asked for is told until the next answer, the
// place stays, and nothing but done leaves.
func TestClosingPlaceTakesExports(t *testing.T) {
	p := atTheEnd(t, procedure.Options{Seed: 1, Exports: []string{"card", "html"}})
	type answer struct {
		typed    string
		want     procedure.Export
		finished bool
		fault    string
	}
	for _, a := range []answer{
		{"card", procedure.Export{As: "card"}, false, ""},
		{" HTML  Both ", procedure.Export{As: "html", BothUnits: true}, false, ""},
		{"", procedure.Export{}, false, "nothing typed: type done to leave, or card or html"},
		{"d", procedure.Export{}, false, `"d" is not one of them: type done to leave, or card or html, with both behind it for both units`},
		{"1", procedure.Export{}, false, "is not one of them"},
		{"pdf", procedure.Export{}, false, "is not one of them"},
		{"card both both", procedure.Export{}, false, "is not one of them"},
		{"card inches", procedure.Export{}, false, "is not one of them"},
		{"both", procedure.Export{}, false, "is not one of them"},
		{"done both", procedure.Export{}, false, "is not one of them"},
		{"Done", procedure.Export{}, true, ""},
	} {
		records := len(p.Profile().Records)
		next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.Place(), Answers: map[string]string{"done": a.typed}, At: noon})
		if (err != nil) != (a.fault != "") || err != nil && !strings.Contains(err.Error(), a.fault) {
			t.Errorf("%q: %v", a.typed, err)
		}
		if err == nil && next.Export() != a.want || next.Finished() != a.finished || len(next.Profile().Records) != records {
			t.Errorf("%q: export %q, finished %v", a.typed, next.Export(), next.Finished())
		}
		if p = next; !p.Finished() && p.Place().Step != "close" {
			t.Fatalf("%q leads to %s", a.typed, p.Place())
		}
	}
}

// TestIsolateOnlyHandsNothingOn: hands are at the saw, and cards are not what it is about.
func TestIsolateOnlyHandsNothingOn(t *testing.T) {
	p := atTheEnd(t, procedure.Options{Seed: 1, Mode: procedure.IsolateOnly, Exports: []string{"card"}})
	if f := p.View().Fields[0]; f.Check("card") == nil || f.Kind != procedure.FieldWord {
		t.Errorf("%+v", f)
	}
}
