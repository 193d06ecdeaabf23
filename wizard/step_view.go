package wizard

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/wizard/picture"
)

// leastPicture and its width are the smallest picture that is worth its room.
const (
	leastPicture      = picture.MinHeight
	goodPicture       = 10 // lines that a picture has before what only explains
	leastPictureWidth = picture.MinWidth
	besideWidth       = 64 // text left of a picture
	enoughBelow       = 12 // lines below the text at which a picture has more room there
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
	foot := s.keys.lines(s.look, w, h < fullHeight)
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
	done := 0
	for _, p := range s.places {
		if p.Done {
			done++
		}
	}
	where := fmt.Sprintf("step %d of 11, %d of %d done", s.place.Number, done, len(s.places))
	title := s.look.title.Render(fmt.Sprintf("%d  %s", s.place.Number, s.place.Title))
	lines := ends(title, s.look.dim.Render(where), w)
	if cells(title)+cells(where) >= w {
		lines = wrapped("", fmt.Sprintf("%d  %s", s.place.Number, s.place.Title), w, s.look.title)
	}
	lines = append(lines, flow(s.saw(), "  ", w)...)
	if h >= wideHeight {
		lines = append(lines, rule(s.look, done, len(s.places), w))
	}
	return append(lines, s.notice.lines(s.look, w, h < fullHeight)...)
}

func (n notice) lines(l look, w int, short bool) []string {
	text, style := n.full, l.warn
	if short {
		text = n.short
	}
	if text == "" {
		return nil
	}
	if n.danger {
		style = l.danger
	}
	return wrapped(style.Render(l.careful)+" ", text, w, style)
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
	for _, p := range s.places {
		lead, style := "  ", brush{}
		switch {
		case p.Current:
			lead, style, at = s.look.focus.Render(s.look.here)+" ", s.look.focus, len(lines)
		case p.Done:
			lead = s.look.good.Render(s.look.done) + " "
		}
		lines = append(lines, s.texts.wrapped(lead+style.Render(right(itoa(p.Number), 2))+" ", p.Title, w, style)...)
	}
	return window(lines, at, h)
}

// work is the middle of the screen: what to do, why, the picture, the fields and what
// follows. What is needed to act safely comes first when there is little room: the
// fields scroll round the focused one, what follows is told in part, the picture goes.
func (s step) work(w, h int) []string {
	p := s.parts(w, h)
	if s.place.Picture != procedure.NoPicture && !s.place.Last && w >= besideWidth+2+leastPictureWidth && h-p.height() < enoughBelow {
		if pic := s.picture(w-besideWidth-2, h); pic != nil {
			return beside(s.set(s.parts(besideWidth, h), besideWidth, h, nil), pic, h)
		}
	}
	return s.set(p, w, h, func(room int) []string { return s.picture(w, min(room, max(leastPicture, w/3))) })
}

// parts are the parts of a step in words, set for a width: the lines of what is to be
// done, and of each caution, field and consequence.
type parts struct {
	do              []string
	why, fields, so [][]string
	first           int // of what follows: how many count for more than the picture
}

func (s step) parts(w, h int) parts {
	tw := min(w, textWidth)
	so, first := s.follows(tw)
	p := parts{s.do(tw), s.why(tw), s.fieldGroups(tw, false), so, first}
	if s.place.Hold {
		p.do = append(s.sign(w, h), p.do...)
	}
	return p
}

// height is what the parts take when they have all the room they want.
func (p parts) height() int { return len(p.do) + count(p.why) + count(p.fields) + count(p.so) + 3 }

