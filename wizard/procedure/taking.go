package procedure

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// unsigned is why nothing goes on record: nobody has said who is there.
const unsigned = "every record is signed: say first who is at the saw"

// Taking is an answer on its way in: what a row accepts from it is all that can move a
// Procedure. A fault, or a refusal of the interlock, drops the whole of it.
type Taking struct {
	Context
	answers     Answers
	fields      []Field
	faults      []Fault
	unmet       []string
	events      []interlock.Event
	report      []model.Reason
	after       func(Context) []model.Reason
	changed     bool
	finished    bool
	isolate     bool
	stays       bool
	onPaper     bool
	interrupted bool
	next        *Row // work that begins with this answer, and the blade that it is about
	blade       string
	export      Export
}

// Text is what was typed in a field, without blanks around it.
func (t *Taking) Text(key string) string { return strings.TrimSpace(t.answers[key]) }

// Typed reports whether anything was typed in a field.
func (t *Taking) Typed(key string) bool { return t.Text(key) != "" }

func (t *Taking) field(key string) Field {
	for _, f := range t.fields {
		if f.Key == key {
			return f
		}
	}
	return Field{}
}

// Length is a length that was typed; NoUnit where the field was left empty.
func (t *Taking) Length(key string) model.Measure {
	m, _ := model.ParseLength(t.Text(key), t.field(key).Unit)
	return m
}

// Lengths are readings that were typed; nil where the field was left empty.
func (t *Taking) Lengths(key string) []model.Measure {
	ms, _ := model.ParseReadings(t.Text(key), t.field(key).Unit)
	return ms
}

// Choice is the option that was named.
func (t *Taking) Choice(key string) string {
	option, _ := t.field(key).Choice(t.Text(key))
	return option
}

// Export is the way of handing the profile on that was named; none where the word to leave
// was typed.
func (t *Taking) Export(key string) Export {
	e, _ := t.field(key).export(t.Text(key))
	return e
}

// Count is a whole number that was typed.
func (t *Taking) Count(key string) int {
	n, _ := strconv.Atoi(t.Text(key))
	return n
}

// Fault says what is wrong with a field, and what would be right. Nothing of the answer
// is taken then.
func (t *Taking) Fault(field, format string, a ...any) {
	t.faults = append(t.faults, Fault{Field: field, Text: fmt.Sprintf(format, a...)})
}

// Question says what is unlikely about a field. The same answer once more is taken.
func (t *Taking) Question(field, format string, a ...any) {
	t.faults = append(t.faults, Fault{Field: field, Text: fmt.Sprintf(format, a...) + ": type the same again if it is so", Question: true})
}

// Faulty reports whether the answer is refused already, and not only questioned.
func (t *Taking) Faulty() bool {
	return faulty(t.faults) || len(t.unmet) > 0
}

// Say tells what followed from the answer.
func (t *Taking) Say(code string, weight model.Weight, format string, a ...any) {
	t.report = append(t.report, model.Reason{Code: code, Weight: weight, Text: fmt.Sprintf(format, a...)})
}

// After tells what follows once the records are read anew.
func (t *Taking) After(tell func(Context) []model.Reason) { t.after = tell }

// Record adds a record behind the others, at this moment and by who is at the saw, and
// returns its Ref. Without anybody there it is refused.
func (t *Taking) Record(r model.Record) string {
	if t.Who == "" && !slices.Contains(t.unmet, unsigned) {
		t.unmet = append(t.unmet, unsigned)
	}
	r.At, r.By = after(t.Profile.Records, t.At), t.Who
	n := len(t.Profile.Records)
	t.Profile.Records = append(t.Profile.Records[:n:n], r)
	t.changed = true
	return r.Ref()
}

// Head changes the head of the profile: saw, knives, blades, rings. write must replace
// slices, never write into them.
func (t *Taking) Head(write func(*model.Profile)) {
	write(&t.Profile)
	t.changed = true
}

// Keep keeps a fact of this run; an empty text forgets it.
func (t *Taking) Keep(f Fact, text string) {
	t.facts = maps.Clone(t.facts)
	if t.facts == nil {
		t.facts = map[Fact]string{}
	}
	if t.facts[f] = text; text == "" {
		delete(t.facts, f)
	}
}

// IsAtTheSaw takes note of who is there. It stands beside every record from here on.
func (t *Taking) IsAtTheSaw(initials string) { t.Who = initials }

// Does tells the interlock what was done. An event that it refuses refuses the answer.
func (t *Taking) Does(e interlock.Event) {
	was := t.Lock.Power()
	next, ok := t.Lock.Apply(e)
	if !ok {
		t.unmet = append(t.unmet, "not now: "+e.String())
		return
	}
	t.Lock, t.events = next, append(t.events, e)
	if next.Power() != was {
		t.Power = PowerSince{t.At, t.Who}
	}
}

// Interrupted says that somebody was at the saw: nothing of it is known any more, nor who
// stands there, nor what was said in this run and does not last.
func (t *Taking) Interrupted() {
	t.Does(interlock.Interrupted())
	t.interrupted = true
}

// Isolate asks for isolation before a part is measured, where it is in the saw.
func (t *Taking) Isolate() { t.isolate = true }

// ReadFromPaper has the values of the row behind typed as the manual has them.
func (t *Taking) ReadFromPaper() { t.onPaper = true }

// Begin has other work follow at once, about a blade or about none.
func (t *Taking) Begin(r *Row, blade string) { t.next, t.blade = r, blade }

// Stay has other work that was begun go on behind this answer.
func (t *Taking) Stay() { t.stays = true }

// Finish ends the run.
func (t *Taking) Finish() { t.finished = true }

// Hand asks for an export to be written; the procedure stays where it is.
func (t *Taking) Hand(e Export) { t.export = e }

// Degrees is an angle that was typed.
func (t *Taking) Degrees(key string) float64 {
	v, _ := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(t.Text(key), "deg")), 64)
	return v
}
