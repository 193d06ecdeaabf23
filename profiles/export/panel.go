package export

import (
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// panel is teeth and rings of a blade in large letters, the rings from a column on and up to
// its end, and below them in small ones what the large ones leave open. Where the blade is
// not to be used, XXX stands for the rings.
func (s sheet) panel(r Row, column, end int) []string {
	teeth, _ := letters(strconv.Itoa(r.Blade.Teeth), s.opt.Plain)
	lines := lay(nil, teeth, 0, 0)
	if !r.Usable {
		none, _ := letters("XXX", s.opt.Plain)
		return lay(lines, none, 0, column)
	}
	at, row := column, 0
	for _, figure := range s.ringFigures(r) {
		w := ansi.StringWidth(figure[0])
		if at > column && at+w > end {
			at, row = column, row+len(figure)
		}
		lines = lay(lines, figure, row, at)
		at += w + betweenRing
	}
	if more := s.ringNotes(r); more != "" {
		lines = lay(lines, strings.Split(wrapped(more, end-column), "\n"), len(lines), column)
	}
	return lines
}

// lay puts a block of text onto lines, from a row down and from a column on. Both count
// from 0.
func lay(lines, block []string, row, column int) []string {
	for y, text := range block {
		for len(lines) <= row+y {
			lines = append(lines, "")
		}
		lines[row+y] = padded(lines[row+y], column) + text
	}
	return lines
}

// ringFigures are the rings in large letters, flange first.
func (s sheet) ringFigures(r Row) (out [][]string) {
	for _, f := range s.figures(r) {
		block, drawn := letters(f.Figure, s.opt.Plain)
		if !drawn {
			block = make([]string, s.letterRows())
			block[len(block)-1] = f.Figure
		}
		last := len(block) - 1
		if f.Unit != "" {
			block[last] += " " + f.Unit
		}
		for y := range block {
			block[y] = padded(block[y], ansi.StringWidth(block[last]))
		}
		out = append(out, block)
	}
	return out
}

// figure is a ring as it stands in large letters, with its unit where that is not the one
// of the shop.
type figure struct{ Figure, Unit string }

// figures are the rings of a blade, flange first: 0 for none. Inches begin with the point,
// and so do millimetres of three rings or more, which have no room otherwise.
func (s sheet) figures(r Row) []figure {
	if len(r.Plan.Stack) == 0 {
		return []figure{{"0", ""}}
	}
	out := make([]figure, len(r.Plan.Stack))
	for i, id := range r.Plan.Stack {
		ring, known := s.profile.RingByID(id)
		if !known {
			out[i].Figure = text.Show(id)
			continue
		}
		number, unit, _ := strings.Cut(ring.Label(), " ")
		if ring.Thickness.Unit != model.MM || len(r.Plan.Stack) > 2 {
			number = strings.TrimPrefix(number, "0")
		}
		if unit == s.profile.Units.Label() {
			unit = ""
		}
		out[i] = figure{number, unit}
	}
	return out
}

// ringNotes say of the rings what large letters leave open: the other unit where both are
// wanted, which of two sorts of one thickness, and that another blade needs them too.
func (s sheet) ringNotes(r Row) string {
	var notes []string
	if s.opt.BothUnits && len(r.Plan.Stack) > 0 {
		unit, digit := model.IN, model.Inch/10_000
		if s.profile.Units == model.IN {
			unit, digit = model.MM, model.Millimetre/1000
		}
		var other []string
		for _, id := range r.Plan.Stack {
			ring, _ := s.profile.RingByID(id)
			other = append(other, strings.TrimSuffix(ring.Thickness.Length.Show(unit, digit), " "+unit.Label()))
		}
		notes = append(notes, strings.Join(other, " ")+" "+unit.Label())
	}
	if words := r.Stack(); strings.Contains(words, "(") {
		notes = append(notes, words)
	}
	switch sorts := slices.Compact(slices.Sorted(slices.Values(r.Plan.Stack))); {
	case len(r.Shared) == 0:
	case len(r.Shared) == len(sorts):
		notes = append(notes, "shared")
	default:
		notes = append(notes, "shares "+strings.Join(r.Shared, ", "))
	}
	return strings.Join(notes, ", ")
}
