package screen

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/plain"
	"example.com/sawdatum/wizard/procedure"
)

// placeInLines is what plain lines begin a place with.
var placeInLines = regexp.MustCompile(`(?m)^(?:Stage \d+ of 11\.|Next:) `)

// sameInPlain holds the words of both faces against each other at the present place, once for
// each that came up: what is to be done, the cautions, each question with its hint, the word
// to type, and what a wrong answer is told. Where the text breaks into lines does not matter.
func (d *driver) sameInPlain(compared map[string]bool) {
	v := d.view()
	if at := fmt.Sprint(v.Place.Step, v.Do, len(v.Fields)); !compared[at] && d.root().over == nil && !d.quit {
		compared[at] = true
		twoFaces{d}.same(v)
	}
}

// twoFaces is a run on the full screen, and beside it the plain face at each place.
type twoFaces struct{ *driver }

// same compares the faces at the present place.
func (f twoFaces) same(v procedure.View) {
	f.t.Helper()
	lines := f.plainly(v)
	f.lines(v, lines, "Do ", v.Do)
	f.lines(v, lines, "Careful: ", v.Why)
	f.screenSays(v, v.Title)
	for i, field := range v.Fields {
		question := fmt.Sprintf("Question %d of %d. %s (%s).", i+1, len(v.Fields), field.Label, field.Hint)
		if !strings.Contains(lines, question) {
			f.t.Errorf("%s: the plain face does not ask %q:\n%s", v.Place, question, lines)
		}
		if _, fault := refusedText(field); fault != "" && !strings.Contains(lines, "\n> "+fault+".\n") {
			f.t.Errorf("%s: the plain face does not say %q:\n%s", v.Place, fault, lines)
		}
	}
	// What the screen says of a wrong answer, on a screen of its own.
	s := newStep(f.root().job, f.root().look, f.w, f.h)
	s.deaf = time.Time{}
	for i := range v.Fields {
		wrong, fault := refusedText(v.Fields[i])
		if fault == "" {
			continue
		}
		for s.typing.at() != i {
			next, _, _ := s.update(tea.KeyMsg{Type: tea.KeyTab})
			s = next.(step)
		}
		keys := []tea.KeyMsg{{Type: tea.KeyEnd}, {Type: tea.KeyCtrlU}}
		for _, r := range wrong {
			keys = append(keys, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
		for _, k := range append(keys, tea.KeyMsg{Type: tea.KeyEnter}) {
			next, _, _ := s.update(k)
			s = next.(step)
		}
		screen := ansi.Strip(frame.Join(s.view(f.w, f.h)))
		if !shows(screen, fault) || !shows(screen, v.Fields[i].Label) {
			f.t.Errorf("%s: the full screen does not show %q:\n%s", v.Place, fault, screen)
		}
	}
}

// refusedText is a text that a field refuses, and what it says then; "" where it takes
// everything.
func refusedText(f procedure.Field) (text, fault string) {
	for _, text := range []string{"12 furlongs", "x1", ""} {
		if err := f.Check(text); err != nil && (text != "" || f.Value == "") {
			return text, err.Error()
		}
	}
	return "", ""
}

// lines wants the plain lines with this beginning to be those of the table, no more and
// no fewer, and each of them on the full screen.
func (f twoFaces) lines(v procedure.View, printed, lead string, want []string) {
	f.t.Helper()
	said := regexp.MustCompile(`(?m)^`+lead+`(?:\d+: )?(.*)$`).FindAllStringSubmatch(printed, -1)
	var got []string
	for _, m := range said {
		got = append(got, m[1])
	}
	if v.Look == procedure.Result {
		got = got[:min(len(got), len(want))] // behind them the plain face tells of every blade
	}
	if !slices.Equal(got, want) {
		f.t.Errorf("%s: the plain face says after %q\n%q\nand the table has\n%q", v.Place, lead, got, want)
	}
	f.screenSays(v, got...)
}

func (f twoFaces) screenSays(v procedure.View, texts ...string) {
	f.t.Helper()
	screen := f.screen()
	for _, text := range texts {
		if !shows(screen, text) {
			f.t.Errorf("%s at %dx%d: the full screen does not show %q:\n%s", v.Place, f.w, f.h, text, screen)
		}
	}
}

// plainly is what the plain face prints at the place where the full screen stands, when
// each question is first answered wrong.
func (f twoFaces) plainly(v procedure.View) string {
	asked, typed := &bay.Slowly{}, map[string]string{}
	takes := func(field procedure.Field, text string) bool {
		if field.Check(text) != nil || field.Alone(text) {
			return false
		}
		typed[field.Key] = text
		_, err := f.root().job.Left(v.Visit, field.Key, typed)
		return err == nil
	}
	for _, field := range v.Fields {
		if wrong, fault := refusedText(field); fault != "" {
			asked.Lines = append(asked.Lines, wrong)
		}
		texts := []string{hand.Answer(v, field, f.reader, nil), field.Value, "1", "2", "0.10 mm"} // other work has no example
		i := slices.IndexFunc(texts, func(text string) bool { return takes(field, text) })
		typed[field.Key] = texts[max(i, 0)]
		typed[field.Key] = texts[max(i, 0)]
		asked.Lines = append(asked.Lines, typed[field.Key])
		_, err := f.root().job.Procedure.Apply(procedure.Event{Kind: procedure.Leave, Visit: v.Visit, Field: field.Key, Answers: typed})
		if r := (*procedure.Refusal)(nil); errors.As(err, &r) && len(r.Faults) > 0 && r.Faults[0].Question { // it is so
			asked.Lines = append(asked.Lines, typed[field.Key])
		}
	}
	var out bytes.Buffer
	j := f.root().job
	j.Store.Save = nil
	if _, err := plain.GoOn(j, wizard.NewWatch(nil), wizard.Options{In: asked, Out: &out}); err != nil && len(asked.Lines) > 0 {
		f.t.Errorf("%s: %v", v.Place, err)
	}
	parts := placeInLines.Split(out.String(), 3) // behind the welcome, before the next place, where it came to that
	if len(parts) < 2 {
		f.t.Fatalf("%s: plain lines show no place:\n%s", v.Place, out.String())
	}
	return parts[1]
}

// shows reports whether a text stands on a screen, in one line or broken over lines
// that follow each other, beside whatever else stands there.
func shows(screen, text string) bool {
	lines, words := strings.Split(screen, "\n"), strings.Fields(text)
	for i := range lines {
		if from(lines[i:], words) {
			return true
		}
	}
	return false
}

// from reports whether the words begin in the first line and go on in the next ones.
func from(lines, words []string) bool {
	if len(words) == 0 {
		return true
	}
	if len(lines) == 0 {
		return false
	}
	for n := len(words); n > 0; n-- {
		if standsIn(lines[0], strings.Join(words[:n], " ")) && from(lines[1:], words[n:]) {
			return true
		}
	}
	return false
}

// standsIn reports whether words stand in a line, bounded by space.
func standsIn(line, words string) bool {
	for at := 0; ; {
		i := strings.Index(line[at:], words)
		if i < 0 {
			return false
		}
		i += at
		end := i + len(words)
		if (i == 0 || line[i-1] == ' ') && (end == len(line) || line[end] == ' ' || line[end] == ':') {
			return true
		}
		at = i + 1
	}
}
