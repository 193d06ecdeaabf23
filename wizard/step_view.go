package wizard

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

// stageNames are the eleven stages, in their order.
var stageNames = [...]string{"isolate and clear", "saw", "arbor", "rack", "mount reference", "gauge board", "knife", "fence scale", "reference strips", "compare", "close"}

func wide(w, h int) bool { return w >= wideWidth && h >= wideHeight }

// rows is where everything of a visit stands, at the size that it was last drawn at.
type rows struct {
	regions
	known bool
}

// layout works out where everything of this visit stands. It follows from what the visit
// began with, and not from what is typed.
func (s step) layout(w, h int) regions {
	if s.rows.known && s.rows.w == w && s.rows.h == h {
		return s.rows.regions
	}
	need := func(width int) int { return len(s.orders(width)) }
	*s.rows = rows{regionsOf(w, h, need, s.place.HasFigure(), s.place.HasPicture() || s.hasSign()), true}
	return s.rows.regions
}

// view draws the regions of a step.
func (s step) view(w, h int) []string {
	r := s.layout(w, h)
	inner := r.work() - 2*margin
	out := padded(s.strip(w-2*margin), margin)
	if r.air > 0 {
		out = append(out, "")
	}
	body := []string{s.title(inner, r.rail > 0)}
	if r.air > 1 {
		body = append(body, "")
	}
	body = append(body, s.upper(r, inner)...)
	if r.air > 2 {
		body = append(body, "")
	}
	body = append(body, s.answersRow(inner))
	body = append(body, s.fieldRows(inner, r)...)
	body = padded(body, margin)
	if r.rail > 0 {
		body = columns(s.look, padded(s.railLines(r.rail-2*margin, len(body)), margin), r.rail-2, body, len(body))
	}
	keys := s.keys.lines(s.look, w-2*margin, true)
	return append(block(append(out, body...), h-1), padded(keys[:min(1, len(keys))], margin)...)
}

// upper is what stands above the answers: the orders with the figure beside them and the
// picture below; of a result, the orders and the table.
func (s step) upper(r regions, inner int) []string {
	if s.place.Look == procedure.Result {
		orders := s.orders(r.text())
		rows := r.orders + r.picture
		return block(append(append(orders, ""), s.closing(inner, rows-len(orders)-1)...), rows)
	}
	out := s.above(r, inner)
	return append(out, block(s.drawing(inner, r.picture), r.picture)...)
}

// strip is the state of the saw in two rows: heads, and what the program knows below them;
// in a narrow window behind them. Only a name is cut.
func (s step) strip(w int) []string {
	state := sawState(s.job.procedure)
	state[0].value = s.powerStyle().Render(state[0].value)
	if w < usualWidth-2*margin {
		pair := func(l, r fact) string {
			const at = 30
			left := s.look.dim.Render(l.head) + " " + l.words()
			left += strings.Repeat(" ", max(1, at-cells(left))) + s.look.dim.Render(r.head) + " "
			return left + s.look.clipped(r.name, max(0, w-cells(left)-cells(r.value))) + r.value
		}
		state[1].head = "ARBOR"
		return []string{pair(state[0], state[1]), pair(state[2], state[3])}
	}
	starts := [...]int{0, 24, w - 25, w - 12}
	if w >= wideWidth-2*margin {
		starts = [...]int{0, railColumns - 1, w - 44, w - 24}
	}
	var heads, values string
	for i, fact := range state {
		room := w - starts[i]
		if i+1 < len(state) {
			room = starts[i+1] - starts[i] - 1
		}
		heads += strings.Repeat(" ", max(0, starts[i]-cells(heads))) + s.look.dim.Render(fact.head)
		values += strings.Repeat(" ", max(0, starts[i]-cells(values))) + s.look.clipped(fact.name, max(0, room-cells(fact.value))) + fact.value
	}
	return []string{heads, values}
}

func (s step) powerStyle() brush {
	power, _ := powerNow(s.job.procedure)
	return map[interlock.Power]brush{interlock.Unknown: s.look.live, interlock.Isolated: s.look.isolated, interlock.Live: s.look.live}[power]
}

