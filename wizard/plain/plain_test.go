package plain

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// person answers the plain face as somebody would who practises: words as they are
// asked for, an empty line where the simulated saw reads. It sees the run only to know
// what an honest user would see: the field that is asked.
type person struct {
	plain *plain
	out   bytes.Buffer
	asked int // answers given
	stop  int // answers after which the input ends; 0: never
	rest  []byte
	says  func(place procedure.Place, field string) (string, bool)
	words []string // everything typed
}

func (p *person) Read(b []byte) (int, error) {
	if len(p.rest) == 0 {
		if p.stop > 0 && p.asked >= p.stop {
			return 0, io.EOF
		}
		p.asked++
		line := p.next()
		p.words = append(p.words, line)
		p.rest = []byte(line + "\n")
	}
	n := copy(b, p.rest)
	p.rest = p.rest[n:]
	return n, nil
}

// next is the answer to the last question that was printed.
func (p *person) next() string {
	text := p.out.String()
	question := text[strings.LastIndex(text, "Question "):]
	v := p.plain.Procedure.View()
	for i, f := range v.Fields {
		if !strings.HasPrefix(question, fmt.Sprintf("Question %d of ", i+1)) {
			continue
		}
		if p.says != nil {
			if line, ok := p.says(v.Place, f.Key); ok {
				return line
			}
		}
		if f.Measuring && !f.Optional {
			return ""
		}
		return hand.Answer(v, f, nil, nil)
	}
	return "/quit"
}

func practise(p *person, seed uint64, save func(model.Profile) error) (wizard.Result, error) {
	f := bay.Run{Profile: bay.Two(), Practice: true, Save: save}
	o := f.Options()
	o.Seed, o.Run.Seed = seed, seed
	o.In, o.Out = p, &p.out
	run := newPlain(wizard.NewJob(o), wizard.NewWatch(nil), o)
	p.plain = &run
	return run.goOn()
}

func TestPlainPracticeToTheEnd(t *testing.T) {
	for seed := range uint64(6) {
		p := &person{}
		result, err := practise(p, seed, nil)
		if err != nil || !result.Finished {
			t.Fatalf("seed %d: %v\n%s", seed, err, tail(p.out.String()))
		}
		ready := 0
		for _, b := range p.plain.Procedure.Plan().Blades {
			if b.Usable() || b.Verdict == model.In { // a lock that did not hold is told, and leaves it to check
				ready++
			}
			if b.ID == "thin-40" && b.Usable() {
				t.Errorf("seed %d: the blade that its knife does not fit is called ready", seed)
			}
		}
		if ready < 2 {
			t.Errorf("seed %d: only %d blades are in at the end:\n%s", seed, ready, tail(p.out.String()))
		}
	}
}

func tail(s string) string { return s[max(0, len(s)-3000):] }

func TestPlainPracticeIsRepeatable(t *testing.T) {
	var outs [2]string
	var profiles [2]model.Profile
	for i := range outs {
		p := &person{}
		result, err := practise(p, 11, func(model.Profile) error { return nil })
		if err != nil {
			t.Fatal(err)
		}
		outs[i], profiles[i] = p.out.String(), result.Profile
	}
	if at := profiles[0].Records[0].At; at.Format("2006-01-02") != "2026-03-02" {
		t.Errorf("practice stamps its records with %s: it must not follow the wall clock", at)
	}
	if outs[0] != outs[1] || !reflect.DeepEqual(profiles[0], profiles[1]) {
		t.Error("two practice runs with one seed differ")
	}
	p := &person{}
	if _, err := practise(p, 12, nil); err != nil {
		t.Fatal(err)
	}
	if readings(p.out.String()) == readings(outs[0]) {
		t.Error("another seed is the same saw")
	}
}

// readings are what the simulated saw has read in a run.
func readings(out string) string {
	var b strings.Builder
	for _, line := range strings.Split(out, "\n") {
		if strings.Contains(line, "The simulated saw reads") {
			b.WriteString(line)
		}
	}
	return b.String()
}

