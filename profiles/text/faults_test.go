package text

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/sample"
)

// whole is what every fault below is put into.
const whole = sample.Whole

// faults are one line each: what is put in the place of what, and where and how it
// must be reported. beyond: no schema can see it.
var faults = []fault{
	{"newer version", "sawdatum: 1", "sawdatum: 2", "2:11: sawdatum: version 2", false},
	{"version is no number", "sawdatum: 1", "sawdatum: one", "2:11: sawdatum: ", false},
	{"version not first", "sawdatum: 1\nname: bay-two\n", "name: bay-two\nsawdatum: 1\n", "2:1: this is not a profile", true},
	{"unknown key", "units: mm", "units: mm\ncolour: red", "5:1: colour: unknown key", false},
	{"unknown key inside", "  tilt: left", "  tilt: left\n  wobble: 3 mm", "11:3: saw.wobble: unknown key", false},
	{"doubled key", "units: mm", "units: mm\nunits: in", "5:1: units: ", true},
	{"bare number", "tolerance: 0.05 mm", "tolerance: 0.05", `5:12: tolerance: "0.05" has no unit: write 0.05 mm or 0.05 in`, false},
	{"decimal comma", "tolerance: 0.05 mm", "tolerance: 0,05 mm", "5:12: tolerance: ", false},
	{"unknown unit", "tolerance: 0.05 mm", "tolerance: 0.05 cm", "5:12: tolerance: ", false},
	{"not whole nanometres", "tolerance: 0.05 mm", "tolerance: 1/128 in", "5:12: tolerance: ", true},
	{"negative", "tolerance: 0.05 mm", "tolerance: -0.05 mm", "5:12: tolerance: -0.05 mm cannot be", false},
	{"zero", "tolerance: 0.05 mm", "tolerance: 0 mm", "5:12: tolerance: 0 mm cannot be", true},
	{"empty value", "tolerance: 0.05 mm", "tolerance:", "5:11: tolerance: is missing", false},
	{"a list for a length", "tolerance: 0.05 mm", "tolerance: [0.05 mm]", "5:12: tolerance: a list stands here", false},
	{"a group for a text", "name: bay-two", "name: {a: b}", "3:7: name: a group of keys stands here", false},
	{"a number for a text", "name: bay-two", "name: 250", `3:7: name: 250 is not text`, false},
	{"a name that is a path", "name: bay-two", "name: ../../etc/passwd", "3:7: name: ", false},
	{"a word not known", "tilt: left", "tilt: up", "10:9: saw.tilt: \"up\" is not one of the words known here: write left or right", false},
	{"units not known", "units: mm", "units: cm", "4:8: units: ", false},
	{"missing key", "tolerance: 0.05 mm\n", "", "2:1: tolerance: is missing", false},
	{"missing key inside", "  thread_pitch: 2 mm\n", "", "8:1: saw.thread_pitch: is missing", false},
	{"a saw that is a word", "saw:\n  label: Bay 2 saw\n  tilt: left\n  fence_side: right\n  flange: far\n  flange_diameter: 80 mm\n  flange_relief: 50 mm\n  arbor_diameter: 30 mm\n  plain_part: 12 mm\n  thread_end: 40 mm\n  loose_flange: 8 mm\n  nut: 12 mm\n  thread_pitch: 2 mm\n  throat_length: 360 mm\n", "saw: big\n", "8:6: saw: a single value stands here", false},
	{"kerf not over plate", "kerf: [3.204 mm, 1/8 in]", "kerf: [3.204 mm, 2.2 mm]", "34:22: blades[0].kerf[1]: a kerf of 2.2 mm is no wider than the plate of 2.203 mm", true},
	{"no readings", "plate: [2.2 mm]", "plate: []", "40:12: blades[1].plate: ", false},
	{"one reading without a list", "plate: [2.2 mm]", "plate: 2.2 mm", "40:12: blades[1].plate: a single value stands here, not a list", false},
	{"teeth in octal", "teeth: 24", "teeth: 030", "38:12: blades[1].teeth: ", true},
	{"teeth with a fraction", "teeth: 24", "teeth: 24.5", "38:12: blades[1].teeth: ", false},
	{"teeth in quotes", "teeth: 24", `teeth: "24"`, "38:12: blades[1].teeth: ", false},
	{"negative teeth", "teeth: 24", "teeth: -24", "38:12: blades[1].teeth: ", false},
	{"doubled id", "id: rip-24", "id: general-48", "36:9: blades[1].id: \"general-48\" stands here twice", true},
	{"id by its capitals", "id: rip-24", "id: General-48", "36:9: blades[1].id: \"General-48\" looks like \"general-48\"", true},
	{"id by a digit", "id: rip-24", "id: genera1-48", "36:9: blades[1].id: \"genera1-48\" looks like \"general-48\"", true},
	{"id by a letter of another script", "id: rip-24", "id: g\u0435neral-48", "36:9: blades[1].id: ", true},
	{"id of full width", "id: rip-24", "id: \uff47eneral-48", "36:9: blades[1].id: ", true},
	{"label of another blade", "  - id: rip-24\n", "  - id: rip-24\n    label: 48-Tooth  general\n", "37:12: blades[1].label: \"48-Tooth  general\" can be taken for the blade \"general-48\"", true},
	{"label that is another's id", "label: 48-tooth general", "label: RIP-24", "29:12: blades[0].label: \"RIP-24\" can be taken for the blade \"rip-24\"", true},
	{"label of a letter without a face", "label: 48-tooth general", "label: \u3164", "29:12: blades[0].label: U+3164 is a character that cannot be seen", true},
	{"label of a dotless braille letter", "label: 48-tooth general", "label: \"48\u2800\"", "29:12: blades[0].label: U+2800", true},
	{"initials of a letter without a face", "by: AB", "by: \u115f", "59:9: records[2].by: ", true},
	{"no id", "- {id: k25, thickness: 2.5 mm}", "- {thickness: 2.5 mm}", "23:5: knives[0].id: is missing", false},
	{"unknown knife", "1/8 in]\n    knife: k25", "1/8 in]\n    knife: k26", "35:12: blades[0].knife: no knife is called \"k26\"", true},
	{"unknown reference", "reference: general-48", "reference: general-49", "44:12: reference: ", true},
	{"unknown ring", "standing: [r10]", "standing: [r11]", "45:12: standing[0]: ", true},
	{"more rings than there are", "standing: [r10]", "standing: [r10, r10, r10]", "45:22: standing[2]: there are only 2 of ring r10", true},
	{"one blade", "  - id: rip-24\n    diameter: 250 mm\n    teeth: 24\n    bore: 30 mm\n    plate: [2.2 mm]\n    kerf: [3.0 mm]\n", "", "27:1: blades: is missing", false},
	{"bore under the arbor", "bore: 30 mm\n    plate: [2.2 mm]", "bore: 25 mm\n    plate: [2.2 mm]", "39:11: blades[1].bore: a bore of 25 mm does not go over the arbor of 30 mm", true},
	{"relief over the flange", "flange_relief: 50 mm", "flange_relief: 80 mm", "14:18: saw.flange_relief: ", true},
	{"ring that does not go on", "outer: 78 mm", "outer: 30 mm", "43:52: rings[0].outer: ", true},
	{"unknown kind", "kind: fence_lock", "kind: fence_locked", "49:11: records[0].kind: ", false},
	{"no kind", "    kind: fence_lock\n", "", "47:5: records[0]: the record has no kind", false},
	{"key of another kind", "    width: 120 mm\n", "    width: 120 mm\n    blade: rip-24\n", "52:5: records[0].blade: unknown key", false},
	{"record without a key it needs", "    width: 120 mm\n", "", "47:5: records[0].width: is missing", false},
	{"record key without value", "    width: 120 mm\n", "    width:\n", "51:11: records[0].width: has no value", false},
	{"record that is a word", "  - at: 2026-03-02T07:00:00Z\n", "  - later\n  - at: 2026-03-02T07:00:00Z\n", "47:5: records[0]: a single value stands here, not a record", false},
	{"time out of order", "at: 2026-03-02T07:01:00Z", "at: 2026-03-02T06:01:00Z", "52:9: records[1].at: 2026-03-02T06:01:00Z is before the record above it", true},
	{"time of another zone", "at: 2026-03-02T07:01:00Z", "at: 2026-03-02T08:01:00+01:00", "52:9: records[1].at: \"2026-03-02T08:01:00+01:0...\" is not a time in UTC", false},
	{"no such day", "at: 2026-03-02T07:01:00Z", "at: 2026-02-30T07:01:00Z", "52:9: records[1].at: ", false},
	{"time with a decimal comma", "at: 2026-03-02T07:01:00Z", "at: 2026-03-02T07:01:00,5Z", "52:9: records[1].at: ", false},
	{"hour of one digit", "at: 2026-03-02T07:01:00Z", "at: 2026-03-02T7:01:00Z", "52:9: records[1].at: ", false},
	{"ten decimals of a second", "at: 2026-03-02T07:01:00Z", "at: 2026-03-02T07:01:00.1234567890Z", "52:9: records[1].at: ", false},
	{"no minutes at all", "units: mm", "units: mm\nidle_minutes: 0", "5:15: idle_minutes: 0 minutes cannot be", false},
	{"not initials", "by: AB", "by: Somebody", "59:9: records[2].by: ", false},
	{"lock never made", "lock: a\n    blade: rip-24", "lock: b\n    blade: rip-24", "61:11: records[2].lock: no fence lock is called \"b\"", true},
	{"unknown blade in a record", "lock: a\n    blade: rip-24", "lock: a\n    blade: rip-25", "62:12: records[2].blade: ", true},
	{"neither widths nor differences", "    differences: [-0.01 mm, 0.02 mm]\n", "", "58:5: records[2].readings: ", false},
	{"widths and differences", "    differences: [-0.01 mm, 0.02 mm]\n", "    differences: [-0.01 mm]\n    readings: [120 mm]\n", "67:5: records[2].readings: ", false},
	{"for none of what a strip is for", "for: blade", "for: old", "65:10: records[2].for: ", false},
	{"negative width", "differences: [-0.01 mm, 0.02 mm]", "readings: [120.01 mm, -120.02 mm]", "66:27: records[2].readings[1]: ", false},
	{"void of nothing", "of: 2026-03-02T07:02:00Z AB strip", "of: 2026-03-02T07:02:00Z AB rim", "70:9: records[3].of: ", true},
	{"nested at the limit", "label: Bay 2 saw", "label: " + strings.Repeat("[", 15) + strings.Repeat("]", 15), "9:10: saw.label: a list stands here, not text", false},
	{"nested too deeply", "label: Bay 2 saw", "label: " + strings.Repeat("[", 16) + strings.Repeat("]", 16), "9:25: saw.label[0][0][0][0][0][0][0][0][0][0][0][0][0][0][0]: nested too deeply", false},
	{"text behind the end", "why: wrong piece", "why: wrong piece\n...\n\n# so far\nand more", "75:1: a second document starts here", true},
	{"second document that is none", "why: wrong piece", "why: wrong piece\n---\n[", "72:1: a second document starts here", true},
	{"second document", "why: wrong piece", "why: wrong piece\n---\nsawdatum: 1", "72:1: a second document starts here", true},
	{"unknown alias", "label: Bay 2 saw", "label: \"*b\" # *b\n  tilt: *b", "10:9: anchors and aliases are not read here", true},
	{"no character", "label: Bay 2 saw", "label: Bay \uffff2", "9:14: U+FFFF is a character that cannot be seen", false},
	{"anchor", "tolerance: 0.05 mm", "tolerance: &t 0.05 mm", "5:12: tolerance: anchors and aliases", true},
	{"tag", "tolerance: 0.05 mm", "tolerance: !!str 0.05 mm", "5:12: tolerance: tags", true},
	{"merge key", "saw:\n", "saw:\n  <<: {label: x}\n", "9:3: saw: only plain keys", true},
	{"key that is a list", "units: mm", "? [units]\n: mm", "4:3: only plain keys", true},
	{"long text", "label: Bay 2 saw", "label: " + strings.Repeat("x", 201), "9:10: saw.label: the text has 201 characters", false},
	{"escape sequence", "label: Bay 2 saw", `label: "\e[31mBay"`, "9:10: saw.label: U+001B", false},
	{"bidirectional override", "label: Bay 2 saw", `label: "Bay \u202e2"`, "9:10: saw.label: U+202E", false},
	{"bidirectional override as it is", "label: Bay 2 saw", "label: Bay \u202e2", "9:14: U+202E", false},
	{"text over two lines", "label: Bay 2 saw", "label: |\n    Bay\n    2", "9:10: saw.label: U+000A", false},
	{"too many marks", "label: Bay 2 saw", "label: a\u0301\u0301\u0301\u0301\u0301", "9:10: saw.label: a letter carries too many marks", true},
}

