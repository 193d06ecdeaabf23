package export

import (
	"fmt"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver/stacking"
)

// PlanReport is a plan as other programs read it. Lengths are in millimetres, with
// six decimals at most.
type PlanReport struct {
	Name      string        `json:"name"`
	Reference string        `json:"reference"`
	Standing  []float64     `json:"standing_mm"` // flange first
	Blades    []BladeReport `json:"blades"`
	Reasons   []string      `json:"reasons"`
}

// BladeReport is one blade of a PlanReport, lengths in millimetres.
type BladeReport struct {
	ID       string          `json:"id"`
	Basis    model.Basis     `json:"basis"`       // predicted or measured
	Offset   float64         `json:"offset_mm"`   // + = cuts a wider part than the reference
	Expanded float64         `json:"expanded_mm"` // expanded uncertainty of the offset, 95.45 %
	Stack    []float64       `json:"stack_mm"`    // flange first
	Height   float64         `json:"height_mm"`   // of the stack
	Residual float64         `json:"residual_mm"` // + = toward the fence
	Verdict  model.Verdict   `json:"verdict"`
	Ready    bool            `json:"ready"`     // false where it is due
	State    model.Readiness `json:"state"`     // ready, due, check or not-ready
	Due      string          `json:"due"`       // the day from which it is to be proved; empty: never
	ProvedAt string          `json:"proved_at"` // RFC 3339; empty: not yet
	ProvedBy string          `json:"proved_by"`
	Knife    model.KnifeFit  `json:"knife"`
	Reasons  []string        `json:"reasons"`
}

// ReportOf is the plan of a profile as other programs read it.
func ReportOf(p model.Profile, plan model.Plan) PlanReport {
	out := PlanReport{Name: plan.Name, Reference: plan.Reference, Standing: heights(p, plan.Standing), Blades: []BladeReport{}, Reasons: texts(plan.Reasons)}
	for _, r := range Rows(p, plan, Options{}) {
		b := r.Plan
		blade := BladeReport{
			ID: b.ID, Basis: b.Basis, Offset: b.Offset.Millimetres(), Expanded: b.Expanded.Millimetres(),
			Stack: heights(p, b.Stack), Height: b.Height.Millimetres(), Residual: b.Residual.Millimetres(),
			Verdict: b.Verdict, Ready: b.Ready(), State: stateOf(b.State), Due: r.Due, Knife: b.Knife, Reasons: texts(b.Reasons),
		}
		if b.Proved != nil {
			blade.ProvedAt, blade.ProvedBy = b.Proved.At.UTC().Format(time.RFC3339), b.Proved.By
		}
		out.Blades = append(out.Blades, blade)
	}
	return out
}

// stateOf is a state as other programs read it: in a round that is not closed a blade is
// not ready, and its reasons tell.
func stateOf(s model.Readiness) model.Readiness {
	if s == model.StateNotClosed {
		return model.StateNotReady
	}
	return s
}

func heights(p model.Profile, ids []string) []float64 {
	out := []float64{}
	for _, id := range ids {
		r, _ := p.RingByID(id)
		out = append(out, r.Height().Millimetres())
	}
	return out
}

func texts(reasons []model.Reason) []string {
	out := []string{}
	for _, r := range reasons {
		out = append(out, r.Text)
	}
	return out
}

