package procedure

import (
	"testing"

	"example.com/sawdatum/model"
)

// pairRow asks for a hole and a rim around it, and then for a word, of which none is the whole
// answer. A hole of 200 stands there. A rim under its hole is wrong, one of more than twice the
// hole is unlikely, and so is a hole of more than 100.
func pairRow(h *House, _ *model.Profile) {
	rim := Field{Key: "rim", Hint: "such as 5", Kind: FieldLength, Unit: model.MM}.Against(func(t *Taking) {
		switch hole, rim := t.Length("hole").Length, t.Length("rim").Length; {
		case t.Typed("text"):
			t.Fault("rim", "the check reads what comes after it")
		case rim <= hole:
			t.Fault("rim", "the rim is under the hole")
		case rim > 2*hole:
			t.Question("rim", "the rim is wide")
		}
		t.Keep(warm, "kept")
		t.Finish()
	})
	hole := Field{Key: "hole", Hint: "such as 3", Value: "200", Kind: FieldLength, Unit: model.MM}.Against(func(t *Taking) {
		if t.Length("hole").Length > 100*model.Millimetre {
			t.Question("hole", "the hole is wide")
		}
	})
	text := Field{Key: "text", Hint: "such as word", Kind: FieldText}.WithAlone(func(text string) bool { return text == "none" })
	h.Blocks[0].Rows = []Row{{
		Name: "pair", Stage: 1, Title: said("pair"), Done: func(c Context) bool { return c.Profile.Name == "paired" },
		Act: Paper{Says: func(Context) []string { return nil }, Accept: func(t *Taking) {
			if t.Text("text") != "none" && t.Length("rim").Length <= t.Length("hole").Length {
				t.Fault("rim", "the row was asked though a field is wrong")
			}
			t.Head(func(p *model.Profile) { p.Name = "paired" })
		}},
		Fields: func(Context) []Field {
			return []Field{hole, rim, text}
		},
	}}
}

// left leaves a field with these answers typed.
func (r *run) left(field string, typed ...string) *Refusal {
	a := Answers{}
	for i := 0; i+1 < len(typed); i += 2 {
		a[typed[i]] = typed[i+1]
	}
	next, err := r.Apply(Event{Kind: Leave, Visit: r.View().Visit, Field: field, Answers: a})
	r.Procedure = next
	refusal, _ := err.(*Refusal)
	return refusal
}

func (r *run) asks(what string, refusal *Refusal, question bool) {
	r.Helper()
	if refusal == nil || refusal.Place != r.View().Place || len(refusal.Faults) != 1 || refusal.Faults[0].Field != "rim" || refusal.Faults[0].Question != question {
		r.Errorf("%s: %+v", what, refusal)
	}
}

// TestLeaving: what is wrong or unlikely about a field is said when it is left. Typed again
// it is taken, and not asked once more when all is sent. Nothing moves by it.
func TestLeaving(t *testing.T) {
	r := begun(t, pairRow)
	v, now, judged := r.View(), r.Now().At, *r.judged
	r.must(r.left("hole", "hole", "3"))
	r.must(r.left("rim", "hole", "", "rim", "2"))
	r.must(r.left("rim", "hole", "3", "rim", "x"))
	r.must(r.left("rim", "hole", "3", "rim", "6", "text", "word"))
	r.asks("under", r.left("rim", "hole", "3", "rim", "3"), false)
	r.asks("under again", r.left("rim", "hole", "3", "rim", "3"), false)
	r.asks("wide", r.left("rim", "hole", "3", "rim", "7"), true)
	r.asks("wider", r.left("rim", "hole", "3", "rim", "8"), true)
	r.must(r.left("rim", "hole", "3", "rim", "8"))
	if r.Now().At != now || r.View().Visit != v.Visit || r.View().Place != v.Place || r.Finished() || r.Now().Fact(warm) != "" || *r.judged != judged || len(r.Profile().Records) > 0 {
		t.Error("leaving a field moved something")
	}
	r.must(r.answer("hole", "3", "rim", "8"))
	if r.Profile().Name != "paired" {
		t.Error("not taken")
	}
}

// TestNotLeft: what was not typed again at its field is asked when all is sent.
func TestNotLeft(t *testing.T) {
	for what, before := range map[string][]string{"never left": nil, "asked once": {"7"}, "another typed again": {"8", "8"}} {
		r := begun(t, pairRow)
		for _, rim := range before {
			r.left("rim", "hole", "3", "rim", rim)
		}
		r.asks(what, r.answer("hole", "3", "rim", "7"), true)
		r.asks(what+", other word", r.answer("hole", "3", "rim", "7", "text", "other"), true)
		r.must(r.answer("hole", "3", "rim", "7"))
	}
	r := begun(t, pairRow)
	r.asks("all sent", r.answer("hole", "3", "rim", "7"), true)
	r.must(r.left("rim", "hole", "3", "rim", "7")) // it was asked then
	r = begun(t, pairRow)
	if refusal := r.answer("hole", "", "rim", "", "text", "none"); refusal == nil || len(refusal.Faults) != 2 {
		t.Errorf("what stands before the end of an answer counts, too: %+v", refusal)
	}
	r.must(r.answer("hole", "3", "rim", "5", "text", "none"))
	r = begun(t, pairRow)
	r.left("rim", "hole", "3", "rim", "7")
	r.must(r.left("rim", "hole", "3", "rim", "7"))
	r.asks("another hole", r.answer("hole", "3.1", "rim", "7"), true)
	r.asks("under", r.answer("hole", "9", "rim", "7"), false)
	for _, e := range []Event{{Kind: Leave, Field: "rim"}, {Kind: Leave, Field: "none", Visit: r.View().Visit}} {
		if refusal := r.send(e); refusal == nil || len(refusal.Unmet) != 1 {
			t.Errorf("%+v: %v", e, refusal)
		}
	}
}
