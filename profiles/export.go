package profiles

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
)

// ExportOptions say how an export reads.
type ExportOptions struct {
	BothUnits bool      // lengths in millimetres and in inches
	Now       time.Time // the date on cards
}

// way is one way of handing a profile on.
type way struct {
	write func(io.Writer, sheet) error
	tail  string                 // of the file beside the profile, behind its name
	unit  string                 // what it says of units where it cannot have both
	wrote func(text []byte) bool // whether a text is of this way
}

var exports = map[string]way{
	"yaml":   {func(w io.Writer, s sheet) error { return put(w, Format(s.profile)) }, "-copy" + extension, "holds lengths as they were typed", never},
	"card":   {func(w io.Writer, s sheet) error { return put(w, s.card()) }, "-card.txt", "", stamped("BLADES OF ")},
	"labels": {func(w io.Writer, s sheet) error { return put(w, s.labels()) }, "-labels.txt", "", stamped("+----")},
	"html":   {writeHTML, ".html", "", stamped("<!DOCTYPE html>\n<html lang=\"en\">")},
	"csv":    {writeCSV, ".csv", "", wroteCSV},
	"json":   {func(w io.Writer, s sheet) error { return WritePlanJSON(w, s.profile, s.plan) }, ".json", "has lengths in millimetres", wroteJSON},
}

// Exports lists the ways in which a profile can be exported.
func Exports() []string { return []string{"yaml", "card", "labels", "html", "csv", "json"} }

// Export writes a profile for the other shift, the wall, the boxes of the blades or
// a spreadsheet. A blade that is not ready is marked in all of them but yaml, which
// holds readings only.
func Export(w io.Writer, as string, p model.Profile, plan model.Plan, opt ExportOptions) error {
	way, ok := exports[as]
	switch {
	case !ok:
		return fmt.Errorf("%q is no way to export: choose %s", Show(as), strings.Join(Exports(), ", "))
	case opt.BothUnits && way.unit != "":
		return fmt.Errorf("%s %s: ask for it without both units", as, way.unit)
	}
	return way.write(w, newSheet(p, plan, opt))
}

func put(w io.Writer, s string) error {
	_, err := io.WriteString(w, s)
	return err
}

const (
	readyMark    = "READY"
	notReadyMark = "NOT READY"
)

// sheet is what the cards say, in words, every text harmless.
type sheet struct {
	profile   model.Profile
	plan      model.Plan
	opt       ExportOptions
	saw       string
	datum     string
	tolerance string
	width     string
	rows      []row
}

// row is what the cards say about one blade.
type row struct {
	blade    model.Blade
	plan     model.BladePlan
	name     string
	mark     string // READY or NOT READY
	rings    string // flange first
	knife    string
	residual []string // with its uncertainty, in each unit that is wanted
	proved   string
	why      []string // why not ready, the weightiest first
}

func newSheet(p model.Profile, plan model.Plan, opt ExportOptions) sheet {
	s := sheet{profile: p, plan: plan, opt: opt}
	s.saw = Show(cmp.Or(p.Saw.Label, p.Name))
	s.tolerance, s.width = s.typed(p.Tolerance), s.typed(p.WorkingWidth)
	s.datum = "not chosen yet"
	if plan.Reference != "" {
		s.datum = fmt.Sprintf("the cut face of the %s with %s behind it", s.name(plan.Reference), s.rings(plan.Standing))
		if ref, _ := plan.Blade(plan.Reference); !ref.Ready {
			s.datum = notReadyMark + ": " + s.datum
		}
	}
	for _, b := range plan.Blades {
		s.rows = append(s.rows, s.row(b))
	}
	return s
}

func (s sheet) row(b model.BladePlan) row {
	blade, _ := s.profile.BladeByID(b.ID)
	r := row{blade: blade, plan: b, name: s.name(b.ID), mark: notReadyMark, rings: s.rings(b.Stack), knife: s.knife(blade, b), proved: "not yet"}
	r.residual = s.spread(b.Residual, b.Expanded)
	if b.ID == s.plan.Reference {
		r.residual = []string{"the datum"}
	}
	if b.Proved != nil {
		r.proved = b.Proved.At.UTC().Format("2006-01-02") + " " + Show(b.Proved.By)
	}
	if b.Ready {
		r.mark = readyMark
		return r
	}
	r.why = whyNot(b.Reasons)
	return r
}

