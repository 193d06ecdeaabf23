package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/testdata/sample"
)

var at, mm, note = sample.At, sample.MM, sample.Note

// chosenDemo is the invented shop with its datum chosen.
func chosenDemo() model.Profile { return sample.Chosen(profiles.Demo()) }

func bytesOf(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// shop is the invented shop with a plan in which the rip blade alone is ready.
func shop() (model.Profile, model.Plan) {
	p := chosenDemo()
	proof := model.Record{At: at(0), By: "KB", Kind: model.StripCut, Blade: "rip-24"}
	plan := model.Plan{Name: p.Name, Reference: "general-48", Standing: []string{"r10"}, StandingHeight: 101_000}
	for _, b := range p.Blades {
		plan.Blades = append(plan.Blades, model.BladeRow{ID: b.ID, Basis: model.Predicted, State: model.StateNotReady, Stack: []string{"r15", "r50"}, Height: 650_000, Residual: 12_000, Expanded: 8_000, Verdict: model.In, Knife: model.KnifeFits, CutFace: 2_600_000,
			Reasons: []model.Reason{{Code: "needs-strips", Weight: model.Explains, Text: "has not been cut"}, {Code: "x", Weight: model.Danger, Text: "the knife does not fit"}}})
	}
	rip := &plan.Blades[1]
	rip.State, rip.Basis, rip.Proved, rip.ProvedAt, rip.Due, rip.Reasons = model.StateReady, model.Measured, &proof, proof.At, proof.At.AddDate(0, 0, 30), nil
	plan.Blades[4].Knife, plan.Blades[4].Offset = model.KnifeTooThick, 30_000
	return p, plan
}

func written(t *testing.T, as string, p model.Profile, plan model.Plan, both bool) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, as, p, plan, Options{BothUnits: both, Now: at(0)}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestCardsFitAndMarkWhatIsNotReady(t *testing.T) {
	p, plan := shop()
	for _, as := range []string{"card", "labels"} {
		text := written(t, as, p, plan, true)
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
			if !strings.Contains(line, "0.0059 0.0197 in") { // 0.15 and 0.5 mm / 25.4 [computed]
				continue
			}
			if as == "card" && strings.Count(line, " in") > 1 {
				t.Errorf("%s: what the rings are stands on the line of another length: %s", as, line)
			}
			if stacks++; blade != "rip-24" {
				t.Errorf("%s: rings of %s, which is not to be used: %s", as, blade, line)
			}
		}
		if stacks != 1 {
			t.Errorf("%s: the rings of %d blades, one may be used", as, stacks)
		}
		if n := strings.Count(text, "DO NOT USE"); n != 4 {
			t.Errorf("%s: %d blades marked, 4 are not ready", as, n)
		}
		if as == "card" && !strings.Contains(text, "0.012 mm / 0.0005 in narrow\n") { // 0.012 / 25.4 [computed]
			t.Errorf("residual and uncertainty:\n%s", text)
		}
		if !strings.Contains(text, "KB 2026-03-02, due 2026-04-01") {
			t.Errorf("%s: who proved it is not there:\n%s", as, text)
		}
	}
	if page := written(t, "html", p, plan, true); !strings.Contains(page, "; rings: 0.0059 0.0197\u00a0in") {
		t.Error("the page does not say that these lengths are of the rings")
	}
	if text := PlanText(p, plan, at(0)); strings.Contains(text, "+0") {
		t.Errorf("a sign where a word belongs:\n%s", text)
	}
	card := written(t, "card", p, plan, false)
	lines := strings.Split(strings.TrimSuffix(card, "\n"), "\n")
	steps := lines[len(lines)-7:]
	if !strings.HasPrefix(steps[0], "1 Stop, wait for standstill. Plug out") || !strings.HasPrefix(steps[6], "7 One strip at ") || !strings.HasPrefix(lines[len(lines)-8], "━") {
		t.Errorf("seven lines, isolation first:\n%s", card)
	}
	if !strings.Contains(card, "\ndatum: NOT READY: 48-tooth general, 0.10 mm; ") {
		t.Errorf("the rings of a reference that is not ready stand without that mark:\n%s", card)
	}
	plan.Blades[0].State, plan.Blades[0].KnifeOnly = model.StateCheck, true
	if checked := newSheet(p, plan, Options{}); !strings.HasPrefix(checked.datum, "KNIFE CHECK: 48-tooth general") {
		t.Errorf("a reference whose knife wants its check: %s", checked.datum)
	}
	plan.Blades[0].State, plan.Blades[0].KnifeOnly = model.StateReady, false
	if ready := newSheet(p, plan, Options{}); strings.Contains(ready.datum, notReadyMark) {
		t.Error("a reference that is ready bears the mark of one that is not")
	}
	p.Rings = append(slices.Clone(p.Rings), model.Ring{ID: "r15-wide", Thickness: mm(150_000), Count: 1})
	if twins := written(t, "card", p, plan, false); !strings.Contains(twins, "0.15 mm (r15) + 0.50 mm") {
		t.Errorf("two sorts of one thickness are not told apart:\n%s", twins)
	}
	if strings.Contains(card, " in\n") || strings.Contains(card, "/ 0.0") {
		t.Error("inches were not asked for")
	}
}

