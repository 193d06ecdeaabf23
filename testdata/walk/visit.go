package walk

import (
	"regexp"
	"strings"
)

// Visit is one visit to a place as the plain face tells it, in whole sentences. The
// full screen has to show the same.
type Visit struct {
	Title   string
	Saw     []string // what is known of power, arbor, fence and knife
	Tour    []string // what practice explains before it
	Table   bool     // the table of the blades stands in place of the orders
	Do      []string
	Careful []string // the cautions
	Fields  []Field
	Replies []string // what was said to answers: counts of readings, refusals
	Follows []string // what followed from the answers
}

// Field is a question of the visit.
type Field struct{ Label, Hint string }

var (
	place     = regexp.MustCompile(`(?m)^(?:Stage \d+ of 11\.|Next:) `)
	told      = regexp.MustCompile(`^(Tour|Do \d+|Careful|Picture|So): (.*)$`)
	asks      = regexp.MustCompile(`^(?:> )?Question \d+ of \d+\. (.*) \(([^()]*)\)\.$`)
	unspoken  = regexp.MustCompile(`^(?:$|> |An empty answer keeps: |The simulated saw reads: |Blade |Why not ready: )`)
	lastWords = regexp.MustCompile(`^(?:Everything that was accepted|Nothing was written)`)
)

// Visits reads the output of a walk in the plain face.
func Visits(output string) []Visit {
	var out []Visit
	for _, part := range place.Split(strings.ReplaceAll(output, "\r", ""), -1)[1:] {
		lines := strings.Split(part, "\n")
		v := Visit{Title: strings.TrimSuffix(lines[0], "."), Saw: strings.Split(strings.TrimSuffix(lines[1], "."), ". ")}
		asked := map[string]bool{}
		for _, line := range lines[2:] {
			if lastWords.MatchString(line) {
				break
			}
			if m := asks.FindStringSubmatch(line); m != nil {
				if !asked[m[1]] {
					v.Fields = append(v.Fields, Field{m[1], m[2]})
				}
				asked[m[1]] = true
				continue
			}
			m := told.FindStringSubmatch(line)
			switch {
			case strings.HasPrefix(line, "Blade "):
				v.Table = true
			case m == nil && len(v.Fields) > 0 && !unspoken.MatchString(line):
				v.Replies = append(v.Replies, strings.TrimSuffix(line, "."))
			case m == nil || m[1] == "Picture":
			case m[1] == "Tour":
				v.Tour = append(v.Tour, m[2])
			case m[1] == "So":
				v.Follows = append(v.Follows, strings.TrimPrefix(m[2], "Careful: "))
			case m[1] == "Careful":
				v.Careful = append(v.Careful, m[2])
			default:
				v.Do = append(v.Do, m[2])
			}
		}
		out = append(out, v)
	}
	return out
}
