package screen

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/tell"
)

// closing is the picture of the rack with the papers that are stale, and below it, or read on
// with the page keys where it has no room, the table of blades with what is not ready and why.
func (s step) closing(w, h int) []string {
	indented := func(texts []string) (lines []string) {
		for _, text := range texts {
			lines = append(lines, frame.Wrapped("  ", text, min(w, frame.TextWidth), frame.Brush{})...)
		}
		return lines
	}
	stale := indented(tell.StaleSentences(s.job.Papers))
	var drawn []string
	if pic, ok := s.place.Picture(s.typing.values()).(picture.Picture); ok && h-len(stale) >= picture.MinHeight {
		drawn = strings.Split(pic.Draw(w, min(h-len(stale), len(s.job.Procedure.Plan().Blades)+3), s.look.Pictures()), "\n")
	}
	lines := append(s.blades(w), indented(tell.Outlook(s.job.Procedure))...)
	lines = append(lines, stale...)
	lines = append(lines, "")
	lines = append(lines, frame.Wrapped("", tell.Kept(s.job.Store, s.job.Saw != nil, false), w, s.look.Dim)...)
	if len(drawn) == 0 {
		return s.paged(lines, w, h, s.top)
	}
	if below := h - len(drawn) - 1; below > leastRead {
		return append(append(drawn, ""), s.paged(lines, w, below, s.top)...)
	}
	if s.top == 0 {
		return append(drawn, stale...)
	}
	return s.paged(lines, w, h, s.top-s.page())
}

// leastRead is how many lines are worth being read on below the picture.
const leastRead = 5

// handover is what the other shift has to know.
func (s step) handover(w, h int) []string {
	return s.paged(tell.Handover(s.job, s.job.Papers, min(w, frame.TextWidth)), w, h, s.top)
}

// paged is what of lines has room from the one at top on, and how to read on.
func (s step) paged(lines []string, w, h, top int) []string {
	if len(lines) <= h {
		return lines
	}
	room := max(1, h-1)
	top = min(max(0, top), len(lines)-room)
	more := s.look.Dim.Render(fmt.Sprintf("lines %d to %d of %d: page up and page down read on", top+1, top+room, len(lines)))
	return append(append([]string{}, lines[top:top+room]...), frame.Right(more, min(w, frame.TextWidth))) // at the edge: it is none of them
}

func (s step) blades(w int) []string {
	rows := export.FailingFirst(tell.Blades(s.job.Procedure))
	var lines []string
	var widest, blade, rings, residual int
	for _, r := range rows {
		widest, blade = max(widest, frame.Cells(tell.Status(r))), max(blade, frame.Cells(r.Name))
		rings, residual = max(rings, frame.Cells(r.Stack())), max(residual, frame.Cells(tell.FromDatum(r)))
	}
	longest := 0
	for _, r := range rows {
		longest = max(longest, 2+widest+blade+rings+residual+5*2+frame.Cells("knife "+r.Knife)+frame.Cells(tell.ProvedWords(r, "", "")))
	}
	left := func(text string, n int) string { return text + strings.Repeat(" ", max(0, n-frame.Cells(text))) }
	for _, r := range rows {
		mark, style := s.look.Good.Render(s.look.Done), s.look.Good
		if !r.Usable {
			mark, style = s.look.Title.Render(s.look.Careful), s.look.Title
		}
		knife, proved := "knife "+r.Knife, tell.ProvedWords(r, "", "")
		cells := []string{mark + " " + style.Render(left(tell.Status(r), widest)), left(r.Name, blade), left(r.Stack(), rings), frame.Right(tell.FromDatum(r), residual), knife, proved}
		if !r.Usable && r.Plan.Knife != model.KnifeFits {
			row := strings.Join(append(cells[:2], knife), "  ") // nobody takes a ring for a blade that must not run
			if frame.Cells(row) > w {
				row = strings.Join([]string{mark + " " + style.Render(tell.Status(r)), r.Name, knife}, "  ")
			}
			lines = append(lines, frame.Wrapped("", row, w, frame.Brush{})...)
		} else if w >= longest {
			lines = append(lines, frame.Wrapped("", strings.TrimRight(strings.Join(cells, "  "), " "), w, frame.Brush{})...)
		} else {
			lines = append(lines, frame.Wrapped(cells[0]+"  ", r.Name, w, frame.Brush{})...)
			lines = append(lines, frame.Wrapped("    ", strings.Join([]string{r.Stack(), knife, tell.FromDatum(r), proved}, "  "), w, frame.Brush{})...)
		}
		for _, reason := range r.Why {
			style := frame.Brush{}
			if reason.Weight == model.Danger {
				style = s.look.Title
			}
			lines = append(lines, frame.Wrapped("    ", tell.ReasonLine(reason), min(w, frame.TextWidth), style)...)
		}
	}
	return append(lines, frame.Wrapped("", tell.Legend, min(w, frame.TextWidth), s.look.Dim)...)
}