// whyNot is what keeps a blade from being ready, the weightiest first. Where nothing
// weighs, it is that no cut has proved it yet.
func whyNot(reasons []model.Reason) []string {
	var why []string
	rest := ""
	for _, weight := range []model.Weight{model.Danger, model.Warns, model.Explains} {
		for _, r := range reasons {
			switch {
			case r.Weight != weight:
			case weight > model.Explains:
				why = append(why, Show(r.Text))
			case rest == "" && r.Code != "knife-fits" || r.Code == "needs-cut":
				rest = Show(r.Text)
			}
		}
	}
	if len(why) == 0 && rest != "" {
		why = []string{rest}
	}
	return why
}

// name is what a blade is called, made harmless.
func (s sheet) name(id string) string {
	return Show(s.profile.BladeName(id))
}

// rings names a stack, flange first, as the screens do; by their ids too where two
// sorts have one thickness.
func (s sheet) rings(ids []string) string {
	if len(ids) == 0 {
		return "no rings"
	}
	words := make([]string, len(ids))
	for i, id := range ids {
		words[i] = Show(id)
		if r, ok := s.profile.RingByID(id); ok {
			words[i] = s.both(r.Label(), r.Thickness.Length, r.Thickness.Unit == model.MM)
			if slices.ContainsFunc(s.profile.Rings, func(o model.Ring) bool { return o.ID != id && o.Label() == r.Label() }) {
				words[i] += " (" + Show(id) + ")"
			}
		}
	}
	return strings.Join(words, " + ")
}

func (s sheet) knife(blade model.Blade, b model.BladePlan) string {
	k, ok := s.profile.KnifeByID(blade.Knife)
	if !ok {
		return "NONE"
	}
	words := Show(k.ID) + " (" + s.typed(k.Thickness) + ")"
	switch b.Knife {
	case model.KnifeTooThick:
		return words + " TOO THICK"
	case model.KnifeTooThin:
		return words + " TOO THIN"
	}
	return words
}

// typed is a length as it was typed, with the other unit where both are wanted.
func (s sheet) typed(m model.Measure) string {
	if m.Unit == model.NoUnit {
		return "not given"
	}
	return s.both(m.String(), m.Length, m.Unit == model.MM)
}

// spread is a residual with its uncertainty, one digit finer than a caliper shows.
func (s sheet) spread(residual, expanded model.Length) []string {
	in := func(unit model.Unit, digit model.Length) string {
		value, _, _ := strings.Cut(residual.Signed(unit, digit), " ")
		return value + " +- " + expanded.Show(unit, digit)
	}
	out := []string{in(model.MM, model.Millimetre/1000), in(model.IN, model.Inch/10_000)}
	if s.profile.Units == model.IN {
		slices.Reverse(out)
	}
	if !s.opt.BothUnits {
		return out[:1]
	}
	return out
}

func (s sheet) both(text string, l model.Length, metric bool) string {
	switch {
	case !s.opt.BothUnits:
		return text
	case metric:
		return text + " / " + l.Show(model.IN, model.Inch/10_000)
	}
	return text + " / " + l.Show(model.MM, model.Millimetre/1000)
}

func (s sheet) date() string { return s.opt.Now.UTC().Format("2006-01-02") }

// flangeWords says where the fixed flange is.
func (s sheet) flangeWords() string {
	switch s.profile.Saw.Flange {
	case model.Far:
		return "on the side away from the fence"
	case model.Near:
		return "on the fence side"
	}
	return "not given"
}

// swapSteps are the seven lines of a blade change.
func (s sheet) swapSteps() []string {
	pitch := "at least one pitch of thread"
	if s.profile.Saw.ThreadPitch.Unit != model.NoUnit {
		pitch = "at least " + s.typed(s.profile.Saw.ThreadPitch) + " of thread"
	}
	return []string{
		"Switch off, wait for standstill, isolate: plug out, or disconnect locked and key kept. Press start: the saw must stay dead.",
		"Blade off, held by gloves or a rag. Wipe flange, rings and blade clean; feel for burrs.",
		"Rings on as listed: the first against the flange, the last next to the blade.",
		"Blade on, its mark at the arbor's mark. Nut tight, with " + pitch + " showing.",
		"The knife listed stands behind the blade. Turn the blade by hand: nothing touches.",
		"Throat plate closed, table clear, everybody told, guard on. Only then power back.",
		"Cut a piece and measure it. Off by more than " + s.tolerance + ": stop, isolate, find out why.",
	}
}
