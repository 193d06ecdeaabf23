package stages

import (
	"fmt"
	"strconv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

var (
	laidOut = procedure.Fact{Name: "laid out", Lasts: true}
	carries = procedure.Fact{Name: "blades carried", Lasts: true} // how many, of a saw whose rack is not typed yet
)

// scaleStrips is how many strips the fence scale takes: one at another width, one at the
// working width.
const scaleStrips = 2

// bladesToCut is how many blades beside the reference a setup compares.
func bladesToCut(c context) int {
	if n := len(comparing(c)); n > 0 || c.Profile.Reference != "" {
		return n
	}
	n := len(c.Profile.Rack())
	if n == 0 {
		n, _ = strconv.Atoi(c.Fact(carries))
	}
	return max(0, n-1)
}

// blanks is how many blanks a setup takes: for the scale, the reference and its closing
// strip, two a blade, and two to spare a blade. The gauge board is none of them.
func blanks(blades int) int {
	return scaleStrips + datumStrips + 1 + (bladeStrips+2)*blades
}

// blanksLeft is how many of them are left: those that were ripped in this run are gone.
func blanksLeft(c context) int {
	used := 0
	for _, r := range c.Now() {
		if r.Kind == model.StripCut && r.Of == "" || r.Kind == model.Scale {
			used++
		}
	}
	return max(0, blanks(bladesToCut(c))-used)
}

// workingWidth is the width that is compared at; of a new saw the one that is offered.
func workingWidth(c context) model.Length {
	if w := c.Profile.WorkingWidth; w.Unit != model.NoUnit {
		return w.Length
	}
	if c.Unit() == model.IN {
		return model.Inch * 11 / 2
	}
	return 140 * mm
}

// blankSize is the size of a blank: long enough to be ripped safely, and wide enough for
// strip, kerf and an offcut.
func blankSize(c context) string {
	w := workingWidth(c) + spareWidth + 4*mm
	return round(c, max(goodBlank, w*3/2)) + " x " + round(c, w)
}

// round is a size of stock as a tape shows it, up to a round figure.
func round(c context, l model.Length) string {
	step := 10 * mm
	if c.Unit() == model.IN {
		step = model.Inch / 2
	}
	return ((l + step - 1) / step * step).Tape(c.Unit())
}

// layoutRow is the first page: what to lay out before anything begins.
var layoutRow = row{
	Name: "layout", Stage: 1, Title: said("What to lay out"),
	Done: func(c context) bool { return c.Fact(laidOut) != "" || len(c.All()) > 0 },
	Act: procedure.Paper{
		Says: func(c context) []string {
			out := []string{"Micrometer, caliper, feelers, straightedge, square, gloves, push stick, plug or lock; blades, knives, rings."}
			if blades := bladesToCut(c); blades > 0 || len(c.Profile.Blades) > 0 {
				out = append(out, fmt.Sprintf("%d blanks of %s, MDF of %s: scale %d, reference %d, closing 1, four a blade.", blanks(blades), blankSize(c), c.Pick("16 to 19 mm", "5/8 to 3/4 in"), scaleStrips, datumStrips),
					fmt.Sprintf("One gauge board of %s x %s.", round(c, gaugeBoard(c)+100*mm), round(c, 300*mm)))
			}
			return out
		},
		Accept: func(t *taking) {
			if t.Typed("blades") {
				t.Keep(carries, t.Text("blades"))
			}
			if len(t.Profile.Rack()) > 0 || t.Fact(carries) != "" && !t.Typed("blades") {
				t.Keep(laidOut, "ready")
			}
		},
	},
	Why: lines("Two hours and a half for five blades. Leave when you like: it goes on."),
	Fields: func(c context) []field {
		if len(c.Profile.Rack()) == 0 && c.Fact(carries) == "" {
			return []field{{Key: "blades", Label: "How many blades does this saw carry", Hint: "1 to 32, such as 5", Kind: procedure.FieldCount, AtLeast: 1, AtMost: 32}}
		}
		return []field{word("ready", "All of it is laid out", "ready")}
	},
	Figure: func(c context, a answers) procedure.Figure {
		blades := bladesToCut(c)
		if n, err := strconv.Atoi(a["blades"]); err == nil {
			blades = max(0, n-1)
		}
		if blades == 0 {
			return procedure.Figure{}
		}
		return procedure.Figure{Text: strconv.Itoa(blanks(blades)), Caption: "blanks"}
	},
}
