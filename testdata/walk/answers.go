package walk

import (
	"cmp"
	"regexp"
	"strconv"
	"strings"
)

// Hand answers as somebody does who finds at the saw what the screen says. It knows no
// step: what it types stands in the hint, or in the orders.
type Hand struct {
	Own  map[string]string // answers that differ, by label or by "place, label"
	Real bool              // nothing is simulated: what is measured is the example of the hint
}

var (
	word     = regexp.MustCompile(`\btype (\w+)$`)
	example  = regexp.MustCompile(`such as ([^;]*?)(?:;.*)?$`)
	before   = regexp.MustCompile(`before: ([\d.]+)`)
	optional = regexp.MustCompile(`, or empty$|; empty: `)
	either   = regexp.MustCompile(`^(\w+)(?: \([^)]*\))? or \w+(?: \([^)]*\))?$`)
	least    = regexp.MustCompile(`at least ([\d.]+)`)
	measured = regexp.MustCompile(`^(?:In front|At the rear|Front to rear|Widths? |Length of|Four gaps|Knife to the|Knife, seen in line|Settings and|Dial )`)
	cameOff  = regexp.MustCompile(`(?:Off: guard, plate, (?:nut, )?blade(?:, )?|by the records: )((?:no rings)|[^,]*?)\. (?:Wipe|Lay)`)
	knifeIn  = regexp.MustCompile(`(?m)^KNIFE ([\d.]+)`)
	seen     = regexp.MustCompile(`By the records: the (.*?), ([^,]*?)\. Look`)
)

// usual is what no hint tells: a saw that stands still, a rack that is whole.
var usual = map[string]string{"Stop is pressed": "still", "The next blade, a row, or whole": "whole", "The next ring, a row, or whole": "whole", "Found": "sawdust under the ring", "What is on it": "keep"}

// To is the answer to a question; empty takes the simulated reading, or keeps what
// stands there.
func (h Hand) To(q Question) string {
	for _, key := range []string{q.Place + ", " + q.Label, q.Label} {
		if text, ok := h.Own[key]; ok {
			return text
		}
	}
	if text, ok := usual[q.Label]; ok {
		return text
	}
	if w := q.word(); w != "" {
		return w
	}
	switch {
	case q.Label == "Rings that came off":
		return strconv.Itoa(len(strings.Fields(stack(last(cameOff, 1, q.Text)))))
	case q.Label == "Blade that is on":
		return last(seen, 1, q.Text)
	case q.Label == "Knife behind it":
		return last(knifeIn, 1, strings.Join(q.Saw, "\n"))
	case q.Label == "Rings behind it":
		return cmp.Or(stack(last(seen, 2, q.Text)), "none")
	case strings.HasSuffix(q.Label, "(may stay empty)"), optional.MatchString(q.Hint), measured.MatchString(q.Label) && !h.Real:
		return ""
	}
	if text := last(before, 1, q.Hint); text != "" { // it measures what it did
		return strings.Repeat(text+" ", 3)
	}
	for _, told := range []*regexp.Regexp{example, either, least} {
		if text := last(told, 1, q.Hint); text != "" {
			return text
		}
	}
	return ""
}

// InTurn answers as a hand does whose own answers, with bars between them, are typed one
// after the other; behind the last bar nothing: honest from then on.
func (h Hand) InTurn(q Question) string {
	for _, key := range []string{q.Place + ", " + q.Label, q.Label} {
		first, rest, more := strings.Cut(h.Own[key], "|")
		if more {
			if h.Own[key] = rest; rest == "" {
				delete(h.Own, key)
			}
			return first
		}
	}
	return h.To(q)
}

// word is the word that a gate wants; empty where any text will do.
func (q Question) word() string { return last(word, 1, q.Hint) }

// stack is a stack as it is typed; empty: no rings.
func stack(read string) string {
	if read == "no rings" {
		return ""
	}
	if n, err := strconv.Atoi(strings.TrimSuffix(read, " rings")); err == nil { // only how many
		return strings.Repeat("? ", n)
	}
	return strings.NewReplacer(" mm", "mm", " in", "in", " + ", " ").Replace(read)
}

func last(pattern *regexp.Regexp, group int, text string) string {
	all := pattern.FindAllStringSubmatch(text, -1)
	if len(all) == 0 {
		return ""
	}
	return all[len(all)-1][group]
}
