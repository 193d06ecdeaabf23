package procedure

import (
	"maps"
	"slices"
	"strings"
)

// leave judges a field that is left, by what is typed up to it. What is questioned is taken
// when it is typed again, and is not asked once more when all is sent. Nothing moves but the
// memory of that.
func leave(p Procedure, e Event) (Procedure, error) {
	v := p.View()
	i := slices.IndexFunc(v.Fields, func(f Field) bool { return f.Key == e.Field })
	if e.Visit != p.visit || i < 0 {
		return p, p.refuse("that was typed for a screen that is not open any more")
	}
	if slices.ContainsFunc(v.Fields[:i+1], func(f Field) bool { return f.Check(e.Answers[f.Key]) != nil }) {
		return p, nil // it is told at that field, and nothing can be held against it
	}
	t := p.against(v, i, e.Answers)
	typed := t.typed(e.Field)
	switch {
	case t.Faulty():
		return p, &Refusal{Place: v.Place, Faults: t.faults}
	case len(t.faults) == 0:
		return p, nil
	case p.wasAsked(typed):
		return p.ask(typed, true), nil
	}
	return p.ask(typed, false), &Refusal{Place: v.Place, Faults: t.faults}
}

// held holds every field against those before it, but for what was typed again at its field.
func (p Procedure) held(v View, fields []Field, answers Answers) (next Procedure, faults []Fault) {
	for i, f := range fields {
		t := p.against(v, i, answers)
		if typed := t.typed(f.Key); len(t.faults) > 0 && !p.asked[typed] {
			p = p.ask(typed, false)
			faults = append(faults, t.faults...)
		}
	}
	return p, faults
}

// against holds one field against what is typed before it.
func (p Procedure) against(v View, i int, answers Answers) *Taking {
	t := p.taking(v, v.Fields[:i+1], answers)
	if check := v.Fields[i].against; check != nil {
		check(t)
	}
	return t
}

// taking is what is typed in some fields of a view, on its way in.
func (p Procedure) taking(v View, fields []Field, answers Answers) *Taking {
	t := &Taking{Context: v.context, answers: Answers{}, fields: fields}
	if p.fix != nil {
		t.Context = p.now.For(p.fix.blade)
	}
	for _, f := range fields {
		t.answers[f.Key] = answers[f.Key]
	}
	return t
}

// typed is what is typed at a place, or at a field of it, as one text.
func (t *Taking) typed(at string) string {
	parts := []string{at}
	for _, f := range t.fields {
		parts = append(parts, t.answers[f.Key])
	}
	return strings.Join(parts, "\x00")
}

func faulty(faults []Fault) bool {
	return slices.ContainsFunc(faults, func(f Fault) bool { return !f.Question })
}

// wasAsked reports whether what is typed was questioned in this visit.
func (p Procedure) wasAsked(typed string) bool {
	_, asked := p.asked[typed]
	return asked
}

// ask remembers that what is typed was questioned, and whether it was typed again since.
func (p Procedure) ask(typed string, again bool) Procedure {
	asked := map[string]bool{}
	maps.Copy(asked, p.asked)
	asked[typed] = again
	p.asked = asked
	return p
}
