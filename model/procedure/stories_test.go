package procedure_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// storyShop is the saw of the stories: a far flange, four blades, three rings. The
// rip and the fine crosscut need 0.20 mm behind them; the knife does not fit the thin
// blade.
func storyShop() model.Profile {
	p := shop()
	names := map[string]string{"general": "48-tooth general", "rip": "24-tooth rip", "thin": "60-tooth thin kerf"}
	for i := range p.Blades {
		p.Blades[i].Label = names[p.Blades[i].ID]
	}
	fine := p.Blades[1]
	fine.ID, fine.Label, fine.Teeth = "fine", "80-tooth fine crosscut", 80
	p.Blades = slices.Insert(p.Blades, 2, fine)
	thinner, _ := model.ParseLength("2.4 mm", model.NoUnit)
	p.Knives = append(p.Knives, model.Knife{ID: "k24", Thickness: thinner})
	return p
}

// teller runs one story.
type teller struct {
	t    *testing.T
	p    procedure.Procedure
	at   time.Time
	line string
}

// TestStories runs testdata/procedure/*.txt: one event a line, and behind the arrow
// the place that it leads to or the refusal. How they are written stands in the first
// one. A line that names another place than the one where the work stands fails.
func TestStories(t *testing.T) {
	files, err := filepath.Glob("../../testdata/procedure/*.txt")
	if err != nil || len(files) < 12 {
		t.Fatalf("%d stories, want twelve at least: %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s := teller{t: t, at: time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)}
			s.p = procedure.New(storyShop(), solver.Plan, procedure.Options{Seed: 1})
			for n, line := range strings.Split(string(text), "\n") {
				line = strings.TrimSpace(line)
				if line == "" || strings.HasPrefix(line, "#") {
					continue
				}
				s.line = fmt.Sprintf("%s:%d: %s", filepath.Base(file), n+1, line)
				s.tell(line)
				s.at = s.at.Add(time.Minute)
			}
		})
	}
}

func (s *teller) tell(line string) {
	s.t.Helper()
	event, result, arrow := strings.Cut(line, " -> ")
	what, rest, _ := strings.Cut(event, ": ")
	if !arrow {
		s.say(what, rest)
		return
	}
	var err error
	switch word, of, _ := strings.Cut(event, " "); {
	case event == "idle" || event == "suspend" || event == "back" || event == "forward":
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.EventKind(event), At: s.at})
	case event == "work on":
		s.workOn(result)
	case event == "new run":
		s.p = procedure.New(s.p.Profile(), solver.Plan, procedure.Options{Seed: 2})
	case word == "run" && strings.HasPrefix(of, "for "):
		s.p = procedure.New(s.p.Profile(), solver.Plan, procedure.Options{Mode: procedure.OneBlade, Blade: strings.TrimPrefix(of, "for "), Seed: 3})
	case word == "begin":
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.Begin, At: s.at, Place: procedure.Place{Step: of}})
	default:
		if here := s.p.Place().String(); what != here {
			s.t.Fatalf("%s\nis for %s, and the work stands at %s", s.line, what, here)
		}
		v := s.p.View()
		s.p, err = s.p.Apply(procedure.Event{Kind: procedure.Answer, At: s.at, Place: v.Place, Answers: s.answers(v, rest)})
	}
	s.leads(result, err)
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
	s.t.Fatalf("%s\nnever leads there: the work stands at %s", s.line, s.p.Place())
}

// answers are those of the line, field by field; done stands for what an honest hand
// answers at a good saw, - for an empty field, WORD for the word that the gate shows.
func (s *teller) answers(v procedure.View, typed string) map[string]string {
	s.t.Helper()
	out := map[string]string{}
	texts := strings.Split(typed, ", ")
	if typed != "done" && len(texts) != len(v.Fields) {
		s.t.Fatalf("%s\nhas %d answers for %d fields: %s", s.line, len(texts), len(v.Fields), fieldNames(v))
	}
	for i, f := range v.Fields {
		switch {
		case typed == "done":
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

func (s *teller) leads(result string, err error) {
	s.t.Helper()
	want, refused := strings.CutPrefix(result, "refused: ")
	var r *procedure.Refusal
	switch {
	case refused && !errors.As(err, &r):
		s.t.Fatalf("%s\nwas taken and leads to %s", s.line, s.p.Place())
	case refused && !strings.Contains(r.Error(), want):
		s.t.Fatalf("%s\nwas refused otherwise: %v", s.line, err)
	case !refused && err != nil:
		s.t.Fatalf("%s\nwas refused: %v", s.line, err)
	case !refused && s.p.Place().String() != want:
		s.t.Fatalf("%s\nleads to %s", s.line, s.p.Place())
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
		s.t.Fatalf("%s\nis no event and no check", s.line)
	}
	if got != want {
		s.t.Fatalf("%s\nbut it is: %s", s.line, got)
	}
}
