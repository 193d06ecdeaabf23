package export

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// millimetres is a length in millimetres as a number without its unit, exact.
func millimetres(l model.Length) string { return strings.TrimSuffix(l.Of(model.MM).String(), " mm") }

// WritePlanJSON writes a plan as JSON, as ReportOf has it.
func WritePlanJSON(w io.Writer, p model.Profile, plan model.Plan) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(ReportOf(p, plan))
}

// csvHead names the columns.
func csvHead(both bool) []string {
	head := []string{"blade", "label", "status", "rings", "height_mm", "knife", "residual_mm", "expanded_mm", "verdict", "proved_at", "proved_by", "due", "diameter_mm", "teeth", "why_not_ready"}
	if both {
		head = append(head, "height_in", "residual_in", "expanded_in", "diameter_in")
	}
	return head
}

// writeCSV writes one row a blade; of an inch shop always in both units.
func writeCSV(w io.Writer, s sheet) error {
	c := csv.NewWriter(w)
	both := s.opt.BothUnits || s.profile.Units == model.IN
	if err := c.Write(csvHead(both)); err != nil {
		return err
	}
	for _, r := range s.rows {
		b := r.Plan
		by, when := "", ""
		var why []string
		for _, reason := range r.Why {
			why = append(why, reason.Text)
		}
		if b.Proved != nil {
			when, by = b.Proved.At.UTC().Format(time.RFC3339), b.Proved.By
		}
		rings := ""
		if len(b.Stack) > 0 {
			rings = s.profile.RingNames(b.Stack)
		}
		cells := []string{harmless(b.ID), harmless(r.Name), r.Mark, harmless(rings), millimetres(b.Height), harmless(s.profile.KnifeName(r.Blade.Knife)), millimetres(b.Residual), millimetres(b.Expanded),
			harmless(string(b.Verdict)), when, harmless(by), r.Due, millimetres(r.Blade.Diameter.Length), strconv.Itoa(r.Blade.Teeth), harmless(strings.Join(why, "; "))}
		if both {
			for _, l := range []model.Length{b.Height, b.Residual, b.Expanded, r.Blade.Diameter.Length} {
				cells = append(cells, strings.TrimSuffix(l.Show(model.IN, model.Inch/100_000), " in"))
			}
		}
		if err := c.Write(cells); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}

// harmless is a text that no spreadsheet reads as a formula: a text that begins with one of
// = + - @ (full-width ones too, and behind white space) gets an apostrophe before it. A
// spreadsheet may take a semicolon for the end of a cell, so each part is looked at.
func harmless(s string) string {
	cells := strings.Split(text.Show(s), ";")
	for i, cell := range cells {
		if r, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(cell, func(r rune) bool { return r == '\'' || unicode.IsSpace(r) })); strings.ContainsRune("=+-@|%＝＋－＠", r) {
			cells[i] = "'" + cell
		}
	}
	return strings.Join(cells, ";")
}
