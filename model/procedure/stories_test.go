package procedure_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	stories "example.com/sawdatum/testdata/procedure"
)

// storyShop is the saw of the stories.
func storyShop(t *testing.T) model.Profile {
	p, findings := profiles.Parse("shop.yaml", stories.Shop)
	if len(findings) > 0 {
		t.Fatal(findings)
	}
	return p
}

// teller runs one story.
type teller struct {
	t  *testing.T
	p  procedure.Procedure
	at time.Time
	stories.Line
}

// TestStories runs testdata/procedure/*.txt: one event a line, and behind the arrow
// the place that it leads to or the refusal. How they are written stands in the first
// one. A line that names another place than the one where the work stands fails.
func TestStories(t *testing.T) {
	all, err := stories.All()
	if err != nil || len(all) < 12 {
		t.Fatalf("%d stories, want twelve at least: %v", len(all), err)
	}
	for _, story := range all {
		t.Run(story.Name, func(t *testing.T) {
			s := teller{t: t, at: time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)}
			s.p = procedure.New(storyShop(t), solver.Plan, procedure.Options{Seed: 1})
			for _, s.Line = range story.Lines {
				s.tell()
				s.at = s.at.Add(time.Minute)
			}
		})
	}
}

func (s *teller) tell() {
	s.t.Helper()
	if s.Check {
		s.say(s.What, s.Rest)
		return
	}
	var err error
	switch word, of, _ := strings.Cut(s.What, " "); {
	case s.What == "idle" || s.What == "suspend" || s.What == "back" || s.What == "forward":
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.EventKind(s.What), At: s.at})
	case s.What == "work on":
		s.workOn(s.Leads)
	case s.What == "new run":
		s.p = procedure.New(s.p.Profile(), solver.Plan, procedure.Options{Seed: 2})
	case word == "run" && strings.HasPrefix(of, "for "):
		s.p = procedure.New(s.p.Profile(), solver.Plan, procedure.Options{Mode: procedure.OneBlade, Blade: strings.TrimPrefix(of, "for "), Seed: 3})
	case word == "begin":
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.Begin, At: s.at, Place: procedure.Place{Step: of}})
	default:
		if here := s.p.Place().String(); s.What != here {
			s.t.Fatalf("%s\nis for %s, and the work stands at %s", s.Where, s.What, here)
		}
		v := s.p.View()
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.Answer, At: s.at, Place: v.Place, Answers: s.answers(v)})
	}
	s.leads(err)
}

// workOn answers as an honest hand does until the place is reached.
func (s *teller) workOn(to string) {
	s.t.Helper()
	for range 60 {
		if s.p.Place().String() == to {
			return
		}
		s.p, s.at = step(s.t, s.p, s.at), s.at.Add(time.Minute)
	}
	s.t.Fatalf("%s\nnever leads there: the work stands at %s", s.Where, s.p.Place())
}

// answers are those of the line, field by field; done stands for what an honest hand
// answers at a good saw, - for an empty field, WORD for the word that the gate shows.
func (s *teller) answers(v procedure.View) map[string]string {
	s.t.Helper()
	out := map[string]string{}
	texts, done := s.Answers()
	if !done && len(texts) != len(v.Fields) {
		s.t.Fatalf("%s\nhas %d answers for %d fields: %s", s.Where, len(texts), len(v.Fields), fieldNames(v))
	}
	for i, f := range v.Fields {
		switch {
		case done:
			out[f.Key] = plausible(s.p, v, f)
		case texts[i] == "WORD":
			out[f.Key] = f.Word
		case texts[i] != "-":
			out[f.Key] = texts[i]
		}
	}
	return out
}

func fieldNames(v procedure.View) string {
	var out []string
	for _, f := range v.Fields {
		out = append(out, f.Label)
	}
	return strings.Join(out, "; ")
}

func (s *teller) leads(err error) {
	s.t.Helper()
	var r *procedure.Refusal
	switch refused := s.Refused != ""; {
	case refused && !errors.As(err, &r):
		s.t.Fatalf("%s\nwas taken and leads to %s", s.Where, s.p.Place())
	case refused && !strings.Contains(r.Error(), s.Refused):
		s.t.Fatalf("%s\nwas refused otherwise: %v", s.Where, err)
	case !refused && err != nil:
		s.t.Fatalf("%s\nwas refused: %v", s.Where, err)
	case !refused && s.p.Place().String() != s.Leads:
		s.t.Fatalf("%s\nleads to %s", s.Where, s.p.Place())
	}
}

// say holds what the program says against the story: power, fence, ready blades,
// verdicts, and sentences of the last report.
func (s *teller) say(what, want string) {
	s.t.Helper()
	var got string
	word, blade, _ := strings.Cut(what, " ")
	switch word {
	case "power":
		power, _, _ := s.p.Power()
		got = power.String()
	case "ready":
		var ids []string
		for _, b := range s.p.Plan().Blades {
			if b.Ready {
				ids = append(ids, b.ID)
			}
		}
		if got = strings.Join(ids, " "); got == "" {
			got = "none"
		}
	case "verdict":
		row, _ := s.p.Plan().Blade(blade)
		got = string(row.Verdict)
	case "records":
		got = fmt.Sprint(len(s.p.Profile().Records))
	case "says":
		v := s.p.View()
		got = strings.Join(append(v.Do, v.Why...), "\n")
		for _, r := range s.p.Report() {
			got += "\n" + r.Text
		}
		if strings.Contains(got, want) {
			return
		}
	default:
		s.t.Fatalf("%s\nis no event and no check", s.Where)
	}
	if got != want {
		s.t.Fatalf("%s\nbut it is: %s", s.Where, got)
	}
}
