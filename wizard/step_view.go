package wizard

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/wizard/picture"
)

// leastPicture and its width are the smallest picture that is worth its room.
const (
	leastPicture      = picture.MinHeight
	leastPictureWidth = picture.MinWidth
	besideWidth       = 64 // text left of a picture
)

func wide(w, h int) bool { return w >= wideWidth && h >= wideHeight }

// listWidth is the column of places at the left of a wide window.
func listWidth(w int) int { return min(34, w/4) }

func (s step) workWidth(w, h int) int {
	if wide(w, h) {
		return w - listWidth(w) - 3
	}
	return w
}

// textWidth is the width of the lines of text in the middle.
func (s step) textWidth() int { return min(s.workWidth(s.w, s.h), textWidth) }

// view draws the seven parts of a step: where, do, careful, picture, type, so, keys.
func (s step) view(w, h int) []string {
	head := s.head(w, h)
	foot := s.keys.lines(s.look, w)
	room := h - len(head) - len(foot)
	var body []string
	if wide(w, h) {
		lw := listWidth(w)
		body = columns(s.look, s.list(lw, room), lw, s.work(w-lw-3, room), room)
	} else {
		body = tall(s.work(w, room), room)
	}
	return append(append(head, body...), foot...)
}

// head tells where: step, what is done, and the saw as it is known.
func (s step) head(w, h int) []string {
	places := s.job.procedure.Places()
	done := 0
	for _, p := range places {
		if p.Done {
			done++
		}
	}
	where := fmt.Sprintf("step %d of 11, %d of %d done", s.place.Number, done, len(places))
	title := s.look.title.Render(fmt.Sprintf("%d  %s", s.place.Number, s.place.Title))
	lines := ends(title, s.look.dim.Render(where), w)
	if lipgloss.Width(title)+lipgloss.Width(where) >= w {
		lines = wrapped("", fmt.Sprintf("%d  %s", s.place.Number, s.place.Title), w, s.look.title)
	}
	lines = append(lines, flow(s.saw(), "  ", w)...)
	if h > leastHeight {
		lines = append(lines, rule(s.look, done, len(places), w))
	}
	for _, line := range s.notices(w) {
		lines = append(lines, line)
	}
	return lines
}

func (s step) notices(w int) []string {
	if s.notice == "" {
		return nil
	}
	style := s.look.warn
	if s.danger {
		style = s.look.danger
	}
	return wrapped(style.Render(s.look.careful)+" ", s.notice, w, style)
}

// saw is the state of the saw in words; power stands out.
func (s step) saw() []string {
	facts := sawState(s.job.procedure)
	power, _, _ := s.job.procedure.Power()
	style := map[procedure.Power]brush{procedure.Unknown: s.look.power, procedure.Isolated: s.look.isolated, procedure.Live: s.look.live}[power]
	facts[0] = style.Render(facts[0])
	return facts
}

// list is the column of places round the present one.
func (s step) list(w, h int) []string {
	var lines []string
	at := 0
	for _, p := range s.job.procedure.Places() {
		lead, style := "  ", s.look.dim
		switch {
		case p.Current:
			lead, style, at = s.look.focus.Render(s.look.here)+" ", s.look.focus, len(lines)
		case p.Done:
			lead = s.look.good.Render(s.look.done) + " "
		}
		lines = append(lines, wrapped(lead+style.Render(right(itoa(p.Number), 2))+" ", p.Title, w, style)...)
	}
	return window(lines, at, h)
}

// work is the middle of the screen: what to do, why, the picture, the fields and what
// follows. What is needed to act safely comes first when there is little room: the
// fields scroll round the focused one, what follows shrinks, the picture goes.
func (s step) work(w, h int) []string {
	tw := min(w, textWidth)
	do, so := s.do(tw), s.follows(tw)
	why := s.why(tw)
	if s.place.Hold {
		do = append(s.sign(w, h), do...)
	}
	fields := s.fieldGroups(tw)
	need := len(do) + len(why) + count(fields) + len(so)
	if need > h {
		so = so[:max(0, min(len(so), h-(need-len(so))))]
		need = len(do) + len(why) + count(fields) + len(so)
	}
	typing := s.shownFields(fields, max(h-len(do)-len(why)-len(so), len(fields[min(s.typing.at(), len(fields)-1)])))
	spare := h - len(do) - len(why) - len(typing) - len(so)
	return s.assemble(w, h, spare, do, why, typing, so)
}

