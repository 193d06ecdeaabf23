package screen

import (
	"strings"

	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// rows are the regions of a visit, at the size at which it was last drawn.
type rows struct {
	frame.Regions
	known bool
}

// layout works out where everything of this visit stands. It follows from what the visit
// began with, and not from what is typed.
func (s step) layout(w, h int) frame.Regions {
	if s.rows.known && s.rows.W == w && s.rows.H == h {
		return s.rows.Regions
	}
	need := func(width int) int { return len(s.orders(width)) }
	*s.rows = rows{frame.RegionsOf(w, h, need, s.place.HasFigure(), s.place.HasPicture() || s.hasSign()), true}
	return s.rows.Regions
}

// view draws the regions of a step.
func (s step) view(w, h int) []string {
	r := s.layout(w, h)
	inner := r.Inner()
	out := frame.Padded(s.strip(w-2*frame.Margin), frame.Margin)
	if r.Air > 0 {
		out = append(out, "")
	}
	body := []string{s.title(inner, r.Rail > 0)}
	if r.Air > 1 {
		body = append(body, "")
	}
	read := min(inner, frame.TextWidth)
	said := s.words(read, r)
	body = append(body, s.upper(r, inner, said.risen)...)
	if r.Air > 2 {
		body = append(body, "")
	}
	body = append(body, s.answersRow(read))
	body = append(body, s.fieldRows(read, r, said)...)
	if r.Rail == 0 {
		body = frame.Padded(body, frame.Margin)
	} else {
		body = frame.Columns(s.look, frame.Padded(s.railLines(r.Rail-2*frame.Margin, len(body)), frame.Margin), r.Rail-2, body, len(body))
	}
	keys := s.keys.Lines(s.look, w-2*frame.Margin, true)
	return append(frame.Block(append(out, body...), h-1), frame.Padded(keys[:min(1, len(keys))], frame.Margin)...)
}

// upper is what stands above the answers: the orders with the figure beside them and the
// picture below; of what is to be read, the orders and that. What has to be read first takes the
// last rows.
func (s step) upper(r frame.Regions, inner int, risen []string) []string {
	rows := r.Orders + r.Picture - len(risen)
	read, reads := map[procedure.Look]func(w, h int) []string{procedure.Result: s.closing, procedure.Handover: s.handover}[s.place.Look]
	var out []string
	switch {
	case r.Picture == 0 && !reads:
		return s.above(r, inner, risen)
	case reads && (r.Picture == 0 || s.place.Look != procedure.Result):
		out = append(s.orders(r.Text()), "")
	default:
		out = s.above(r, inner, nil)
	}
	if !reads {
		read = s.drawing
	}
	return append(frame.Block(append(out, read(inner, max(0, rows-len(out)))...), rows), risen...)
}

// strip is the state of the saw in two rows: heads, and what the program knows below them;
// in a narrow window behind them. Only a name is cut.
func (s step) strip(w int) []string {
	state := tell.Saw(s.job.Procedure)
	state[0].Value = s.powerStyle().Render(state[0].Value)
	if w < frame.UsualWidth-2*frame.Margin {
		pair := func(l, r tell.Fact) string {
			const at = 30
			left := s.look.Dim.Render(l.Head) + " " + l.Words()
			left += strings.Repeat(" ", max(1, at-frame.Cells(left))) + s.look.Dim.Render(r.Head) + " "
			return left + s.look.Clipped(r.Name, max(0, w-frame.Cells(left)-frame.Cells(r.Value))) + r.Value
		}
		state[1].Head = "ARBOR"
		return []string{pair(state[0], state[1]), pair(state[2], state[3])}
	}
	knife := w - max(11, frame.Cells(state[3].Value))
	starts := [...]int{0, 24, knife - stripGap - max(10, frame.Cells(state[2].Value)), knife}
	if w >= frame.WideWidth-2*frame.Margin {
		starts = [...]int{0, frame.RailColumns(w+2*frame.Margin) - 1, w - 44, w - 24}
	}
	var heads, values string
	for i, fact := range state {
		room := w - starts[i]
		if i+1 < len(state) {
			room = starts[i+1] - starts[i] - stripGap
		}
		heads += strings.Repeat(" ", max(0, starts[i]-frame.Cells(heads))) + s.look.Dim.Render(fact.Head)
		values += strings.Repeat(" ", max(0, starts[i]-frame.Cells(values))) + s.look.Clipped(fact.Name, max(0, room-frame.Cells(fact.Value))) + fact.Value
	}
	return []string{heads, values}
}

// stripGap is the least between two values of the strip.
const stripGap = 2

func (s step) powerStyle() frame.Brush {
	power, _ := tell.PowerNow(s.job.Procedure)
	return map[interlock.Power]frame.Brush{interlock.Unknown: s.look.Live, interlock.Isolated: s.look.Isolated, interlock.Live: s.look.Live}[power]
}
