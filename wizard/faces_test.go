package wizard

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/wizard/procedure"
)

// TestBothFacesSayTheSame holds the words of both faces against each other at every
// place that has a typed gate: what is to be done, the cautions, each question with its
// hint, the word to type, and what a wrong answer is told. Where the text breaks into
// lines does not matter.
func TestBothFacesSayTheSame(t *testing.T) {
	compared := map[string]bool{}
	for _, size := range [][2]int{{80, 24}, {100, 30}} {
		synctest.Test(t, func(t *testing.T) {
			setup := twoFaces{drive(t, fixture{profile: shop()}, size[0], size[1]), compared}
			setup.to("stop")
			setup.both("12")
			setup.to("cut")
			half := setup.root().job.procedure.Profile()
			setup.both("", "123.00 123.00 123.00") // nothing fits, and it is asked whether that is so
			setup.clear()
			setup.typing("123.00 123.00 123.00")
			setup.enter()
			setup.rest()
			setup.to("written")
			setup.to("close")
			setup.both()

			again := twoFaces{drive(t, fixture{profile: half}, size[0], size[1]), compared}
			again.to("fence")
			again.to("cut")
			for _, task := range []string{"rings", "other-blade", "retire", "fence-moved"} {
				again.begin(task)
			}
			again.to("lock")
			again.to("cut")
			again.both("", "119.90 119.90 119.90") // too far: fewer rings, and a fresh piece
			again.to("cut")
			again.both("", "")

			only := twoFaces{drive(t, fixture{profile: shop(), mode: procedure.Options{Mode: procedure.IsolateOnly}}, size[0], size[1]), compared}
			only.to("hold")
			only.to("close")
			only.both()
		})
	}
	for _, step := range append(gated(t), "fence", "power with rings", "cut with a fresh piece") {
		if !compared[step] {
			t.Errorf("the faces were never compared at %s", step)
		}
	}
}

// gated lists the steps of the table that are gates or ask for a word.
func gated(t *testing.T) []string {
	row := regexp.MustCompile(`(?m)^\t"([a-z-]+)": \{`)
	files, err := filepath.Glob("../model/procedure/*.go")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		rows := row.FindAllSubmatchIndex(source, -1)
		for i, at := range rows {
			end := len(source)
			if i+1 < len(rows) {
				end = rows[i+1][0]
			}
			if body := string(source[at[1]:end]); strings.Contains(body, "gate: true") || strings.Contains(body, "wordField(") {
				out = append(out, string(source[at[2]:at[3]]))
			}
		}
	}
	if len(out) < 15 {
		t.Fatalf("only %d gates found in the table: %v", len(out), out)
	}
	return out
}

// twoFaces is a run on the full screen, and beside it the plain face at each place.
type twoFaces struct {
	*driver
	compared map[string]bool
}

// to passes places, each in both faces, until one of this step stands.
func (f twoFaces) to(step string) {
	f.t.Helper()
	for range 120 {
		f.uncover()
		if f.place().Step == step {
			return
		}
		f.both()
	}
	f.t.Fatalf("%s never came; the work stands at %s", step, f.place())
}

// begin begins other work, compares its place, and turns back from it or answers.
func (f twoFaces) begin(step string) {
	f.t.Helper()
	at := slices.IndexFunc(f.root().job.procedure.Tasks(), func(t procedure.Task) bool { return t.Place.Step == step })
	f.function(3)
	f.typing(itoa(at + 1))
	f.enter()
	f.rest()
	if f.place().Step == "source" {
		f.both("bench")
	}
	if f.place().Step != step {
		f.t.Fatalf("begun: %s, and the work stands at %s", step, f.place())
	}
	if step == "retire" {
		f.both("crosscut-80")
		return
	}
	f.both()
}

// both compares the faces at the present place and answers it on the full screen: with
// the given texts, else as an honest user would.
func (f twoFaces) both(answers ...string) {
	f.t.Helper()
	v := f.view()
	plain := f.plainly(v, answers)
	f.same(v, plain, "Do ", v.Do)
	f.same(v, plain, "Careful: ", v.Why)
	f.screenSays(v, v.Title)
	for i, field := range v.Fields {
		question := fmt.Sprintf("Question %d of %d. %s (%s).", i+1, len(v.Fields), field.Label, field.Hint)
		if !strings.Contains(plain, question) {
			f.t.Errorf("%s: the plain face does not ask %q:\n%s", v.Place, question, plain)
		}
		f.screenSays(v, append([]string{field.Label, field.Hint}, v.Do...)...)
		good := f.right(v, field, i, answers)
		wrong, fault := refusedText(field)
		if fault != "" {
			f.clear()
			f.typing(wrong)
			f.enter()
			f.screenSays(v, fault)
			if !strings.Contains(plain, "\n> "+fault+".\n") {
				f.t.Errorf("%s: the plain face does not say %q:\n%s", v.Place, fault, plain)
			}
			f.clear()
		}
		if at := f.root().base.(step).typing; at.text(at.at()) == "" {
			f.typing(good)
		}
		f.enter()
	}
	f.note(v)
	f.rest()
}

// right is the answer given for this field, else that of an honest user.
func (f twoFaces) right(v procedure.View, field procedure.Field, i int, answers []string) string {
	if i < len(answers) && answers[i] != "" {
		return answers[i]
	}
	if text := f.answer(field); text != "" {
		return text
	}
	return field.Value
}

// note remembers where the faces were compared.
func (f twoFaces) note(v procedure.View) {
	f.compared[v.Place.Step] = true
	for _, field := range v.Fields {
		switch v.Place.Step + " " + field.Key {
		case "power rings":
			f.compared["power with rings"] = true
		case "cut piece":
			f.compared["cut with a fresh piece"] = true
		}
	}
}

// clear empties the focused field.
func (f twoFaces) clear() { f.key(tea.KeyEnd, tea.KeyCtrlU) }

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

// same wants the plain lines with this beginning to be those of the table, no more and
// no fewer, and each of them on the full screen.
func (f twoFaces) same(v procedure.View, plain, lead string, want []string) {
	f.t.Helper()
	said := regexp.MustCompile(`(?m)^`+lead+`(?:\d+: )?(.*)$`).FindAllStringSubmatch(plain, -1)
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
func (f twoFaces) plainly(v procedure.View, answers []string) string {
	asked := &slowly{}
	for i, field := range v.Fields {
		if wrong, fault := refusedText(field); fault != "" {
			asked.lines = append(asked.lines, wrong)
		}
		asked.lines = append(asked.lines, f.right(v, field, i, answers))
	}
	var out bytes.Buffer
	p := plain{job: f.root().job, in: bufio.NewReader(asked), watch: newWatch(nil), out: &out, toured: map[int]bool{}}
	p.store.Save = nil
	if err := p.place(); err != nil && err != errEnded {
		f.t.Errorf("%s: %v", v.Place, err)
	}
	return out.String()
}

// slowly gives one line after the other, each after the time it takes to read.
type slowly struct{ lines []string }

func (s *slowly) Read(b []byte) (int, error) {
	if len(s.lines) == 0 {
		return 0, io.EOF
	}
	time.Sleep(2 * deafTime)
	n := copy(b, s.lines[0]+"\n")
	s.lines = s.lines[1:]
	return n, nil
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
