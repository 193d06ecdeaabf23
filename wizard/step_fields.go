package wizard

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.com/sawdatum/model/procedure"
)

// fieldGroups are the lines of each field: the focused one with its range, its input
// and what is wrong with it, the others with what stands in them.
func (s step) fieldGroups(w int) [][]string {
	groups := make([][]string, len(s.place.Fields))
	for i, f := range s.place.Fields {
		if i == s.typing.at {
			groups[i] = s.focusedField(i, f, w)
		} else {
			groups[i] = s.otherField(i, f, w)
		}
	}
	if len(groups) == 0 {
		return [][]string{nil}
	}
	return groups
}

func (s step) focusedField(i int, f procedure.Field, w int) []string {
	label := s.look.focus.Render(f.Label)
	if n := len(s.place.Fields); n > 1 {
		label += s.look.dim.Render(fmt.Sprintf("  %d of %d", i+1, n))
	}
	lead := s.look.focus.Render(s.look.here) + " "
	var lines []string
	if lipgloss.Width(label)+lipgloss.Width(f.Hint)+6 <= w {
		lines = ends(lead+label, s.hint(f), w)
	} else {
		lines = append([]string{lead + label}, wrapped("    ", s.hint(f), w, lipgloss.NewStyle())...)
	}
	lines = append(lines, "    "+s.typing.input())
	if fault := s.typing.faults[i]; fault != "" {
		mark := "WRONG "
		if s.typing.asked[i] {
			mark = "SURE? "
		}
		return append(lines, wrapped("    "+s.look.danger.Render(mark), fault, w, s.look.danger)...)
	}
	if s.read[f.Key] {
		lines = append(lines, wrapped("    ", "The simulated saw reads this. Enter takes it.", w, s.look.dim)...)
	}
	if t := tally(f, *s.typing.texts[i]); t != "" {
		lines = append(lines, wrapped("    ", t, w, lipgloss.NewStyle())...)
	}
	return lines
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
	text := strings.TrimSpace(*s.typing.texts[i])
	style := lipgloss.NewStyle()
	switch t := tally(f, text); {
	case s.typing.faults[i] != "":
		return wrapped(s.look.danger.Render(s.look.careful)+" ", f.Label+": "+text+" ("+s.typing.faults[i]+")", w, s.look.danger)
	case text == "" && f.Kind == procedure.FieldWord:
		return ends(lead+f.Label, s.hint(f), w)
	case text == "":
		return []string{lead + s.look.dim.Render(f.Label)}
	case f.Check(text) == nil:
		lead = s.look.good.Render(s.look.done) + " "
		if t != "" && f.AtMost != f.AtLeast {
			text = t
		}
	}
	return wrapped(lead, f.Label+": "+text, w, style)
}

// shownFields are at most h lines of the fields: all of them, or those round the
// focused one. Fields that are still to be answered are shown before answered ones.
func (s step) shownFields(groups [][]string, h int) []string {
	from, to := s.typing.at, s.typing.at+1
	room := h - count(groups[from:min(to, len(groups))])
	for to < len(groups) && len(groups[to]) <= room {
		room -= len(groups[to])
		to++
	}
	for from > 0 && len(groups[from-1]) <= room {
		from--
		room -= len(groups[from])
	}
	var lines []string
	for _, g := range groups[from:min(to, len(groups))] {
		lines = append(lines, g...)
	}
	return lines
}
