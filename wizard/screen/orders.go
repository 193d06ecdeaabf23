package screen

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

func (s step) title(w int, rail bool) string {
	title := s.look.Title.Render(s.look.Clipped(s.place.Title, w))
	if rail || !tell.Staged(s.job.Procedure) {
		return title
	}
	const pieces = len(procedure.Stages)
	where := fmt.Sprintf("stage %d of %d  ", s.place.Stage, pieces)
	way := s.look.Focus.Render(strings.Repeat(s.look.Heavy, s.place.Stage)) + s.look.Dim.Render(strings.Repeat(s.look.Light, pieces-s.place.Stage))
	if gap := w - frame.Cells(title) - frame.Cells(where) - pieces; gap > 1 {
		return title + strings.Repeat(" ", gap) + s.look.Dim.Render(where) + way
	}
	return title
}

// orders are what is to be done, and the cautions.
func (s step) orders(w int) []string {
	var out []string
	for i, text := range s.place.Do {
		lead := frame.Right(strconv.Itoa(i+1), 2) + "  "
		if len(s.place.Do) == 1 {
			lead = "    "
		}
		out = append(out, s.texts.Wrapped(s.look.Title.Render(lead), text, w, frame.Brush{})...)
	}
	return append(out, s.cautions(w)...)
}

// cautions are those that belong to the step.
func (s step) cautions(w int) (out []string) {
	for _, text := range s.place.Why {
		out = append(out, s.texts.Wrapped(s.look.Title.Render(" "+s.look.Careful)+"  ", text, w, frame.Brush{})...)
	}
	return out
}

// giving is how many rows of cautions give way where something follows that has to be read: in
// a small window.
func (s step) giving(r frame.Regions) int {
	if r.H >= frame.FullHeight {
		return 0
	}
	return len(s.cautions(r.Text()))
}

// above is the orders with the figure beside them; below them what has to be read first.
func (s step) above(r frame.Regions, inner int, risen []string) []string {
	if s.place.Look == procedure.Sign {
		return frame.Block(append(s.sign(inner, r.H), s.orders(r.Text())...), r.Orders)
	}
	lines := s.orders(r.Text())
	rows := r.Orders - len(risen)
	switch {
	case risen != nil:
		lines = lines[:len(lines)-s.giving(r)]
	case r.Picture == 0:
		lines = append(lines, s.choices(r.Text(), rows-len(lines))...)
	}
	lines = frame.Block(lines, rows)
	if f := s.place.Figure(s.typing.values()); r.Beside > 0 && f.Caption != "" {
		figure := s.look.Large(s.figureText(f.Text), r.Beside, s.figureStyle(f))
		figure = append(frame.Block(figure, frame.FigureRows), frame.Right(s.look.Dim.Render(s.look.Clipped(f.Caption, r.Beside)), r.Beside))
		lines = frame.Joined(lines, figure, inner-r.Beside)
	}
	return append(lines, risen...)
}

// choices lists what the focused field offers by name, numbered where it takes numbers, in h rows
// at the most.
func (s step) choices(w, h int) []string {
	at := s.typing.at()
	if at < 0 || at >= len(s.place.Fields) || len(s.place.Fields[at].Called) == 0 || h < 2 {
		return nil
	}
	f := s.place.Fields[at]
	name := f.Name(s.typing.text(at))
	var out []string
	line := 0
	for i, called := range f.Called {
		mark, style := " ", frame.Brush{}
		if called == name {
			mark, style, line = s.look.Focus.Render(s.look.Now), s.look.Focus, i
		}
		number := strconv.Itoa(i + 1)
		if f.Name(number) != called { // a length, which is no number in a list
			number = ""
		}
		out = append(out, " "+mark+frame.Right(number, 3)+"  "+style.Render(s.look.Clipped(called, w-8)))
	}
	return append([]string{""}, frame.Window(out, line, h-1)...)
}

// figureStyle is faint where the orders say the figure too.
func (s step) figureStyle(f procedure.Figure) frame.Brush {
	if f.Order {
		return s.look.Dim
	}
	return frame.Brush{}
}

// figureText is a figure without its unit, as the caption tells it; inches without the
// leading zero.
func (s step) figureText(text string) string {
	number, unit, _ := strings.Cut(text, " ")
	if unit != "mm" && unit != "in" {
		return text
	}
	if unit == "in" {
		number = strings.Replace(number, "0.", ".", 1)
	}
	return number
}

// drawing is the picture, or the figure in its place, or the state of the power in large letters.
func (s step) drawing(w, h int) []string {
	pic, _ := s.place.Picture(s.typing.values()).(picture.Picture)
	switch {
	case s.rows.Alone:
		f := s.place.Figure(s.typing.values())
		return frame.Block(s.look.Huge(s.figureText(f.Text), f.Caption, w, h, s.figureStyle(f)), h)
	case pic == nil:
		return frame.Block(s.powerSign(w, h), h)
	case h < picture.MinHeight:
		return nil
	}
	return strings.Split(pic.Draw(w, h, s.look.Pictures()), "\n")
}

// sign says that the saw is isolated, large enough to be read across the shop; on
// one line where there is no room for that.
func (s step) sign(w, h int) []string {
	if h < 18 {
		word := " I S O L A T E D "
		side := strings.Repeat(s.look.Filled, max(0, (w-len(word))/2))
		return []string{s.look.Isolated.Render(side + word + side)}
	}
	return s.look.Banner("ISOLATED", w, h-18, s.look.Isolated)
}

// powerSign is the state of the power in large letters: what stands where a place
// with work at the saw has no picture.
func (s step) powerSign(w, h int) []string {
	if !s.hasSign() || h < frame.SignHeight-1 {
		return nil
	}
	power, _ := tell.PowerNow(s.job.Procedure)
	word := map[interlock.Power]string{interlock.Unknown: "LIVE?", interlock.Isolated: "ISOLATED", interlock.Live: "LIVE"}[power]
	style := s.look.Alarm
	if power == interlock.Isolated {
		style = s.look.Isolated
	}
	return append(slices.Repeat([]string{""}, max(0, h-frame.SignHeight)/2), s.look.Banner(word, w, h, style)...)
}

// hasSign reports whether the state of the power stands in large letters: at the gates.
func (s step) hasSign() bool { return s.place.Gate }
