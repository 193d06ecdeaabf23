package profiles

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
)

// shop is the invented shop with a plan in which the rip blade alone is ready.
func shop() (model.Profile, model.Plan) {
	p := chosenDemo()
	proof := model.Record{At: at(0), By: "KB", Kind: model.BladeCut, Blade: "rip-24"}
	plan := model.Plan{Name: p.Name, Reference: "general-48", Standing: []string{"r10"}, StandingHeight: 101_000}
	for _, b := range p.Blades {
		plan.Blades = append(plan.Blades, model.BladePlan{ID: b.ID, Basis: model.Predicted, Stack: []string{"r15", "r50"}, Height: 650_000, Residual: 12_000, Expanded: 8_000, Verdict: model.In, Knife: model.KnifeFits, CutFace: 2_600_000,
			Reasons: []model.Reason{{Code: "needs-cut", Weight: model.Explains, Text: "has not been cut"}, {Code: "x", Weight: model.Danger, Text: "the knife does not fit"}}})
	}
	plan.Blades[1].Ready, plan.Blades[1].Proved, plan.Blades[1].Reasons = true, &proof, nil
	plan.Blades[4].Knife = model.KnifeTooThick
	return p, plan
}

func export(t *testing.T, as string, p model.Profile, plan model.Plan, both bool) string {
	t.Helper()
	var b bytes.Buffer
	if err := Export(&b, as, p, plan, ExportOptions{BothUnits: both, Now: at(0)}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestCardsFitAndMarkWhatIsNotReady(t *testing.T) {
	p, plan := shop()
	for _, as := range []string{"card", "labels"} {
		text := export(t, as, p, plan, true)
		blade, stacks := "", 0
		for _, line := range strings.Split(text, "\n") {
			if w := ansi.StringWidth(line); w > cardWidth {
				t.Errorf("%s: a line of %d columns: %s", as, w, line)
			}
			for _, b := range p.Blades {
				if strings.Contains(line, b.Label) {
					blade = b.ID
				}
			}
			if !strings.Contains(line, "0.15 mm / 0.0059 in") {
				continue
			}
			if stacks++; (blade != "rip-24") != strings.Contains(line, notReadyMark) {
				t.Errorf("%s: rings of %s: %s", as, blade, line)
			}
		}
		if stacks != 5 {
			t.Errorf("%s: the rings of %d blades, five have some", as, stacks)
		}
		if n := strings.Count(text, "DO NOT USE"); n != 4 {
			t.Errorf("%s: %d blades marked, 4 are not ready", as, n)
		}
		if as == "card" && !strings.Contains(text, "  Cut face   +0.012 +- 0.008 mm / +0.0005 +- 0.0003 in\n") { // 0.012 / 25.4, 0.008 / 25.4 [computed]
			t.Errorf("residual and uncertainty:\n%s", text)
		}
		if !strings.Contains(text, "2026-03-02 KB") {
			t.Errorf("%s: who proved it is not there:\n%s", as, text)
		}
	}
	card := export(t, "card", p, plan, false)
	_, steps, _ := strings.Cut(card, "TO CHANGE A BLADE\n")
	if !strings.HasPrefix(steps, "1. Switch off, wait for standstill, isolate") || strings.Contains(steps, "8. ") || !strings.Contains(steps, "7. ") {
		t.Errorf("seven lines, isolation first:\n%s", steps)
	}
	if !strings.Contains(card, "  Datum      NOT READY: the cut face of the 48-tooth general with 0.10 mm behind\n") || !strings.Contains(string(newSheet(p, plan, ExportOptions{}).arborSVG()), notReadyMark) {
		t.Errorf("the rings of a reference that is not ready stand without that mark:\n%s", card)
	}
	plan.Blades[0].Ready = true
	if ready := newSheet(p, plan, ExportOptions{}); strings.Contains(ready.datum+string(ready.arborSVG()), notReadyMark) {
		t.Error("a reference that is ready bears the mark of one that is not")
	}
	p.Rings = append(slices.Clone(p.Rings), model.Ring{ID: "r15-wide", Thickness: mm(150_000), Count: 1})
	if twins := export(t, "card", p, plan, false); !strings.Contains(twins, "0.15 mm (r15) + 0.50 mm") {
		t.Errorf("two sorts of one thickness are not told apart:\n%s", twins)
	}
	if strings.Contains(card, " in\n") || strings.Contains(card, "/ 0.0") {
		t.Error("inches were not asked for")
	}
}

// TestWhyNotIsTheWeightiest: without anything weighty it is that no cut has proved the
// blade yet, not what else explains its figures.
func TestWhyNotIsTheWeightiest(t *testing.T) {
	fits, lies, cut := model.Reason{Code: "knife-fits", Text: "fits"}, model.Reason{Code: "predicted", Text: "lies at the datum"}, model.Reason{Code: "needs-cut", Text: "no cut yet"}
	warns, danger := model.Reason{Weight: model.Warns, Text: "moved\x1b"}, model.Reason{Weight: model.Danger, Text: "wedges"}
	for want, reasons := range map[string][]model.Reason{
		"no cut yet":        {fits, lies, cut},
		"lies at the datum": {fits, lies},
		"":                  {fits},
		`wedges|moved\x1b`:  {lies, warns, danger, cut},
	} {
		if got := strings.Join(whyNot(reasons), "|"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestDrawingsStayInside: a high standing stack draws the arbor in a smaller scale.
func TestDrawingsStayInside(t *testing.T) {
	numbers := regexp.MustCompile(`<rect x="([-0-9.]+)" y="[-0-9.]+" width="([0-9.]+)"`)
	p, plan := shop()
	for range 6 {
		p.Rings = append(p.Rings, model.Ring{ID: fmt.Sprint("r", len(p.Rings)), Thickness: mm(2_000_000), Count: 1})
		plan.Blades[0].Stack = append(plan.Blades[0].Stack, p.Rings[len(p.Rings)-1].ID)
		plan.Blades[0].Height += 2_000_000
	}
	for _, flange := range []model.Flange{model.Far, model.Near} {
		for _, side := range []model.Side{model.SideLeft, model.SideRight} {
			p.Saw.Flange, p.Saw.FenceSide = flange, side
			drawn := string(newSheet(p, plan, ExportOptions{}).arborSVG())
			if n := strings.Count(drawn, "<rect"); n < 10 {
				t.Fatalf("%d parts drawn", n)
			}
			for _, m := range numbers.FindAllStringSubmatch(drawn, -1) {
				from, _ := strconv.ParseFloat(m[1], 64)
				width, _ := strconv.ParseFloat(m[2], 64)
				if from < -1 || from+width > 331 {
					t.Errorf("%s flange, fence %s: %s is outside", flange, side, m[0])
				}
			}
		}
	}
}

func TestCSVHasOneRowABladeAndNoFormula(t *testing.T) {
	p, plan := shop()
	p.Blades[0].Label = "=HYPERLINK(\"http://x\")"
	p.Blades[1].Label = "  +1+1"
	p.Blades[2].Label = "@SUM(A1)"
	p.Blades[3].Label = "-2,\"3\""
	p.Blades[4].Label = "thin; =1+1;＝2;\u3000＋3;－4;＠5"
	plan.Blades[0].Reasons[1].Text = "=cmd|' /C calc'!A0"
	rows, err := csv.NewReader(strings.NewReader(export(t, "csv", p, plan, true))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 6 {
		t.Fatalf("%d rows for five blades and a head", len(rows))
	}
	for i, row := range rows[1:] {
		for j, cell := range row {
			number := strings.HasSuffix(rows[0][j], "_mm") || strings.HasSuffix(rows[0][j], "_in")
			for _, part := range strings.Split(cell, ";") { // what some take for cells of their own
				if first, _ := utf8.DecodeRuneInString(strings.TrimSpace(part)); !number && first != utf8.RuneError && strings.ContainsRune("=+-@＝＋－＠", first) {
					t.Errorf("row %d: a formula: %s", i, cell)
				}
			}
		}
		want := notReadyMark
		if i == 1 {
			want = readyMark
		}
		if row[2] != want {
			t.Errorf("%s is %s, want %s", row[0], row[2], want)
		}
	}
	if rows[2][6] != "0.012" || rows[2][7] != "0.008" || rows[2][14] != "0.02559" { // 0.65 mm / 25.4 [computed]
		t.Errorf("figures: %v", rows[2])
	}
}

func TestJSONHasWhatTheDesignNames(t *testing.T) {
	p, plan := shop()
	var got map[string]any
	if err := json.Unmarshal([]byte(export(t, "json", p, plan, false)), &got); err != nil {
		t.Fatal(err)
	}
	for _, k := range []string{"name", "reference", "standing_mm", "blades"} {
		if got[k] == nil {
			t.Errorf("no %s", k)
		}
	}
	blade := got["blades"].([]any)[0].(map[string]any)
	for _, k := range []string{"id", "basis", "offset_mm", "expanded_mm", "stack_mm", "height_mm", "residual_mm", "verdict", "ready", "knife", "reasons"} {
		if blade[k] == nil {
			t.Errorf("no blades[].%s", k)
		}
	}
	if s := blade["stack_mm"].([]any); s[0] != 0.149 || s[1] != 0.501 || blade["ready"] != false {
		t.Errorf("stack %v, ready %v", s, blade["ready"])
	}
}

func TestYAMLReadsBack(t *testing.T) {
	p, plan := shop()
	p.Records = everyKind()
	back, findings := Parse("export", []byte(export(t, "yaml", p, plan, false)))
	if len(findings) > 0 || !sameProfile(back, p) {
		t.Error(findings)
	}
}

func TestPageIsWholeAndNeedsNothing(t *testing.T) {
	p, plan := shop()
	for _, side := range []model.Side{model.SideLeft, model.SideRight} {
		for _, flange := range []model.Flange{model.Far, model.Near} {
			p.Saw.FenceSide, p.Saw.Flange = side, flange
			text := export(t, "html", p, plan, true)
			wellFormed(t, text)
			for _, outside := range []string{"http:", "https:", "src=", "href=", "url(", "@import", "<script"} {
				if strings.Contains(strings.ReplaceAll(text, `xmlns="http://www.w3.org/2000/svg"`, ""), outside) {
					t.Errorf("the page reaches out: %s", outside)
				}
			}
			if n := strings.Count(text, "<b>NOT READY</b>, planned: 0.15\u00a0mm"); n != 4 || strings.Count(text, "<svg") != 2 {
				t.Errorf("%d marked, 4 are not ready", n)
			}
		}
	}
}

// wellFormed holds a page to the rules of XML, which finds any tag that a text opened.
func wellFormed(t *testing.T, text string) (tags []string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	d.Strict, d.AutoClose = true, []string{"meta"}
	d.Entity = xml.HTMLEntity
	for {
		token, err := d.Token()
		if err == io.EOF {
			return tags
		}
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if s, ok := token.(xml.StartElement); ok {
			tags = append(tags, s.Name.Local)
		}
	}
}

func TestUnknownExportNamesTheOthers(t *testing.T) {
	p, plan := shop()
	err := Export(io.Discard, "pdf", p, plan, ExportOptions{Now: time.Now()})
	if err == nil || !strings.Contains(err.Error(), "yaml, card, labels, html, csv, json") {
		t.Error(err)
	}
}
