package export

import (
	"strconv"
	"strings"

	"example.com/sawdatum/model"
)

// Columns of the card and of a label, and how many of them the large letters take.
const (
	cardWidth   = 80
	labelWidth  = 44
	teethWidth  = 14
	smallWidth  = 32
	betweenRing = 3
	labelTeeth  = 12
	afterXXX    = teethWidth + 14 // where the reason of a blade begins that is not to be used
)

// What a paper says of a blade that is not to be used; and of one that wants its knife checked
// alone, as after each swap to another knife: the next swap to it has that done.
const (
	doNotUse       = "DO NOT USE"
	knifeCheckOnly = "NOT BEFORE ITS KNIFE CHECK, which a swap to it (sawdatum swap) includes"
)

// card is one sheet of text for the wall, 80 columns wide where it is not for a screen, to be read from two metres: at
// most 60 lines for twelve blades of up to two rings, in half blocks.
func (s sheet) card() string {
	var b strings.Builder
	line := func(text string) { b.WriteString(strings.TrimRight(text, " ") + "\n") }
	heavy, light := strings.Repeat("━", s.columns()), strings.Repeat("─", s.columns())
	if s.opt.Plain {
		heavy, light = strings.Repeat("=", s.columns()), strings.Repeat("-", s.columns())
	}
	line(ends(strings.ToUpper(s.saw), s.stamp(), s.columns()))
	line(wrapped("datum: "+s.datum+"; tolerance "+s.tolerance, s.columns()))
	line(padded("TEETH", teethWidth) + padded("RINGS, "+s.profile.Units.Label()+", flange first", s.ringsWidth()) + "BLADE, KNIFE; MARK TO MARK")
	line(heavy)
	for i, r := range s.rows {
		block := s.cardBlock(r)
		for _, text := range block {
			line(text)
		}
		if i < len(s.rows)-1 && len(block) <= s.letterRows() {
			line(light)
		}
	}
	line(heavy)
	for i, step := range s.swapSteps() {
		b.WriteString(hanging(strconv.Itoa(i+1)+" ", step, s.columns()))
	}
	return b.String()
}

// ringsWidth is what stands between teeth and small print.
func (s sheet) ringsWidth() int { return s.columns() - teethWidth - smallWidth }

func (s sheet) letterRows() int {
	if s.opt.Plain {
		return 5
	}
	return 3
}

// cardBlock is what the card tells of a blade: teeth and rings large where it may be used,
// else XXX and why.
func (s sheet) cardBlock(r Row) []string {
	large := s.panel(r, teethWidth, teethWidth+s.ringsWidth()-1)
	if !r.Usable {
		large = lay(large, []string{fitted(r.Name, smallWidth)}, 0, teethWidth+s.ringsWidth())
		return lay(large, clipped(s.reason(r), s.columns()-afterXXX, s.letterRows()-1), 1, afterXXX)
	}
	small := []string{fitted(r.Name, smallWidth)}
	knife := "knife " + r.Knife
	if s.opt.BothUnits {
		small = append(small, knife, residualShort(r), provedWords(r)) // the line of the rings' notes tells of no length
	} else {
		small = append(small, knife+", "+residualShort(r), provedWords(r))
	}
	return lay(large, small, 0, teethWidth+s.ringsWidth())
}

// Not says that a blade is not to be used, and what it is; for one that is usable it means nothing.
func (r Row) Not() string {
	if r.Plan.KnifeOnly {
		return knifeCheckOnly
	}
	return doNotUse + ", " + r.Mark
}

// reason is why a blade is not to be used, the weightiest reason alone.
func (s sheet) reason(r Row) string {
	if why := r.because(); why != "" {
		return r.Not() + ": " + why
	}
	return r.Not()
}

// because is the weightiest reason; of a blade that wants its knife checked without the swap that does it, of
// which Not tells.
func (r Row) because() string {
	if len(r.Why) == 0 {
		return ""
	}
	why := r.Why[0].Text
	if r.Plan.KnifeOnly {
		why, _, _ = strings.Cut(why, ": ")
	}
	return why
}

// provedWords say who proved a blade when, and from when that is to be done again.
func provedWords(r Row) string {
	out := "not proved"
	if day, by, _ := strings.Cut(r.Proved, " "); r.Proved != "" {
		out = by + " " + day
	}
	switch {
	case r.Plan.State == model.StateDue:
		out += ", DUE " + r.Due
	case r.Due != "":
		out += ", due " + r.Due
	}
	return out
}

// residualShort is by how much a part comes out wide or narrow, without its uncertainty.
func residualShort(r Row) string {
	if r.Reference {
		return "REFERENCE"
	}
	var sizes []string
	side := ""
	for _, in := range r.Residual {
		size, _, _ := strings.Cut(in, " +-")
		for _, word := range []string{" wide", " narrow"} {
			if bare, ok := strings.CutSuffix(size, word); ok {
				size, side = bare, word
			}
		}
		sizes = append(sizes, size)
	}
	return strings.Join(sizes, " / ") + side
}

// labels is one block per blade, for its box or for the blade.
func (s sheet) labels() string {
	blocks := make([]string, len(s.rows))
	for i, r := range s.rows {
		rule := "+" + strings.Repeat("-", labelWidth) + "+\n"
		blocks[i] = rule
		for _, text := range s.label(r) {
			blocks[i] += "| " + padded(text, labelWidth-2) + " |\n"
		}
		blocks[i] += rule
	}
	return strings.Join(blocks, "\n")
}

// label is what the box of a blade tells, in lines.
func (s sheet) label(r Row) []string {
	const inside = labelWidth - 2
	text := func(lines []string, of ...string) []string {
		return append(lines, strings.Split(wrapped(strings.Join(of, ", "), inside), "\n")...)
	}
	lines := text(text(nil, r.Name), s.saw)
	lines = append(lines, "", padded("TEETH", labelTeeth)+"RINGS, "+s.profile.Units.Label()+", flange first")
	lines = append(lines, s.panel(r, labelTeeth, inside)...)
	lines = append(lines, "")
	if r.Usable {
		lines = text(lines, "knife "+r.Knife, "mark to mark", "dia "+s.typed(r.Blade.Diameter))
		lines = text(text(lines, provedWords(r)), strings.Join(r.Residual, " / "))
	} else {
		lines = text(lines, s.reason(r))
	}
	return text(lines, s.stamp())
}
