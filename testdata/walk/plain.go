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

// Lines is the plain face.
type Lines struct {
	Terminal *terminal.Terminal

	seen   int    // bytes of the output
	title  string // of the present place
	text   string // of the present place
	saw    string
	asked  map[string]bool
	at     time.Time // when the question was seen
	answer string    // the last one
	early  bool      // the last answer came before the question could be read
}

var (
	question = regexp.MustCompile(`Question \d+ of \d+\. ([^\n]*) \(([^()\n]*)\)\.\r?\n(?:An empty answer keeps: ([^\n]*)\n)?> $`)
	heading  = regexp.MustCompile(`(?m)^Step \d+ of 11\. (.*?)\.?\r?$`)
)

const tooEarly = "That came before the question could be read"

// Next waits for the next question. An answer that came too early for a gate is given
// once more.
func (l *Lines) Next() (Question, error) {
	for {
		said, m, err := l.wait()
		if err != nil {
			return Question{}, err
		}
		l.seen += len(said)
		l.at, l.early = time.Now(), strings.Contains(said, tooEarly)
		if l.early {
			if err := l.Answer(l.answer); err != nil {
				return Question{}, err
			}
			continue
		}
		q := Question{Label: m[1], Hint: m[2]}
		if at := heading.FindAllStringSubmatchIndex(said, -1); at != nil {
			h := at[len(at)-1]
			q.Opened, l.title, l.text, l.asked = true, said[h[2]:h[3]], flat(said[h[0]:]), map[string]bool{}
			l.saw, _, _ = strings.Cut(strings.TrimLeft(said[h[1]:], "\r\n"), "\n")
		} else if l.asked[q.Label] {
			q.Refused = flat(said)
		}
		l.asked[q.Label] = true
		q.Place, q.Saw, q.Text, q.Said = l.title, l.saw, l.text, flat(said)
		return q, nil
	}
}

// wait waits until the program asks, and gives what it has said before.
func (l *Lines) wait() (said string, asks []string, err error) {
	for begin := time.Now(); time.Since(begin) < patience; l.Terminal.Next(20 * time.Millisecond) {
		ended := l.Terminal.Ended()
		said = l.Terminal.Since(l.seen)
		if m := question.FindStringSubmatch(said); m != nil {
			return said, m, nil
		}
		if ended {
			return said, nil, io.EOF
		}
	}
	return said, nil, fmt.Errorf("no question within %s; so far:\n%s", patience, said)
}

// Answer types a line.
func (l *Lines) Answer(text string) error {
	if l.answer = text; gates[l.title] && (l.early || !l.practice()) {
		time.Sleep(time.Until(l.at.Add(Pause)))
	}
	return l.Terminal.Type(text + "\n")
}

func (l *Lines) practice() bool { return strings.HasPrefix(l.Terminal.Output(), "Practice") }

var workLine = regexp.MustCompile(`(?m)^Work (\d+): (.*?)\.\r?$`)

// Do types the command of an event.
func (l *Lines) Do(e Event) error {
	switch e.Kind {
	case Back, Forward:
		return l.Terminal.Type("/" + string(e.Kind) + "\n")
	case Idle:
		time.Sleep(tooLong)
		return l.Terminal.Type("\n") // it is noticed at the next answer
	case Suspend:
		err := errors.Join(l.Terminal.Stop(), l.Terminal.Continue())
		time.Sleep(Pause)
		return errors.Join(err, l.Terminal.Type("\n"))
	case OtherWork:
		if err := l.Terminal.Type("/work\n"); err != nil {
			return err
		}
		said, _, err := l.wait()
		if err != nil {
			return err
		}
		l.seen += len(said)
		for _, m := range workLine.FindAllStringSubmatch(said, -1) {
			if m[2] == e.Work {
				return l.Terminal.Type("/work " + m[1] + "\n")
			}
		}
		return fmt.Errorf("the other work %q cannot begin here:\n%s", e.Work, said)
	}
	return fmt.Errorf("%s does not happen in the plain face", e.Kind)
}
