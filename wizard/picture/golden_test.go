package picture

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"example.com/sawdatum/testdata/update"

	"example.com/sawdatum/model"
)

const mm = model.Millimetre

// An invented rack: a full kerf reference, 2.2/3.2 mm, and a thin kerf blade, 1.8/2.4
// mm, on a far flange: without rings it cuts 0.6 mm wide (facts: geometry vectors).
var (
	thin = ArborSection{
		Blade: "60-tooth thin kerf", Flange: model.Far, FenceSide: model.SideRight,
		Plate: mm * 18 / 10, Kerf: mm * 24 / 10, Knife: mm * 2, KnifeFace: mm * 27 / 10,
		Datum: mm * 27 / 10, HasDatum: true, Tolerance: mm / 20,
	}
	strips = Strips{
		FenceSide: model.SideRight, Tolerance: mm / 20, Datum: 120 * mm, Of: 3, Rows: []StripRow{
			{Name: "strip 1", Mean: 120*mm + mm*31/100, Step: mm * 31 / 100, Read: true}, {Name: "strip 2", Step: -mm / 25, Read: true}, {Name: "strip 3"},
		},
	}
	gaps   = KnifeGaps{FenceSide: model.SideRight, Limit: mm / 10, Gaps: []model.Length{mm / 20, mm / 20, 0, mm / 5}}
	board  = Board{FenceSide: model.SideRight, Long: 900 * mm, Lead: 140*mm + mm/10, Tail: 140*mm + mm/25}
	behind = KnifeBehind{FenceSide: model.SideRight, Gap: mm * 9 / 2, Read: true, Least: 3 * mm, Most: 8 * mm, Limit: mm / 10}
	held   = KnifeBehind{FenceSide: model.SideLeft, Gap: mm * 9, Read: true, Most: 12 * mm, Held: true, Faces: []model.Length{mm / 20, -mm * 12 / 100}, Limit: mm / 10}
	felt   = KnifeBehind{FenceSide: model.SideRight, Held: true, Faces: []model.Length{mm / 20, -mm * 12 / 100}, Play: mm * 3 / 10}
	rack   = Rack{FenceSide: model.SideRight, Tolerance: mm / 20, Current: "thin-60", Blades: []RackBlade{
		{ID: "general-48", Label: "48-tooth general", Reference: true, Known: true, Verdict: model.In, State: model.StateReady},
		{ID: "rip-24", Label: "24-tooth rip", Known: true, Before: -mm / 5, After: mm / 100, Expanded: mm / 50, Verdict: model.In, Rings: "0.20", State: model.StateReady},
		{ID: "thin-60", Label: "60-tooth thin kerf", Known: true, Before: -mm * 6 / 10, After: -mm / 25, Expanded: mm / 33, Verdict: model.Doubtful, Rings: "0.10 0.50"},
		{ID: "laminate-80", Label: "80-tooth laminate", Known: true, Before: -mm * 3, After: -mm * 12 / 100, Expanded: mm / 33, Verdict: model.Cannot, Rings: "1.00"},
		{ID: "fine-96", Label: "96-tooth fine"},
	}}
	scale = FenceScale{
		Points: []ScalePoint{{60 * mm, 60*mm + mm*18/100}, {120 * mm, 120*mm + mm*12/100}, {300 * mm, 300*mm - mm/50}},
		Fitted: true, Shift: mm * 23 / 100, Slope: -0.0009, Working: 120 * mm, Tolerance: mm / 20,
	}
	dial = Dial{
		What: "flange", Fitted: true, Amplitude: mm * 3 / 100, HighDeg: 130, BestDeg: 310, HasBest: true,
		Readings: []model.Length{-19000, 5000, 27000, 29000, 19000, -1000, -27000, -29000},
	}
	window = KnifeWindow{Margin: mm / 5, Blades: []KnifeBlade{
		{ID: "general-48", Label: "48-tooth general", Plate: mm * 22 / 10, Kerf: mm * 32 / 10, Knife: mm * 25 / 10, Fit: model.KnifeFits},
		{ID: "rip-24", Label: "24-tooth rip", Plate: mm * 2, Kerf: mm * 3, Knife: mm * 21 / 10, Fit: model.KnifeTooThin},
		{ID: "thin-60", Label: "60-tooth thin kerf", Plate: mm * 18 / 10, Kerf: mm * 24 / 10, Knife: mm * 25 / 10, Fit: model.KnifeTooThick},
		{ID: "laminate-80", Label: "80-tooth laminate", Plate: mm * 22 / 10, Kerf: mm * 32 / 10, Knife: mm * 25, Fit: model.KnifeTooThick},
		{ID: "fine-96", Label: "96-tooth fine"},
	}}
	heelToe = Alignment{
		FenceSide: model.SideRight, Slot: Ends{95 * mm, 95*mm - mm/20, true, true}, Fence: Ends{120 * mm, 120*mm + mm/5, true, true},
	}
	table = Table{
		What: "blade", Note: "mm; means of what was read; wants: rings behind it",
		Columns: []Column{{Head: "blade"}, {Head: "teeth", Right: true}, {Head: "diameter", Right: true, Spare: true}, {Head: "plate", Right: true}, {Head: "kerf", Right: true}, {Head: "knife"}, {Head: "wants", Spare: true}},
		Rows: []TableRow{
			{Cells: []string{"48-tooth general", "48", "250", "2.201", "3.204", "fits", "reference"}, Whole: true},
			{Cells: []string{"40-tooth thin kerf", "40", "250", "1.600", "2.401", "TOO THICK", "0.702"}, Fails: true},
			{Cells: []string{"24-tooth rip", "24", "250", "2.201", "3.001", "fits", "0.102"}, Whole: true},
			{Cells: []string{"80-tooth fine crosscut", "80", "250"}, Now: true},
			{Cells: []string{"96-tooth laminate", "96"}},
			{Cells: []string{"60-tooth plywood", "60", "250", "2.201", "3.100", "fits", "0.052"}, Whole: true},
			{Cells: []string{"30-tooth glue line"}},
		},
	}
	drift = Drift{
		Blade: "24-tooth rip", HasLimits: true, Mean: mm / 100, Upper: mm * 5 / 100, Lower: -mm * 3 / 100, Tolerance: mm / 20,
		Points: []DriftPoint{
			{Day: "03-01", Value: mm / 100}, {Day: "03-08", Value: mm / 50}, {Day: "03-15"}, {Day: "03-22", Value: -mm / 100},
			{Day: "04-02", Value: mm / 50}, {Day: "04-09", Value: mm * 3 / 100}, {Day: "04-16", Value: mm * 7 / 100, Beyond: true}, {Day: "04-23", Value: mm * 3 / 10, Beyond: true}, {Day: "04-30", Value: mm / 50},
		},
	}
)

