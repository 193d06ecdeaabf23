package wizard

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// bladeRow is what the closing screen says about one blade.
type bladeRow struct {
	Blade    string
	Rings    string // flange first
	Knife    string
	Residual string // with its uncertainty
	Verdict  string
	Proved   string // when and by whom
	Ready    bool
	Reasons  []string // why not ready
}

func bladeRows(p procedure.Procedure) []bladeRow {
	profile, plan := p.Profile(), p.Plan()
	unit, digit := profile.Units, profile.Instruments.Caliper.Length/10
	rows := make([]bladeRow, 0, len(plan.Blades))
	for _, b := range plan.Blades {
		blade, _ := profile.BladeByID(b.ID)
		k, _ := profile.KnifeByID(blade.Knife)
		row := bladeRow{
			Blade: profile.BladeName(b.ID), Rings: profile.RingNames(b.Stack), Ready: b.Ready,
			Verdict: strings.ToUpper(string(b.Verdict)), Proved: "not yet",
			Knife:    knifeFitWords(b.Knife, k),
			Residual: fmt.Sprintf("%s ± %s", b.Residual.Signed(unit, digit), b.Expanded.Show(unit, digit)),
		}
		switch {
		case b.ID == plan.Reference:
			row.Verdict, row.Residual, row.Proved = "REFERENCE", "the datum", ""
		case !b.Ready && b.Basis == model.Predicted:
			row.Verdict = "NOT READY"
		case !b.Ready:
			row.Verdict = "NOT READY, " + row.Verdict
		}
		if b.Proved != nil {
			row.Proved = b.Proved.At.UTC().Format("2006-01-02") + " " + b.Proved.By
		}
		if !b.Ready {
			for _, r := range whyNot(b.Reasons) {
				row.Reasons = append(row.Reasons, reasonLine(r))
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// whyNot are the reasons of a blade that is not ready, the gravest first, without what is
// right about it.
func whyNot(reasons []model.Reason) []model.Reason {
	out := slices.DeleteFunc(slices.Clone(reasons), func(r model.Reason) bool { return r.Code == "knife-fits" })
	slices.SortStableFunc(out, func(a, b model.Reason) int { return int(b.Weight) - int(a.Weight) })
	return out
}

func knifeFitWords(fit model.KnifeFit, k model.Knife) string {
	thickness := k.Thickness.String()
	switch fit {
	case model.KnifeFits:
		return thickness
	case model.KnifeNone:
		return "none"
	case model.KnifeTooThick:
		return thickness + " TOO THICK"
	default:
		return thickness + " TOO THIN"
	}
}

// closingSentences read the table of blades row by row.
func closingSentences(p procedure.Procedure) []string {
	var out []string
	for _, r := range bladeRows(p) {
		ready := ""
		if r.Ready {
			ready = "ready, "
		}
		s := fmt.Sprintf("Blade %s: %s%s. Rings: %s. Knife: %s. From the datum: %s.", r.Blade, ready, r.Verdict, r.Rings, r.Knife, strings.ReplaceAll(r.Residual, "±", "plus or minus"))
		if r.Proved != "" {
			s += " Proved: " + r.Proved + "."
		}
		out = append(out, s)
		for _, reason := range r.Reasons {
			out = append(out, "Why not ready: "+reason)
		}
	}
	return append(append(out, legend), outlook(p)...)
}

// legend tells how the table of blades is meant.
const legend = "Rings are listed flange first. The figure is the cut face from the datum, + toward the fence."

// tableWidth is what the table of blades needs to have one line a blade.
const tableWidth = 106

// closing is the table of blades with what is not ready and why, below the picture of
// the rack where both have room. What has no room is read on with the page keys.
func (s step) closing(w, h int) []string {
	lines := s.blades(w)
	for _, text := range append(outlook(s.job.procedure), s.job.staleSentences()...) {
		lines = append(lines, wrapped("  ", text, min(w, textWidth), s.look.warn)...)
	}
	lines = append(lines, "")
	lines = append(lines, wrapped("", kept(s.job.store, s.job.saw != nil, false), w, s.look.dim)...)
	if room := h - len(lines) - 1; room >= leastPicture {
		if pic := s.picture(w, min(room, len(s.job.procedure.Plan().Blades)+8)); pic != nil {
			lines = append(append(pic, ""), lines...)
		}
	}
	if len(lines) <= h {
		return lines
	}
	room := max(1, h-1)
	top := min(s.top, len(lines)-room)
	more := s.look.dim.Render(fmt.Sprintf("lines %d to %d of %d: page up and page down read on", top+1, top+room, len(lines)))
	return append(append([]string{}, lines[top:top+room]...), more)
}

func (s step) blades(w int) []string {
	rows := bladeRows(s.job.procedure)
	var lines []string
	var widest, blade, rings, residual int
	for _, r := range rows {
		widest, blade = max(widest, cells(r.Verdict)), max(blade, cells(r.Blade))
		rings, residual = max(rings, cells(r.Rings)), max(residual, cells(r.Residual))
	}
	left := func(text string, n int) string { return text + strings.Repeat(" ", max(0, n-cells(text))) }
	for _, r := range rows {
		mark, verdict := s.look.good.Render(s.look.done), s.look.good.Render(r.Verdict)
		if !r.Ready {
			mark, verdict = s.look.warn.Render(s.look.careful), s.look.warn.Render(r.Verdict)
		}
		knife := "knife " + r.Knife
		cells := []string{mark + " " + left(verdict, widest), left(r.Blade, blade), left(r.Rings, rings), right(r.Residual, residual), knife, r.Proved}
		if w >= tableWidth {
			lines = append(lines, wrapped("", strings.TrimRight(strings.Join(cells, "  "), " "), w, brush{})...)
		} else {
			lines = append(lines, wrapped(cells[0]+"  ", r.Blade, w, brush{})...)
			lines = append(lines, wrapped("    ", strings.Join([]string{r.Rings, knife, r.Residual, r.Proved}, "  "), w, brush{})...)
		}
		for _, reason := range r.Reasons {
			style := s.look.warn
			if strings.HasPrefix(reason, "DANGER") {
				style = s.look.danger
			}
			lines = append(lines, wrapped("    ", reason, min(w, textWidth), style)...)
		}
	}
	return append(lines, wrapped("", legend, w, s.look.dim)...)
}
