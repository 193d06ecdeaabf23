package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
)

// row is the first line that begins with a word.
func row(t *testing.T, text, word string) string {
	t.Helper()
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, word) {
			return strings.TrimSuffix(line, "\n")
		}
	}
	t.Fatalf("no line begins with %q:\n%s", word, text)
	return ""
}

// eighths counts how many eighths of columns of a line are solid.
func eighths(line string) int {
	n := 0
	for _, r := range line {
		switch {
		case r == '█':
			n += 8
		case r >= '▉' && r <= '▏':
			n += int('▏' - r + 1)
		case r == '▐':
			n += 4
		}
	}
	return n
}

// TestKerfToScale: the bar of the teeth is as long as the scale below says.
func TestKerfToScale(t *testing.T) {
	for _, kerf := range []model.Length{mm * 24 / 10, mm * 28 / 10, mm * 32 / 10} {
		a := thin
		a.Kerf, a.HasDatum = kerf, false // without the datum's line, which is an eighth block too
		text := a.Draw(110, 30, Look{})
		step := scaleOf(t, text, "1 column = ")
		drawn := float64(eighths(row(t, text, "teeth"))) / 8 * float64(step)
		if math.Abs(drawn-float64(kerf)) > float64(step)/2 {
			t.Errorf("kerf %s is drawn %.3f mm long", kerf.Of(model.MM), drawn/1e6)
		}
	}
}

func scaleOf(t *testing.T, text, before string) model.Length {
	t.Helper()
	_, after, ok := strings.Cut(text, before)
	words := strings.Fields(after)
	if !ok || len(words) < 2 {
		t.Fatalf("no scale:\n%s", text)
	}
	m, err := model.ParseLength(words[0]+" "+strings.TrimRight(words[1], ";,"), model.NoUnit)
	if err != nil {
		t.Fatal(err)
	}
	return m.Length
}

// TestEighthSteps: a change of an eighth of a column is seen.
func TestEighthSteps(t *testing.T) {
	a := withRings(thin, mm/10)
	step := scaleOf(t, a.Draw(60, 14, Look{}), "1 column = ")
	before := row(t, a.Draw(60, 14, Look{}), "teeth")
	a.Rings = []model.Length{mm/10 + step/8}
	if after := row(t, a.Draw(60, 14, Look{}), "teeth"); strings.TrimPrefix(after, "teeth 2.40 mm") == strings.TrimPrefix(before, "teeth 2.40 mm") {
		t.Errorf("a ring thicker by an eighth of a column changes nothing:\n%s", after)
	}
	p := strips
	p.Rows = slices.Clone(strips.Rows)
	step = scaleOf(t, p.Draw(60, 14, Look{}), "1 column = ")
	first := row(t, p.Draw(60, 14, Look{}), "strip 1")
	p.Rows[0].Step += step / 8
	if second := row(t, p.Draw(60, 14, Look{}), "strip 1"); strings.Split(first, " 120")[0] == strings.Split(second, " 120")[0] {
		t.Errorf("a step larger by an eighth of a column changes nothing:\n%s", second)
	}
	k := gaps
	k.Gaps = slices.Clone(gaps.Gaps)
	step = scaleOf(t, k.Draw(60, 14, Look{}), "1 column = ")
	felt := row(t, k.Draw(60, 14, Look{}), " front low")
	k.Gaps[0] += step / 8
	if more := row(t, k.Draw(60, 14, Look{}), " front low"); felt == more {
		t.Errorf("a gap larger by an eighth of a column changes nothing:\n%s", more)
	}
}

