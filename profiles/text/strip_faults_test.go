package text

import (
	"strings"
	"testing"
)

// withStrips is a complete profile with every key that strips need.
var withStrips = strings.NewReplacer(
	"working_width: 120 mm\nrules: en", "working_width: 140 mm\nprove_every: 1 day\nrules: us",
	"nut: 12 mm", "nut: 1/2 in",
	"  throat_length: 360 mm\n", "  throat_length: 360 mm\n  spindle_speed: 4000 rpm\n  motor_tilt: no\n  contact_brake: yes\n  scoring: false\n  from_paper: [nut, tilt]\n",
	"caliper: {resolution: 0.01 mm}", "caliper: {resolution: 0.01 mm, range: 150 mm}",
	"    bore: 30 mm\n    plate: [2.2 mm]", "    bore: 30 mm\n    marked_speed: 7600 rpm\n    tooth_plate: [2.21 mm]\n    plate: [2.2 mm]",
).Replace(whole[:strings.Index(whole, "records:")]) + `records:
  - at: 2026-03-02T07:00:00Z
    by: KB
    kind: isolation
    run_down: 12 s
    typed: yes
    how: locked
    dead: dead
    answers: R. Moor
  - at: 2026-03-02T07:01:00Z
    by: KB
    kind: taken_off
    rings: []
    left: k25
  - at: 2026-03-02T07:02:00Z
    by: KB
    kind: fence_lock
    lock: a
    width: 140 mm
  - at: 2026-03-02T07:03:00Z
    by: KB
    kind: mount
    blade: general-48
    rings: [r10]
  - at: 2026-03-02T07:04:00Z
    by: KB
    kind: line
    blade: general-48
    rings: [r10]
    knife: k25
    tip_gap: 5 mm
    faces: [0 mm, 0.05 mm]
  - at: 2026-03-02T07:05:00Z
    by: KB
    kind: strip
    lock: a
    blade: general-48
    rings: [r10]
    mounting: 2026-03-02T07:03:00Z KB mount
    for: datum
    readings: [140.01 mm, 140.02 mm]
  - at: 2026-03-02T07:06:00Z
    by: KB
    kind: strip
    lock: a
    blade: general-48
    rings: [r10]
    mounting: 2026-03-02T07:03:00Z KB mount
    for: closing
    differences: [0.01 mm]
    zeroed: ["2026-03-02T07:05:00Z KB strip"]
  - at: 2026-03-02T07:07:00Z
    by: KB
    kind: sharpened
    blade: general-48
    plate: [2.2 mm]
    kerf: [3.1 mm]
    datum: stays
  - at: 2026-03-02T07:08:00Z
    by: KB
    kind: measured
    blade: rip-24
    plate: [2.2 mm]
    kerf: [3.0 mm]
    back: true
  - at: 2026-03-02T07:09:00Z
    by: KB
    kind: correction
    of: 2026-03-02T07:02:00Z KB fence_lock
    lock: a
    width: 139 mm
`