// PlanText is the plan of a profile for people to read at a moment, a few lines a blade.
func PlanText(p model.Profile, plan model.Plan, now time.Time) string {
	var b strings.Builder
	line := func(format string, a ...any) { b.WriteString(text.Show(fmt.Sprintf(format, a...)) + "\n") }
	computed := model.Computed(p.Instruments.Caliper.Length, p.Units)
	show := func(l model.Length) string { return l.Show(p.Units, computed) }
	if p.Saw.Label == "" {
		line("%s", plan.Name)
	} else {
		line("%s, %s", plan.Name, p.Saw.Label)
	}
	if plan.Reference == "" {
		line("reference  not chosen yet")
	} else {
		line("reference  %s, with %s behind it", p.BladeName(plan.Reference), ringList(p, plan.Standing))
	}
	for _, r := range plan.Reasons {
		line("  %s", reasonText(r))
	}
	for _, r := range Rows(p, plan, Options{Now: now}) {
		row := r.Plan
		b.WriteByte('\n')
		line("%s (%s): %s", r.Name, r.Plan.ID, r.Status())
		line("  offset    %s, give or take %s, %s", sideWords(row.Offset, p.Units, computed), show(row.Expanded), row.Basis)
		if row.Knife == model.KnifeFits {
			line("  rings     %s", ringList(p, row.Stack))
			line("  residual  %s: %s", r.Residual[0], strings.ToUpper(string(row.Verdict)))
		} else {
			line("  rings     none go on: it MUST NOT RUN")
		}
		knife := r.Knife
		if row.Knife == model.KnifeFits {
			knife += ", fits"
		}
		line("  knife     %s", knife)
		if r.Proved != "" {
			due := ""
			if r.Due != "" {
				due = ", due " + r.Due
			}
			line("  proved    %s%s", r.Proved, due)
		}
		for _, reason := range row.Reasons {
			line("  %s", reasonText(reason))
		}
	}
	return b.String()
}

// ringList names rings in the order in which they go on.
func ringList(p model.Profile, ids []string) string {
	if len(ids) == 0 {
		return p.RingNames(ids)
	}
	return p.RingNames(ids) + ", flange first"
}

func reasonText(r model.Reason) string {
	return [...]string{"", "careful: ", "DANGER: "}[r.Weight] + r.Text
}

// StackReport is one stack as other programs read it, lengths in millimetres.
type StackReport struct {
	Stack    []float64     `json:"stack_mm"` // flange first
	Height   float64       `json:"height_mm"`
	Residual float64       `json:"residual_mm"` // + = too high
	Verdict  model.Verdict `json:"verdict"`
}

// StackReportOf is a stack as other programs read it.
func StackReportOf(fit stacking.Fit) StackReport {
	out := StackReport{Stack: []float64{}, Height: fit.Height.Millimetres(), Residual: fit.Residual().Millimetres(), Verdict: fit.Verdict}
	for _, h := range fit.Heights() {
		out.Stack = append(out.Stack, h.Millimetres())
	}
	return out
}

// StackText is a stack for people to read, and below it what is missing.
func StackText(fit stacking.Fit, missing []model.Reason, unit model.Unit) string {
	digits := finest(append(fit.Heights(), fit.Height, fit.Want), unit)
	var b strings.Builder
	b.WriteString("no rings\n")
	if len(fit.Rings) > 0 {
		b.Reset()
		b.WriteString("rings, flange first:")
		for _, h := range fit.Heights() {
			b.WriteString(" " + h.Show(unit, digits))
		}
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "height %s, wanted %s: %s\n", fit.Height.Show(unit, digits), fit.Want.Show(unit, digits), strings.ToUpper(string(fit.Verdict)))
	for _, r := range missing {
		b.WriteString(r.Text + "\n")
	}
	return b.String()
}

// finest is the resolution at which all these lengths show whole, two decimals of a
// millimetre or three of an inch at least.
func finest(ls []model.Length, unit model.Unit) model.Length {
	resolution := model.Millimetre / 100
	if unit != model.MM {
		resolution = model.Thou
	}
	for _, l := range ls {
		for resolution > model.Nanometre && l%resolution != 0 {
			resolution /= 10
		}
	}
	return resolution
}

// FindingReport is one finding as other programs read it.
type FindingReport struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Fault   string `json:"fault"`
	Cure    string `json:"cure"`
	Missing bool   `json:"missing"` // not filled in yet
	Doubt   bool   `json:"doubt"`   // it can be read, and is hardly so at any saw
}

// FindingsReport is findings as other programs read them.
func FindingsReport(fs text.Findings) []FindingReport {
	out := []FindingReport{}
	for _, f := range fs {
		out = append(out, FindingReport{f.File, f.Line, f.Column, f.Path, f.Fault, f.Cure, f.Missing, f.Doubt})
	}
	return out
}
