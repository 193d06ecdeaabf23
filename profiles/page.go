package profiles

import (
	_ "embed" // the page
	"html/template"
	"io"
	"math"
	"slices"
	"strings"
)

//go:embed page.html
var pageText string

var page = template.Must(template.New("page").Parse(pageText))

// pageRow is a row of the page; its texts are escaped by the template.
type pageRow struct {
	Name, Mark, Rings, Knife, On, By, Why string
	Residual                              []string
	Ready                                 bool
}

// setting is how a page is set.
type setting struct {
	blades   int     // up to so many
	points   float64 // size of the letters
	pictures int     // percent of the width that the drawings have
	row      float64 // height of a row in the drawing of the rack
	why      int     // letters of a reason
}

// onePage is how many blades go on one A4 or letter page. The table of a larger rack goes
// on over the next ones, under the same head.
const onePage = 12

var settings = []setting{{5, 10, 100, 20, 150}, {8, 9, 85, 16, 120}, {onePage, 7.6, 70, 14, 100}, {math.MaxInt, 7.6, 70, 9, 100}}

func (s sheet) setting() setting {
	return settings[slices.IndexFunc(settings, func(of setting) bool { return len(s.rows) <= of.blades })]
}

// writeHTML writes one file that needs nothing else.
func writeHTML(w io.Writer, s sheet) error {
	rows, set := make([]pageRow, len(s.rows)), s.setting()
	for i, r := range s.rows {
		rows[i] = pageRow{Name: r.name, Mark: r.mark, Rings: unbroken(r.rings), Knife: unbroken(r.knife), On: r.proved, Ready: r.plan.Ready}
		rows[i].On, rows[i].By, _ = strings.Cut(r.proved, " ")
		for _, in := range r.residual {
			rows[i].Residual = append(rows[i].Residual, strings.Replace(in, "+-", "±", 1))
		}
		if len(r.why) > 0 {
			rows[i].Why = unbroken(cut(r.why[0], set.why))
		}
	}
	return page.Execute(w, map[string]any{
		"Saw": s.saw, "Name": Show(s.profile.Name), "Date": s.stamp(), "Datum": unbroken(s.datum), "Tolerance": unbroken(s.tolerance), "Width": unbroken(s.width), "Flange": s.flangeWords(),
		"Rows": rows, "Steps": s.swapSteps(), "Arbor": s.arborSVG(), "Rack": s.rackSVG(), "Long": len(rows) > onePage, "Points": set.points, "Pictures": set.pictures,
	})
}

// cut is a text of at most so many letters, cut between words where there are some.
func cut(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	s = string(r[:most-1])
	if i := strings.LastIndexByte(s, ' '); i > len(s)/2 {
		s = s[:i]
	}
	return s + "…"
}