func TestEveryFaultOfStripsIsReported(t *testing.T) {
	reported(t, withStrips, []fault{
		{"days without their unit", "prove_every: 1 day", "prove_every: 30", `7:14: prove_every: "30" is not a number of days: write a whole number and days, such as 30 days`, false},
		{"never, as a number", "prove_every: 1 day", "prove_every: 0 days", `7:14: prove_every: `, false},
		{"too many days", "prove_every: 1 day", "prove_every: 3651 days", `7:14: prove_every: 3651 days cannot be`, true},
		{"rules not known", "rules: us", "rules: uk", `8:8: rules: "uk" is not one of the words known here: write en or us`, false},
		{"speed in another unit", "spindle_speed: 4000 rpm", "spindle_speed: 70 days", `23:18: saw.spindle_speed: "70 days" is not a number of rpm`, false},
		{"speed that cannot be", "marked_speed: 7600 rpm", "marked_speed: 76000 rpm", `46:19: blades[1].marked_speed: 76000 rpm cannot be`, true},
		{"neither yes nor no", "contact_brake: yes", "contact_brake: y", `25:18: saw.contact_brake: "y" is neither yes nor no: write yes or no`, false},
		{"a key that is on no paper", "from_paper: [nut, tilt]", "from_paper: [nut, colour]", `27:21: saw.from_paper[1]: "colour" is none of them`, true},
		{"thread that ends before it begins", "plain_part: 12 mm", "plain_part: 40 mm", `17:15: saw.plain_part: the thread would begin at 40 mm`, true},
		{"plate beside the teeth over the kerf", "tooth_plate: [2.21 mm]", "tooth_plate: [3.0 mm]", `47:19: blades[1].tooth_plate[0]: a plate of 3 mm is no thinner than the kerf of 3 mm`, true},
		{"range of nothing", "range: 150 mm", "range: 0 mm", `31:41: instruments.caliper.range: 0 mm cannot be`, true},
		{"neither run down nor still", "    run_down: 12 s\n", "", `55:5: records[0].run_down: a blade either ran down or stood still`, false},
		{"both", "typed: yes", "still: yes", `58:15: records[0].run_down: a blade either ran down or stood still`, false},
		{"typed, perhaps", "typed: yes", "typed: perhaps", `59:12: records[0].typed: "perhaps" is neither yes nor no`, false},
		{"rings that nobody told", "    rings: []\n", "", `63:5: records[1].rings: is missing`, false},
		{"two knives", "left: k25", "left: k25\n    knife: k25", `67:11: records[1].left: a saw has one knife at a time`, true},
		{"one face", "faces: [0 mm, 0.05 mm]", "faces: [0 mm]", `85:5: records[4].faces: 1 readings: write 2`, false},
		{"for nothing", "for: closing", "for: fun", `102:10: records[6].for: "fun" is not one of the words known here: write datum or blade or closing`, false},
		{"no mounting", "mounting: 2026-03-02T07:03:00Z KB mount\n    for: closing", "mounting: 2026-03-02T07:05:00Z KB strip\n    for: closing", `101:15: records[6].mounting: no mounting is called`, true},
		{"zeroed on nothing", `zeroed: ["2026-03-02T07:05:00Z KB strip"]`, `zeroed: ["2026-03-02T07:03:00Z KB mount"]`, `104:14: records[6].zeroed[0]: no such strip`, true},
		{"zeroed on too many", `zeroed: ["2026-03-02T07:05:00Z KB strip"]`, `zeroed: ["2026-03-02T07:05:00Z KB strip", "2026-03-02T07:05:00Z KB strip"]`, `104:5: records[6].zeroed: 2 strips for 1 readings`, true},
		{"zeroed without differences", "differences: [0.01 mm]", "readings: [140 mm]", `104:5: records[6].zeroed: 1 strips for 0 readings`, false},
		{"a datum that goes", "datum: stays", "datum: goes", `111:12: records[7].datum: "goes" is not one of the words known here`, false},
		{"a correction of nothing", "    of: 2026-03-02T07:02:00Z KB fence_lock\n", "", `119:5: records[9].of: is missing`, false},
		{"a correction of a correction", "of: 2026-03-02T07:02:00Z KB fence_lock", "of: 2026-03-02T07:09:00Z KB correction", `122:9: records[9].of: no record that can be corrected is called`, true},
		{"a correction of what is not there", "of: 2026-03-02T07:02:00Z KB fence_lock", "of: 2026-03-02T07:02:00Z AB fence_lock", `122:9: records[9].of: no record that can be corrected is called`, true},
		{"a correction that leaves a key out", "    width: 139 mm\n", "", `119:5: records[9].width: is missing`, true},
		{"a correction with a key of another kind", "    width: 139 mm\n", "    width: 139 mm\n    blade: rip-24\n", `125:5: records[9].blade: unknown key`, true},
	})
}
