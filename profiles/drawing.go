package profiles

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// svg is a drawing under way. Lengths along x are millimetres of the saw, positive
// toward the fence, stretched by scale; the fence may be on either hand.
type svg struct {
	b           strings.Builder
	scale, zero float64
	mirrored    bool
}

func (d *svg) x(mm float64) float64 {
	if d.mirrored {
		mm = -mm
	}
	return d.zero + mm*d.scale
}

func (d *svg) bar(from, to, top, height float64, fill string) {
	a, b := d.x(from), d.x(to)
	fmt.Fprintf(&d.b, `<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="%s" stroke="#111"/>`, math.Min(a, b), top, math.Abs(b-a), height, fill)
}

func (d *svg) line(x1, y1, x2, y2 float64, more string) {
	fmt.Fprintf(&d.b, `<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="#111" %s/>`, x1, y1, x2, y2, more)
}

func (d *svg) text(x, y float64, anchor, s string) {
	fmt.Fprintf(&d.b, `<text x="%.1f" y="%.1f" text-anchor="%s">%s</text>`, x, y, anchor, html.EscapeString(s))
}

func (d *svg) done(width, height float64, title string) template.HTML {
	return template.HTML(fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="sans-serif" font-size="11" role="img"><title>%s</title>%s</svg>`, width, height, html.EscapeString(title), d.b.String()))
}

func mean(ms []model.Measure) float64 {
	if len(ms) == 0 {
		return 0
	}
	out := make([]float64, len(ms))
	for i, m := range ms {
		out[i] = m.Length.Millimetres()
	}
	return stat.Mean(out, nil)
}

// arborSVG is the section through arbor and reference blade, seen from the front.
func (s sheet) arborSVG() template.HTML {
	const width, height, most = 330, 210, 140
	d := &svg{scale: 40, zero: 110, mirrored: s.profile.Saw.FenceSide == model.SideLeft}
	if d.mirrored != (s.profile.Saw.Flange == model.Near) {
		d.zero = width - 110
	}
	ref, known := s.plan.Blade(s.plan.Reference)
	if !known {
		d.text(width/2, height/2, "middle", "no reference blade yet")
		return d.done(width, height, "Arbor section")
	}
	state := model.Fold(s.profile).Blades[ref.ID]
	plate, kerf, stack := mean(state.Plate), mean(state.Kerf), ref.Height.Millimetres()
	if reach := stack + (plate+kerf)/2; reach*d.scale > most { // a high standing stack
		d.scale = most / reach
	}
	away := sense(s.profile.Saw.Flange)
	fmt.Fprintf(&d.b, `<rect x="-1" y="150" width="%d" height="22" fill="#ddd" stroke="#111"/>`, width+2)
	d.bar(0, -away*1.2, 100, 95, "#bbb")
	at := 0.0
	for _, id := range ref.Stack {
		r, _ := s.profile.RingByID(id)
		h := away * r.Height().Millimetres()
		d.bar(at, at+h, 108, 79, "#fff")
		at += h
	}
	d.bar(away*stack, away*(stack+plate), 50, 145, "#e8e8e8")
	centre := away * (stack + plate/2)
	datum := centre + kerf/2
	d.bar(centre-kerf/2, datum, 34, 24, "#999")
	blade, _ := s.profile.BladeByID(ref.ID)
	if k, ok := s.profile.KnifeByID(blade.Knife); ok {
		d.bar(datum-k.Thickness.Length.Millimetres(), datum, 8, 20, "#fff")
		d.text(d.x(datum-k.Thickness.Length.Millimetres()/2), 22, "middle", "knife "+Show(k.ID))
	}
	x := d.x(datum)
	d.line(x, 2, x, 196, `stroke-dasharray="5 3" stroke-width="2"`)
	side, anchor := 6.0, "start"
	if d.mirrored {
		side, anchor = -6, "end"
	}
	d.text(x+side, 17, anchor, "datum")
	d.text(x+side, 31, anchor, "fence this side")
	d.text(d.x(-away*0.6), 95, "middle", "flange")
	d.text(d.x(centre), 135, "middle", "blade")
	if !ref.Ready {
		d.text(d.x(centre), 120, "middle", notReadyMark)
	}
	d.line(8, 204, 8+d.scale, 204, `stroke-width="2"`)
	d.text(14+d.scale, 207, "start", "1 mm across; heights are not to scale")
	return d.done(width, height, "Arbor section: flange, rings, blade, knife and datum face")
}

// rackSVG shows each blade's cut face before and after its rings against the datum,
// with the tolerance band and a whisker of plus or minus U.
func (s sheet) rackSVG() template.HTML {
	const width, zero, half = 330.0, 230.0, 92.0
	row, letters := s.setting().row, min(11, s.setting().row)
	tolerance := s.profile.Tolerance.Length.Millimetres()
	height := row*float64(len(s.rows)) + 54
	widest := 4 * tolerance
	for _, r := range s.rows {
		widest = math.Max(widest, r.plan.Residual.Abs().Millimetres()+r.plan.Expanded.Millimetres())
	}
	ref, _ := s.plan.Blade(s.plan.Reference)
	before := func(b model.BladePlan) float64 {
		return (b.CutFace - ref.CutFace).Millimetres() - sense(s.profile.Saw.Flange)*ref.Height.Millimetres()
	}
	for _, r := range s.rows {
		widest = math.Max(widest, math.Abs(before(r.plan)))
	}
	if widest == 0 {
		widest = 1
	}
	d := &svg{scale: half / widest, zero: zero, mirrored: s.profile.Saw.FenceSide == model.SideLeft}
	fmt.Fprintf(&d.b, `<rect x="%.1f" y="14" width="%.1f" height="%.1f" fill="#ddd"/>`, d.zero-tolerance*d.scale, 2*tolerance*d.scale, height-52)
	d.line(d.zero, 14, d.zero, height-38, `stroke-dasharray="5 3"`)
	d.text(d.zero, 10, "middle", "datum ± tolerance")
	fmt.Fprintf(&d.b, `<g font-size="%.0f">`, letters)
	for i, r := range s.rows {
		y := 28 + row*float64(i)
		d.text(4, y+letters/3, "start", cut(r.name, int(242/letters)))
		x := d.x(before(r.plan))
		fmt.Fprintf(&d.b, `<circle cx="%.1f" cy="%.1f" r="3.5" fill="#fff" stroke="#111"/>`, x, y)
		at, u := d.x(r.plan.Residual.Millimetres()), r.plan.Expanded.Millimetres()*d.scale
		if r.plan.ID != s.plan.Reference {
			d.line(at-u, y, at+u, y, `stroke-width="2"`)
		}
		fill := "#111"
		if !r.plan.Ready {
			fill = "#fff"
		}
		fmt.Fprintf(&d.b, `<rect x="%.1f" y="%.1f" width="4" height="%.1f" fill="%s" stroke="#111"/>`, at-2, y-letters/2, letters, fill)
	}
	d.b.WriteString("</g>")
	toward := "fence to the right"
	if d.mirrored {
		toward = "fence to the left"
	}
	d.text(4, height-14, "start", "circle: without rings. bar: with them.")
	d.text(4, height-1, "start", "hollow bar: NOT READY. "+toward)
	return d.done(width, height, "Rack: cut faces before and after the rings")
}

// sense is the way in which rings move the cut face, + = toward the fence.
func sense(f model.Flange) float64 {
	if f == model.Near {
		return -1
	}
	return 1
}
