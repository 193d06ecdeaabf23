package walk

import (
	"regexp"
	"strings"
)

// Answers are answers by label that differ from the usual ones.
type Answers map[string]string

var usual = Answers{
	"Your initials":             "KB",
	"Initials of who did it":    "KB",
	"Isolated how":              "unplugged",
	"The fence is":              "untouched",
	"Readings are":              "widths",
	"The scale now reads":       "120",
	"This blade is here for":    "check",
	"Length of the gauge board": "900",
	"Found":                     "sawdust under the ring",
}

// Measured is what somebody reads at a real saw; in practice empty answers take the
// simulated readings.
var Measured = Answers{
	"Run-down, seconds":       "1",
	"Thread past the nut":     "9",
	"Feeler gaps, four":       "0 0.05 0 0.05",
	"Knife to the tooth tips": "5",
}

var (
	word    = regexp.MustCompile(`(?m)\btype (\w+)$`)
	such    = regexp.MustCompile(`such as ([\d./]+ \w+)`)
	teeth   = regexp.MustCompile(`(?:[Pp]ut on the|[Pp]ut the|On the arbor: the) (\d+)-tooth`)
	rings   = regexp.MustCompile(`flange first: ([^.]*(?:\.\d[^.]*)*)\.`)
	onArbor = regexp.MustCompile(`On the arbor: the .*? with ([^.]*(?:\.\d[^.]*)*)\. Look`)
	write   = regexp.MustCompile(`off the arbor: (\d[^,;]*)[,;]`)
)

// To is the answer to a question; empty takes the simulated reading, or keeps what
// stands there.
func (a Answers) To(q Question) string {
	if text, ok := a[q.Label]; ok {
		return text
	}
	if w := q.word(); w != "" {
		return w
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
	case q.Label == "Measured where": // of what is offered the first
		return strings.Trim(strings.Fields(q.Hint)[0], ",")
	case q.Label == "Way on": // of those that are offered the last
		words := strings.Fields(q.Hint)
		return words[len(words)-1]
	case strings.HasPrefix(q.Label, "Knife fitted"):
		return last(such, q.Hint)
	}
	return usual[q.Label]
}

// word is the word that a gate wants; empty where any text will do.
func (q Question) word() string {
	if m := word.FindStringSubmatch(q.Hint); m != nil {
		return m[1]
	}
	return ""
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