// TestGapsStandWhereTheyAreFelt: the front of the knife lies at the left where the fence
// stands right of the blade, and its high corners on top; a gap over the limit is told.
func TestGapsStandWhereTheyAreFelt(t *testing.T) {
	right, left := gaps, gaps
	left.FenceSide = model.SideLeft
	for _, k := range []KnifeGaps{right, left} {
		lines := strings.Split(k.Draw(80, 9, Look{}), "\n")
		top, bottom := lines[1], lines[7]
		if a, b := strings.Index(top, "front high"), strings.Index(top, "rear high"); (a < b) != (k.FenceSide == model.SideRight) || a < 0 || b < 0 {
			t.Errorf("fence %s:\n%s", k.FenceSide, top)
		}
		if !strings.Contains(top, "0.20") || strings.Count(top, "█") <= strings.Count(bottom, "█") || !strings.Contains(bottom, "rear low") {
			t.Errorf("rear high is not the widest:\n%s\n%s", top, bottom)
		}
	}
	if s := gaps.Sentence(); !strings.Contains(s, "rear high 0.20 mm, too wide") || strings.Count(s, "too wide") != 1 {
		t.Error(s)
	}
}

// TestKnifeStandsAsFarAsTyped: so many columns lie between teeth and knife as the scale makes
// of the gap, on either side; what may not be is told by where the limits stand.
func TestKnifeStandsAsFarAsTyped(t *testing.T) {
	for _, side := range []model.Side{model.SideRight, model.SideLeft} {
		k := KnifeBehind{FenceSide: side, Gap: 4 * mm, Read: true, Least: 3 * mm, Most: 8 * mm}
		for _, gap := range []model.Length{2 * mm, 4 * mm, 6 * mm} {
			k.Gap = gap
			text := k.Draw(76, 9, Look{})
			line := []rune(strings.Split(text, "\n")[1])
			apart := 0
			for _, r := range strings.Trim(string(line), " ") {
				if r != '█' && r != '▒' {
					apart++
				}
			}
			if want := float64(gap) / float64(scaleOf(t, text, "1 column = ")); math.Abs(float64(apart)-want) > 1 {
				t.Errorf("fence %s, %d: %d columns apart, want %v\n%s", side, k.Gap, apart, want, text)
			}
			if before := strings.Count(string(line), "┊"); before != map[model.Length]int{2 * mm: 0, 4 * mm: 1, 6 * mm: 1}[k.Gap] {
				t.Errorf("fence %s, %d: %d limits before the knife\n%s", side, k.Gap, before, text)
			}
			if (strings.Index(string(line), "█") < strings.Index(string(line), "▒")) != (side == model.SideRight) {
				t.Errorf("fence %s: the teeth are not in front\n%s", side, text)
			}
		}
	}
	for _, f := range []struct {
		low, high model.Length
		want      string
	}{{mm / 20, 0, "Low, the face of the knife stands 0.05 mm behind the straightedge; high, at the straightedge"}, {-mm / 5, mm / 5, "0.20 mm in front of the straightedge; high, 0.20 mm behind"}} {
		h := held
		if h.Faces = []model.Length{f.low, f.high}; !strings.Contains(h.Sentence(), f.want) {
			t.Error(h.Sentence())
		}
	}
}

// TestBoardTapersAsRead: the trailing end stands back from the leading one, or out from it, by
// as many columns as the widths differ; nothing leans before both are read.
func TestBoardTapersAsRead(t *testing.T) {
	for _, rise := range []model.Length{-mm / 20, 0, mm / 20} {
		b := board
		b.Tail = b.Lead + rise
		text := b.Draw(76, 8, Look{})
		lines := strings.Split(text, "\n")
		wider := strings.Count(lines[6], "█") - strings.Count(lines[1], "█")
		if want := float64(rise) / float64(scaleOf(t, text, "1 column = ")); math.Abs(float64(wider)-want) > 1 {
			t.Errorf("%d columns wider, want %v\n%s", wider, want, text)
		}
		if said := strings.Contains(b.Sentence(), "Both ends are"); said != (rise == 0) {
			t.Error(b.Sentence())
		}
	}
	b := board
	if b.Tail = 0; strings.Contains(b.Draw(76, 8, Look{}), "█") || !strings.Contains(b.Sentence(), "not read yet") {
		t.Error(b.Draw(76, 8, Look{}), b.Sentence())
	}
}

