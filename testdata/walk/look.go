package walk

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// spelled is what is made of letters, with what may stand round them.
var spelled = regexp.MustCompile(`^[("]*[A-Za-z][A-Za-z'-]*[)".,:;?!]*$`)

// grave is what has to be told in every window, when it follows from an answer.
var grave = regexp.MustCompile(`^(?:DANGER|IN|OUT|DOUBTFUL|CANNOT): `)

// From these heights on a place is shown with all cautions and hints; with all that
// follows from an answer.
const roomyHeight, largeHeight = 24, 50

// beside is the width of the text where a picture stands right of it.
const beside = 64

// onScreen reports whether a sentence stands on a screen in one piece, whatever lines
// it is on.
func onScreen(lines, sentence string) bool {
	return strings.Contains(flat(lines), flat(sentence)) || strings.Contains(flat(leftOf(lines, beside)), flat(sentence))
}

func leftOf(lines string, n int) string {
	var b strings.Builder
	for line := range strings.Lines(lines) {
		r := []rune(strings.TrimRight(line, "\n"))
		b.WriteString(string(r[:min(n, len(r))]) + "\n")
	}
	return b.String()
}

// Film is a walk on the full screen, frame by frame, beside what the plain face says
// at the same places.
type Film struct {
	Width, Height int
	Frames        []string
	Visits        []Visit
}

// Look looks at every frame, and tells what is missing on it: a sentence of what is to
// be done, a caution, a word that a gate wants, the label or hint of the field at work,
// a fact about the saw, a key; a reply that no frame shows whole; a word cut at the
// right edge.
func (f Film) Look() []string {
	var found []string
	complain := func(frame int, format string, a ...any) {
		found = append(found, fmt.Sprintf("frame %d of %d: %s:\n%s", frame+1, len(f.Frames), fmt.Sprintf(format, a...), f.Frames[frame]))
	}
	known := f.words()
	seen := make([]string, len(f.Visits)) // all frames of a visit
	at, opened := 0, false
	for i, frame := range f.Frames {
		p := read(frame)
		tour := p.title == ""
		switch next := at+1 < len(f.Visits); {
		case tour && opened && next, !tour && p.title != f.Visits[at].Title && next && p.title == f.Visits[at+1].Title:
			at, opened = at+1, !tour
		case !tour:
			opened = true
		}
		v := f.Visits[at]
		for _, missing := range v.missing(p, f.Height >= roomyHeight) {
			complain(i, "%s is not on the screen of %q", missing, v.Title)
		}
		for _, word := range f.cut(frame, known) {
			complain(i, "%q at the right edge is no whole word", word)
		}
		seen[at] += flat(p.middle) + "\n"
	}
	if at != len(f.Visits)-1 {
		complain(len(f.Frames)-1, "the walk ends at %q, the plain one at %q", f.Visits[at].Title, f.Visits[len(f.Visits)-1].Title)
	}
	for i, v := range f.Visits {
		after := seen[i] + seen[min(i+1, len(seen)-1)]
		for _, reply := range slices.Concat(v.Replies, v.Follows) {
			minor := slices.Contains(v.Follows, reply) && !grave.MatchString(reply)
			if !strings.Contains(after, flat(reply)) && (f.Height >= largeHeight || !minor) {
				found = append(found, fmt.Sprintf("at %q no frame shows %q", v.Title, reply))
			}
		}
	}
	return found
}

// missing is what a page does not show of a visit. In a small window the cautions may
// give way to what is wrong with an answer, and the hint to what is typed.
func (v Visit) missing(p page, roomy bool) []string {
	var out []string
	need := func(ok bool, what string) {
		if !ok {
			out = append(out, fmt.Sprintf("%q", what))
		}
	}
	for _, fact := range v.Saw {
		need(strings.Contains(p.saw+"  ", "  "+fact+"  "), fact)
	}
	need(strings.HasSuffix(p.keys, "  ctrl+c leave  ") || p.keys == "ctrl+c leave  ", "ctrl+c leave")
	if p.title == "" {
		for _, line := range v.Tour {
			need(onScreen(p.middle, line), line)
		}
		need(len(v.Tour) > 0 && strings.Contains(p.keys, "enter go on  "), "a tour with its key")
		return out
	}
	need(strings.Contains(p.keys, "enter accept  "), "enter accept")
	need(p.title == v.Title, v.Title)
	for _, line := range v.Do {
		need(onScreen(p.middle, line), line)
	}
	q, typed := p.question()
	i := slices.IndexFunc(v.Fields, func(f Field) bool { return f.Label == q.Label })
	if i < 0 {
		return append(out, "the field at work")
	}
	if roomy || q.Refused == "" {
		for _, line := range v.Careful {
			need(onScreen(p.middle, line), line)
		}
	}
	if roomy || typed == "" {
		need(onScreen(p.middle, v.Fields[i].Hint), v.Fields[i].Hint)
	}
	for _, f := range v.Fields[i:] {
		if w := (Question{Hint: f.Hint}).word(); w != "" {
			need(onScreen(p.middle, "type "+w), "type "+w)
		}
	}
	return out
}

// words are all words that stand on a frame before its right edge, or are said in the
// plain face.
func (f Film) words() map[string]bool {
	known := map[string]bool{}
	for _, frame := range f.Frames {
		for line := range strings.Lines(frame) {
			words := strings.Fields(line)
			if len(words) > 0 && len([]rune(strings.TrimRight(line, "\n"))) >= f.Width {
				words = words[:len(words)-1]
			}
			for _, w := range words {
				known[w] = true
			}
		}
	}
	for _, v := range f.Visits {
		for _, w := range strings.Fields(strings.Join(slices.Concat(v.Saw, v.Tour, v.Do, v.Careful, v.Replies, v.Follows), " ")) {
			known[w] = true
		}
	}
	return known
}

// cut lists what touches the right edge and is no whole word. Drawings and figures may
// stand there.
func (f Film) cut(frame string, known map[string]bool) []string {
	var out []string
	for line := range strings.Lines(frame) {
		words := strings.Fields(line)
		if len(words) > 0 && len([]rune(strings.TrimRight(line, "\n"))) >= f.Width {
			if w := words[len(words)-1]; spelled.MatchString(w) && !known[w] {
				out = append(out, w)
			}
		}
	}
	return out
}
