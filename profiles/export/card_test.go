package export

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
)

// twelve is a shop of twelve blades that may be used, with so many rings each of one kit of
// three of a sort, so that all of them share.
func twelve(rings int) (model.Profile, model.Plan) {
	p, plan := shop()
	p.Rings = []model.Ring{{ID: "a", Thickness: mm(100_000), Count: 3}, {ID: "b", Thickness: mm(250_000), Count: 3}, {ID: "c", Thickness: mm(500_000), Count: 3}}
	ready := plan.Blades[1]
	ready.Stack = []string{"a", "b", "c"}[:rings]
	blade := p.Blades[1]
	blade.Label, blade.Teeth = "100-tooth blade of the longest name that there is", 100
	p.Blades, plan.Blades = nil, nil
	for i := range 12 {
		blade.ID = fmt.Sprint("blade-", i)
		ready.ID = blade.ID
		p.Blades, plan.Blades = append(p.Blades, blade), append(plan.Blades, ready)
	}
	p.Reference, plan.Reference = "blade-0", "blade-0"
	return p, plan
}

// TestTwelveBladesOnOneCard: at most 60 lines of 80 columns, in one unit and in both, ready
// or not, and every ring of a blade that may be used in large letters.
func TestTwelveBladesOnOneCard(t *testing.T) {
	for rings := range 4 {
		for _, both := range []bool{false, true} {
			for _, state := range []model.Readiness{model.StateReady, model.StateDue, model.StateCheck} {
				p, plan := twelve(rings)
				for i := range plan.Blades {
					plan.Blades[i].State = state
					plan.Blades[i].Reasons = []model.Reason{{Weight: model.Warns, Text: strings.Repeat("a long reason that goes on, ", 12)}}
				}
				text := written(t, "card", p, plan, both)
				lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
				if len(lines) > 60 {
					t.Errorf("%d rings, both %v, %s: %d lines:\n%s", rings, both, state, len(lines), text)
				}
				for _, line := range lines {
					if ansi.StringWidth(line) > 80 {
						t.Errorf("%d columns: %s", ansi.StringWidth(line), line)
					}
				}
				none, _ := letters("XXX", false)
				if got := strings.Count(text, none[1]); (got == 12) != (state == model.StateCheck) {
					t.Errorf("%s: %d marked XXX", state, got)
				}
				if usable := state != model.StateCheck; usable == strings.Contains(text, doNotUse) {
					t.Errorf("%s: do not use it", state)
				}
			}
		}
	}
}

// TestRingsAreLargeInTheirOrder reads the large letters back by the pictures of the digits.
func TestRingsAreLargeInTheirOrder(t *testing.T) {
	p, plan := twelve(3)
	p.Rings = append(p.Rings, model.Ring{ID: "thin", Thickness: (5 * model.Thou).Of(model.IN), Count: 9})
	for want, stack := range map[string][]string{
		"0": nil, "0.10 0.25": {"a", "b"}, "0.25 0.10": {"b", "a"}, ".10 .25 .50": {"a", "b", "c"}, ".10 .25 .50 .50": {"a", "b", "c", "c"}, ".005 in 0.10": {"thin", "a"},
	} {
		plan.Blades[0].Stack = stack
		s := newSheet(p, plan, Options{})
		var got []string
		for _, block := range s.ringFigures(s.rows[0]) {
			text := readLetters(block)
			if _, unit, ok := strings.Cut(block[2], " in"); ok && unit == "" {
				text = readLetters([]string{block[0], block[1], strings.TrimSuffix(block[2], " in")}) + " in"
			}
			got = append(got, text)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%v reads %q, want %q", stack, strings.Join(got, " "), want)
		}
	}
	for _, plain := range []bool{false, true} {
		rows, ok := letters("0123456789.X/ ", plain)
		if !ok || len(rows) != map[bool]int{false: 3, true: 5}[plain] || plain && strings.Trim(strings.Join(rows, ""), "# ") != "" {
			t.Errorf("%v %q", ok, rows)
		}
	}
	if _, ok := letters("a", false); ok {
		t.Error("a has a letter")
	}
}

// drawnDigits is how the digits are to look (design of the card): 6 and 9 open.
var drawnDigits = map[string]string{
	"█▀█|█ █|▀▀▀": "0", "▄█ | █ |▀▀▀": "1", "▀▀█|█▀▀|▀▀▀": "2", "▀▀█| ▀█|▀▀▀": "3", "█ █|▀▀█|  ▀": "4", "█▀▀|▀▀█|▀▀▀": "5", "█  |█▀█|▀▀▀": "6", "▀▀█| ▄▀| ▀ ": "7", "█▀█|█▀█|▀▀▀": "8", "█▀█|▀▀█|  ▀": "9",
	" | |▀": ".",
}