// set puts the parts below each other, and a picture of the height that is left
// between what is to be done and the fields; nil: none.
func (s step) set(p parts, w, h int, draw func(room int) []string) []string {
	do, cautions, fields, so := p.do, p.why, p.fields, p.so
	at := min(s.typing.at(), len(s.place.Fields)-1)
	if len(do)+count(cautions)+len(fields[max(at, 0)]) > h {
		fields = s.fieldGroups(min(w, textWidth), true)
	}
	least := len(fields[max(at, 0)])
	if at >= 0 && s.typing.fault(at) != "" { // what is wrong comes before the cautions, which F1 tells too
		cautions = within(cautions, h-len(do)-least)
	}
	why := slices.Concat(cautions...)
	typing := s.shownFields(fields, max(h-len(do)-len(why), least))
	spare := h - len(do) - len(why) - len(typing)
	if s.place.Last {
		told := tell(so, spare)
		spare -= len(told) + 1
		return slices.Concat(do, why, typing, told, []string{""}, s.closing(w, max(0, spare)))
	}
	first := count(so[:min(1, len(so))])
	var pic []string
	if draw != nil && spare-first >= leastPicture {
		room := max(leastPicture, spare-count(so)-3, min(goodPicture, spare-count(so[:p.first])-3))
		if pic = draw(room); pic != nil {
			spare -= len(pic)
		}
	}
	told := tell(so, spare)
	spare -= len(told)
	out := slices.Concat(do, why)
	for _, part := range [][]string{pic, typing, told} {
		if len(part) > 0 && spare > 0 {
			out, spare = append(out, ""), spare-1
		}
		out = append(out, part...)
	}
	return out
}

// tell is as many of the sentences, each whole, as h lines hold.
func tell(groups [][]string, h int) []string {
	var out []string
	for _, g := range groups {
		if len(out)+len(g) <= h {
			out = append(out, g...)
		}
	}
	return out
}

// within is the first of the sentences that h lines hold.
func within(groups [][]string, h int) [][]string {
	for i, g := range groups {
		if h -= len(g); h < 0 {
			return groups[:i]
		}
	}
	return groups
}

// beside sets a picture right of the text.
func beside(text, pic []string, h int) []string {
	text, pic = filled(tall(text, h), besideWidth), tall(pic, h)
	out := make([]string, h)
	for i := range out {
		out[i] = strings.TrimRight(text[i]+"  "+pic[i], " ")
	}
	return out
}

func (s step) do(w int) []string {
	var lines []string
	for i, text := range s.place.Do {
		lines = append(lines, s.texts.wrapped(s.look.title.Render(right(itoa(i+1), 2))+"  ", text, w, brush{})...)
	}
	return lines
}

// why is the cautions, one group of lines each.
func (s step) why(w int) [][]string {
	var groups [][]string
	for _, text := range s.place.Why {
		groups = append(groups, s.texts.wrapped(s.look.warn.Render(" "+s.look.careful)+"  ", text, w, s.look.warn))
	}
	return groups
}

// follows is what follows from the last answer, or from what is typed now: one group
// of lines a sentence, dangers first. first is how many of them refuse, judge or warn.
func (s step) follows(w int) (groups [][]string, first int) {
	for _, text := range s.unmet {
		groups = append(groups, wrapped(s.look.danger.Render("NOT YET")+" ", model.Sentence(text), w, s.look.danger))
	}
	word := s.soWord()
	for _, r := range byWeight(s.so) {
		style := [...]brush{{}, s.look.warn, s.look.danger}[r.Weight]
		if strings.HasPrefix(r.Text, "IN:") {
			style = s.look.good
		}
		groups = append(groups, s.texts.wrapped(s.look.title.Render(word)+"  ", soLine(r), w, style))
		if r.Weight > model.Explains || r.Code == "verdict" {
			first = len(groups)
		}
	}
	return groups, max(first, min(1, len(groups)))
}

// soWord tells what follows from what is typed here from what followed from the place
// before.
func (s step) soWord() string {
	if s.typed {
		return "SO"
	}
	return "NOTED"
}

// byWeight puts the verdict first, then what is a danger, what is a warning, the rest.
func byWeight(reasons []model.Reason) []model.Reason {
	out := slices.Clone(reasons)
	rank := func(r model.Reason) int {
		if r.Code == "verdict" {
			return -10
		}
		return -int(r.Weight)
	}
	slices.SortStableFunc(out, func(a, b model.Reason) int { return rank(a) - rank(b) })
	return out
}

// soLine puts the word of danger before a sentence; a verdict carries its own.
func soLine(r model.Reason) string {
	if r.Weight == model.Danger {
		return "DANGER: " + model.Sentence(r.Text)
	}
	return model.Sentence(r.Text)
}

func count(groups [][]string) int {
	n := 0
	for _, g := range groups {
		n += len(g)
	}
	return n
}