// TestPlainEndOfInput ends the input behind every answer of a whole run: it is never
// an answer itself.
func TestPlainEndOfInput(t *testing.T) {
	whole := &person{}
	if _, err := practise(whole, 1, nil); err != nil {
		t.Fatal(err)
	}
	for stop := 1; stop < whole.asked; stop++ {
		if stop > 40 && stop%4 != 0 { // the first forty pass every kind of gate
			continue
		}
		p := &person{stop: stop}
		result, err := practise(p, 1, nil)
		if !errors.Is(err, errEnded) || result.Finished {
			t.Fatalf("the input ended after %d answers: err %v, finished %v", stop, err, result.Finished)
		}
		if !strings.HasPrefix(whole.out.String(), strings.TrimRight(before(p.out.String(), "\nNothing was written"), "\n ")) {
			t.Errorf("after %d answers the end of input was taken as one:\n%s", stop, tail(p.out.String()))
		}
	}
}

func before(s, mark string) string {
	i := strings.LastIndex(s, mark)
	if i < 0 {
		return s
	}
	return s[:i]
}

func TestPlainLineWithoutEndIsNoAnswer(t *testing.T) {
	f := bay.Run{Profile: bay.Two(), Practice: true}
	o := f.Options()
	var out bytes.Buffer
	o.In, o.Out = strings.NewReader("KB"), &out
	result, err := Run(o)
	if !errors.Is(err, errEnded) || result.Finished || strings.Contains(out.String(), "knife does not fit") {
		t.Errorf("a line that the input broke off was taken: %v\n%s", err, out.String())
	}
}

func TestPlainSpeaksPlainly(t *testing.T) {
	p := &person{}
	if _, err := practise(p, 3, nil); err != nil {
		t.Fatal(err)
	}
	var choices []string
	for i, line := range strings.Split(p.out.String(), "\n") {
		if name, isChoice := strings.CutPrefix(line, "Choice: "); isChoice {
			choices = append(choices, strings.TrimSuffix(name, "."))
		} else if strings.HasPrefix(line, "Question ") {
			for _, c := range choices {
				if strings.Contains(line, c) {
					t.Errorf("line %d names a choice that was named before it: %s", i+1, line)
				}
			}
			choices = nil
		}
		for _, r := range line {
			if r == 0x1b || unicode.Is(unicode.So, r) || unicode.Is(unicode.Sm, r) && !strings.ContainsRune("+=<>|~", r) || r >= 0x2500 && r < 0x2600 {
				t.Errorf("line %d holds %q: %s", i+1, r, line)
			}
		}
	}
	for _, want := range []string{"Stage 3 of 11. ", "Do 1: ", "Careful: ", "Picture: ", "Question 1 of ", "So: ", "The simulated saw reads: ", "Blade 48-tooth general: READY, 0 days, reference."} {
		if !strings.Contains(p.out.String(), want) {
			t.Errorf("%q is never said", want)
		}
	}
}

func TestPlainCommands(t *testing.T) {
	said := map[string]bool{}
	once := func(key, line string) (string, bool) {
		if said[key+line] {
			return "", false
		}
		said[key+line] = true
		return line, true
	}
	p := &person{says: func(place procedure.Place, field string) (string, bool) {
		if place.Step != "mount" || field != "on" {
			return "", false
		}
		for _, line := range []string{"?", "/help", "/records", "/work", "/nonsense", "/copy", "/back"} {
			if line, ok := once("mount", line); ok {
				return line, true
			}
		}
		return "", false
	}}
	if _, err := practise(p, 4, nil); err != nil {
		t.Fatalf("%v\n%s", err, tail(p.out.String()))
	}
	for _, want := range []string{"Help: ", "/back opens the last reading for correction", "Record 1  ", "Work 3, empty: Empty the saw.", "/nonsense is no command here.", "Type /copy and the name of a new file."} {
		if !strings.Contains(p.out.String(), want) {
			t.Errorf("%q is never said", want)
		}
	}
	if n := strings.Count(p.out.String(), "Correct: Clean the arbor."); n != 1 {
		t.Errorf("/back from the mount opened the reading of the arbor %d times", n)
	}
}

func TestPlainQuit(t *testing.T) {
	p := &person{says: func(place procedure.Place, _ string) (string, bool) { return "/quit", place.Step == "isolate" }}
	result, err := practise(p, 4, nil)
	if !errors.Is(err, errLeft) || result.Finished {
		t.Errorf("/quit: %v, finished %v", err, result.Finished)
	}
}

