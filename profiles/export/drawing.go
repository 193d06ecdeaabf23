package export

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"slices"
	"strings"

	"example.com/sawdatum/model"
)

// The drawing of a stack, in units of its own: flange, rings and plate, and below them
// where the cut face lies.
const (
	stackDrawn   = 168.0 // width
	stackHeight  = 46.0
	flangeDrawn  = 16.0
	plateDrawn   = 8.0
	widestRing   = 40.0
	bandHalf     = stackDrawn / 4 // what the tolerance takes to either side of the datum
	letterDrawn  = 11.0
	letterAspect = 0.6 // width of a letter by its height
)

// svg is a drawing under way.
type svg struct{ strings.Builder }

func (d *svg) bar(x, y, w, h float64, fill string) {
	fmt.Fprintf(d, `<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="%s" stroke="#111"/>`, x, y, w, h, fill)
}

func (d *svg) line(x1, y1, x2, y2 float64, more string) {
	fmt.Fprintf(d, `<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="#111" %s/>`, x1, y1, x2, y2, more)
}

func (d *svg) text(x, y, size float64, s string) {
	fmt.Fprintf(d, `<text x="%.1f" y="%.1f" text-anchor="middle" font-size="%.1f">%s</text>`, x, y, size, html.EscapeString(s))
}

// stackSVG is a stack as it sits on the arbor of somebody who stands before the saw: the
// flange hatched, each ring a bar with its figure, the plate black. Below it the tolerance
// is a grey band about the datum, and the cut face a mark with its uncertainty, on the side
// where the fence is.
func (s sheet) stackSVG(r Row) template.HTML {
	d := &svg{}
	fmt.Fprintf(d, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="sans-serif" role="img"><title>%s</title>`, stackDrawn, stackHeight, html.EscapeString("flange, "+r.Stack()+", blade"))
	s.drawStack(d, r)
	s.drawFace(d, r)
	d.WriteString("</svg>")
	return template.HTML(d.String())
}

func (s sheet) drawStack(d *svg, r Row) {
	const top, tall = 1.0, 26.0
	type part struct {
		w    float64
		fill string
		text string
	}
	sum := 0.0
	for _, id := range r.Plan.Stack {
		ring, _ := s.profile.RingByID(id)
		sum += math.Abs(ring.Height().Millimetres())
	}
	parts := []part{{flangeDrawn, "#bbb", ""}}
	n, room := float64(len(r.Plan.Stack)), stackDrawn-flangeDrawn-plateDrawn-2
	for i, f := range s.figures(r) {
		if len(r.Plan.Stack) == 0 {
			break
		}
		ring, _ := s.profile.RingByID(r.Plan.Stack[i])
		share := 0.5 / n // half of the room as they are thick, half so that figures have room
		if sum > 0 {
			share += 0.5 * math.Abs(ring.Height().Millimetres()) / sum
		}
		parts = append(parts, part{math.Min(share*room, widestRing), "#fff", f.Figure})
	}
	parts = append(parts, part{plateDrawn, "#111", ""})
	if (s.profile.Saw.Flange == model.Far) != (s.profile.Saw.FenceSide == model.SideRight) {
		slices.Reverse(parts)
	}
	wide := 0.0
	for _, p := range parts {
		wide += p.w
	}
	x := (stackDrawn - wide) / 2
	for _, p := range parts {
		lower := 0.0
		if p.fill == "#fff" {
			lower = 5
		}
		d.bar(x, top+lower, p.w, tall-2*lower, p.fill)
		if p.fill == "#bbb" {
			for y := top + 4; y < top+tall; y += 5 {
				d.line(x, y, x+p.w, y-3, "")
			}
		}
		if p.text != "" {
			d.text(x+p.w/2, top+tall/2+4, math.Min(letterDrawn, p.w/letterAspect/float64(len([]rune(p.text)))), p.text)
		}
		x += p.w
	}
}

// drawFace draws where the cut face lies from the datum.
func (s sheet) drawFace(d *svg, r Row) {
	const y, half = 38.0, 5.0
	middle, tolerance := stackDrawn/2, s.profile.Tolerance.Length.Millimetres()
	fmt.Fprintf(d, `<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="#ddd"/>`, middle-bandHalf, y-half, 2*bandHalf, 2*half)
	d.line(middle, y-half-1, middle, y+half+1, `stroke-dasharray="2 2"`)
	if tolerance <= 0 || r.Reference {
		return
	}
	toward := 1.0
	if s.profile.Saw.FenceSide == model.SideLeft {
		toward = -1
	}
	at := func(mm float64) float64 {
		return math.Min(math.Max(middle+toward*mm/tolerance*bandHalf, 1), stackDrawn-1)
	}
	face, u := r.Plan.Residual.Millimetres(), r.Plan.Expanded.Millimetres()
	d.line(at(face-u), y, at(face+u), y, `stroke-width="2"`)
	fmt.Fprintf(d, `<rect x="%.1f" y="%.1f" width="3" height="%.1f" fill="#111"/>`, at(face)-1.5, y-half+1, 2*half-2)
}