// TestWideAndWedged: what a section must show at a glance, by words and marks alone.
func TestWideAndWedged(t *testing.T) {
	far, near := thin, nearSaw(thin)
	near.Rings = []model.Length{mm / 10}
	for _, c := range []struct {
		name        string
		a           ArborSection
		marks, want []string
		never       string
	}{
		{"thin blade cuts wide", far, []string{"+++", "XXX"}, []string{"part 0.60 mm too wide", "into the part"}, "-"},
		{"rings cure it", withRings(far, mm/10, mm/2), []string{"12", "22"}, []string{"cut face at the datum", "0.40 mm of play"}, "X"},
		{"too many rings", withRings(far, mm/2, mm/2), []string{"---"}, []string{"part 0.40 mm too narrow"}, "+"},
		{"thick knife wedges", thickKnife(withRings(far, mm/10, mm/2)), []string{"X"}, []string{"2.5 mm, is not thinner than the kerf, 2.40 mm"}, "+"},
		{"rings on a near flange move away from the fence", near, []string{"++"}, []string{"part 0.10 mm too wide"}, "-"},
	} {
		text := c.a.Draw(110, 30, Look{Charset: ASCII})
		for _, want := range append(c.want, c.marks...) {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", c.name, want, text)
			}
		}
		drawing := strings.Join(strings.Split(text, "\n")[1:26], "\n")
		if strings.Contains(drawing, c.never) {
			t.Errorf("%s: %q in\n%s", c.name, c.never, text)
		}
	}
}

// TestBareArbor: before a blade is measured the section says where the flange is, by
// words and by the order of what it draws.
func TestBareArbor(t *testing.T) {
	for _, c := range []struct {
		flange model.Flange
		words  string
		order  []string
	}{
		{model.Far, "rings move the cut toward the fence", []string{"flange", "1", "blade ..", "nut"}},
		{model.Near, "rings move the cut away from the fence", []string{"nut", "blade ..", "1", "flange"}},
	} {
		a := ArborSection{Flange: c.flange, FenceSide: model.SideRight, Rings: []model.Length{mm / 2}}
		text := a.Draw(110, 30, Look{Charset: ASCII})
		if !strings.Contains(text, c.words) || !strings.Contains(a.Sentence(), c.words) {
			t.Errorf("%s: no %q in\n%s\n%s", c.flange, c.words, text, a.Sentence())
		}
		line, at := row(t, text, "on the arbor"), len("on the arbor")
		for _, part := range c.order {
			i := strings.Index(line[at:], part)
			if i < 0 {
				t.Errorf("%s: %q is not behind the others in %q", c.flange, part, line)
				break
			}
			at += i
		}
	}
}

// TestMistypedKerf: teeth narrower than the plate are no saw blade.
func TestMistypedKerf(t *testing.T) {
	for kerf, wrong := range map[model.Length]bool{thin.Plate: true, thin.Plate - 1: true, thin.Plate + 1: false} {
		a := thin
		a.Kerf = kerf
		if got := strings.Contains(a.Draw(110, 30, Look{}), "is not wider than the plate"); got != wrong {
			t.Errorf("plate %d nm, kerf %d nm: %v", a.Plate, kerf, got)
		}
	}
}

// TestKnifeLimits: K1, EN 1870-1 fig. 6: the knife is thinner than the kerf. One
// nanometre beside the limit decides.
func TestKnifeLimits(t *testing.T) {
	a := withRings(thin, mm/10, mm/2)
	for _, c := range []struct {
		knife  model.Length
		wedges bool
	}{{a.Kerf, true}, {a.Kerf - 1, false}} {
		a.Knife = c.knife
		if got := strings.Contains(a.Sentence(), "wedges"); got != c.wedges {
			t.Errorf("knife of %d nm in a kerf of %d nm: wedges %v", c.knife, a.Kerf, got)
		}
	}
}

