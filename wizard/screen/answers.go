package screen

import (
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// answersRow names the fields of the step: done, now, to come.
func (s step) answersRow(w int) string {
	if len(s.place.Fields) < 2 {
		return ""
	}
	var parts []string
	for i, f := range s.place.Fields {
		name := strings.ReplaceAll(f.Key, "_", " ")
		if f.Kind == procedure.FieldWord && f.Key != "word" {
			name = f.Word
		}
		switch {
		case i == s.typing.at():
			parts = append(parts, s.look.Focus.Render(s.look.Now+" "+name))
		case s.typing.fault(i) != "":
			parts = append(parts, s.look.Title.Render(s.look.Careful+" "+name))
		case strings.TrimSpace(s.typing.text(i)) != "" && f.Check(s.typing.text(i)) == nil:
			parts = append(parts, s.look.Good.Render(s.look.Done)+" "+name)
		default:
			parts = append(parts, s.look.Dim.Render(s.look.Come+" "+name))
		}
	}
	for _, gap := range []string{"    ", "  ", " "} {
		if row := strings.Join(parts, gap); frame.Cells(row) <= w {
			return row
		}
	}
	return frame.Flow(parts[max(0, s.typing.at()-1):], " ", w)[0]
}

// fieldRows are the field that hears the keys with its hint, what is typed in it, and below
// it what is said.
func (s step) fieldRows(w int, r frame.Regions, said words) []string {
	var label []string
	input := ""
	if at := s.typing.at(); at >= 0 && at < len(s.place.Fields) {
		f := s.place.Fields[at]
		input = s.look.Focus.Render("  > ") + s.typing.input(w-4)
		label = frame.Wrapped(s.look.Focus.Render(s.look.Here)+" ", f.Label, w, s.look.Focus)
		gap := w - frame.Cells(label[0]) - frame.Cells(f.Hint)
		switch {
		case f.Kind == procedure.FieldWord: // the word is short, and so is what is typed
			input = frame.Ends(input, s.look.Dim.Render("type ")+s.look.Title.Render(f.Word), w)[0]
		case r.Label > 1 && len(label) == 1:
			label = append(label, frame.Wrapped("  ", f.Hint, w, s.look.Dim)...)
		case gap >= 2:
			label[0] += strings.Repeat(" ", gap) + s.look.Dim.Render(f.Hint)
		case s.typing.text(at) == "":
			input = frame.Ends(input, s.look.Dim.Render(f.Hint), w)[0]
		}
	}
	out := append(frame.Block(label, r.Label), input)
	return append(append(out, said.note...), frame.Block(said.below, r.Said-len(said.note))...)
}

// words are what is said of the field that hears the keys: what is wrong with its text or known
// of it; below that what follows; and what follows first, where that has no room there.
type words struct{ note, below, risen []string }

func (s step) words(w int, r frame.Regions) (said words) {
	gives := false // the note is nothing that has to be read
	room := r.Said
	if at := s.typing.at(); at >= 0 && at < len(s.place.Fields) {
		said.note = s.note(at, w)
		said.note = said.note[:min(len(said.note), r.Said)]
		danger := slices.ContainsFunc(s.so, func(r model.Reason) bool { return r.Weight == model.Danger })
		gives = s.typing.fault(at) == "" && len(said.note) == 1 && (said.note[0] == "" || danger)
		if !gives {
			room -= len(said.note)
		}
	}
	upper := s.upperRoom(r)
	for i, g := range s.following(w) {
		first := i == 0 && g.weight != model.Explains
		switch n := len(g.rows); {
		case n <= room-len(said.below):
			said.below = append(said.below, g.rows...)
		case (g.weight == model.Danger || first) && n <= upper-len(said.risen):
			said.risen = append(said.risen, g.rows...)
		case first:
			said.below = g.rows[:room]
		}
	}
	if gives && len(said.below) >= r.Said {
		said.note = nil // what follows needs the row
	}
	return said
}

// upperRoom is how many rows above the answers there are for what has to be read and has no room
// below the field: those of the picture, of what is read at the place, or below the orders, where the
// cautions give way in a small window.
func (s step) upperRoom(r frame.Regions) int {
	if r.Picture > 0 || s.place.Look == procedure.Sign {
		return r.Picture
	}
	taken := len(s.orders(r.Text())) - s.giving(r)
	if r.Beside > 0 {
		taken = max(taken, frame.FigureRows+1)
	}
	return r.Orders - taken
}

// note is what is wrong with the text of a field, or what is known of it: at least one row.
func (s step) note(at, w int) []string {
	f, text := s.place.Fields[at], s.typing.text(at)
	if fault := s.typing.fault(at); fault != "" {
		mark := "WRONG"
		if s.typing.asks(at) {
			mark = "SURE?"
		}
		return frame.Wrapped("    "+s.look.Reversed.Render(mark)+"  ", fault, w, frame.Brush{})
	}
	said, count := "", tell.Tally(f, text)
	switch read := s.read[f.Key] != "" && s.read[f.Key] == text; {
	case count != "" && read:
		return frame.Ends("    "+count, s.look.Dim.Render("simulated, enter takes it"), w)[:1]
	case count != "" && s.typing.list.Fresh():
		return frame.Ends("    "+count, s.look.Dim.Render("enter keeps it, typing replaces it"), w)[:1]
	case count != "":
		return []string{"    " + s.look.Clipped(count, w-4)}
	case read:
		said = "simulated, enter takes it"
	case text == "" && s.job.Saw != nil && f.Measuring && s.place.Simulates(f.Key):
		said = "enter reads the simulated saw"
	case s.typing.list.Fresh() && len(f.Table) > 0 && text != f.Value:
		said = "enter goes to this row, typing replaces it"
	case s.typing.list.Fresh():
		said = "enter keeps it, typing replaces it"
	}
	if said == "" {
		return []string{""}
	}
	return []string{"    " + s.look.Dim.Render(said)}
}

// sentence is one that is shown whole or not at all. A danger is shown also where there is no room
// for it below the field, and so is what comes first, if it does more than explain.
type sentence struct {
	rows   []string
	weight model.Weight
}

// following says what is not saved, which conditions are unmet, and what follows from what is
// typed: the verdict first, then what weighs most.
func (s step) following(w int) []sentence {
	var out []sentence
	if s.notice.full != "" {
		out = append(out, sentence{s.notice.rows(s.look, w), model.Danger})
	}
	for _, text := range s.unmet {
		out = append(out, sentence{frame.Wrapped(s.look.Reversed.Render("NOT YET")+" ", model.Sentence(text), w, frame.Brush{}), model.Danger})
	}
	verdict, fault := slices.ContainsFunc(s.so, func(r model.Reason) bool { return r.Code == "verdict" }), s.typing.fault(s.typing.at())
	for _, r := range byWeight(s.so) {
		if strings.Contains(fault, r.Text) {
			continue // it is said at the field
		}
		way := r.Code == "way" || r.Code == "fallback"
		if r.Weight == model.Explains && (!s.typed || verdict || len(out) > 0 && !way) && r.Code != "verdict" {
			continue // what only explains stands alone; F1 has the rest
		}
		weight := r.Weight
		if r.Code == "verdict" {
			weight = max(weight, model.Warns)
		}
		out = append(out, sentence{s.verdict(r, w), weight})
	}
	return out
}

// verdict sets a sentence behind a word: that of the verdict, or "so".
func (s step) verdict(r model.Reason, w int) []string {
	text := tell.SoLine(r)
	for _, word := range []string{"IN", "OUT", "DOUBTFUL", "CANNOT", "NOT READY", "DANGER"} {
		rest, ok := strings.CutPrefix(text, word+": ")
		if !ok {
			continue
		}
		style := s.look.Reversed
		switch {
		case word == "IN":
			style = s.look.Good
		case r.Code == procedure.LapsedCode:
			style = s.look.Live
		}
		return s.texts.Wrapped(style.Render(word)+"  ", rest, w, frame.Brush{})
	}
	return s.texts.Wrapped(s.look.Dim.Render("so")+"  ", text, w, frame.Brush{})
}

// byWeight puts the verdict first, then what is a danger, what a way costs and how to work with a
// blade that is not ready, what else is a warning, the rest.
func byWeight(reasons []model.Reason) []model.Reason {
	out := slices.Clone(reasons)
	rank := func(r model.Reason) int {
		switch r.Code {
		case "verdict":
			return -10
		case "way", "fallback":
			return -2*int(r.Weight) - 1
		}
		return -2 * int(r.Weight)
	}
	slices.SortStableFunc(out, func(a, b model.Reason) int { return rank(a) - rank(b) })
	return out
}