// assemble puts the parts together, with blank lines and the picture where there is
// room to spare.
func (s step) assemble(w, h, spare int, do, why, typing, so []string) []string {
	text := func(blank int) []string {
		var out []string
		for i, part := range [][]string{do, why, typing, so} {
			if len(part) == 0 {
				continue
			}
			if len(out) > 0 && (i != 1 && blank > 0) {
				out = append(out, "")
				blank--
			}
			out = append(out, part...)
		}
		return out
	}
	if s.place.Last {
		return append(append(text(1), ""), s.closing(w, max(0, spare-2))...)
	}
	blank := 2
	if len(so) > 0 {
		blank = 3
	}
	below := spare - blank
	switch {
	case w >= besideWidth+2+leastPictureWidth+10 && h >= leastPicture && below < 12:
		pic := s.picture(w-besideWidth-2, h)
		if pic != nil && len(do) > 0 {
			return s.beside(w, h, pic)
		}
	case below >= leastPicture:
		if pic := s.picture(w, min(below, w/3)); pic != nil {
			// between what is to be done and the fields
			out := append(append([]string{}, do...), why...)
			out = append(append(out, ""), pic...)
			out = append(append(out, ""), typing...)
			if len(so) > 0 {
				out = append(append(out, ""), so...)
			}
			return out
		}
	case spare >= leastPicture:
		if pic := s.picture(w, spare); pic != nil {
			out := append(append([]string{}, do...), why...)
			return append(append(append(out, pic...), typing...), so...)
		}
	}
	return text(min(spare, blank))
}

// beside sets the text left of a picture.
func (s step) beside(w, h int, pic []string) []string {
	narrow := s
	text := narrow.textOnly(besideWidth, h)
	out := make([]string, h)
	text = filled(tall(text, h), besideWidth)
	pic = tall(pic, h)
	for i := range out {
		out[i] = strings.TrimRight(text[i]+"  "+pic[i], " ")
	}
	return out
}

func (s step) textOnly(w, h int) []string {
	do, why, so := s.do(w), s.why(w), s.follows(w)
	fields := s.fieldGroups(w)
	typing := s.shownFields(fields, max(1, h-len(do)-len(why)-len(so)))
	var out []string
	for i, part := range [][]string{do, why, typing, so} {
		if len(part) > 0 && len(out) > 0 && i != 1 && len(out)+len(part) < h {
			out = append(out, "")
		}
		out = append(out, part...)
	}
	return out
}

func (s step) do(w int) []string {
	var lines []string
	for i, text := range s.place.Do {
		lines = append(lines, wrapped(s.look.title.Render(right(itoa(i+1), 2))+"  ", text, w, brush{})...)
	}
	return lines
}

func (s step) why(w int) []string {
	var lines []string
	for _, text := range s.place.Why {
		lines = append(lines, wrapped(s.look.warn.Render(" "+s.look.careful)+"  ", text, w, s.look.warn)...)
	}
	return lines
}

// follows is what follows from the last answer, or from what is typed now.
func (s step) follows(w int) []string {
	var lines []string
	for _, text := range s.unmet {
		lines = append(lines, wrapped(s.look.danger.Render("NOT YET")+" ", text, w, s.look.danger)...)
	}
	for _, r := range s.so {
		style := [...]brush{brush{}, s.look.warn, s.look.danger}[r.Weight]
		lines = append(lines, wrapped(s.look.title.Render("SO")+"  ", soLine(r), w, style)...)
	}
	return lines
}

// soLine puts the word of danger before a sentence; a verdict carries its own.
func soLine(r model.Reason) string {
	if r.Weight == model.Danger {
		return "DANGER: " + sentenceOf(r.Text)
	}
	return sentenceOf(r.Text)
}

func count(groups [][]string) int {
	n := 0
	for _, g := range groups {
		n += len(g)
	}
	return n
}
