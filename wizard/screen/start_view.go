package screen

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
)

// Columns of the list of saws: names, what is on the arbor, ready, due, the last record.
const (
	sawColumn, arborColumn, readyColumn, dueColumn = 18, 26, 9, 5
	widerArbor                                     = 16 // of a wide window
	startRows                                      = 7  // below the lists: a row of air, field, what is typed, three for what is said, air
)

func (s start) view(w, h int) []string {
	l, inner := s.choice.look, w-2*frame.Margin
	out := append(frame.Ends(l.Title.Render("sawdatum"), l.Dim.Render("every blade cuts at one line"), inner), "")
	foot := s.choice.keys.Lines(l, inner, true)
	var notes []string
	for _, note := range s.choice.notes {
		notes = append(notes, frame.Wrapped("", note, min(inner, frame.TextWidth), frame.Brush{})...)
	}
	room := h - len(out) - len(foot) - startRows - len(notes)
	list, at := s.list(inner)
	out = append(out, frame.Window(list, at, max(1, room))...)
	if room -= len(list) + 1; room >= picture.MinHeight && s.choice.at < len(s.found) && len(s.found[s.choice.at].Blades) > 0 {
		out = append(append(out, ""), s.blades(inner, min(room, len(s.found[s.choice.at].Blades)+1))...)
	}
	if len(notes) > 0 {
		out = append(append(out, ""), notes...)
	}
	below := len(foot) + startRows - 1
	out = append(frame.Tall(out, max(1, h-below)), s.field(min(inner, frame.TextWidth))...)
	return append(frame.Padded(frame.Tall(out, max(1, h-len(foot))), frame.Margin), frame.Padded(foot, frame.Margin)...)
}

// list is the saws with what is known of them, and what else can be begun; at is the line of
// the arrow.
func (s start) list(w int) (list []string, at int) {
	l, arbor := s.choice.look, 0
	if usual := frame.UsualWidth - 2*frame.Margin; w >= usual {
		arbor = arborColumn + min(w-usual, widerArbor)
	}
	if len(s.found) > 0 {
		head := column("saw", sawColumn)
		if arbor > 0 {
			head += column("on the arbor", arbor)
		}
		list = append(list, "       "+l.Dim.Render(head+column("ready", readyColumn)+column("due", dueColumn)+"last"))
	}
	for i, text := range s.choice.lines {
		lead, style := "  ", frame.Brush{}
		if i == s.choice.at {
			lead, style, at = l.Focus.Render(l.Now)+" ", l.Focus, len(list)
		}
		if i < len(s.found) {
			text = sawLine(s.found[i], l, arbor)
		}
		list = append(list, frame.Wrapped(lead+frame.Right(strconv.Itoa(i+1), 3)+"  ", text, w, style)...)
	}
	return list, at
}

func column(text string, w int) string {
	return text + strings.Repeat(" ", max(1, w-frame.Cells(text)))
}

// sawLine is a saw with what is on its arbor, in so many columns; of that only the blade's name is
// cut.
func sawLine(f wizard.Found, l frame.Look, arbor int) string {
	name := model.Printable(f.Name)
	if f.Fault != "" {
		return name + ": cannot be opened: " + model.Printable(f.Fault)
	}
	if _, file, twin := strings.Cut(strings.TrimSuffix(name, ")"), " ("); twin && frame.Cells(name) > sawColumn-2 {
		name = file // two saws are told apart by their files
	}
	out := column(l.Clipped(name, sawColumn-2), sawColumn)
	if arbor > 0 {
		rings := ""
		if f.Rings != "" {
			rings = ", " + model.Printable(f.Rings)
		}
		out += column(l.Clipped(model.Printable(f.Arbor), max(1, arbor-2-frame.Cells(rings)))+rings, arbor)
	}
	due := "-"
	if f.Due > 0 {
		due = strconv.Itoa(f.Due)
	}
	out += column(fmt.Sprintf("%d / %d", f.Ready, f.All), readyColumn) + column(due, dueColumn)
	if f.Last.IsZero() {
		return out + "-"
	}
	return out + f.Last.Format("02 Jan") + "  " + model.Printable(f.By)
}

// blades is the second list: how the blades of the saw at the arrow stand.
func (s start) blades(w, h int) []string {
	f := s.found[s.choice.at]
	title := model.Printable(f.Saw)
	if title == "" {
		title = model.Printable(f.Name)
	}
	t := picture.Table{What: "blade", Columns: []picture.Column{{Head: title}, {Head: "rings"}, {Head: "knife"}, {Head: "state"}}}
	for _, b := range f.Blades {
		rings := b.Rings
		if b.Barred != "" {
			rings = "" // nobody takes a ring for a blade that is not to run
		}
		t.Rows = append(t.Rows, picture.TableRow{
			Cells: []string{model.Printable(b.Name), rings, b.Knife, b.State}, Fails: !b.Usable, Whole: b.Usable && strings.HasPrefix(b.State, "READY"),
		})
	}
	return strings.Split(t.Draw(w, max(h, picture.MinHeight), s.choice.look.Pictures()), "\n")
}

// field is what is typed, what is wrong with it, and what follows.
func (s start) field(w int) []string {
	l := s.choice.look
	typed := ansi.TruncateLeft(s.choice.typed, max(0, frame.Cells(s.choice.typed)-w+20), "")
	what, hint := "New saw, or practice", "a number of the list, or its name"
	if len(s.found) > 0 {
		what, hint = "Saw, or saw and blade", "1 opens saw 1; 1 crosscut swaps it to that blade"
	}
	label := l.Focus.Render(l.Here) + " " + l.Focus.Render(what)
	out := append(frame.Ends(label, l.Dim.Render(hint), w)[:1], l.Focus.Render("  > ")+typed+l.Filled)
	saw, blade, err := s.swap()
	switch {
	case s.choice.fault != "":
		out = append(out, frame.Wrapped("    "+l.Reversed.Render("WRONG")+"  ", s.choice.fault, w, frame.Brush{})...)
	case saw >= 0 && err == nil:
		b := s.found[saw].Blades[blade]
		then := "first the saw is isolated"
		switch {
		case b.Check != "":
			then = "to be checked: " + model.Printable(b.Check) + "; a proof is offered first"
		case b.Proves:
			then = "a proof is offered first"
		}
		out = append(out, frame.Wrapped(l.Dim.Render("so")+"  ", fmt.Sprintf("a swap to the %s: %s, knife %s; %s", model.Printable(b.Name), b.Rings, b.Knife, then), w, frame.Brush{})...)
	}
	return out
}
