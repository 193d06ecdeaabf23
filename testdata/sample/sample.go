// Package sample has records and values that tests of several packages share.
package sample

import (
	"strings"
	"time"
	"unicode"

	"example.com/sawdatum/model"
)

// At is an instant of the invented shop's first day.
func At(seconds int) time.Time {
	return time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC).Add(time.Duration(seconds) * time.Second)
}

// MM is a length in millimetres, of so many nanometres.
func MM(nm int) model.Measure { return model.Length(nm).Of(model.MM) }

// Note is a note of somebody at an instant of that day.
func Note(seconds int, by, text string) model.Record {
	return model.Record{At: At(seconds), By: by, Kind: model.Note, Text: text}
}

// EveryKind is one record of each kind, with every key filled.
func EveryKind() []model.Record {
	three := []model.Measure{MM(120_010_000), MM(120_020_000), MM(120_010_000)}
	return []model.Record{
		{At: At(0), By: "KB", Kind: model.Isolation, RunDown: 6500 * time.Millisecond, How: "unplugged", Dead: "dead"},
		{At: At(10), By: "KB", Kind: model.Arbor, Dial: []model.Measure{MM(0), MM(-10_000), MM(10_000)}},
		{At: At(20), By: "KB", Kind: model.Mount, Blade: "general-48", Rings: []string{"r10"}, Knife: "k25"},
		{At: At(30), By: "KB", Kind: model.FenceLock, Lock: "20260302-073030-KB", Width: MM(120_000_000)},
		{At: At(40), By: "KB", Kind: model.Boards, Lock: "20260302-073030-KB", Blade: "general-48", Rings: []string{"r10"}, Length: MM(900_000_000), Lead: MM(120_010_000), Tail: MM(120_020_000)},
		{At: At(50), By: "KB", Kind: model.KnifeSet, Knife: "k25", Lock: "20260302-073030-KB", Blade: "general-48", Rings: []string{"r10"}, Gaps: []model.Measure{MM(0), MM(50_000), MM(0), MM(50_000)}},
		{At: At(60), By: "KB", Kind: model.Scale, Pairs: []model.Pair{{Set: MM(50_000_000), Read: MM(50_100_000)}, {Set: MM(150_000_000), Read: MM(150_120_000)}}, Cursor: MM(-110_000)},
		{At: At(100), By: "KB", Kind: model.FenceMoved, Lock: "20260302-073030-KB"},
		{At: At(110), By: "KB", Kind: model.Sharpened, Blade: "rip-24", Plate: []model.Measure{MM(2_201_000)}, Kerf: []model.Measure{{Length: 2_778_125, Unit: model.Fraction}}},
		{At: At(115), By: "KB", Kind: model.Remeasured, Blade: "rip-24", Plate: []model.Measure{MM(2_201_000)}, Kerf: []model.Measure{MM(2_779_000)}, Runout: MM(40_000)},
		{At: At(117), By: "KB", Kind: model.Remeasured, Back: true, Blade: "rip-24", Plate: []model.Measure{MM(2_201_000)}, Kerf: []model.Measure{MM(2_700_000)}, Runout: MM(30_000)},
		{At: At(120), By: "KB", Kind: model.Note, About: model.AboutLeft, Blade: "thin-40", Text: "set aside: no knife"},
		{At: At(130), By: "KB", Kind: model.Void, Of: "2026-03-02T07:31:55Z KB measured", Why: "read the wrong blade"},
		{At: At(140), By: "KB", Kind: model.TakenOff, Rings: []string{}, Knife: "k25"},
		{At: At(141), By: "KB", Kind: model.Line, Blade: "general-48", Rings: []string{"r10"}, Knife: "k25", TipGap: MM(5_000_000), Faces: []model.Measure{MM(0), MM(50_000)}},
		{At: At(142), By: "KB", Kind: model.HeelToe, Blade: "general-48", Span: MM(200_000_000), SlotFront: MM(95_000_000), SlotRear: MM(95_030_000), FenceFront: MM(120_000_000), FenceRear: MM(120_040_000)},
		{At: At(143), By: "KB", Kind: model.Rim, Blade: "general-48", Dial: []model.Measure{MM(10_000), MM(0), MM(-10_000)}, DialTurned: []model.Measure{MM(0), MM(20_000), MM(-10_000)}, TurnedDeg: 90},
		{At: At(144), By: "KB", Kind: model.StripCut, Lock: "20260302-073030-KB", Blade: "general-48", Rings: []string{"r10"}, Mounting: "2026-03-02T07:30:20Z KB mount", For: model.Datum, Readings: three},
		{At: At(145), By: "KB", Kind: model.Mount, Blade: "rip-24", Rings: []string{}, Knife: "k25"},
		{At: At(146), By: "KB", Kind: model.StripCut, Lock: "20260302-073030-KB", Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", For: model.ForBlade, Differences: []model.Measure{MM(-10_000), MM(0)},
			Zeroed: []string{"2026-03-02T07:32:24Z KB strip", "2026-03-02T07:32:24Z KB strip"}},
		{At: At(147), By: "KB", Kind: model.StripCut, Lock: "20260302-073030-KB", Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", For: model.ForBlade, Readings: three, Of: "2026-03-02T07:32:26Z KB strip"},
		{At: At(148), By: "KB", Kind: model.Correction, Of: "2026-03-02T07:32:27Z KB strip", Lock: "20260302-073030-KB", Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", For: model.ForBlade, Readings: three[:2]},
		{At: At(149), By: "KB", Kind: model.Correction, Of: "2026-03-02T07:32:20Z KB taken_off", Rings: []string{}, Left: "k25"},
		{At: At(150), By: "KB", Kind: model.Sharpened, Blade: "general-48", Plate: []model.Measure{MM(2_201_000)}, Kerf: []model.Measure{MM(3_180_000)}, Datum: model.DatumStays},
		{At: At(151), By: "KB", Kind: model.Remeasured, Blade: "rip-24", Plate: []model.Measure{MM(2_201_000)}, Kerf: []model.Measure{MM(2_779_000)}, ToothPlate: []model.Measure{MM(2_210_000)}, Runout: MM(40_000), Back: true},
		{At: At(152), By: "KB", Kind: model.Box, Blade: "rip-24", Knife: "k25"},
		{At: At(153), By: "KB", Kind: model.Found, Blade: "rip-24", Mounting: "2026-03-02T07:32:25Z KB mount", Text: model.NothingFound},
		{At: At(154), By: "KB", Kind: model.Isolation, Still: true, How: "unplugged", Dead: "dead"},
		{At: At(155), By: "KB", Kind: model.Isolation, RunDown: 12 * time.Second, Typed: true, How: "unplugged", Dead: "dead", Answers: "R. Moor, plant"},
		{At: At(156), By: "KB", Kind: model.Kept, Of: "2026-03-02T07:32:26Z KB strip"},
	}
}

// Chosen is the invented shop with its datum chosen.
func Chosen(p model.Profile) model.Profile {
	p.Reference, p.Standing = "general-48", []string{"r10"}
	return p
}

// Hostile are texts that would do harm where they are shown as they stand.
var Hostile = []string{
	"\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "\x1b]8;;http://evil\x1b\\click\x1b]8;;\x1b\\", "\x1b]52;c;ZWNobw==\x07", "\u009b31m", "\x1bc",
	"abc\u202edcba", "\u2066x\u2069", "zero\u200bwidth", "soft\u00adhyphen", "tab\tline\ncr\rback\b", "bad\xff\xc3", "del\x7f", "\u2028", "\U000e0041", "\ue000", "nul\x00",
	"z\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301", "</td><script>alert(1)</script>", "<img src=x onerror=alert(1)>", `"><svg onload=alert(1)>`, "&lt;b&gt;", "{{.Saw}}", "]]>", "=1+1", "../../../etc/passwd", `..\..\con`,
}

// Harmless reports whether a text has nothing that acts where it is shown.
func Harmless(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r != '\n' && !unicode.IsPrint(r) || r == unicode.ReplacementChar })
}

