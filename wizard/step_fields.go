package wizard

import (
	"slices"
	"strings"

	"example.com/sawdatum/model/procedure"
)

// fieldGroups are the lines of each field: the focused one with its range, its input
// and what is wrong with it, the others with what stands in them. Briefly, the range
// and example go once something is typed.
func (s step) fieldGroups(w int, briefly bool) [][]string {
	groups := make([][]string, len(s.place.Fields))
	for i, f := range s.place.Fields {
		if i == s.typing.at() {
			groups[i] = s.focusedField(i, f, w, briefly && f.Kind != procedure.FieldWord && s.typing.text(i) != "")
		} else {
			groups[i] = s.otherField(i, f, w)
		}
	}
	if len(groups) == 0 {
		return [][]string{nil}
	}
	return groups
}

// hintColumn is where the hints begin that stand behind a label: close behind the
// longest, so that the eye finds the way.
func (s step) hintColumn(w int) int {
	n := 0
	for _, f := range s.place.Fields {
		hint := f.Hint
		if f.Kind == procedure.FieldWord {
			hint = "type " + f.Word
		}
		if width := cells(f.Label) + 4; width+cells(hint) <= w {
			n = max(n, width)
		}
	}
	return n
}

// labelled is a label with a hint behind it; false where the line has no room.
func (s step) labelled(label, hint string, w int) (string, bool) {
	at := max(s.hintColumn(w), cells(label)+2)
	if at+cells(hint) > w {
		at = cells(label) + 2
	}
	return label + strings.Repeat(" ", at-cells(label)) + hint, at+cells(hint) <= w
}

func (s step) focusedField(i int, f procedure.Field, w int, briefly bool) []string {
	label := s.look.focus.Render(s.look.here + " " + f.Label)
	input := s.look.focus.Render("  > ") + s.typing.input(w-4)
	if note := "   enter keeps it, typing replaces it"; s.typing.list.Fresh() && !s.reads(i) && cells(input)+cells(note) <= w {
		input += s.look.dim.Render(note)
	}
	var lines []string
	if briefly {
		lines = []string{label, input}
	} else if line, ok := s.labelled(label, s.hint(f), w); ok {
		lines = []string{line, input}
	} else if cells(input)+cells(f.Hint)+8 <= w {
		lines = []string{label, input + "   " + s.hint(f)}
	} else {
		lines = append([]string{label}, s.texts.wrapped("    ", s.hint(f), w, brush{})...)
		lines = append(lines, input)
	}
	if fault := s.typing.fault(i); fault != "" {
		mark := "WRONG "
		if s.typing.asks(i) {
			mark = "SURE? "
		}
		return append(lines, wrapped("    "+s.look.danger.Render(mark), fault, w, s.look.danger)...)
	}
	if s.reads(i) {
		lines = append(lines, wrapped("    ", "The simulated saw reads this. Enter takes it.", w, s.look.dim)...)
	}
	if t := tally(f, s.typing.text(i)); t != "" {
		lines = append(lines, wrapped("    ", t, w, brush{})...)
	}
	return lines
}

// reads reports whether what stands in a field is what the simulated saw has read.
func (s step) reads(i int) bool {
	text := s.read[s.place.Fields[i].Key]
	return text != "" && text == s.typing.text(i)
}

// hint is the range and an example; the word to type stands out.
func (s step) hint(f procedure.Field) string {
	if f.Kind == procedure.FieldWord {
		return "type " + s.look.title.Render(f.Word)
	}
	return s.look.dim.Render(f.Hint)
}

func (s step) otherField(i int, f procedure.Field, w int) []string {
	lead := "  "
	text := strings.TrimSpace(s.typing.text(i))
	style := brush{}
	switch t := tally(f, text); {
	case s.typing.fault(i) != "":
		return wrapped(s.look.danger.Render(s.look.careful)+" ", f.Label+": "+text+" ("+s.typing.fault(i)+")", w, s.look.danger)
	case text == "" && f.Kind == procedure.FieldWord:
		if line, ok := s.labelled(lead+f.Label, s.hint(f), w); ok {
			return []string{line}
		}
		return wrapped(lead, f.Label+": "+s.hint(f), w, brush{})
	case text == "":
		return []string{lead + s.look.dim.Render(f.Label)}
	case f.Check(text) == nil:
		lead = s.look.good.Render(s.look.done) + " "
		text = inFull(f, text)
		if t != "" && f.AtMost != f.AtLeast {
			text = t
		}
	}
	return wrapped(lead, f.Label+": "+text, w, style)
}

// shownFields are at most h lines of the fields: all of them, or those round the
// focused one, the next before the answered ones. The words that are still to be typed
// in fields that have no room stand on a line of their own.
func (s step) shownFields(groups [][]string, h int) []string {
	at := s.typing.at()
	all := count(groups)
	if all <= h {
		return slices.Concat(groups...)
	}
	last := len(groups) - 1
	for ; last > at; last-- {
		if count(groups[at:last+1])+len(s.wordsAfter(last)) <= h {
			break
		}
	}
	lines := append(slices.Concat(groups[at:last+1]...), s.wordsAfter(last)...)
	for first := at - 1; first >= 0 && len(groups[first])+len(lines) <= h; first-- {
		lines = append(slices.Clone(groups[first]), lines...)
	}
	return lines
}

// wordsAfter names the words to be typed in the fields behind one.
func (s step) wordsAfter(last int) []string {
	var words []string
	for i := last + 1; i < len(s.place.Fields); i++ {
		if f := s.place.Fields[i]; f.Kind == procedure.FieldWord && f.Check(s.typing.text(i)) != nil {
			words = append(words, f.Word)
		}
	}
	if len(words) == 0 {
		return nil
	}
	return wrapped("  ", "then type "+strings.Join(words, ", then type "), s.textWidth(), s.look.dim)
}
