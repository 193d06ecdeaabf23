package wizard

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

// bladeRows are what the papers tell of the blades, at this moment.
func bladeRows(p procedure.Procedure) []profiles.Row {
	return profiles.RowsOf(p.Profile(), p.Plan(), profiles.ExportOptions{Now: p.Now().At})
}

// closingSentences read the table of blades row by row.
func closingSentences(p procedure.Procedure) []string {
	var out []string
	for _, r := range bladeRows(p) {
		s := fmt.Sprintf("Blade %s: %s. Rings: %s. Knife: %s. From the datum: %s.", r.Name, status(r), r.Stack(), r.Knife, strings.ReplaceAll(r.Residual[0], "+-", "plus or minus"))
		out = append(out, s+provedWords(r, " Proved: ", "."))
		for _, reason := range r.Why {
			out = append(out, "Why not ready: "+reasonLine(reason))
		}
	}
	return append(append(out, legend), outlook(p)...)
}

// legend tells how the table of blades is meant.
const legend = "Rings are listed flange first. Wide and narrow: by so much a part differs from one that the datum cuts."

// status is how a blade stands.
func status(r profiles.Row) string {
	if r.Reference {
		return r.Status() + ", reference"
	}
	return r.Status()
}

func fromDatum(r profiles.Row) string { return strings.ReplaceAll(r.Residual[0], "+-", "±") }

// provedWords say when and by whom a blade was proved, and from when that is to be done
// again.
func provedWords(r profiles.Row, before, after string) string {
	if r.Proved == "" {
		return ""
	}
	out := before + r.Proved
	if r.Due != "" {
		out += ", due " + r.Due
	}
	return out + after
}

// tableWidth is what the table of blades needs to have one line a blade.
const tableWidth = 106

// closing is the table of blades with what is not ready and why, below the picture of
// the rack where both have room. What has no room is read on with the page keys.
func (s step) closing(w, h int) []string {
	lines := s.blades(w)
	for _, text := range append(outlook(s.job.procedure), s.job.staleSentences()...) {
		lines = append(lines, wrapped("  ", text, min(w, textWidth), brush{})...)
	}
	lines = append(lines, "")
	lines = append(lines, wrapped("", kept(s.job.store, s.job.saw != nil, false), w, s.look.dim)...)
	if room := h - len(lines) - 1; room >= picture.MinHeight {
		if pic, ok := s.place.Picture(s.typing.values()).(picture.Picture); ok {
			drawn := strings.Split(pic.Draw(w, min(room, len(s.job.procedure.Plan().Blades)+8), s.look.pictures()), "\n")
			lines = append(append(drawn, ""), lines...)
		}
	}
	if len(lines) <= h {
		return lines
	}
	room := max(1, h-1)
	top := min(s.top, len(lines)-room)
	more := s.look.dim.Render(fmt.Sprintf("lines %d to %d of %d: page up and page down read on", top+1, top+room, len(lines)))
	return append(append([]string{}, lines[top:top+room]...), more)
}

func (s step) blades(w int) []string {
	rows := bladeRows(s.job.procedure)
	var lines []string
	var widest, blade, rings, residual int
	for _, r := range rows {
		widest, blade = max(widest, cells(status(r))), max(blade, cells(r.Name))
		rings, residual = max(rings, cells(r.Stack())), max(residual, cells(fromDatum(r)))
	}
	left := func(text string, n int) string { return text + strings.Repeat(" ", max(0, n-cells(text))) }
	for _, r := range rows {
		mark, style := s.look.good.Render(s.look.done), s.look.good
		if !r.Usable {
			mark, style = s.look.title.Render(s.look.careful), s.look.title
		}
		knife, proved := "knife "+r.Knife, provedWords(r, "", "")
		cells := []string{mark + " " + style.Render(left(status(r), widest)), left(r.Name, blade), left(r.Stack(), rings), right(fromDatum(r), residual), knife, proved}
		if w >= tableWidth {
			lines = append(lines, wrapped("", strings.TrimRight(strings.Join(cells, "  "), " "), w, brush{})...)
		} else {
			lines = append(lines, wrapped(cells[0]+"  ", r.Name, w, brush{})...)
			lines = append(lines, wrapped("    ", strings.Join([]string{r.Stack(), knife, fromDatum(r), proved}, "  "), w, brush{})...)
		}
		for _, reason := range r.Why {
			style := brush{}
			if reason.Weight == model.Danger {
				style = s.look.title
			}
			lines = append(lines, wrapped("    ", reasonLine(reason), min(w, textWidth), style)...)
		}
	}
	return append(lines, wrapped("", legend, w, s.look.dim)...)
}