func withRings(a ArborSection, rings ...model.Length) ArborSection {
	a.Rings = rings
	return a
}

func thickKnife(a ArborSection) ArborSection {
	a.Knife = mm * 25 / 10
	return a
}

// nearSaw is the same blade on a near flange: datum of 0.3 mm (facts: geometry vectors).
func nearSaw(a ArborSection) ArborSection {
	a.Flange, a.FenceSide, a.Datum, a.KnifeFace = model.Near, model.SideLeft, mm*3/10, mm*3/10
	return a
}

func inches(a ArborSection) ArborSection {
	a.Figures = Figures{Unit: model.IN}
	return a
}

func below(t Table, p Picture) Table {
	t.Below = p
	return t
}

var names = []string{"arbor-bare", "arbor-thin", "arbor-rings", "arbor-wedge", "arbor-near", "arbor-inch", "strips", "strips-own", "gaps", "board", "behind", "behind-held", "behind-felt", "rack", "scale", "dial", "knife", "drift", "align", "align-closing", "align-dial", "table", "list", "table-below", "arbor-empty", "front", "front-held"}

var samples = map[string]Picture{
	"arbor-bare":  ArborSection{Flange: model.Far, FenceSide: model.SideRight},
	"arbor-empty": ArborSection{Flange: model.Near, FenceSide: model.SideRight, Empty: true},
	"front":       Front{Tilt: model.TiltRight, FenceSide: model.SideLeft},
	"front-held":  Front{FenceSide: model.SideRight, Held: true, Block: 60 * mm},
	"arbor-thin":  thin,
	"arbor-rings": withRings(thin, mm/10, mm/2),
	"arbor-wedge": thickKnife(withRings(thin, mm/10, mm/2)),
	"arbor-near":  nearSaw(thin),
	"arbor-inch":  inches(withRings(thin, mm/10)),
	"strips":      strips,
	"strips-own": Strips{FenceSide: model.SideRight, Tolerance: mm / 20, Datum: 120 * mm, Of: 2, Own: true, Rows: []StripRow{
		{Name: "strip 1", Mean: 120*mm + mm/100, Step: mm / 100, Read: true}, {Name: "strip 2", Mean: 120*mm - mm/100, Step: -mm / 100, Read: true}, {Name: "strip 3"},
	}},
	"gaps":        gaps,
	"board":       board,
	"behind":      behind,
	"behind-held": held,
	"behind-felt": felt,
	"rack":        rack,
	"scale":       scale,
	"dial":        dial,
	"knife":       window,
	"drift":       drift,
	"align":       heelToe,
	"table":       table,
	"table-below": below(table, window),
	"list":        List{[]string{"From one sheet", "  1  gauge board            900 x 300 mm", "  2  fence scale            600 x 180 mm"}, []string{"On the bench", "caliper", "feelers", "gloves"}},
	"align-closing": Alignment{
		FenceSide: model.SideLeft, Slot: Ends{95 * mm, 95*mm + mm/10, true, true}, Fence: Ends{120 * mm, 120*mm - mm/4, true, true},
	},
	"align-dial": Alignment{
		FenceSide: model.SideRight, Slot: Ends{0, mm / 20, true, true}, Fence: Ends{0, -mm / 10, true, true},
	},
}

func TestGoldens(t *testing.T) {
	for _, name := range names {
		for _, g := range []struct {
			suffix string
			w, h   int
			set    Charset
		}{{"34x8", 34, 8, Blocks}, {"110x30", 110, 30, Blocks}, {"60x14-lines", 60, 14, Lines}, {"60x14-ascii", 60, 14, ASCII}} {
			path := filepath.Join("..", "..", "testdata", "picture", fmt.Sprintf("%s-%s.golden", name, g.suffix))
			got := samples[name].Draw(g.w, g.h, Look{Charset: g.set}) + "\n\n" + samples[name].Sentence() + "\n"
			if *update.Goldens {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("%s differs; run go test ./wizard/picture -update and look at it\ngot:\n%s\nwant:\n%s", path, got, want)
			}
		}
	}
}