func readLetters(block []string) string {
	rows := make([][]rune, len(block))
	for i, row := range block {
		rows[i] = []rune(row)
	}
	out := ""
	for x := 0; x < len(rows[2]); {
		found := false
		for _, w := range []int{3, 1} {
			var parts []string
			for _, row := range rows {
				line := make([]rune, w)
				for i := range line {
					line[i] = ' '
					if x+i < len(row) {
						line[i] = row[x+i]
					}
				}
				parts = append(parts, string(line))
			}
			if digit, ok := drawnDigits[strings.Join(parts, "|")]; ok {
				out, x, found = out+digit, x+w+1, true
				break
			}
		}
		if !found {
			x++
		}
	}
	return out
}

// TestInchPapersHaveNoMillimetres but where both units are asked for.
func TestInchPapersHaveNoMillimetres(t *testing.T) {
	p, plan := twelve(2)
	thou := func(n int) model.Measure { return (model.Length(n) * model.Thou).Of(model.IN) }
	p.Units, p.Tolerance, p.WorkingWidth, p.Saw.ThreadPitch = model.IN, thou(4), thou(5500), thou(100)
	p.Rings, p.Knives, p.Blades = slices.Clone(p.Rings), slices.Clone(p.Knives), slices.Clone(p.Blades)
	for i := range p.Rings {
		p.Rings[i].Thickness = thou(4 + i)
	}
	for i := range p.Knives {
		p.Knives[i].Thickness = thou(100)
	}
	for i := range p.Blades {
		p.Blades[i].Diameter = thou(10_000)
	}
	for _, as := range []string{"card", "labels", "html"} {
		for _, both := range []bool{false, true} {
			text := written(t, as, p, plan, both)
			if as == "html" {
				_, text, _ = strings.Cut(text, "<body>")
			}
			text = model.Loose(text)
			if strings.Contains(text, " mm") != both {
				t.Errorf("%s, both %v: millimetres near %q", as, both, text[max(0, strings.Index(text, " mm")-40):][:80])
			}
			if strings.Contains(text, "+- ") != (as == "labels") {
				t.Errorf("%s: the uncertainty", as)
			}
		}
	}
}

// TestPlainCard is of signs that every printer has.
func TestPlainCard(t *testing.T) {
	p, plan := twelve(2)
	p.Saw.Label = "Bay"
	var b strings.Builder
	for _, as := range []string{"card", "labels"} {
		if err := Write(&b, as, p, plan, Options{Now: at(0), Plain: true}); err != nil {
			t.Fatal(err)
		}
	}
	if i := strings.IndexFunc(b.String(), func(r rune) bool { return r > 0x7e }); i >= 0 {
		t.Errorf("%q", b.String()[i:i+20])
	}
	if !strings.Contains(b.String(), "### # #") {
		t.Error(b.String())
	}
}

// TestACardForAScreen: 76 columns wide it has the same lines as on paper, and none is longer.
func TestACardForAScreen(t *testing.T) {
	for rings := range 4 {
		p, plan := twelve(rings)
		var paper, screen strings.Builder
		for width, to := range map[int]*strings.Builder{0: &paper, 76: &screen} {
			if err := Write(to, "card", p, plan, Options{Now: at(0), Width: width}); err != nil {
				t.Fatal(err)
			}
		}
		for _, line := range strings.Split(screen.String(), "\n") {
			if ansi.StringWidth(line) > 76 {
				t.Errorf("%d columns: %s", ansi.StringWidth(line), line)
			}
		}
		if a, b := strings.Count(paper.String(), "knife 2.5 mm"), strings.Count(screen.String(), "knife 2.5 mm"); a != 12 || b != 12 {
			t.Errorf("%d knives on paper, %d on the screen:\n%s", a, b, screen.String())
		}
	}
}

// TestThreadOnAnInchCard: the pitch that has to show past the nut is a fraction to an inch shop,
// never less than it is: 2 mm are 5.04 sixty-fourths of an inch.
func TestThreadOnAnInchCard(t *testing.T) {
	for pitch, want := range map[model.Length]string{model.Inch / 16: "1/16 in", 2 * model.Millimetre: "3/32 in"} {
		p, plan := shop()
		p.Units, p.Saw.ThreadPitch = model.IN, pitch.Of(model.MM)
		if text := written(t, "card", p, plan, false); !strings.Contains(text, "at least "+want+" of thread past it") {
			t.Errorf("%v: %s", pitch, text)
		}
	}
}
