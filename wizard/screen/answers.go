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
// it the count of it or what is wrong with it, then what follows.
func (s step) fieldRows(w int, r frame.Regions) []string {
	var label, note []string
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
		note = s.note(at, w)
	}
	out := append(frame.Block(label, r.Label), input)
	groups := s.following(w)
	if len(s.risen(w, r)) > 0 {
		groups = groups[1:]
	}
	fault := input != "" && s.typing.fault(s.typing.at()) != ""
	danger := slices.ContainsFunc(s.so, func(r model.Reason) bool { return r.Weight == model.Danger })
	if !fault && len(note) == 1 && (note[0] == "" || danger) && len(wholeSentences(groups, r.Said)) >= r.Said {
		note = nil // what follows needs the row
	}
	note = note[:min(len(note), r.Said)]
	return append(append(out, note...), frame.Block(wholeSentences(groups, r.Said-len(note)), r.Said-len(note))...)
}

// risen is what follows first, where it has no room below the field of a small window: it stands
// whole below the orders, and the cautions give way to it.
func (s step) risen(w int, r frame.Regions) []string {
	groups := s.following(w)
	if r.Picture > 0 || len(groups) == 0 || len(groups[0]) <= r.Said || len(s.orders(r.Text()))-s.giving(r)+len(groups[0]) > r.Orders {
		return nil
	}
	return groups[0]
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
	case count != "":
		return []string{"    " + s.look.Clipped(count, w-4)}
	case read:
		said = "the simulated saw reads this: enter takes it"
	case text == "" && s.job.Saw != nil && f.Measuring && s.place.Simulates(f.Key):
		said = "enter reads it off the simulated saw"
	case s.typing.list.Fresh() && len(f.Table) > 0:
		said = "enter goes to this row, typing replaces it"
	case s.typing.list.Fresh():
		said = "enter keeps it, typing replaces it"
	}
	if said == "" {
		return []string{""}
	}
	return []string{"    " + s.look.Dim.Render(said)}
}

// following says what is not saved, which conditions are unmet, and what follows from what is
// typed: the verdict first, then what weighs most. Sentences are shown whole.
func (s step) following(w int) [][]string {
	var groups [][]string
	if s.notice.full != "" {
		style := frame.Brush{}
		if s.notice.danger {
			style = s.look.Reversed
		}
		text := s.notice.full
		if len(frame.Wrapped("    ", text, w, style)) > frame.SaidRows {
			text = s.notice.short
		}
		groups = append(groups, frame.Wrapped("    ", text, w, style))
	}
	for _, text := range s.unmet {
		groups = append(groups, frame.Wrapped(s.look.Reversed.Render("NOT YET")+" ", model.Sentence(text), w, frame.Brush{}))
	}
	verdict := slices.ContainsFunc(s.so, func(r model.Reason) bool { return r.Code == "verdict" })
	for _, r := range byWeight(s.so) {
		if r.Weight == model.Explains && (!s.typed || verdict) && r.Code != "verdict" {
			continue // what only explains is in the records
		}
		groups = append(groups, s.verdict(r, w))
	}
	return groups
}

// verdict sets a sentence behind a word: that of the verdict, or "so".
func (s step) verdict(r model.Reason, w int) []string {
	text := soLine(r)
	for _, word := range []string{"IN", "OUT", "DOUBTFUL", "CANNOT", "DANGER"} {
		rest, ok := strings.CutPrefix(text, word+": ")
		if !ok {
			continue
		}
		style := s.look.Reversed
		if word == "IN" {
			style = s.look.Good
		}
		return s.texts.Wrapped(style.Render(word)+"  ", rest, w, frame.Brush{})
	}
	return s.texts.Wrapped(s.look.Dim.Render("so")+"  ", text, w, frame.Brush{})
}

// wholeSentences are as many whole sentences as h lines hold. The first is shown in any case,
// as far as it has room.
func wholeSentences(groups [][]string, h int) []string {
	var out []string
	for i, g := range groups {
		if len(out)+len(g) <= h {
			out = append(out, g...)
		} else if i == 0 {
			out = append(out, g[:h]...)
		}
	}
	return out
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