// TestFenceSides: the fence is drawn on the side where it stands.
func TestFenceSides(t *testing.T) {
	right := row(t, thin.Draw(60, 14, Look{}), "behind")
	left := thin
	left.FenceSide = model.SideLeft
	mirrored := row(t, left.Draw(60, 14, Look{}), "behind")
	if strings.Index(right, "offcut") > strings.Index(right, "part") || strings.Index(mirrored, "offcut") < strings.Index(mirrored, "part") {
		t.Errorf("fence right:\n%s\nfence left:\n%s", right, mirrored)
	}
}

// TestBeyondTheDrawing: what has no room is marked with an arrow and its figure.
func TestBeyondTheDrawing(t *testing.T) {
	datum, knife, before := thin, thin, rack
	datum.Datum, datum.KnifeFace = 90*mm, 90*mm
	knife.KnifeFace = -70 * mm
	before.Blades = append([]RackBlade(nil), rack.Blades...)
	before.Blades[1].Before = 40 * mm
	error1, proof, spike := scale, drift, dial
	error1.Points = []ScalePoint{{60 * mm, 610 * mm}, {120 * mm, 120 * mm}, {300 * mm, 300 * mm}}
	proof.Points = append([]DriftPoint(nil), drift.Points...)
	proof.Points[3].Value = -9 * mm
	spike.Readings = append([]model.Length(nil), dial.Readings...)
	spike.Readings[2] = 5 * mm
	for _, c := range []struct {
		name string
		p    Picture
		want string
	}{
		{"datum", datum, "datum 90.00 mm ▶"},
		{"knife", knife, "◀ knife -70.00 mm"},
		{"cut face", before, " 40.00▶"},
		{"cut face on the other side", rack, "◀3.00"},
		{"fence scale", error1, "▲+550.00 mm"},
		{"proof", proof, "▼-9.00 mm"},
		{"dial", spike, "▲5.00 mm"},
		{"knife thickness", window, "K 25 mm▶"},
	} {
		for _, size := range [][2]int{{60, 14}, {110, 30}} {
			if text := c.p.Draw(size[0], size[1], Look{}); !strings.Contains(text, c.want) {
				t.Errorf("%s: no %q at %v in\n%s", c.name, c.want, size, text)
			}
		}
	}
}

// TestNotReady: a blade that is only predicted to be in, or is due, to be checked or in a round that is
// not closed, does not read as in; in words too.
func TestNotReady(t *testing.T) {
	words := map[model.Readiness][2]string{model.StateReady: {" IN ", "in and ready"}, model.StateDue: {" DUE ", "in and due to be proved"}, model.StateNotClosed: {" NOT CLOSED ", "in, not closed"}, model.StateCheck: {" CHECK ", "is to be checked"}, model.StateNotReady: {" NOT READY ", "in, not ready"}}
	for state, word := range words {
		r := Rack{Tolerance: mm / 20, Blades: []RackBlade{{ID: "thin", Known: true, Verdict: model.In, State: state}}}
		for _, size := range [][2]int{{34, 6}, {60, 8}, {110, 30}} {
			text := r.Draw(size[0], size[1], Look{}) + " "
			for other, w := range words {
				if size[0] < 60 && strings.HasPrefix(w[0], " NOT ") {
					w[0] = " NOT "
				}
				if strings.Contains(text, w[0]) != (other == state || size[0] < 60 && w[0] == " NOT " && strings.HasPrefix(word[0], w[0])) {
					t.Errorf("%s as %s at %v:\n%s", state, other, size, text)
				}
			}
		}
		if said := r.Sentence(); !strings.Contains(said, word[1]) {
			t.Errorf("%s: %s", state, said)
		}
	}
}

