// Package walk leads the program through its work in a terminal: it answers as an
// honest user at a good saw would, on the full screen and in plain lines, tells the
// stories of testdata/procedure, and looks at what is shown.
package walk

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/sawdatum/testdata/terminal"
)

// Pause is what a new gate, and a screen that warns of danger, need before they take a
// key: those that were under way do not answer them.
const Pause = 350 * time.Millisecond

const patience = 30 * time.Second

// Question is what the program asks.
type Question struct {
	Place   string // title of the place
	Opened  bool   // the place is another than at the last question, or shown anew
	Label   string
	Hint    string
	Saw     string // what is known of power, arbor, fence and knife
	Text    string // all that can be read at the place, on one line
	Said    string // all that can be read, and what was said before the place was shown
	Refused string // what was said when the last answer was not taken
}

// gates are the places that take no answer until the question could be read.
var gates = map[string]bool{"Stop the saw": true, "The run-down is too long": true, "Isolate the saw": true, "Power-up checklist": true, "Where is it measured?": true}

// deaf reports whether the question does not hear keys that come at once.
func (q Question) deaf() bool {
	return gates[q.Place] || strings.Contains(q.Hint, "type ") || strings.Contains(q.Said, "DANGER")
}

// Face is one of the two faces of the program. Next waits for what is asked now; its
// error is io.EOF when the program has ended.
type Face interface {
	Next() (Question, error)
	Answer(text string) error
	Do(event Event) error
}

// Event is something other than an answer: Work is the name of other work to begin.
type Event struct {
	Kind EventKind
	Work string
}

// EventKind names an event.
type EventKind string

// The events.
const (
	Back      EventKind = "back"
	Forward   EventKind = "forward"
	Idle      EventKind = "idle" // at a saw whose isolation lapses after a minute
	Suspend   EventKind = "suspend"
	OtherWork EventKind = "other work"
)

// tooLong is longer than a minute without a key, by which isolation has lapsed, and than
// the program takes to notice.
const tooLong = 70 * time.Second

// ErrStop is the error of a walk that Until ended.
var ErrStop = errors.New("the walk was to end here")

// Until is asked before every answer; where it reports true the walk ends with ErrStop.
type Until func(Question) bool

// Never lets a walk go on to its end.
func Never(Question) bool { return false }

// Plain answers in the plain face until the program ends.
func Plain(t *terminal.Terminal, answers Answers, until Until) error {
	return Lead(&Lines{Terminal: t}, answers.To, until)
}

// Screen answers on the full screen until the program ends. frame sees every screen
// that is answered.
func Screen(t *terminal.Terminal, answers Answers, until Until, frame func(screen string)) error {
	return Lead(&Full{Terminal: t, Frame: frame}, answers.To, until)
}

// Lead answers until the program ends.
func Lead(f Face, answer func(Question) string, until Until) error {
	asked := map[string]int{} // since the place was shown
	for {
		q, err := f.Next()
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		case until(q):
			return ErrStop
		}
		if q.Opened {
			clear(asked)
		}
		if asked[q.Label]++; asked[q.Label] > 10 { // the closing place asks again after each export
			return noWay(q)
		}
		if err := f.Answer(answer(q)); err != nil {
			return err
		}
	}
}

func noWay(q Question) error {
	return fmt.Errorf("no way on from %q (%s) at %q: %s", q.Label, q.Hint, q.Place, q.Refused)
}

func flat(s string) string { return " " + strings.Join(strings.Fields(s), " ") }
