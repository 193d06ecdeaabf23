package export

import (
	_ "embed" // the page
	"html/template"
	"io"
	"math"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver/metrology"
)

//go:embed page.html
var pageText string

var page = template.Must(template.New("page").Parse(pageText))

// pageRow is a row of the page; its texts are escaped by the template.
type pageRow struct {
	Row
	Figures []figure
	Many    bool // rings than have room in large letters
	Drawing template.HTML
	Short   string // by how much a part is wide or narrow
	Notes   string // what the large letters leave open
	Told    string // proved and due, or, where it is not to be used, why
}

// sharpening is a line of the sharpening log; an empty one is for the pen.
type sharpening struct{ Date, By, Blade, Kerf string }

// setting is how a page is set: millimetres, but for the letters' points.
type setting struct {
	blades    int     // up to so many
	big       float64 // points of teeth and rings
	name      float64 // points of names
	knife     float64 // points of knives
	small     float64 // points of what stands below them
	row       float64 // height of a row
	logs, why int     // lines of the logs, letters of a reason
}

// onePage is how many blades go on one A4 or letter page. The table of a larger rack goes
// on over the next ones, under the same head.
const onePage = 12

var settings = []setting{{6, 38, 13, 13, 9, 19, 8, 300}, {onePage, 34, 10, 9, 7.5, 12.6, 3, 130}, {math.MaxInt, 34, 10, 10, 7.5, 13, 6, 130}}

func (s sheet) setting() setting {
	return settings[slices.IndexFunc(settings, func(of setting) bool { return len(s.rows) <= of.blades })]
}

// writeHTML writes one file that needs nothing else.
func writeHTML(w io.Writer, s sheet) error {
	rows, set := make([]pageRow, len(s.rows)), s.setting()
	for i, r := range s.rows {
		rows[i] = pageRow{Row: r, Figures: s.figures(r), Many: len(r.Plan.Stack) > 2, Drawing: s.stackSVG(r), Short: model.HardSpaces(residualShort(r)), Notes: model.HardSpaces(s.ringNotes(r)), Told: provedWords(r)}
		rows[i].Knife = model.HardSpaces(r.Knife)
		if !r.Usable {
			rows[i].Told = model.HardSpaces(cut(r.because(), set.why))
		}
	}
	return page.Execute(w, map[string]any{
		"Saw": s.saw, "Stamp": s.stamp(), "Datum": model.HardSpaces(s.datum), "Tolerance": model.HardSpaces(s.tolerance), "Width": model.HardSpaces(s.width), "Unit": s.profile.Units.Label(),
		"Rows": rows, "Steps": s.swapSteps(), "Long": len(rows) > onePage, "Big": set.big, "Points": set.name, "Knife": set.knife, "Small": set.small, "Row": set.row, "Drawn": set.row - 3.5, "Blank": make([]int, set.logs), "Sharpened": s.sharpenings(set.logs),
	})
}

// sharpenings are the newest sharpenings on record in half of so many lines at the most,
// and empty lines for those to come.
func (s sheet) sharpenings(lines int) []sharpening {
	out := make([]sharpening, 0, lines)
	records := model.Counted(s.profile.Records)
	for i := len(records) - 1; i >= 0 && len(out) < lines/2; i-- {
		if r := records[i]; r.Kind == model.Sharpened {
			out = append(out, sharpening{r.At.UTC().Format(day), text.Show(r.By), text.Show(s.profile.BladeName(r.Blade)), s.meanWords(r.Kerf)})
		}
	}
	slices.Reverse(out)
	return append(out, make([]sharpening, lines-len(out))...)
}

// meanWords is the mean of readings, with the digits of the micrometer.
func (s sheet) meanWords(readings []model.Measure) string {
	mean, err := metrology.Mean(model.Lengths(readings))
	if err != nil {
		return ""
	}
	return mean.Show(s.profile.Units, s.profile.Instruments.Micrometer.Length)
}