// TestBladesAreCalledByTheirNames: a blade that has no room for its name is called by the
// beginning of it, and never by what the file calls it; where stages stand at the left of the smallest
// wide window, the name of the built-in shop's that is longest has room.
func TestBladesAreCalledByTheirNames(t *testing.T) {
	for _, p := range []Picture{
		KnifeWindow{Blades: []KnifeBlade{{ID: "crosscut-80", Label: "80-tooth fine crosscut", Plate: 2200000, Kerf: 3200000}}},
		Rack{Blades: []RackBlade{{ID: "crosscut-80", Label: "80-tooth fine crosscut"}}},
	} {
		for _, w := range []int{MinWidth, 46, 58, 65, 76, 110} {
			text := p.Draw(w, 8, Look{})
			if strings.Contains(text, "crosscut-80") || !strings.Contains(text, " 80-toot") || w >= 65 && !strings.Contains(text, " 80-tooth fine crosscut ") {
				t.Errorf("%T at %d columns:\n%s", p, w, text)
			}
		}
	}
}

// TestTooSmall: below the least size there is a sentence, and from it on a picture.
func TestTooSmall(t *testing.T) {
	for _, name := range names {
		for _, size := range [][2]int{{MinWidth - 1, 20}, {80, MinHeight - 1}} {
			if text := samples[name].Draw(size[0], size[1], Look{}); !strings.HasPrefix(text, "too small") {
				t.Errorf("%s at %v:\n%s", name, size, text)
			}
		}
		if strings.HasPrefix(name, "table") || strings.HasPrefix(name, "front") || name == "arbor-empty" || name == "list" {
			continue // nothing in it is to scale
		}
		text := samples[name].Draw(MinWidth, MinHeight, Look{})
		lines := strings.Split(text, "\n")
		if !strings.HasPrefix(lines[MinHeight-1], "1 column = ") && !strings.HasPrefix(lines[MinHeight-1], "1 line") {
			t.Errorf("%s does not say its scale:\n%s", name, text)
		}
	}
}

// TestTableWithFewRows: a picture below a table takes no room that the table needs.
func TestTableWithFewRows(t *testing.T) {
	for n := range table.Rows {
		few := below(table, window)
		few.Rows = few.Rows[:n]
		text := few.Draw(80, 30, Look{})
		if lines := strings.Split(text, "\n"); len(lines) != 30 || strings.Contains(text, "too small") || !strings.Contains(text, few.Note) || !strings.HasPrefix(lines[29], "1 column = ") {
			t.Errorf("%d rows:\n%s", n, text)
		}
	}
}

// TestRoom: at 110 by 30 the pictures use the width and the height.
func TestRoom(t *testing.T) {
	for _, name := range names {
		if name == "table" || name == "list" {
			continue // its rows stay together, to be read across
		}
		blank, longest, widest := 0, 0, 0
		lines := strings.Split(samples[name].Draw(110, 30, Look{}), "\n")
		for _, line := range lines {
			n := ansi.StringWidth(strings.TrimRight(line, " "))
			widest = max(widest, n)
			if blank++; n > 0 {
				blank = 0
			}
			longest = max(longest, blank)
		}
		if longest > 6 || widest < 90 {
			t.Errorf("%s leaves %d lines empty and fills %d columns of 110 by 30:\n%s", name, longest, widest, strings.Join(lines, "\n"))
		}
	}
}

// TestPaint: colours change nothing in the text, and every picture has several kinds.
func TestPaint(t *testing.T) {
	for _, name := range names {
		kinds := map[Kind]bool{}
		painted := samples[name].Draw(60, 14, Look{Paint: func(k Kind, reverse bool) (on, off string) {
			if reverse {
				t.Errorf("%s asks for reverse video unasked", name)
			}
			kinds[k] = true
			return "\x1b[1m", "\x1b[0m"
		}})
		exactly(t, painted, 60, 14)
		if plain := samples[name].Draw(60, 14, Look{}); ansi.Strip(painted) != plain || len(kinds) < 3 && name != "list" {
			t.Errorf("%s, kinds %v, differs under paint:\n%s\n%s", name, kinds, painted, plain)
		}
	}
}

