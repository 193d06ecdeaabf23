package walk

import (
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

	seen   int      // bytes of the output
	here   Question // the place as it was shown
	asked  map[string]bool
	answer string // the last one
}

var (
	question = regexp.MustCompile(`Question \d+ of \d+\. ([^\n]*) \(([^()\n]*)\)\.\r?\n(?:An empty answer keeps: ([^\r\n]*)\r?\n)?> $`)
	heading  = regexp.MustCompile(`(?m)^(?:Stage \d+ of 11\.|Next:) (.*?)[.]?\r?\n(.*?)\.\r?$`)
)

// further is where a line goes on that the window has no room for.
var further = regexp.MustCompile(`\r?\n  (\S)`)

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
		said = further.ReplaceAllString(said, " $1")
		if strings.Contains(said, tooEarly) {
			time.Sleep(Pause)
			if err := l.Answer(l.answer); err != nil {
				return Question{}, err
			}
			continue
		}
		opened := heading.FindAllStringSubmatchIndex(said, -1)
		if opened != nil {
			h := opened[len(opened)-1]
			l.here = Question{Place: said[h[2]:h[3]], Saw: strings.Split(said[h[4]:h[5]], ". "), Text: flat(said[h[0]:])}
			l.asked = map[string]bool{}
		}
		q := l.here
		q.Opened, q.Label, q.Hint, q.Kept = opened != nil, m[1], m[2], m[3]
		if l.asked[q.Label] {
			q.Refused = flat(said)
		}
		l.asked[q.Label] = true
		return q, nil
	}
}

// wait waits until the program asks, and gives what it has said before.
func (l *Lines) wait() (said string, asks []string, err error) {
	for begin := time.Now(); time.Since(begin) < patience; l.Terminal.Next(20 * time.Millisecond) {
		ended := l.Terminal.Ended()
		said = l.Terminal.Since(l.seen)
		if m := question.FindStringSubmatch(further.ReplaceAllString(said, " $1")); m != nil {
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
	l.answer = text
	return l.Terminal.Type(text + "\n")
}