// TestWhyNotIsTheWeightiest: without anything weighty it is that no cut has proved the
// blade yet, not what else explains its figures.
func TestWhyNotIsTheWeightiest(t *testing.T) {
	fits, lies, cut := model.Reason{Code: "knife-fits", Text: "fits"}, model.Reason{Code: "predicted", Text: "lies at the datum"}, model.Reason{Code: "needs-strips", Text: "no strip yet"}
	warns, danger := model.Reason{Weight: model.Warns, Text: "moved\x1b"}, model.Reason{Weight: model.Danger, Text: "wedges"}
	work := model.Reason{Code: "fallback", Weight: model.Danger, Text: "set the scale"}
	for want, reasons := range map[string][]model.Reason{
		"no strip yet":      {fits, lies, cut},
		"lies at the datum": {fits, lies},
		"":                  {fits},
		`wedges|moved\x1b`:  {lies, warns, danger, cut},

		"wedges|set the scale": {work, danger, cut},
	} {
		var got []string
		for _, r := range whyNot(model.BladeRow{Reasons: reasons}) {
			got = append(got, r.Text)
		}
		if got := strings.Join(got, "|"); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	owed := model.BladeRow{Owed: "knife-unknown", Reasons: []model.Reason{{Code: "off", Weight: model.Warns}, {Code: "knife-unknown", Weight: model.Warns}, {Code: "bore", Weight: model.Danger}}}
	if got := whyNot(owed); got[0].Code != "bore" || got[1].Code != "knife-unknown" || got[2].Code != "off" {
		t.Errorf("what its state is owed to comes behind danger alone: %v", got)
	}
}

// TestPapersWithoutATolerance: of a saw whose tolerance was never set no blade is called ready, each says why, and the
// last line of a blade change is a sentence still.
func TestPapersWithoutATolerance(t *testing.T) {
	p := chosenDemo()
	p.Tolerance = model.Measure{}
	card := written(t, "card", p, solver.Judge(p, at(0)), false)
	whole := strings.Join(strings.Fields(card), " ")
	if !strings.Contains(whole, "off by more than the tolerance: stop, isolate") || !strings.Contains(whole, "NOT READY: the tolerance is not set") {
		t.Errorf("a card without a tolerance:\n%s", card)
	}
}

// TestDrawingsStayInside, whatever the stack, with a bar for each ring.
func TestDrawingsStayInside(t *testing.T) {
	numbers := regexp.MustCompile(`<rect x="([-0-9.]+)" y="[-0-9.]+" width="([0-9.]+)"`)
	p, plan := shop()
	for n := range 7 {
		p.Rings = append(p.Rings, model.Ring{ID: fmt.Sprint("r", len(p.Rings)), Thickness: mm(2_000_000 * n), Count: 1})
		plan.Blades[1].Stack = append(plan.Blades[1].Stack, p.Rings[len(p.Rings)-1].ID)
		for _, flange := range []model.Flange{model.Far, model.Near} {
			for _, side := range []model.Side{model.SideLeft, model.SideRight} {
				p.Saw.Flange, p.Saw.FenceSide = flange, side
				s := newSheet(p, plan, Options{})
				drawn := string(s.stackSVG(s.rows[1]))
				if bars := strings.Count(drawn, `fill="#fff"`); bars != len(plan.Blades[1].Stack) {
					t.Errorf("%d bars for %d rings", bars, len(plan.Blades[1].Stack))
				}
				for _, m := range numbers.FindAllStringSubmatch(drawn, -1) {
					from, _ := strconv.ParseFloat(m[1], 64)
					width, _ := strconv.ParseFloat(m[2], 64)
					if from < 0 || from+width > stackDrawn {
						t.Errorf("%s flange, fence %s: %s is outside", flange, side, m[0])
					}
				}
			}
		}
	}
}

// TestAStackIsDrawnAsItSits: the flange on its own side of the blade, the first ring at it;
// and a narrow part's cut face toward the fence.
func TestAStackIsDrawnAsItSits(t *testing.T) {
	for _, v := range []struct {
		flange model.Flange
		fence  model.Side
		order  string // from left to right
		toward bool   // the fence lies to the right
	}{
		{model.Far, model.SideRight, "flange 0.15 0.50 plate", true},
		{model.Far, model.SideLeft, "plate 0.50 0.15 flange", false},
		{model.Near, model.SideRight, "plate 0.50 0.15 flange", true},
		{model.Near, model.SideLeft, "flange 0.15 0.50 plate", false},
	} {
		p, plan := shop()
		p.Saw.Flange, p.Saw.FenceSide = v.flange, v.fence
		s := newSheet(p, plan, Options{})
		drawn := string(s.stackSVG(s.rows[1]))
		var got []string
		for _, m := range regexp.MustCompile(`(#bbb)"|width="8.0" height="26.0" fill="(#111)"|>([0-9.]+)</text>`).FindAllStringSubmatch(drawn, -1) {
			got = append(got, strings.NewReplacer("#bbb", "flange", "#111", "plate").Replace(m[1]+m[2]+m[3]))
		}
		if strings.Join(got, " ") != v.order {
			t.Errorf("%s flange, fence %s: %v, want %s", v.flange, v.fence, got, v.order)
		}
		m := regexp.MustCompile(`<rect x="([0-9.]+)" y="34.0" width="3"`).FindStringSubmatch(drawn)
		if m == nil {
			t.Fatal(drawn)
		}
		if x, _ := strconv.ParseFloat(m[1], 64); (x+1.5 > stackDrawn/2) != v.toward {
			t.Errorf("%s flange, fence %s: the face of a narrow part is drawn at %v", v.flange, v.fence, x)
		}
	}
}

// TestCSVOfAnInchShopHasInches, asked for or not; the millimetres are for other programs.
func TestCSVOfAnInchShopHasInches(t *testing.T) {
	p, plan := shop()
	for _, units := range []model.Unit{model.MM, model.IN} {
		p.Units = units
		head, _, _ := strings.Cut(written(t, "csv", p, plan, false), "\n")
		if got := strings.Contains(head, "height_in"); got != (units == model.IN) {
			t.Errorf("%s: %s", units.Label(), head)
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
	rows, err := csv.NewReader(strings.NewReader(written(t, "csv", p, plan, true))).ReadAll()
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
			want = "READY"
		}
		if row[2] != want {
			t.Errorf("%s is %s, want %s", row[0], row[2], want)
		}
	}
	if rows[2][5] != "2.5 mm" { // not what the file calls it
		t.Errorf("the knife is called %s", rows[2][5])
	}
	if got := rows[2][3]; got != p.RingNames(plan.Blades[1].Stack) || !strings.Contains(got, " mm + ") { // nor are the rings
		t.Errorf("the rings are called %s", got)
	}
	if d := rows[2][18]; d != "9.84252" { // 250 mm / 25.4 [computed]
		t.Errorf("a diameter of %s in", d)
	}
	if rows[2][6] != "0.012" || rows[2][7] != "0.008" || rows[2][15] != "0.02559" { // 0.65 mm / 25.4 [computed]
		t.Errorf("figures: %v", rows[2])
	}
}

func TestJSONHasWhatTheDesignNames(t *testing.T) {
	p, plan := shop()
	var got map[string]any
	if err := json.Unmarshal([]byte(written(t, "json", p, plan, false)), &got); err != nil {
		t.Fatal(err)
	}
	for _, k := range []string{"name", "reference", "standing_mm", "blades"} {
		if got[k] == nil {
			t.Errorf("no %s", k)
		}
	}
	blade := got["blades"].([]any)[0].(map[string]any)
	for _, k := range []string{"id", "basis", "offset_mm", "expanded_mm", "stack_mm", "height_mm", "residual_mm", "verdict", "ready", "state", "due", "proved_at", "knife", "reasons"} {
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
	p.Records = sample.EveryKind()
	back, findings := text.Parse("export", []byte(written(t, "yaml", p, plan, false)))
	if len(findings) > 0 || text.Format(back) != text.Format(p) {
		t.Error(findings)
	}
}

func TestPageIsWholeAndNeedsNothing(t *testing.T) {
	p, plan := shop()
	for _, side := range []model.Side{model.SideLeft, model.SideRight} {
		for _, flange := range []model.Flange{model.Far, model.Near} {
			p.Saw.FenceSide, p.Saw.Flange = side, flange
			text := written(t, "html", p, plan, true)
			wellFormed(t, text)
			for _, outside := range []string{"http:", "https:", "src=", "href=", "url(", "@import", "<script"} {
				if strings.Contains(strings.ReplaceAll(text, `xmlns="http://www.w3.org/2000/svg"`, ""), outside) {
					t.Errorf("the page reaches out: %s", outside)
				}
			}
			if n := strings.Count(text, ">DO NOT USE, NOT READY: "); n != 4 || strings.Count(text, ">XXX<") != 4 || strings.Count(text, "<svg") != 1 {
				t.Errorf("%d marked, 4 are not ready", n)
			}
			if strings.Count(text, "<span>0.15</span><span>0.50</span>") != 1 {
				t.Error("large rings stand not once, for the one blade that may be used")
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
	err := Write(io.Discard, "pdf", p, plan, Options{Now: time.Now()})
	if err == nil || !strings.Contains(err.Error(), "yaml, card, labels, html, csv, json, handover") {
		t.Error(err)
	}
}
