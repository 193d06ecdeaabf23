package wizard

import (
	"slices"
	"strings"

	"example.com/sawdatum/model/interlock"
)

// letters are those of the signs, five rows each.
var letters = map[rune][5]string{
	'I': {"###", " # ", " # ", " # ", "###"},
	'S': {"####", "#   ", "####", "   #", "####"},
	'O': {"####", "#  #", "#  #", "#  #", "####"},
	'L': {"#   ", "#   ", "#   ", "#   ", "####"},
	'A': {"####", "#  #", "####", "#  #", "#  #"},
	'T': {"#####", "  #  ", "  #  ", "  #  ", "  #  "},
	'E': {"####", "#   ", "### ", "#   ", "####"},
	'D': {"### ", "#  #", "#  #", "#  #", "### "},
	'V': {"#   #", "#   #", " # # ", " # # ", "  #  "},
	'?': {"####", "   #", " ## ", "    ", " #  "},
}

// signHeight is the height of a sign with a line of air below.
const signHeight = 6

// banner is a word in large letters, in the middle of w cells; larger where w and h
// have room for that. It is nothing where w has none.
func (l look) banner(word string, w, h int, style brush) []string {
	var rows [5]strings.Builder
	for i, r := range word {
		for y, part := range letters[r] {
			if i > 0 {
				rows[y].WriteString("  ")
			}
			rows[y].WriteString(part)
		}
	}
	n, stretch, tall := rows[0].Len(), 1, 1
	if n > w {
		return nil
	}
	if 2*n+8 <= w {
		stretch = 2
	}
	if 4*n+8 <= w && h >= 2*signHeight {
		stretch, tall = 4, 2
	}
	lines := make([]string, 0, tall*signHeight)
	for y := range rows {
		var b strings.Builder
		for _, r := range rows[y].String() {
			c := " "
			if r == '#' {
				c = l.filled
			}
			b.WriteString(strings.Repeat(c, stretch))
		}
		line := strings.Repeat(" ", max(0, (w-n*stretch)/2)) + style.Render(b.String())
		lines = append(lines, slices.Repeat([]string{line}, tall)...)
	}
	return append(lines, "")
}

// sign says that the saw is isolated, large enough to be read across the shop; on
// one line where there is no room for that.
func (s step) sign(w, h int) []string {
	if h < 18 {
		word := " I S O L A T E D "
		side := strings.Repeat(s.look.filled, max(0, (w-len(word))/2))
		return []string{s.look.isolated.Render(side + word + side)}
	}
	return s.look.banner("ISOLATED", w, h-18, s.look.isolated)
}

// powerSign is the state of the power in large letters: what stands where a place
// with work at the saw has no picture.
func (s step) powerSign(w, h int) []string {
	if !s.hasSign() || h < signHeight-1 {
		return nil
	}
	power, _ := powerNow(s.job.procedure)
	word := map[interlock.Power]string{interlock.Unknown: "LIVE?", interlock.Isolated: "ISOLATED", interlock.Live: "LIVE"}[power]
	return s.look.banner(word, w, h, s.powerStyle())
}

// hasSign reports whether the state of the power stands in large letters: at the gates.
func (s step) hasSign() bool { return s.place.Gate }