// Whole is a complete profile as it stands in a file.
const Whole = `# yaml-language-server: $schema=sawdatum.schema.json
sawdatum: 1
name: bay-two
units: mm
tolerance: 0.05 mm
working_width: 120 mm
rules: en
saw:
  label: Bay 2 saw
  tilt: left
  fence_side: right
  flange: far
  flange_diameter: 80 mm
  flange_relief: 50 mm
  arbor_diameter: 30 mm
  plain_part: 12 mm
  thread_end: 40 mm
  loose_flange: 8 mm
  nut: 12 mm
  thread_pitch: 2 mm
  throat_length: 360 mm
knives:
  - {id: k25, thickness: 2.5 mm}
instruments:
  caliper: {resolution: 0.01 mm}
  micrometer: {resolution: 0.001 mm}
blades:
  - id: general-48
    label: 48-tooth general
    diameter: 250 mm
    teeth: 48
    bore: 30 mm
    plate: [2.201 mm, 2.203 mm]
    kerf: [3.204 mm, 1/8 in]
    knife: k25
  - id: rip-24
    diameter: 250 mm
    teeth: 24
    bore: 30 mm
    plate: [2.2 mm]
    kerf: [3.0 mm]
rings:
  - {id: r10, thickness: 0.10 mm, count: 2, outer: 78 mm}
reference: general-48
standing: [r10]
records:
  - at: 2026-03-02T07:00:00Z
    by: KB
    kind: fence_lock
    lock: a
    width: 120 mm
  - at: 2026-03-02T07:01:00Z
    by: KB
    kind: mount
    blade: rip-24
    rings: []
    knife: k25
  - at: 2026-03-02T07:02:00Z
    by: AB
    kind: strip
    lock: a
    blade: rip-24
    rings: []
    mounting: 2026-03-02T07:01:00Z KB mount
    for: blade
    differences: [-0.01 mm, 0.02 mm]
  - at: 2026-03-02T07:03:00Z
    by: KB
    kind: void
    of: 2026-03-02T07:02:00Z AB strip
    why: wrong piece
`
