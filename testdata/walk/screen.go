package walk

import (
	"errors"
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
	Frame    func(screen string) // sees every screen that is answered; may be nil

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
		if f.Frame != nil {
			f.Frame(screen)
		}
		if strings.Contains(screen, "enter go on") {
			time.Sleep(Pause)
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
		f.deaf = q.deaf()
		return q, nil
	}
}

// Answer types a text into the focused field, sees it there, and accepts it. What does
// not come, on a busy machine or since it was refused, is seen at the next question.
func (f *Full) Answer(text string) error {
	f.heard()
	if text != "" || f.refused {
		if err := f.Type(emptyLine, text); err != nil {
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

// The keys that are more than a character.
const (
	keyEsc   = "\x1b"
	keyF1    = "\x1bOP"
	keyF3    = "\x1bOR"
	keyF4    = "\x1bOS"
	ctrlZ    = "\x1a"
	pageDown = "\x1b[6~"
)

// lines are the last line that a page shows, and how many there are.
var lines = regexp.MustCompile(`lines \d+ to (\d+) of (\d+)`)

var workRow = regexp.MustCompile(`(?m)^(?:▶|>| ) +(\d+)  (.*)$`)

// Do presses the key of an event.
func (f *Full) Do(e Event) error {
	switch e.Kind {
	case Back:
		return f.press(keyEsc)
	case Forward:
		return f.press(keyF4)
	case Idle:
		return f.Terminal.Wait("lapse of isolation", tooLong, func(s string) bool { return read(s).title != f.title })
	case Suspend:
		return f.suspend()
	case OtherWork:
		if err := f.press(keyF3); err != nil {
			return err
		}
		screen, err := Settled(f.Terminal)
		if err != nil {
			return err
		}
		for _, m := range workRow.FindAllStringSubmatch(screen, -1) {
			if m[2] == e.Work {
				for _, digit := range m[1] { // two that come at once are a paste, and no number
					err = errors.Join(err, f.Terminal.Type(string(digit)))
					time.Sleep(Pause / 10)
				}
				return errors.Join(err, f.press("\r"))
			}
		}
		return fmt.Errorf("the other work %q cannot begin here:\n%s", e.Work, screen)
	}
	return fmt.Errorf("%s does not happen on the full screen", e.Kind)
}

// Why reads all that F1 tells: what has no room on the screen stands there too.
func (f *Full) Why() (string, error) {
	if err := f.press(keyF1); err != nil {
		return "", err
	}
	for all := ""; ; {
		page, err := Settled(f.Terminal)
		if err != nil {
			return "", err
		}
		all += flat(page)
		if m := lines.FindStringSubmatch(page); m == nil || m[1] == m[2] {
			err := f.press(keyF1)
			f.opened = time.Now() // a gate is read anew
			return all, err
		}
		if err := f.Terminal.Type(pageDown); err != nil {
			return "", err
		}
		f.Terminal.Wait("next page", soon, func(s string) bool { return s != page })
	}
}

// suspend stops the program with ctrl+z, and lets it go on when it has given the
// terminal back.
func (f *Full) suspend() error {
	from := len(f.Terminal.Output())
	if err := f.Terminal.Type(ctrlZ); err != nil {
		return err
	}
	for begin := time.Now(); !strings.Contains(f.Terminal.Since(from), "\x1b[?1049l"); time.Sleep(5 * time.Millisecond) {
		if time.Since(begin) > patience {
			return fmt.Errorf("ctrl+z does not give the terminal back:\n%s", f.Terminal.Screen())
		}
	}
	time.Sleep(Pause)
	if err := f.Terminal.Continue(); err != nil {
		return err
	}
	f.title = ""
	return f.Terminal.Wait("full screen after ctrl+z", patience, func(string) bool {
		return strings.Contains(f.Terminal.Since(from), "\x1b[?1049h")
	})
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
