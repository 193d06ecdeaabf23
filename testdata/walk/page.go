package walk

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// page is a screen as a person reads it: where the work stands, the saw as it is
// known, and the middle, without the stages that wide windows have at the left.
type page struct {
	title  string   // of the place; empty where another screen lies over it
	saw    []string // head and value
	middle string
	keys   string // the line at the bottom
}

var (
	stageOf  = regexp.MustCompile(` +stage \d+ of 11 .*$`)
	focused  = regexp.MustCompile(`^ +(?:▸|>) (\S.*?)(?:  +(\S.*))?$`)
	input    = regexp.MustCompile(`^ +> ?(.*)$`)
	marked   = regexp.MustCompile(` (?:WRONG|SURE\?|NOT YET) .*`)
	beside   = regexp.MustCompile(`(\S)(?:  | [█#]).*`) // a figure stands right of the orders
	numbered = regexp.MustCompile(`^ *(?:\d+|!)  `)
)

// heads of the strip that tells of the saw.
var (
	heads  = []string{"POWER", "ON THE ARBOR", "FENCE", "KNIFE"}
	narrow = []string{"POWER", "ARBOR", "FENCE", "KNIFE"}
)

const upright = '│'

func read(screen string) page {
	var p page
	lines := strings.Split(strings.TrimRight(screen, "\n"), "\n")
	p.keys, lines = lines[len(lines)-1], lines[:len(lines)-1]
	at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(strings.TrimSpace(l), heads[0]) })
	if at < 0 || at+2 > len(lines) {
		return p
	}
	p.saw = facts(lines[at], lines[at+1])
	lines = rightOfStages(lines[at+2:])
	for len(lines) > 0 && strings.TrimSpace(lines[0]) == "" {
		lines = lines[1:]
	}
	if len(lines) > 0 && !strings.Contains(p.keys, "enter go on") {
		p.title, lines = strings.TrimSpace(stageOf.ReplaceAllString(lines[0], "")), lines[1:]
	}
	p.middle = strings.Join(lines, "\n") + "\n"
	return p
}

// facts are what the two rows of the strip tell: values below their heads, or in a narrow
// window behind them.
func facts(above, below string) []string {
	var out []string
	if strings.Contains(below, heads[3]) {
		for i, row := range []string{above, below} {
			from := strings.Index(row, narrow[2*i+1])
			out = append(out, flat(row[:from])[1:], flat(row[from:])[1:])
		}
		out[1] = "ON THE " + out[1]
		return out
	}
	row, values := []rune(above), []rune(below)
	for i, head := range heads {
		from, to := column(row, head), len(values)
		if i+1 < len(heads) {
			to = column(row, heads[i+1])
		}
		if from = min(from, len(values)); from < 0 {
			return nil
		}
		out = append(out, head+" "+strings.TrimSpace(string(values[from:max(from, min(to, len(values)))])))
	}
	return out
}

func column(row []rune, head string) int {
	if at := strings.Index(string(row), head); at >= 0 {
		return len([]rune(string(row)[:at]))
	}
	return -1
}

// rightOfStages leaves out what stands left of an upright from top to bottom.
func rightOfStages(lines []string) []string {
	at := map[int]int{}
	for _, line := range lines {
		if x := slices.Index([]rune(line), upright); x >= 0 {
			at[x]++
		}
	}
	for x, n := range at {
		if n < len(lines)-4 {
			continue
		}
		out := make([]string, len(lines))
		for i, line := range lines {
			if r := []rune(line); len(r) > x+1 && r[x] == upright {
				out[i] = string(r[x+1:])
			}
		}
		return out
	}
	return lines
}

// prose is the text of the orders, without the figure beside them.
func (p page) prose() string {
	var b strings.Builder
	for line := range strings.Lines(p.middle) {
		b.WriteString(beside.ReplaceAllString(numbered.ReplaceAllString(strings.TrimRight(line, "\n"), ""), "$1") + "\n")
	}
	return flat(b.String())
}

// shows reports whether a sentence stands on the page in one piece, whatever lines it is on.
func (p page) shows(sentence string) bool {
	return strings.Contains(flat(p.middle), flat(sentence)) || strings.Contains(p.prose(), flat(sentence))
}

// question is what is asked, without a label where no field has the focus; typed is the
// text in the field. The hint stands behind the label, below it, or in the field.
func (p page) question() (q Question, typed string) {
	lines := strings.Split(p.middle, "\n")
	at := slices.IndexFunc(lines, focused.MatchString)
	if at < 0 {
		return Question{}, ""
	}
	m := focused.FindStringSubmatch(lines[at])
	q = Question{Place: p.title, Label: m[1], Hint: m[2], Saw: p.saw, Text: p.prose()}
	for i, line := range lines[at+1:] {
		m := input.FindStringSubmatch(line)
		if m == nil {
			q.Hint = strings.TrimSpace(q.Hint + " " + strings.TrimSpace(line))
			continue
		}
		behind := ""
		if typed, behind, _ = strings.Cut(m[1], "  "); behind != "" {
			q.Hint = strings.TrimSpace(behind)
		}
		q.Refused = marked.FindString(flat(strings.Join(lines[at+i+2:], "\n")))
		break
	}
	q.Kept = strings.TrimSpace(typed)
	return q, q.Kept
}

// QuestionOn finds the place and the focused field.
func QuestionOn(screen string) (Question, error) {
	q, _ := read(screen).question()
	if q.Label == "" {
		return q, fmt.Errorf("no field has the focus:\n%s", screen)
	}
	return q, nil
}
