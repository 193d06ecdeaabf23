package walk

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"

	"example.com/sawdatum/testdata/terminal"
)

const (
	soon      = 8 * time.Second // on a busy machine
	emptyLine = "\x15"          // empties a field
)

// Full is the full screen.
type Full struct {
	Terminal *terminal.Terminal
	Typed    func() error // called once an answer is typed, before it is accepted; nil: nothing
	Tour     func() error // called at a page that explains itself, before it is left; nil: nothing

	title   string // of the present place
	opened  time.Time
	deaf    bool // the question does not hear what comes at once
	refused bool // the last answer was
}

// Next waits until the screen stands still. What explains itself in between, the tour
// of practice, is read and left.
func (f *Full) Next() (Question, error) {
	for {
		screen, err := Settled(f.Terminal)
		if err != nil {
			return Question{}, err
		}
		if strings.Contains(screen, "enter go on") {
			if f.Tour != nil {
				if err := f.Tour(); err != nil {
					return Question{}, err
				}
			}
			if err := f.press("\r"); err != nil {
				return Question{}, err
			}
			continue
		}
		q, err := QuestionOn(screen)
		if err != nil { // what it says when it ends stays up for a moment; or the rest is still to be drawn
			f.Terminal.Wait("end", soon, func(s string) bool {
				_, half := QuestionOn(s)
				return f.Terminal.Ended() || half == nil
			})
			if _, half := QuestionOn(f.Terminal.Screen()); half == nil {
				continue
			} else if f.Terminal.Ended() {
				return Question{}, io.EOF
			}
			return Question{}, err
		}
		f.refused = q.Refused != ""
		if q.Opened = q.Place != f.title; q.Opened {
			f.title, f.opened = q.Place, time.Now()
		}
		f.deaf = gate.MatchString(q.Place) || q.word() != "" || strings.Contains(q.Text, "DANGER")
		return q, nil
	}
}

// gate are the places that take no answer until the question could be read.
var gate = regexp.MustCompile(`^(?:Stop|Isolate) the saw|^First start|^The run-down|^Is it still|^Was `)

// Answer types a text into the focused field, sees it there, and accepts it. What does
// not come, on a busy machine or since it was refused, is seen at the next question.
func (f *Full) Answer(text string) error {
	f.heard()
	if text != "" || f.refused {
		if err := f.Type(emptyLine, text); err != nil {
			return err
		}
	}
	if f.Typed != nil {
		if err := f.Typed(); err != nil {
			return err
		}
	}
	return f.press("\r")
}

// heard waits until keys count.
func (f *Full) heard() {
	if f.deaf {
		time.Sleep(time.Until(f.opened.Add(Pause)))
	}
}

// Type presses a key and types a text as a person does, who sees each letter come: all
// at once would be a paste.
func (f *Full) Type(key, text string) error {
	if err := f.Terminal.Type(key); err != nil {
		return err
	}
	for i, letter := range text {
		if err := f.Terminal.Type(string(letter)); err != nil {
			return err
		}
		typed := regexp.MustCompile(`(?m)> ` + regexp.QuoteMeta(strings.TrimRight(text[:i]+string(letter), " ")) + `(?: |$)`)
		f.Terminal.Wait("typed text", soon/4, typed.MatchString)
	}
	return nil
}

// press sends a key and waits until it shows: in another place, field or text, or in
// what is said about it. The screen alone may change while a frame is being drawn.
func (f *Full) press(key string) error {
	before := standing(f.Terminal.Screen())
	if err := f.Terminal.Type(key); err != nil {
		return err
	}
	f.Terminal.Wait("change", soon, func(s string) bool { return standing(s) != before || f.Terminal.Ended() })
	return nil
}

// standing is what tells one state of the work from another.
func standing(screen string) string {
	q, typed := read(screen).question()
	return strings.Join([]string{q.Place, q.Label, typed, q.Refused}, "\n")
}

// Settled is the screen once it stands still; the error is io.EOF when the program has
// ended.
func Settled(t *terminal.Terminal) (string, error) {
	before, still := "", 0
	for begin := time.Now(); time.Since(begin) < patience; time.Sleep(15 * time.Millisecond) {
		if t.Ended() {
			return "", io.EOF
		}
		now := t.Screen()
		if still++; now != before || strings.TrimSpace(now) == "" {
			before, still = now, 0
		}
		if still == 2 {
			return now, nil
		}
	}
	return "", fmt.Errorf("the screen does not come to rest:\n%s", before)
}
