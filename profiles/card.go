package profiles

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

const (
	cardWidth  = 80
	labelWidth = 44
)

// card is one sheet of text for the wall, 80 columns wide.
func (s sheet) card() string {
	var b strings.Builder
	line := func(text string) { b.WriteString(strings.TrimRight(text, " ") + "\n") }
	line(ends("BLADES OF "+s.saw, s.stamp(), cardWidth))
	line(strings.Repeat("=", cardWidth))
	for _, pair := range [][2]string{{"Profile", Show(s.profile.Name)}, {"Datum", s.datum}, {"Tolerance", s.tolerance + " either way, compared at " + s.width}, {"Flange", s.flangeWords()}, {"Cut face", "measured from the datum, + toward the fence"}} {
		b.WriteString(labelled(pair[0], pair[1]))
	}
	for _, r := range s.rows {
		line(strings.Repeat("-", cardWidth))
		if r.plan.Ready {
			line(ends(r.name, r.mark, cardWidth))
			b.WriteString(labelled("Rings", r.rings))
		} else {
			line(ends(r.name, "*** "+r.mark+": DO NOT USE ***", cardWidth))
			b.WriteString(labelled("Rings", r.mark+", planned: "+r.rings))
		}
		b.WriteString(labelled("Knife", r.knife))
		b.WriteString(labelled("Mark", "the blade's mark at the arbor's mark"))
		b.WriteString(labelled("Cut face", strings.Join(r.residual, " / ")))
		b.WriteString(labelled("Proved", r.proved))
		for _, why := range r.why {
			b.WriteString(labelled("Why not", why))
		}
	}
	line(strings.Repeat("=", cardWidth))
	line("TO CHANGE A BLADE")
	for i, step := range s.swapSteps() {
		b.WriteString(hanging(fmt.Sprintf("%d. ", i+1), step, cardWidth))
	}
	return b.String()
}

// lengthText is a length in a text, in one unit or both.
var lengthText = regexp.MustCompile(`[\d.]+ (mm|in)\b( / [\d.]+ (mm|in)\b)?`)

// labels is one small block per blade, for its box or for the blade.
func (s sheet) labels() string {
	var b strings.Builder
	rule := "+" + strings.Repeat("-", labelWidth) + "+\n"
	for i, r := range s.rows {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(rule)
		lines := []string{r.name, s.saw + ", " + s.stamp()}
		if r.plan.Ready {
			lines = append(lines, "Rings: "+r.rings)
		} else {
			lines = append(lines, r.mark+": DO NOT USE", r.mark+", planned: "+r.rings)
		}
		if len(r.plan.Stack) > 0 {
			lines = append(lines, "First ring against the flange")
		}
		lines = append(lines, "Knife: "+r.knife, "Proved: "+r.proved)
		for _, text := range lines {
			for _, line := range strings.Split(wrapped(text, labelWidth-2), "\n") {
				b.WriteString("| " + padded(line, labelWidth-2) + " |\n")
			}
		}
		b.WriteString(rule)
	}
	return b.String()
}

// ends sets two texts at both ends of a line; the left one is cut where they would
// touch.
func ends(left, right string, width int) string {
	room := width - ansi.StringWidth(right) - 1
	left = ansi.Truncate(left, room, "...")
	return padded(left, room) + " " + right
}

func padded(s string, width int) string {
	return s + strings.Repeat(" ", max(width-ansi.StringWidth(s), 0))
}

func labelled(label, text string) string {
	return hanging(padded("  "+label, 13), text, cardWidth)
}

// hanging wraps text behind a first word, with the following lines set in as far.
func hanging(first, text string, width int) string {
	in := ansi.StringWidth(first)
	lines := strings.Split(wrapped(text, width-in), "\n")
	return first + strings.Join(lines, "\n"+strings.Repeat(" ", in)) + "\n"
}

const hardSpace = "\u00a0"

// unbroken is text with hard spaces within lengths.
func unbroken(text string) string {
	return lengthText.ReplaceAllStringFunc(text, func(s string) string { return strings.ReplaceAll(s, " ", hardSpace) })
}

// wrapped breaks text at spaces, but not within a length, whose parts a hand may take
// for two.
func wrapped(text string, width int) string {
	lines := strings.Split(ansi.Wrap(unbroken(text), width, " "), "\n")
	for i := range lines {
		lines[i] = strings.TrimSpace(strings.ReplaceAll(lines[i], hardSpace, " "))
	}
	return strings.Join(lines, "\n")
}
