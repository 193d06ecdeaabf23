package wizard

import "strings"

// signRows are the letters of ISOLATED, five rows of them.
var signRows = [5]string{
	"### #### #### #    #### ##### ####  ###  ",
	" #  #    #  # #    #  #   #   #    #   # ",
	" #  #### #  # #    ####   #   ###  #   # ",
	" #     # #  # #    #  #   #   #    #   # ",
	"### #### #### #### #  #   #   ####  ###  ",
}

// sign says that the saw is isolated, large enough to be read across the shop; on
// one line where there is no room for that.
func (s step) sign(w, h int) []string {
	n := len(signRows[0])
	double := 1
	if w >= 2*n+8 {
		double = 2
	}
	if h < 18 {
		word := " I S O L A T E D "
		side := strings.Repeat(s.look.filled, max(0, (w-len(word))/2))
		return []string{s.look.isolated.Render(side + word + side)}
	}
	var lines []string
	for _, row := range signRows {
		var b strings.Builder
		for _, r := range row {
			c := " "
			if r == '#' {
				c = s.look.filled
			}
			b.WriteString(strings.Repeat(c, double))
		}
		lines = append(lines, strings.Repeat(" ", max(0, (w-n*double)/2))+s.look.isolated.Render(b.String()))
	}
	return append(lines, "")
}
