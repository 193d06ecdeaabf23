package stages

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver"
	honest "example.com/sawdatum/testdata/hand"
	stories "example.com/sawdatum/testdata/procedure"
	"example.com/sawdatum/wizard/procedure"
)

// teller tells one story.
type teller struct {
	t  *testing.T
	p  procedure.Procedure
	at time.Time
	stories.Line
	say []string // what the last accepted answer led to
}

// TestStories tells testdata/procedure/*.txt: one event a line, and behind the arrow the
// place that it leads to or the refusal. How they are written stands in the first one. A
// line that names another place than the one where the work stands fails.
func TestStories(t *testing.T) {
	shop, findings := text.Parse("shop.yaml", stories.Shop)
	all, err := stories.All()
	if err != nil || len(findings) > 0 || len(all) < 15 {
		t.Fatalf("%d stories, want fifteen at least: %v %v", len(all), err, findings)
	}
	for _, story := range all {
		t.Run(story.Name, func(t *testing.T) {
			s := teller{t: t, at: time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)}
			s.run(shop, procedure.Options{})
			for _, s.Line = range story.Lines {
				s.tell()
				s.at = s.at.Add(time.Minute)
			}
			for _, f := range s.p.Profile().Validate() {
				t.Errorf("the file would not be read again: %v", f)
			}
		})
	}
}

func (s *teller) run(p model.Profile, o procedure.Options) {
	o.Seed = 1
	s.p = procedure.New(p, House(o), solver.Judge, o)
}

var modes = map[string]procedure.Mode{"run for": procedure.OneBlade, "swap to": procedure.Swap, "prove": procedure.Prove}

func (s *teller) tell() {
	s.t.Helper()
	if s.Check {
		s.holds(s.What, s.Rest)
		return
	}
	var err error
	word, of, _ := strings.Cut(s.What, " ")
	switch {
	case s.What == "idle" || s.What == "suspend" || s.What == "back" || s.What == "forward":
		s.at = s.at.Add(30 * time.Minute)
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.EventKind(s.What), At: s.at})
	case s.What == "work on":
		s.workOn(s.Leads)
	case s.What == "new run":
		s.run(s.p.Profile(), procedure.Options{})
	case word == "begin":
		row, blade, _ := strings.Cut(of, " ")
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.Begin, At: s.at, Place: procedure.Place{Step: row, Blade: blade}})
	default:
		for begins, mode := range modes {
			if blade, ok := strings.CutPrefix(s.What, begins+" "); ok && s.Rest == "" {
				s.run(s.p.Profile(), procedure.Options{Mode: mode, Blade: blade})
				s.leads(nil)
				return
			}
		}
		v := s.p.View()
		if here := v.Place.String(); s.What != here {
			s.t.Fatalf("%s\nis for %s, and the work stands at %s", s.Where, s.What, here)
		}
		err = s.answer(s.answers(v))
	}
	s.leads(err)
}

// answer sends answers once, and where the story does not tell of a question once more.
func (s *teller) answer(a procedure.Answers) (err error) {
	for range 2 {
		var next procedure.Procedure
		next, err = s.p.Apply(procedure.Event{Kind: procedure.Answer, At: s.at, Visit: s.p.View().Visit, Answers: a})
		s.p = next
		var r *procedure.Refusal
		if err == nil || s.Refused != "" || !errors.As(err, &r) || len(r.Faults) == 0 || !r.Faults[0].Question {
			break
		}
	}
	if err == nil {
		s.say = nil
		for _, r := range s.p.Report() {
			s.say = append(s.say, r.Text)
		}
	}
	return err
}

// workOn answers as an honest hand does until the place is reached.
func (s *teller) workOn(to string) {
	s.t.Helper()
	for range 150 {
		v := s.p.View()
		if v.Place.String() == to {
			return
		}
		a := procedure.Answers{}
		for _, f := range v.Fields {
			a[f.Key] = honest.Answer(v, f, nil, a)
		}
		if os.Getenv("SHOW") != "" {
			s.t.Log(v.Place, a)
		}
		if err := s.answer(a); err != nil {
			s.t.Fatalf("%s\nat %s: %v", s.Where, v.Place, err)
		}
		s.at = s.at.Add(time.Minute)
	}
	s.t.Fatalf("%s\nnever leads there: the work stands at %s", s.Where, s.p.View().Place)
}

// answers are those of the line, field by field; done stands for what an honest hand
// answers at a good saw, - for an empty field, WORD for the word that the gate shows.
func (s *teller) answers(v procedure.View) procedure.Answers {
	s.t.Helper()
	out := procedure.Answers{}
	texts, done := s.Answers()
	if !done && len(texts) != len(v.Fields) {
		var labels []string
		for _, f := range v.Fields {
			labels = append(labels, f.Label+" ("+f.Hint+")")
		}
		s.t.Fatalf("%s\nhas %d answers for %d fields: %s", s.Where, len(texts), len(v.Fields), strings.Join(labels, "; "))
	}
	for i, f := range v.Fields {
		switch {
		case done:
			out[f.Key] = honest.Answer(v, f, nil, out)
		case texts[i] == "WORD":
			out[f.Key] = f.Word
		case texts[i] != "-":
			out[f.Key] = texts[i]
		}
	}
	return out
}

func (s *teller) leads(err error) {
	s.t.Helper()
	var r *procedure.Refusal
	here := s.p.View().Place.String()
	switch refused := s.Refused != ""; {
	case refused && !errors.As(err, &r):
		s.t.Fatalf("%s\nwas taken and leads to %s", s.Where, here)
	case refused && !strings.Contains(r.Error(), s.Refused):
		s.t.Fatalf("%s\nwas refused otherwise: %v", s.Where, err)
	case !refused && err != nil:
		s.t.Fatalf("%s\nwas refused: %v", s.Where, err)
	case !refused && here != s.Leads:
		s.t.Fatalf("%s\nleads to %s: %q", s.Where, here, append(s.p.View().Do, s.say...))
	}
}

// holds holds what the program says against the story: power, ready blades, states,
// verdicts, and sentences of the screen and of the last report.
func (s *teller) holds(what, want string) {
	s.t.Helper()
	var got string
	word, blade, _ := strings.Cut(what, " ")
	row, _ := s.p.Plan().Row(blade)
	switch word {
	case "power":
		power, _ := s.p.Power()
		got = map[interlock.Power]string{interlock.Unknown: "unknown", interlock.Isolated: "isolated", interlock.Live: "live"}[power]
	case "ready":
		if got = strings.Join(honest.Ready(s.p.Plan()), " "); got == "" {
			got = "none"
		}
	case "verdict":
		got = string(row.Verdict)
	case "state":
		got = string(row.State)
	case "lock":
		if got = "in force"; s.p.State().Lock == "" {
			got = "none"
		}
	case "records":
		got = fmt.Sprint(len(s.p.Profile().Records))
	case "says":
		v := s.p.View()
		if got = strings.Join(slices.Concat([]string{v.Title}, v.Do, v.Why, s.say), "\n"); strings.Contains(strings.ToLower(got), strings.ToLower(want)) {
			return
		}
	default:
		s.t.Fatalf("%s\nis no event and no check", s.Where)
	}
	if got != want {
		s.t.Fatalf("%s\nbut it is: %s", s.Where, got)
	}
}
