package profiles

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.com/sawdatum/model"
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

// BladeReport is one blade of a PlanReport.
type BladeReport struct {
	ID       string         `json:"id"`
	Basis    model.Basis    `json:"basis"`
	Offset   float64        `json:"offset_mm"`
	Expanded float64        `json:"expanded_mm"`
	Stack    []float64      `json:"stack_mm"` // flange first
	Height   float64        `json:"height_mm"`
	Residual float64        `json:"residual_mm"` // + = toward the fence
	Verdict  model.Verdict  `json:"verdict"`
	Ready    bool           `json:"ready"`
	Knife    model.KnifeFit `json:"knife"`
	Reasons  []string       `json:"reasons"`
}

// ReportOf is the plan of a profile as other programs read it.
func ReportOf(p model.Profile, plan model.Plan) PlanReport {
	out := PlanReport{Name: plan.Name, Reference: plan.Reference, Standing: heights(p, plan.Standing), Blades: []BladeReport{}, Reasons: texts(plan.Reasons)}
	for _, b := range plan.Blades {
		out.Blades = append(out.Blades, BladeReport{
			ID: b.ID, Basis: b.Basis, Offset: b.Offset.Millimetres(), Expanded: b.Expanded.Millimetres(),
			Stack: heights(p, b.Stack), Height: b.Height.Millimetres(), Residual: b.Residual.Millimetres(),
			Verdict: b.Verdict, Ready: b.Ready, Knife: b.Knife, Reasons: texts(b.Reasons),
		})
	}
	return out
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

// PlanText is the plan of a profile for people to read, a few lines a blade.
func PlanText(p model.Profile, plan model.Plan) string {
	var b strings.Builder
	line := func(format string, a ...any) { b.WriteString(Show(fmt.Sprintf(format, a...)) + "\n") }
	computed := p.Instruments.Caliper.Length / 10
	show := func(l model.Length) string { return l.Show(p.Units, computed) }
	if p.Saw.Label == "" {
		line("%s", plan.Name)
	} else {
		line("%s, %s", plan.Name, p.Saw.Label)
	}
	if plan.Reference == "" {
		line("reference  not chosen yet")
	} else {
		line("reference  %s, with %s behind it", bladeLabel(p, plan.Reference), ringList(p, plan.Standing))
	}
	for _, r := range plan.Reasons {
		line("  %s", reasonText(r))
	}
	for _, row := range plan.Blades {
		b.WriteByte('\n')
		ready := "NOT READY"
		if row.Ready {
			ready = "READY"
		}
		line("%s (%s): %s", bladeLabel(p, row.ID), row.ID, ready)
		line("  offset    %s, give or take %s, %s", row.Offset.Signed(p.Units, computed), show(row.Expanded), row.Basis)
		line("  rings     %s", ringList(p, row.Stack))
		line("  residual  %s: %s", row.Residual.Signed(p.Units, computed), strings.ToUpper(string(row.Verdict)))
		line("  knife     %s", strings.ReplaceAll(string(row.Knife), "-", " "))
		for _, r := range row.Reasons {
			line("  %s", reasonText(r))
		}
	}
	return b.String()
}

func bladeLabel(p model.Profile, id string) string {
	if b, ok := p.BladeByID(id); ok && b.Label != "" {
		return b.Label
	}
	return id
}

// ringList names rings in the order in which they go on.
func ringList(p model.Profile, ids []string) string {
	if len(ids) == 0 {
		return "no rings"
	}
	out := make([]string, len(ids))
	for i, id := range ids {
		r, ok := p.RingByID(id)
		if out[i] = id; ok {
			out[i] = r.Thickness.String()
		}
	}
	return strings.Join(out, " + ") + ", flange first"
}

func reasonText(r model.Reason) string {
	return [...]string{"", "careful: ", "DANGER: "}[r.Weight] + r.Text
}

// ExportFile is Export to a file, which is written whole or not at all. An export
// never takes the place of a profile, since records could be lost.
func ExportFile(path, as string, p model.Profile, plan model.Plan, opt ExportOptions) error {
	var out bytes.Buffer
	if err := Export(&out, as, p, plan, opt); err != nil {
		return err
	}
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) && (as == "yaml" || filepath.Ext(path) == extension) {
		return fmt.Errorf("%s: is there already, and an export does not take the place of a profile: choose another name, or bring the two together with import", Show(path))
	}
	return replace(path, out.Bytes(), 0)
}
