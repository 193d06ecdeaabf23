package export

import "strings"

// The large letters of cards and labels, as pixels of five rows. 6 and 9 are open, so that
// they are not taken for 8 at two metres.
var pixels = map[rune][5]string{
	'0': {"###", "# #", "# #", "# #", "###"},
	'1': {" # ", "## ", " # ", " # ", "###"},
	'2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", " ##", "  #", "###"},
	'4': {"# #", "# #", "###", "  #", "  #"},
	'5': {"###", "#  ", "###", "  #", "###"},
	'6': {"#  ", "#  ", "###", "# #", "###"},
	'7': {"###", "  #", "  #", " # ", " # "},
	'8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "  #"},
	'X': {"# #", "# #", " # ", "# #", "# #"},
	'.': {" ", " ", " ", " ", "#"},
	'/': {"  #", "  #", " # ", "#  ", "#  "},
	' ': {"  ", "  ", "  ", "  ", "  "},
}

// letters is a figure in large letters: three rows of half blocks, or five of # in plain
// characters. ok is false where a sign of it has no letter.
func letters(text string, plain bool) (rows []string, ok bool) {
	var drawn [6]strings.Builder
	for i, c := range text {
		glyph, known := pixels[c]
		if !known {
			return nil, false
		}
		for y, part := range glyph {
			if i > 0 {
				drawn[y].WriteByte(' ')
			}
			drawn[y].WriteString(part)
		}
	}
	if plain {
		for _, row := range drawn[:5] {
			rows = append(rows, row.String())
		}
		return rows, true
	}
	drawn[5].WriteString(strings.Repeat(" ", drawn[4].Len()))
	for y := 0; y < len(drawn); y += 2 {
		upper, lower := drawn[y].String(), drawn[y+1].String()
		var row strings.Builder
		for x := range upper {
			row.WriteString(halves[upper[x:x+1]+lower[x:x+1]])
		}
		rows = append(rows, row.String())
	}
	return rows, true
}

// halves are the signs of two pixels, one above the other.
var halves = map[string]string{"  ": " ", "# ": "▀", " #": "▄", "##": "█"}