// TestReverse: in reverse video the left edge of a bar is as exact as the right one.
func TestReverse(t *testing.T) {
	look := Look{Reverse: true, Paint: func(_ Kind, reverse bool) (on, off string) {
		if reverse {
			return "<", ">"
		}
		return "", ""
	}}
	mirrored := thin
	mirrored.FenceSide = model.SideLeft
	step := scaleOf(t, mirrored.Draw(60, 14, look), "1 column = ")
	seen := map[string]bool{}
	for i := range model.Length(8) {
		mirrored.Rings = []model.Length{mm/10 + i*step/8}
		line := row(t, mirrored.Draw(60, 14, look), "teeth")
		seen[strings.Split(line, "█")[0]] = true
	}
	if len(seen) != 8 {
		t.Errorf("eight steps of an eighth of a column show %d edges: %v", len(seen), seen)
	}
}

// TestSmallConsole: the fonts of consoles have box lines and three shades.
func TestSmallConsole(t *testing.T) {
	for _, name := range names {
		for _, r := range samples[name].Draw(110, 30, Look{Charset: Lines}) {
			if r > 0x7e && r != '±' && !strings.ContainsRune("─│┌┐└┘├┤┬┴┼░▒█", r) {
				t.Errorf("%s holds %q", name, r)
				break
			}
		}
	}
}

// TestPlainWords: what is read aloud has no drawing characters.
func TestPlainWords(t *testing.T) {
	for _, name := range names {
		s := samples[name].Sentence()
		for _, r := range s {
			if r > 0x7e {
				t.Errorf("%s: %q in %q", name, r, s)
			}
		}
		if !strings.HasSuffix(s, ".") || s[0] < 'A' && (s[0] < '0' || s[0] > '9') || s[0] > 'Z' {
			t.Errorf("%s: %q is no sentence", name, s)
		}
	}
}