// clipped is a text of at most w cells; what is cut ends in an ellipsis.
func (l look) clipped(text string, w int) string {
	if cells(text) <= w {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && cells(string(runes)) > w-1 {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimRight(string(runes), " ") + l.cut
}

func (s step) title(w int, rail bool) string {
	title := s.look.title.Render(s.look.clipped(s.place.Title, w))
	if rail || s.job.procedure.Options().Mode != procedure.Setup {
		return title
	}
	const pieces = len(stageNames)
	where := fmt.Sprintf("stage %d of %d  ", s.place.Stage, pieces)
	way := s.look.focus.Render(strings.Repeat(s.look.heavy, s.place.Stage)) + s.look.dim.Render(strings.Repeat(s.look.light, pieces-s.place.Stage))
	if gap := w - cells(title) - cells(where) - pieces; gap > 1 {
		return title + strings.Repeat(" ", gap) + s.look.dim.Render(where) + way
	}
	return title
}

// orders are what is to be done, and the cautions.
func (s step) orders(w int) []string {
	var out []string
	for i, text := range s.place.Do {
		lead := right(itoa(i+1), 2) + "  "
		if len(s.place.Do) == 1 {
			lead = "    "
		}
		out = append(out, s.texts.wrapped(s.look.title.Render(lead), text, w, brush{})...)
	}
	for _, text := range s.place.Why {
		out = append(out, s.texts.wrapped(s.look.title.Render(" "+s.look.careful)+"  ", text, w, brush{})...)
	}
	return out
}

// above is the orders with the figure beside them.
func (s step) above(r regions, inner int) []string {
	if s.place.Look == procedure.Sign {
		return block(append(s.sign(inner, r.h), s.orders(r.text())...), r.orders)
	}
	lines := s.orders(r.text())
	if r.picture == 0 {
		lines = append(lines, s.choices(r.text(), r.orders-len(lines))...)
	}
	lines = block(lines, r.orders)
	if r.beside == 0 {
		return lines
	}
	f := s.place.Figure(s.typing.values())
	if f.Text == "" {
		return lines
	}
	style := brush{}
	if f.Order {
		style = s.look.dim
	}
	figure := s.look.large(s.figureText(f.Text), r.beside, style)
	figure = append(block(figure, figureRows), right(s.look.dim.Render(s.look.clipped(f.Caption, r.beside)), r.beside))
	return joined(lines, figure, inner-r.beside)
}

// choices lists what the focused field offers by name, numbered, in h rows at the most.
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
		mark, style := " ", brush{}
		if called == name {
			mark, style, line = s.look.focus.Render(s.look.now), s.look.focus, i
		}
		out = append(out, " "+mark+right(itoa(i+1), 3)+"  "+style.Render(s.look.clipped(called, w-8)))
	}
	return append([]string{""}, window(out, line, h-1)...)
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

// drawing is the picture, or the state of the power in large letters.
func (s step) drawing(w, h int) []string {
	if h <= 0 {
		return nil
	}
	pic, _ := s.place.Picture(s.typing.values()).(picture.Picture)
	if pic == nil {
		return block(s.powerSign(w, h), h)
	}
	return strings.Split(pic.Draw(w, h, s.look.pictures()), "\n")
}

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
			parts = append(parts, s.look.focus.Render(s.look.now+" "+name))
		case s.typing.fault(i) != "":
			parts = append(parts, s.look.title.Render(s.look.careful+" "+name))
		case strings.TrimSpace(s.typing.text(i)) != "" && f.Check(s.typing.text(i)) == nil:
			parts = append(parts, s.look.good.Render(s.look.done)+" "+name)
		default:
			parts = append(parts, s.look.dim.Render(s.look.come+" "+name))
		}
	}
	for _, gap := range []string{"    ", "  ", " "} {
		if row := strings.Join(parts, gap); cells(row) <= w {
			return row
		}
	}
	return flow(parts[max(0, s.typing.at()-1):], " ", w)[0]
}

// fieldRows are the field that hears the keys with its hint, what is typed in it, and below
// it the count of it or what is wrong with it, then what follows.
func (s step) fieldRows(w int, r regions) []string {
	var label, note []string
	input := ""
	if at := s.typing.at(); at >= 0 && at < len(s.place.Fields) {
		f := s.place.Fields[at]
		input = s.look.focus.Render("  > ") + s.typing.input(w-4)
		label = wrapped(s.look.focus.Render(s.look.here)+" ", f.Label, w, s.look.focus)
		gap := w - cells(label[0]) - cells(f.Hint)
		switch {
		case f.Kind == procedure.FieldWord: // the word is short, and so is what is typed
			input = ends(input, s.look.dim.Render("type ")+s.look.title.Render(f.Word), w)[0]
		case r.label > 1 && len(label) == 1:
			label = append(label, wrapped("  ", f.Hint, w, s.look.dim)...)
		case gap >= 2:
			label[0] += strings.Repeat(" ", gap) + s.look.dim.Render(f.Hint)
		case s.typing.text(at) == "":
			input = ends(input, s.look.dim.Render(f.Hint), w)[0]
		}
		note = s.note(at, w)
	}
	out := append(block(label, r.label), input)
	if all := s.following(w, r.said); len(note) == 1 && note[0] == "" && len(all) == r.said {
		note = nil // what follows needs the row
	}
	note = note[:min(len(note), r.said)]
	return append(append(out, note...), block(s.following(w, r.said-len(note)), r.said-len(note))...)
}