func TestEveryFaultIsReportedAndFailsTheSchema(t *testing.T) { reported(t, whole, faults) }

// fault is one line of a table of faults.
type fault struct {
	name, old, new string
	want           string // line:column: key path: ... with words that must follow
	beyond         bool
}

// reported puts each fault into a whole profile, and holds reader and schema to it.
func reported(t *testing.T, whole string, faults []fault) {
	t.Helper()
	s := compiled(t)
	if _, findings := Parse("bay.yaml", []byte(whole)); len(findings) > 0 {
		t.Fatal(findings)
	}
	if err := schemaSays(t, s, whole); err != nil {
		t.Fatal(err)
	}
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			if strings.Count(whole, f.old) != 1 {
				t.Fatalf("%q stands %d times in the whole profile", f.old, strings.Count(whole, f.old))
			}
			text := strings.Replace(whole, f.old, f.new, 1)
			_, findings := Parse("bay.yaml", []byte(text))
			at := slices.IndexFunc(findings, func(got Finding) bool { return strings.HasPrefix(got.Error(), "bay.yaml:"+f.want) })
			if at < 0 || len(findings) > 3 {
				t.Fatalf("want bay.yaml:%s\ngot  %v", f.want, findings)
			}
			if findings[at].Cure == "" {
				t.Error("no cure is given")
			}
			if f.name == "doubled key" || f.name == "key that is a list" || strings.HasPrefix(f.name, "second document") || f.name == "text behind the end" || f.name == "unknown alias" || f.name == "no character" || strings.HasPrefix(f.name, "merge") {
				return // no value that a schema could be shown
			}
			if err := schemaSays(t, s, text); (err == nil) != f.beyond {
				t.Errorf("beyond the schema: %v; it says: %v", f.beyond, err)
			}
		})
	}
}

