package walk

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// grave is what has to be told in every window, when it follows from an answer.
var grave = regexp.MustCompile(`^(?:DANGER|IN|OUT|DOUBTFUL|CANNOT): `)

// roomyHeight is the least height at which cautions are on the screen.
const roomyHeight = 24

// smallSays is how much of something grave a smaller one tells.
const smallSays = 120

// Film is a walk on the full screen, frame by frame, beside what the plain face says
// at the same places.
type Film struct {
	Width, Height int
	Frames        []string
	Visits        []Visit
}

// Look looks at every frame, and tells what is missing on it: a sentence of what is to
// be done, a caution, the label or hint of the field at work, a fact about the saw, a
// key; a reply, or a grave thing that follows, that no frame shows whole.
func (f Film) Look() []string {
	var found []string
	complain := func(frame int, format string, a ...any) {
		found = append(found, fmt.Sprintf("frame %d of %d: %s:\n%s", frame+1, len(f.Frames), fmt.Sprintf(format, a...), f.Frames[frame]))
	}
	seen := make([]string, len(f.Visits)) // all frames of a visit
	at, opened := 0, false
	for i, frame := range f.Frames {
		p := read(frame)
		tour := p.title == ""
		switch next := at+1 < len(f.Visits); {
		case tour && opened && next, !tour && !p.titled(f.Visits[at].Title) && next && p.titled(f.Visits[at+1].Title):
			at, opened = at+1, !tour
		case !tour:
			opened = true
		}
		v := f.Visits[at]
		for _, missing := range v.missing(p, f.Height >= roomyHeight) {
			complain(i, "%s is not on the screen of %q", missing, v.Title)
		}
		seen[at] += flat(p.middle) + "\n"
	}
	if at != len(f.Visits)-1 {
		complain(len(f.Frames)-1, "the walk ends at %q, the plain one at %q", f.Visits[at].Title, f.Visits[len(f.Visits)-1].Title)
	}
	for i, v := range f.Visits {
		after := seen[i] + seen[min(i+1, len(seen)-1)]
		for _, reply := range slices.Concat(v.Replies, v.Follows) {
			if word, text, ok := strings.Cut(reply, ": "); ok && grave.MatchString(reply) {
				if reply = word + " " + text; f.Height < roomyHeight { // F1 has the rest
					reply = reply[:min(len(reply), smallSays)]
				}
			} else if slices.Contains(v.Follows, reply) {
				continue
			}
			if !strings.Contains(after, flat(reply)) {
				found = append(found, fmt.Sprintf("at %q no frame shows %q", v.Title, reply))
			}
		}
	}
	return found
}

// titled reports whether a page has a title; one too long for a window ends in a mark.
func (p page) titled(title string) bool { return whole(p.title, title) }

func whole(shown, text string) bool {
	begin, end, clipped := strings.Cut(strings.ReplaceAll(shown, "…", "~"), "~")
	return shown == text || clipped && strings.HasPrefix(text, begin) && strings.HasSuffix(text, end)
}

// missing is what a page does not show of a visit. In a small window cautions may give way to
// the orders; F1 has them.
func (v Visit) missing(p page, roomy bool) []string {
	var out []string
	need := func(ok bool, what string) {
		if !ok {
			out = append(out, fmt.Sprintf("%q", what))
		}
	}
	for i, fact := range v.Saw {
		need(i < len(p.saw) && whole(p.saw[i], fact), fact)
	}
	need(strings.HasSuffix(p.keys, " ctrl+c leave"), "ctrl+c leave")
	if p.title == "" {
		for _, line := range v.Tour {
			need(p.shows(line), line)
		}
		need(len(v.Tour) > 0 && strings.Contains(p.keys, "enter go on  "), "a tour with its key")
		return out
	}
	need(strings.Contains(p.keys, "enter accept  "), "enter accept")
	need(p.titled(v.Title), v.Title)
	for _, line := range v.Do {
		need(v.Table || p.shows(line), line)
	}
	for _, line := range v.Careful {
		need(v.Table || !roomy || p.shows(line), line)
	}
	q, typed := p.question()
	i := slices.IndexFunc(v.Fields, func(f Field) bool { return f.Label == q.Label })
	if i < 0 {
		return append(out, "the field at work")
	}
	hint := v.Fields[i].Hint
	need(strings.HasPrefix(q.Hint, hint) || typed != "" || q.Refused != "", hint)
	return out
}
