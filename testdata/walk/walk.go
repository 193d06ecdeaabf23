// Package walk answers the program's questions as an honest user at a good saw
// would, on the full screen and in plain lines.
package walk

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"

	"example.com/sawdatum/testdata/terminal"
)

// Pause is what a new place needs before it takes a key: those that were under way do
// not answer it.
const Pause = 350 * time.Millisecond

const (
	patience = 20 * time.Second
	soon     = 2 * time.Second
	clear    = "\x15" // empties a field
)

// Question is what the program asks.
type Question struct {
	Label string
	Hint  string
	Text  string // all that can be read, on one line
}

// Answers are answers by label that differ from the usual ones.
type Answers map[string]string

var usual = Answers{
	"Your initials":             "KB",
	"Initials of who did it":    "KB",
	"Isolated how":              "unplugged",
	"The fence is":              "untouched",
	"The scale now reads":       "120",
	"This blade is here for":    "check",
	"Length of the gauge board": "900",
}

// Measured is what somebody reads at a real saw; in practice empty answers take the
// simulated readings.
var Measured = Answers{
	"Run-down, seconds":       "6",
	"Thread past the nut":     "9",
	"Feeler gaps, four":       "0 0.05 0 0.05",
	"Knife to the tooth tips": "5",
}

var (
	word    = regexp.MustCompile(`(?m)\btype (\w+)$`)
	such    = regexp.MustCompile(`such as ([\d.]+ \w+)`)
	teeth   = regexp.MustCompile(`(?:[Pp]ut on the|[Pp]ut the|On the arbor: the) (\d+)-tooth`)
	rings   = regexp.MustCompile(`flange first: ([^.]*(?:\.\d[^.]*)*)\.`)
	onArbor = regexp.MustCompile(`On the arbor: the .*? with ([^.]*(?:\.\d[^.]*)*)\. Look`)
	write   = regexp.MustCompile(`off the arbor: (\d[^,]*), flange first`)
)

// To is the answer to a question; empty takes the simulated reading, or keeps what
// stands there.
func (a Answers) To(q Question) string {
	if text, ok := a[q.Label]; ok {
		return text
	}
	if m := word.FindStringSubmatch(q.Hint); m != nil {
		return m[1]
	}
	switch {
	case strings.Contains(q.Label, "teeth") || strings.HasPrefix(q.Label, "Teeth of"):
		return last(teeth, q.Text)
	case strings.HasPrefix(q.Label, "Rings that are on"):
		return stack(last(rings, q.Text))
	case strings.HasPrefix(q.Label, "Rings behind it"):
		return stack(last(onArbor, q.Text))
	case q.Label == "Rings as written":
		return stack(last(write, q.Text))
	case strings.HasPrefix(q.Label, "Knife fitted"):
		return last(such, q.Hint)
	}
	return usual[q.Label]
}

// stack is a stack as it is typed.
func stack(read string) string {
	if read == "" || read == "no rings" {
		return "none"
	}
	return strings.NewReplacer(" mm", "mm", " + ", " ").Replace(read)
}

func last(pattern *regexp.Regexp, text string) string {
	all := pattern.FindAllStringSubmatch(text, -1)
	if len(all) == 0 {
		return ""
	}
	return all[len(all)-1][1]
}

// Stop is the error of a walk that Until ended.
var Stop = errors.New("the walk was to end here")

// Until is asked before every answer; where it reports true the walk ends with Stop.
type Until func(Question) bool

// Never lets a walk go on to its end.
func Never(Question) bool { return false }

var asked = regexp.MustCompile(`(?s)Question \d+ of \d+\. (.*?) \((.*?)\)\.\r?\n(?:An empty answer keeps: ([^\n]*)\n)?> $`)

// Plain answers in the plain face until the program ends. Gates of a real saw take
// no answer that came before the question could be read, so pause comes first.
func Plain(t *terminal.Terminal, answers Answers, pause time.Duration, until Until) error {
	place, same := "", 0
	for from := 0; ; {
		var q Question
		begin := time.Now()
		for {
			out := t.Output()[from:]
			if m := asked.FindStringSubmatch(out); m != nil {
				q = Question{m[1], m[2], place + flat(out)}
				if i := strings.LastIndex(out, "\nStep "); i >= 0 {
					place, same = flat(out[i:]), 0
					q.Text = place
				}
				from += len(out)
				break
			}
			if t.Ended() {
				return nil
			}
			if time.Since(begin) > patience {
				return fmt.Errorf("no question within %s; so far:\n%s", patience, out)
			}
			time.Sleep(time.Millisecond)
		}
		if until(q) {
			return Stop
		}
		if same++; same > 40 {
			return fmt.Errorf("no way on from %q (%s)", q.Label, q.Hint)
		}
		time.Sleep(pause)
		if err := t.Type(answers.To(q) + "\n"); err != nil {
			return err
		}
	}
}

func flat(s string) string { return " " + strings.Join(strings.Fields(s), " ") }

var focused = regexp.MustCompile(`(?m)^(?:▶|>) (\S.*?)(?:  \d+ of \d+)?(?:   *(\S.*))?$`)

// Screen answers on the full screen until the program ends. frame sees every screen
// that is answered. The window must be too narrow for the list of places.
func Screen(t *terminal.Terminal, answers Answers, until Until, frame func(screen string)) error {
	typed, title := map[string]int{}, ""
	for {
		screen, err := settled(t)
		if err != nil || screen == "" {
			return err
		}
		frame(screen)
		if line, _, _ := strings.Cut(screen, "\n"); line != title {
			title = line
			time.Sleep(Pause)
		}
		text := ""
		if !strings.Contains(screen, "enter go on") {
			q, err := questionOn(screen)
			if err != nil {
				return err
			}
			if until(q) {
				return Stop
			}
			text = answers.To(q)
		}
		if typed[screen]++; typed[screen] > 3 {
			return fmt.Errorf("no way on from this screen:\n%s", screen)
		}
		if err := enter(t, text); err != nil {
			return err
		}
	}
}

// enter types a text into the focused field, sees it there, and accepts it. What does
// not come, on a busy machine or since it was refused, is seen by the caller.
func enter(t *terminal.Terminal, text string) error {
	if text != "" {
		for _, key := range clear + text { // as a person does: all at once would be a paste
			if err := t.Type(string(key)); err != nil {
				return err
			}
			time.Sleep(3 * time.Millisecond)
		}
		t.Wait("typed text", soon, func(s string) bool { return strings.Contains(s, "> "+text) })
	}
	before := t.Screen()
	if err := t.Type("\r"); err != nil {
		return err
	}
	t.Wait("change", soon, func(s string) bool { return s != before || t.Ended() })
	return nil
}

// settled is the screen once it stands still; empty when the program has ended.
func settled(t *terminal.Terminal) (string, error) {
	before, still := "", 0
	for begin := time.Now(); time.Since(begin) < patience; time.Sleep(15 * time.Millisecond) {
		if t.Ended() {
			return "", nil
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

// questionOn finds the focused field.
func questionOn(screen string) (Question, error) {
	at := focused.FindStringSubmatchIndex(screen)
	if at == nil {
		return Question{}, fmt.Errorf("no field has the focus:\n%s", screen)
	}
	q := Question{Label: screen[at[2]:at[3]], Text: flat(screen)}
	for line := range strings.Lines(screen[at[2]:]) {
		if strings.Contains(line, "WRONG") || strings.Count(q.Hint, "\n") == 2 {
			break
		}
		q.Hint += line
	}
	return q, nil
}