// note is what is said of the text of a field: one row at the least.
func (s step) note(at, w int) []string {
	f, text := s.place.Fields[at], s.typing.text(at)
	if fault := s.typing.fault(at); fault != "" {
		mark := "WRONG"
		if s.typing.asks(at) {
			mark = "SURE?"
		}
		return wrapped("    "+s.look.reversed.Render(mark)+"  ", fault, w, brush{})
	}
	said, count := "", tally(f, text)
	switch read := s.read[f.Key] != "" && s.read[f.Key] == text; {
	case count != "" && read:
		return ends("    "+count, s.look.dim.Render("simulated, enter takes it"), w)[:1]
	case count != "":
		return []string{"    " + s.look.clipped(count, w-4)}
	case read:
		said = "The simulated saw reads this. Enter takes it."
	case s.typing.list.Fresh():
		said = "enter keeps it, typing replaces it"
	}
	if said == "" {
		return []string{""}
	}
	return []string{"    " + s.look.dim.Render(said)}
}

// following is what follows: what is not saved, what does not hold, the verdict first, then what
// weighs most; each sentence whole.
func (s step) following(w, h int) []string {
	var groups [][]string
	if s.notice.full != "" {
		style := brush{}
		if s.notice.danger {
			style = s.look.reversed
		}
		text := s.notice.full
		if len(wrapped("    ", text, w, style)) > h {
			text = s.notice.short
		}
		groups = append(groups, wrapped("    ", text, w, style))
	}
	for _, text := range s.unmet {
		groups = append(groups, wrapped(s.look.reversed.Render("NOT YET")+" ", model.Sentence(text), w, brush{}))
	}
	for _, r := range byWeight(s.so) {
		if r.Weight == model.Explains && !s.typed && r.Code != "verdict" {
			continue // what only explains is in the records
		}
		groups = append(groups, s.verdict(r, w))
	}
	return tell(groups, h)
}

// verdict sets a sentence behind its word: the verdict's own, or so.
func (s step) verdict(r model.Reason, w int) []string {
	text := soLine(r)
	for _, word := range []string{"IN", "OUT", "DOUBTFUL", "CANNOT", "DANGER"} {
		rest, ok := strings.CutPrefix(text, word+": ")
		if !ok {
			continue
		}
		style := s.look.reversed
		if word == "IN" {
			style = s.look.good
		}
		return s.texts.wrapped(style.Render(word)+"  ", rest, w, brush{})
	}
	return s.texts.wrapped(s.look.dim.Render("so")+"  ", text, w, brush{})
}

// railLines are the eleven stages, the present one opened to its steps.
func (s step) railLines(w, h int) []string {
	var out []string
	at := 0
	open, seen := map[int]bool{}, map[int]bool{}
	for _, p := range s.places {
		open[p.Stage], seen[p.Stage] = open[p.Stage] || !p.Done, true
	}
	if s.job.procedure.Options().Mode != procedure.Setup {
		return s.steps(s.places, w)
	}
	for i, name := range stageNames {
		n := i + 1
		mark, style := s.look.dim.Render(s.look.come), s.look.dim
		switch {
		case n == s.place.Stage:
			mark, style, at = s.look.focus.Render(s.look.now), s.look.focus, len(out)
		case !open[n] && (seen[n] || n < s.place.Stage):
			mark = s.look.good.Render(s.look.done)
		}
		out = append(out, mark+" "+style.Render(right(itoa(n), 2)+" "+name))
		if n == s.place.Stage {
			var of []procedure.PlaceStatus
			for _, p := range s.places {
				if p.Stage == n {
					of = append(of, p)
				}
			}
			steps := s.steps(of, w-5)
			for j := range steps {
				if of[j].Current {
					at = len(out) + j
				}
			}
			out = append(out, padded(steps, 5)...)
		}
	}
	return window(out, at, h)
}

func (s step) steps(places []procedure.PlaceStatus, w int) []string {
	var out []string
	for _, p := range places {
		mark, style := s.look.dim.Render(s.look.come), s.look.dim
		switch {
		case p.Current:
			mark, style = s.look.focus.Render(s.look.now), s.look.focus
		case p.Done:
			mark = s.look.good.Render(s.look.done)
		}
		out = append(out, mark+" "+style.Render(s.look.clipped(p.Title, w-2)))
	}
	return out
}

// tell is as many of the sentences, each whole, as h lines hold; the first one is told in
// any case, as far as it goes.
func tell(groups [][]string, h int) []string {
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