// TestRackNamesABladeThatMustNotRun reads such a blade, in words and in its row.
func TestRackNamesABladeThatMustNotRun(t *testing.T) {
	r := Rack{Tolerance: mm / 20, Blades: []RackBlade{{ID: "thin", Known: true}}}
	if rows := r.Draw(80, 8, Look{}); !strings.Contains(rows, "no knife fits it") || !strings.Contains(rows, "NOT READY") {
		t.Errorf("the row of thin:\n%s", rows)
	}
	got := r.Sentence()
	if want := "Against the datum: thin must not be run, no knife fits it."; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestAlignmentLeans: 0.05 mm are two columns of 0.025 mm, by hand, and a fence that opens
// by 0.20 mm against a blade that leans 0.05 mm the other way leans six.
func TestAlignmentLeans(t *testing.T) {
	for _, c := range []struct {
		side         model.Side
		fence        model.Length // at the rear
		blade, leans int          // columns to the right, from front to rear
		danger       bool
	}{
		{model.SideRight, 120*mm + mm/5, -2, 6, false},
		{model.SideLeft, 120*mm + mm/5, 2, -6, false},
		{model.SideRight, 120*mm - mm*15/100, -2, -8, true},
		{model.SideRight, 120 * mm, -2, -2, false},
	} {
		a := heelToe
		a.FenceSide, a.Fence.Rear = c.side, c.fence
		danger := false
		lines := strings.Split(a.Draw(110, 30, Look{Charset: ASCII, Paint: func(k Kind, _ bool) (on, off string) {
			danger = danger || k == Danger
			return "", ""
		}}), "\n")
		rear, front := stars(lines[1]), stars(lines[26])
		if len(rear) != 2 || len(front) != 2 {
			t.Fatalf("%+v: marks %v and %v", c, rear, front)
		}
		blade, fence := rear[0]-front[0], rear[1]-front[1]
		if c.side == model.SideLeft {
			blade, fence = fence, blade
		}
		if blade != c.blade || fence != c.leans || danger != c.danger || strings.Contains(a.Sentence(), "throws") != c.danger {
			t.Errorf("%+v: blade leans %d, fence %d columns, danger %v: %s", c, blade, fence, danger, a.Sentence())
		}
	}
}

func stars(line string) (at []int) {
	for i, r := range line {
		if r == '*' {
			at = append(at, i)
		}
	}
	return at
}

// TestTableKeepsWhatFails: with room for few rows, the one at work and those that fail keep
// theirs, wherever they stand; the others are counted.
func TestTableKeepsWhatFails(t *testing.T) {
	var many Table
	many.Columns = []Column{{Head: "blade"}}
	for i := range 30 {
		many.Rows = append(many.Rows, TableRow{Cells: []string{fmt.Sprintf("blade %d", i+1)}, Fails: i == 2 || i == 11, Now: i == 7})
	}
	text := many.Draw(60, 8, Look{})
	for _, want := range []string{"!  3  blade 3", "> 8  blade 8", "! 12  blade 12", "30  blade 30", "and 24 more"} {
		if !strings.Contains(strings.ReplaceAll(text, ">  8", "> 8"), want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// TestRackSaysHowPartsComeOut: a cut face toward the fence leaves less between blade and fence:
// the part is narrow (job.md, Geometry: a wider part is a cut face farther from the fence).
func TestRackSaysHowPartsComeOut(t *testing.T) {
	r := Rack{Tolerance: mm / 10, Blades: []RackBlade{
		{ID: "toward", Known: true, After: mm * 3 / 100, Verdict: model.In, State: model.StateReady},
		{ID: "away", Known: true, After: -mm * 4 / 100, Verdict: model.In, State: model.StateReady},
	}}
	text := r.Draw(76, 8, Look{}) + r.Sentence()
	for _, want := range []string{"IN    0.03 narrow", "IN    0.04 wide", "toward, without rings, is in and ready: parts come out 0.03 mm narrow", "away, without rings, is in and ready: parts come out 0.04 mm wide"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// TestADashIsNotReadAloud: what a row has none of is left out of the sentence.
func TestADashIsNotReadAloud(t *testing.T) {
	table := Table{What: "blade", Columns: []Column{{Head: "blade"}, {Head: "rings"}, {Head: "now"}}, Rows: []TableRow{{Cells: []string{"24-tooth rip", "-", "READY"}}}}
	if got := table.Sentence(); got != "A table of one row, a blade. Row 1: 24-tooth rip, now READY." {
		t.Error(got)
	}
}

// TestSignsOfTheArbor: plate and kerf stand beside their rows in either unit, and what the figures on
// the arbor are is told below it, where rings are on.
func TestSignsOfTheArbor(t *testing.T) {
	a := thin
	a.Unit, a.Resolution, a.Plate, a.Kerf = model.IN, model.Inch/10000, model.Inch*91/1000, model.Inch*125/1000
	for rings, says := range map[int]string{0: "not to scale", 1: "; 1 = ring", 2: "; 1, 2 = rings"} {
		a.Rings = slices.Repeat([]model.Length{mm / 10}, rings)
		text := strings.TrimRight(a.Draw(74, 7, Look{}), " \n")
		if !strings.HasSuffix(text, says) || !strings.Contains(text, "plate 0.0910 in") || !strings.Contains(text, "teeth 0.1250 in") {
			t.Errorf("%d rings, %q wanted at the end:\n%s", rings, says, text)
		}
	}
}

// TestFront: the blade leans to the side that its top is tilted to, and the fence stands on its own.
func TestFront(t *testing.T) {
	column := func(text, sign string, line int) int {
		return strings.Index(strings.Split(text, "\n")[line], sign)
	}
	for tilt, leans := range map[model.Tilt]int{model.TiltLeft: -1, "": 0, model.TiltRight: 1} {
		for side, at := range map[model.Side]int{model.SideLeft: -1, model.SideRight: 1} {
			text := Front{Tilt: tilt, FenceSide: side}.Draw(60, 14, Look{Charset: ASCII})
			top, foot, fence := column(text, "##", 1), column(text, "##", 11), column(text, ":::", 11)
			if got := top - foot; got*leans < 0 || (got == 0) != (leans == 0) {
				t.Errorf("tilted %q the top is %d columns off:\n%s", tilt, got, text)
			}
			if (fence-foot)*at <= 0 {
				t.Errorf("the fence at the %s:\n%s", side, text)
			}
		}
	}
}