// TestPlainFileTakenAway: a profile that is gone when the run is left is not said to be saved.
func TestPlainFileTakenAway(t *testing.T) {
	gone := false
	p := &person{says: func(place procedure.Place, _ string) (string, bool) {
		gone = place.Step == "clear"
		return "/quit", gone
	}}
	result, _ := practise(p, 4, func(model.Profile) error {
		if gone {
			return errors.New("bay-two.yaml: the file is not there any more")
		}
		return nil
	})
	if out := p.out.String(); result.Unsaved == nil || !strings.Contains(out, "The last answers are NOT saved.") {
		t.Errorf("%v: %s", result.Unsaved, tail(out))
	}
}

func TestPlainSaveThatFails(t *testing.T) {
	p := &person{}
	result, err := practise(p, 5, func(model.Profile) error { return errors.New("disk full: free some") })
	if err != nil || result.Unsaved == nil || !strings.Contains(p.out.String(), "NOT SAVED: disk full: free some") {
		t.Errorf("a failed save is not told: unsaved %v, %v", result.Unsaved, err)
	}
	if len(result.Profile.Records) == 0 {
		t.Error("the readings are not kept")
	}
}

// TestPlainSavesAgain: after a save that failed, one that did not is told; and so is, at
// the end, where a file of an older format is.
func TestPlainSavesAgain(t *testing.T) {
	n := 0
	p := &person{}
	result, err := practise(p, 5, func(model.Profile) error {
		if n++; n == 3 {
			return errors.New("disk full: free some")
		}
		return nil
	})
	out := p.out.String()
	_, after, _ := strings.Cut(out, "NOT SAVED: disk full: free some")
	if err != nil || result.Unsaved != nil || strings.Count(out, "Saved again in bay-two.yaml.\n") != 1 || !strings.Contains(after, "Saved again") {
		t.Errorf("unsaved %v, %v\n%s", result.Unsaved, err, tail(out))
	}
	var end strings.Builder
	j := wizard.Job{Store: wizard.Store{Path: "bay-two.yaml", Save: func(p model.Profile) (model.Profile, error) { return p, nil }, Kept: func() string { return "bay-two.before.yaml" }}}
	tell.Farewell(&end, j, wizard.Result{Finished: true, Profile: bay.Two()})
	if !strings.Contains(end.String(), "it is kept as it was in bay-two.before.yaml.") {
		t.Errorf("%q", end.String())
	}
}

// TestPlainTypedAheadAtARealSaw has all lines ready before they are asked: at a real
// saw none of them passes a gate.
func TestPlainTypedAheadAtARealSaw(t *testing.T) {
	f := bay.Run{Profile: bay.Two()}
	o := f.Options()
	var out bytes.Buffer
	o.In, o.Out = strings.NewReader("ready\nKB\n"+strings.Repeat("still\nunplugged\ndead\nalder\n", 40)), &out
	run := newPlain(wizard.NewJob(o), wizard.NewWatch(nil), o)
	if _, err := run.goOn(); err == nil {
		t.Error("the end was reached")
	}
	if place := run.Procedure.View().Place; place.Step != "stop" {
		t.Errorf("lines that were typed ahead led to %s", place)
	}
	if !strings.Contains(out.String(), "before the question could be read") {
		t.Errorf("it is not said why:\n%s", tail(out.String()))
	}
}

// TestPlainEndsASentenceOnce: what is refused with a question has no full stop behind it.
func TestPlainEndsASentenceOnce(t *testing.T) {
	profile := bay.Two()
	profile.Blades = slices.Clone(profile.Blades)
	profile.Blades[1].Kerf = nil
	o := bay.Run{Profile: profile, Practice: true}.Options()
	swapped := false
	p := &person{says: func(_ procedure.Place, field string) (string, bool) {
		if swapped && field == "kerf" { // the same question again: it was refused
			return "/quit", true
		}
		swapped = swapped || field == "kerf"
		return "1 1 1", field == "kerf"
	}}
	o.In, o.Out = p, &p.out
	run := newPlain(wizard.NewJob(o), wizard.NewWatch(nil), o)
	p.plain = &run
	if _, err := run.goOn(); !errors.Is(err, errLeft) {
		t.Fatal(err)
	}
	if !strings.Contains(p.out.String(), "were the two swapped?\n") {
		t.Errorf("the question is not said, or does not end there:\n%s", tail(p.out.String()))
	}
}