func TestEverythingValidPassesTheSchema(t *testing.T) {
	s := compiled(t)
	kinds := chosenDemo()
	kinds.Records = everyKind()
	inch := chosenDemo()
	inch.Units, inch.KnifeMargin, inch.Rules, inch.IdleMinutes = model.IN, model.Measure{Length: 203_200, Unit: model.Mil}, model.RulesUS, 30
	inch.Tolerance, inch.Saw.Flange, inch.Blades[3].Retired, inch.Rings[4].Count = model.Measure{Length: 50_800, Unit: model.IN}, model.Near, true, 0
	inch.Rings[1].HalfWidth, inch.Blades[1].Runout, inch.Standing = mm(10_000), mm(0), []string{}
	inch.Saw.ArborDiameter = model.Measure{Length: 15_875_000, Unit: model.Fraction}
	for name, text := range map[string]string{
		"every kind": Format(kinds), "strips": withStrips, "inches": Format(inch), "no records": strings.Replace(whole, whole[strings.Index(whole, "records:"):], "", 1),
		"empty records": whole[:strings.Index(whole, "records:")] + "records: []\n", "byte order mark": "\ufeff" + whole, "lines of Windows": strings.ReplaceAll(whole, "\n", "\r\n"),
		"other ways to write": strings.NewReplacer("0.05 mm", `".002\""`, "120 mm\nrules", "4 3/4 in\nrules", "[2.2 mm]", "[ 86.6thou , 0.0866 in ]", "loose_flange: 8 mm", "loose_flange: '+8.mm'").Replace(whole),
	} {
		if p, findings := Parse(name, []byte(text)); len(findings) > 0 {
			t.Errorf("%s: %v", name, findings)
		} else if again, findings := Parse(name, []byte(Format(p))); len(findings) > 0 || !sameProfile(again, p) {
			t.Errorf("%s: written and read again: %v", name, findings)
		}
		if err := schemaSays(t, s, text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAllFaultsComeInOneGoInTheOrderOfLines(t *testing.T) {
	text := strings.NewReplacer("tilt: left", "tilt: up", "tolerance: 0.05 mm", "tolerance: 0.05", "kerf: [3.0 mm]", "kerf: [2.1 mm]",
		"by: AB", "by: ''", "why: wrong piece", "why: wrong piece\n    whose: mine").Replace(whole)
	_, findings := Parse("bay.yaml", []byte(text))
	var at []string
	for _, f := range findings {
		at = append(at, f.Path)
	}
	if got := strings.Join(at, " "); got != "tolerance saw.tilt blades[1].kerf[0] records[2].by records[3].whose" {
		t.Errorf("%s\n%v", got, findings)
	}
}

// TestHarmfulTextHidesNoOtherFault: what may not be shown is told once, with its line,
// and so is all else that is wrong.
func TestHarmfulTextHidesNoOtherFault(t *testing.T) {
	text := strings.NewReplacer("name: bay-two", `name: "bay\e[2J"`, "units: mm", "units: mm # \u2028 \u0085", "tolerance: 0.05 mm", "tolerance: 0.05", "label: Bay 2 saw", "label: Bay \u202e2",
		"tilt: left", `tilt: "le\e[31mft"`, "fence_side: right", "fence_side: ri\xffght", "plain_part: 12 mm", "plain_part: 12\x1b mm", "teeth: 24", `teeth: "\x00"`, "reference: general-48", "reference\u200b: rip-24",
		"why: wrong piece", "why: "+strings.Repeat("x", 201)+"\n    whose: mine # \u2066").Replace(whole)
	want := "3 name|4|5 tolerance|9|10 saw.tilt|11|16|38 blades[1].teeth|44|71 records[3].why|72 records[3].whose|72"
	for _, text := range []string{text, strings.ReplaceAll(text, "\n", "\r\n"), "\ufeff" + text} {
		_, findings := Parse("bay.yaml", []byte(text))
		var at []string
		for _, f := range findings.Faults() {
			at = append(at, strings.TrimSpace(fmt.Sprint(f.Line, " ", f.Path)))
			if !sample.Harmless(f.Error()) {
				t.Errorf("%q", f.Error())
			}
		}
		if got := strings.Join(at, "|"); got != want {
			t.Errorf("%s\n%v", got, findings)
		}
	}
}

// TestWhatIsNotReadHidesNoOtherFault: so it is with what else of YAML is not read here.
func TestWhatIsNotReadHidesNoOtherFault(t *testing.T) {
	text := strings.NewReplacer("tolerance: 0.05 mm", "tolerance: &t 0.05", "working_width: 120 mm", "working_width: *t", "saw:\n", "saw: &s\n", "tilt: left", "tilt: up", "instruments:", "<<: *s\ninstruments:",
		"  caliper: {resolution: 0.01 mm}", "  caliper: *s", "diameter: 250 mm\n    teeth: 24", "diameter: !!str 250 mm\n    ? [teeth]\n    : 24", "outer: 78 mm", "outer: "+strings.Repeat("[", 20)+strings.Repeat("]", 20),
		"for: blade", "for: old").Replace(whole) + "---\nmore\n"
	_, findings := Parse("bay.yaml", []byte(text))
	var at []string
	for _, f := range findings.Faults() {
		at = append(at, strings.TrimSpace(fmt.Sprint(f.Line, " ", f.Path)))
	}
	want := "5 tolerance|6 working_width|8 saw|10 saw.tilt|24|26 instruments.caliper|38 blades[1].diameter|39 blades[1]|45 rings[0].outer|45 rings[0].outer" + strings.Repeat("[0]", 14) + "|67 records[2].for|74"
	if got := strings.Join(at, "|"); got != want {
		t.Errorf("%s\n%v", got, findings)
	}
}

func TestAHalfFilledHeadIsReadAndSaysWhatIsMissing(t *testing.T) {
	text := "sawdatum: 1\nname: bay-two\nsaw:\n  tilt: left\nblades:\n  - id: rip-24\n"
	p, findings := Parse("bay.yaml", []byte(text))
	if len(findings.Faults()) > 0 || p.Saw.Tilt != model.TiltLeft || p.Blades[0].ID != "rip-24" {
		t.Error(findings)
	}
	missing := map[string]bool{}
	for _, f := range findings {
		missing[f.Path] = f.Missing
	}
	for _, path := range []string{"units", "tolerance", "saw.flange", "saw.nut", "rules", "blades", "blades[0].kerf", "blades[0].teeth", "knives", "instruments.caliper.resolution", "reference", "standing"} {
		if !missing[path] {
			t.Errorf("%s is not said to be missing", path)
		}
	}
}
