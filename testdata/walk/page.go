package walk

import (
	"fmt"
	"regexp"
	"strings"
)

// page is a screen as a person reads it: where the work stands, the saw as it is
// known, and the middle, without the list of places that wide windows have at the left.
type page struct {
	title  string // of the place; empty where another screen lies over it
	saw    string // on one line
	middle string
	keys   string // the lines at the bottom, on one line
}

var (
	stepOf   = regexp.MustCompile(` +step \d+ of 11, \d+ of \d+ done$`)
	numbered = regexp.MustCompile(`^\d+  `)
	focused  = regexp.MustCompile(`(?m)^(?:▶|>) (\S.*?)(?:  \d+ of \d+)?(?:   *(\S.*))?$`)
	keyLine  = regexp.MustCompile(`(?:^|  )(?:enter|esc|F\d|ctrl\+\w|tab|up/down|page up/down|number \+ enter) `)
)

const upright = '│'

func read(screen string) page {
	var p page
	lines := strings.Split(strings.TrimRight(screen, "\n"), "\n")
	for len(lines) > 0 && keyLine.MatchString(lines[len(lines)-1]) {
		p.keys = lines[len(lines)-1] + "  " + p.keys
		lines = lines[:len(lines)-1]
	}
	for len(lines) > 0 && !strings.HasPrefix(lines[0], "POWER ") {
		p.title += " " + stepOf.ReplaceAllString(lines[0], "")
		lines = lines[1:]
	}
	p.title = numbered.ReplaceAllString(strings.Trim(p.title, " "), "")
	for len(lines) > 0 && !strings.Contains(p.saw, "KNIFE ") {
		p.saw += "  " + lines[0]
		lines = lines[1:]
	}
	p.middle = strings.Join(rightOfList(lines), "\n") + "\n"
	return p
}

// rightOfList leaves out what stands left of an upright from top to bottom.
func rightOfList(lines []string) []string {
	at := map[int]int{}
	for _, line := range lines {
		for x, c := range []rune(line) {
			if c == upright {
				at[x]++
			}
		}
	}
	for x, n := range at {
		if n < len(lines)-2 {
			continue
		}
		out := make([]string, len(lines))
		for i, line := range lines {
			if r := []rune(line); len(r) > x+2 && r[x] == upright {
				out[i] = string(r[x+2:])
			}
		}
		return out
	}
	return lines
}

// QuestionOn finds the place and the focused field.
func QuestionOn(screen string) (Question, error) {
	q, _ := read(screen).question()
	if q.Label == "" {
		return q, fmt.Errorf("no field has the focus:\n%s", screen)
	}
	return q, nil
}

var input = regexp.MustCompile(`(?m)^  >(.*)$`)

// question is what is asked, without a label where no field has the focus; typed
// is the text in the field, with a hint that stands beside it.
func (p page) question() (q Question, typed string) {
	at := focused.FindStringSubmatchIndex(p.middle)
	if at == nil {
		return Question{}, ""
	}
	q = Question{Place: p.title, Label: p.middle[at[2]:at[3]], Saw: strings.TrimSpace(p.saw), Text: flat(p.middle), Said: flat(p.middle)}
	for line := range strings.Lines(p.middle[at[2]:]) {
		if strings.Contains(line, "WRONG") || strings.Count(q.Hint, "\n") == 2 {
			break
		}
		q.Hint += line
	}
	for _, mark := range []string{" WRONG ", " SURE? ", " NOT YET "} {
		if i := strings.Index(q.Text, mark); i >= 0 && (q.Refused == "" || len(q.Text)-i > len(q.Refused)) {
			q.Refused = q.Text[i:]
		}
	}
	if m := input.FindStringSubmatch(p.middle[at[0]:]); m != nil {
		typed = strings.TrimSpace(m[1])
	}
	return q, typed
}
