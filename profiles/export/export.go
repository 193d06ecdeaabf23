// Package export tells of a profile and its plan on paper and to other programs: cards,
// labels, a page, a table, JSON, what the other shift has to know. All of it, and the
// closing screen, comes from one Row a blade, and marks a blade that is not ready.
package export

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
)

// Options say how an export reads.
type Options struct {
	BothUnits bool       // lengths in millimetres and in inches
	Now       time.Time  // the date on cards
	Before    model.Plan // for a handover: what was to be said of model.Before(profile)
	Width     int        // for a card or a handover: the columns of its lines; 0: 80
	Papers    []Paper    // for a handover: those that are stale
	Plain     bool       // large letters of # and five rows, for a printer without half blocks
}

// way is one way of handing a profile on.
type way struct {
	write func(io.Writer, sheet) error
	tail  string                 // of the file beside the profile, behind its name
	unit  string                 // what it says of units where it cannot have both
	wrote func(text []byte) bool // whether a text is of this way
}

var ways = map[string]way{
	"yaml":     {func(w io.Writer, s sheet) error { return put(w, text.Format(s.profile)) }, "-copy" + profiles.Extension, "holds lengths as they were typed", never},
	"card":     {func(w io.Writer, s sheet) error { return put(w, s.card()) }, "-card.txt", "", cardForm.Match},
	"labels":   {func(w io.Writer, s sheet) error { return put(w, s.labels()) }, "-labels.txt", "", stamped("+----")},
	"html":     {writeHTML, ".html", "", stamped("<!DOCTYPE html>\n<html lang=\"en\">")},
	"csv":      {writeCSV, ".csv", "", wroteCSV},
	"handover": {func(w io.Writer, s sheet) error { return put(w, s.handover()) }, "-handover.txt", "", stamped("HANDOVER, ")},
	"json":     {func(w io.Writer, s sheet) error { return WritePlanJSON(w, s.profile, s.plan) }, ".json", "has lengths in millimetres", wroteJSON},
}

// Ways lists the ways in which a profile can be exported.
func Ways() []string { return []string{"yaml", "card", "labels", "html", "csv", "json", "handover"} }

// OnScreen lists the ways whose text can be read in a terminal.
func OnScreen() []string { return []string{"card", "labels", "handover"} }

// Write writes a profile for the other shift, the wall, the boxes of the blades or
// a spreadsheet. A blade that is not ready is marked in all of them but yaml, which
// holds readings only. The error says that there is no such way, that it cannot have both
// units, or what kept w from being written.
func Write(w io.Writer, as string, p model.Profile, plan model.Plan, opt Options) error {
	way, ok := ways[as]
	switch {
	case !ok:
		return fmt.Errorf("%q is no way to export: choose %s", text.Show(as), strings.Join(Ways(), ", "))
	case opt.BothUnits && way.unit != "":
		return fmt.Errorf("%s %s: ask for it without both units", as, way.unit)
	}
	return way.write(w, newSheet(p, plan, opt))
}

// columns are those of the lines of a card or a handover.
func (s sheet) columns() int { return cmp.Or(s.opt.Width, cardWidth) }

func put(w io.Writer, s string) error {
	_, err := io.WriteString(w, s)
	return err
}

const (
	notReadyMark = "NOT READY"
	datumName    = 30 // columns that the name of the reference has where it is not a row
)

// sheet is what the cards say, in words, every text harmless.
type sheet struct {
	profile   model.Profile
	plan      model.Plan
	opt       Options
	saw       string
	datum     string
	tolerance string
	width     string
	rows      []Row
}

func newSheet(p model.Profile, plan model.Plan, opt Options) sheet {
	s := sheet{profile: p, plan: plan, opt: opt, rows: Rows(p, plan, opt)}
	s.saw = text.Show(cmp.Or(p.Saw.Label, p.Name))
	s.tolerance, s.width = s.typed(p.Tolerance), s.typed(p.WorkingWidth)
	s.datum = "not chosen yet"
	if plan.Reference != "" {
		s.datum = fitted(text.Show(p.BladeName(plan.Reference)), datumName) + ", " + s.stack(plan.Standing)
		for _, r := range s.rows {
			if r.Reference && !r.Usable {
				s.datum = r.Mark + ": " + s.datum
			}
		}
	}
	return s
}

func (s sheet) typed(m model.Measure) string { return typedWords(m, s.opt.BothUnits) }

func (s sheet) date() string { return s.opt.Now.UTC().Format(day) }

// swapSteps are the seven lines of a blade change.
func (s sheet) swapSteps() []string {
	pitch, width, off := "one pitch", "the working width", "off by more than the tolerance"
	switch of := s.profile.Saw.ThreadPitch; {
	case of.Unit == model.NoUnit:
	case s.profile.Units == model.IN && !s.opt.BothUnits: // as a tape shows it, rounded up
		const least = model.Inch / 64
		pitch = ((of.Length + least - 1) / least * least).Of(model.Fraction).String()
	default:
		pitch = s.typed(of)
	}
	if s.profile.WorkingWidth.Unit != model.NoUnit {
		width = s.width
	}
	if s.profile.Tolerance.Unit != model.NoUnit {
		off = "over " + s.tolerance + " off"
	}
	return []string{
		"Stop, wait for standstill. Plug out by you, or locked, key kept. Start: dead.",
		"Gloves or a rag: blade off. Wipe flange, rings, blade; feel for burrs.",
		"Rings as above, the first at the flange; blade, teeth at the top toward you.",
		"Mark to mark, nut tight, at least " + pitch + " of thread past it.",
		"Knife in line behind the blade. Turn it by hand once: nothing touches.",
		"Throat plate, guard, table clear, people told. Power. First start: no stock.",
		"One strip at " + width + ": " + off + ": stop, isolate.",
	}
}
