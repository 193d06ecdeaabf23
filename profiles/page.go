package profiles

import (
	_ "embed" // the page
	"html/template"
	"io"
)

//go:embed page.html
var pageText string

var page = template.Must(template.New("page").Parse(pageText))

// pageRow is a row of the page; its texts are escaped by the template.
type pageRow struct {
	Name, Mark, Rings, Knife, Residual, Proved, Why string
	Ready                                           bool
}

// crowd is from how many blades on the page is set smaller.
const crowd = 7

// writeHTML writes one file that needs nothing else and prints on one A4 or letter
// page for a rack of a dozen blades.
func writeHTML(w io.Writer, s sheet) error {
	rows, many := make([]pageRow, len(s.rows)), len(s.rows) > crowd
	most := 150
	if many {
		most = 100
	}
	for i, r := range s.rows {
		rows[i] = pageRow{Name: r.name, Mark: r.mark, Rings: r.rings, Knife: r.knife, Residual: r.residual, Proved: r.proved, Ready: r.plan.Ready}
		if len(r.why) > 0 {
			rows[i].Why = cut(r.why[0], most)
		}
	}
	return page.Execute(w, map[string]any{
		"Saw": s.saw, "Name": Show(s.profile.Name), "Date": s.date(), "Datum": s.datum, "Tolerance": s.tolerance, "Width": s.width, "Flange": s.flangeWords(),
		"Rows": rows, "Steps": s.swapSteps(), "Arbor": s.arborSVG(), "Rack": s.rackSVG(), "Many": many,
	})
}

func cut(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}
