// Package walk leads the program through its work in a terminal: it answers as an
// honest user at a good saw would, on the full screen and in plain lines, and looks at
// what is shown.
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
// key, from when they are seen: those that were under way do not answer them.
const Pause = 310 * time.Millisecond

const patience = 30 * time.Second

// Question is what the program asks.
type Question struct {
	Place   string // title of the place
	Opened  bool   // the place is another than at the last question, or shown anew
	Label   string
	Hint    string
	Saw     []string // what is known of power, arbor, fence and knife
	Text    string   // all that can be read at the place, on one line
	Kept    string   // what an empty answer takes; empty: nothing
	Refused string   // what was said when the last answer was not taken
}

// Face is one of the two faces of the program. Next waits for what is asked now; its
// error is io.EOF when the program has ended.
type Face interface {
	Next() (Question, error)
	Answer(text string) error
}

// ErrStop is the error of a walk that was to end before the end of the work.
var ErrStop = errors.New("the walk was to end here")

// Never lets a walk go on to its end.
func Never(Question) bool { return false }

// Plain answers in the plain face until the program ends, or until reports true.
func Plain(t *terminal.Terminal, answer func(Question) string, until func(Question) bool) error {
	return Lead(&Lines{Terminal: t}, answer, until)
}

// Screen does so on the full screen.
func Screen(t *terminal.Terminal, answer func(Question) string, until func(Question) bool) error {
	return Lead(&Full{Terminal: t}, answer, until)
}

// Lead answers until the program ends, or until reports true.
func Lead(f Face, answer func(Question) string, until func(Question) bool) error {
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
