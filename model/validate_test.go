package model

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

func mmOf(mm float64) Measure {
	l, err := FromMillimetres(mm)
	if err != nil {
		panic(err)
	}
	return l.Of(MM)
}

// shop is a whole profile with a record of every kind, made anew each time.
func shop() Profile {
	at := func(s int) time.Time { return time.Date(2026, 3, 2, 7, 0, s, 0, time.UTC) }
	three := []Measure{mmOf(120), mmOf(120.01), mmOf(119.99)}
	return Profile{
		Version: FormatVersion, Name: "bay-two", Units: MM, Tolerance: mmOf(0.05), WorkingWidth: mmOf(120), Rules: RulesEN,
		Saw:         Saw{Label: "Bay 2", Tilt: TiltLeft, FenceSide: SideRight, Flange: Far, FlangeDiameter: mmOf(80), FlangeRelief: mmOf(50), ArborDiameter: mmOf(30), PlainPart: mmOf(12), ThreadEnd: mmOf(40), LooseFlange: mmOf(8), Nut: mmOf(12), ThreadPitch: mmOf(2), ThroatLength: mmOf(360)},
		Knives:      []Knife{{"k25", mmOf(2.5)}},
		Instruments: Instruments{Caliper: mmOf(0.01), Micrometer: mmOf(0.001)},
		Blades: []Blade{
			{ID: "general-48", Diameter: mmOf(250), Teeth: 48, Bore: mmOf(30), Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(3.2), mmOf(3.21)}, Knife: "k25"},
			{ID: "rip-24", Diameter: mmOf(250), Teeth: 24, Bore: mmOf(30), Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(3)}, Knife: "k25"},
		},
		Rings:     []Ring{{ID: "r10", Thickness: mmOf(0.1), Count: 2, Outer: mmOf(78)}},
		Reference: "general-48", Standing: []string{"r10"},
		Records: []Record{
			{At: at(0), By: "KB", Kind: Isolation, RunDown: 6 * time.Second, How: "locked", Dead: "dead"},
			{At: at(1), By: "KB", Kind: Arbor, Dial: []Measure{mmOf(0), mmOf(0.01)}},
			{At: at(2), By: "KB", Kind: Mount, Blade: "general-48", Rings: []string{"r10"}},
			{At: at(3), By: "KB", Kind: FenceLock, Lock: "a", Width: mmOf(120)},
			{At: at(4), By: "KB", Kind: Boards, Lock: "a", Blade: "general-48", Length: mmOf(900), Lead: mmOf(120), Tail: mmOf(120)},
			{At: at(5), By: "KB", Kind: KnifeSet, Knife: "k25", Lock: "a", Blade: "general-48", Gaps: []Measure{mmOf(0), mmOf(0), mmOf(0), mmOf(0.05)}},
			{At: at(6), By: "KB", Kind: Scale, Pairs: []Pair{{mmOf(50), mmOf(50)}, {mmOf(150), mmOf(150)}}, Cursor: mmOf(-0.1)},
			{At: at(7), By: "KB", Kind: Mount, Blade: "rip-24", Rings: []string{}, Knife: "k25"},
			{At: at(8), By: "KB", Kind: Note, Text: "fog this morning"},
			{At: at(9), By: "KB", Kind: FenceMoved, Lock: "a"},
			{At: at(10), By: "KB", Kind: Sharpened, Blade: "rip-24", Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(2.9)}},
			{At: at(11), By: "KB", Kind: Note, About: AboutLeft, Blade: "rip-24", Text: "later"},
			{At: at(12), By: "KB", Kind: Void, Of: "2026-03-02T07:00:08Z KB note", Why: "no fog"},
			{At: at(13), By: "AB", Kind: Remeasured, Blade: "rip-24", Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(2.91)}, Runout: mmOf(0.04)},
			{At: at(14), By: "AB", Kind: Remeasured, Back: true, Blade: "rip-24", Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(2.9)}, Runout: mmOf(0.05)},
			{At: at(15), By: "KB", Kind: TakenOff, Blade: "general-48", Rings: []string{"r10"}, Left: "k25"},
			{At: at(16), By: "KB", Kind: Line, Blade: "general-48", Rings: []string{"r10"}, Knife: "k25", TipGap: mmOf(5), Faces: []Measure{mmOf(0), mmOf(0.05)}},
			{At: at(17), By: "KB", Kind: HeelToe, Blade: "general-48", Span: mmOf(200), SlotFront: mmOf(95), SlotRear: mmOf(95.03), FenceFront: mmOf(120), FenceRear: mmOf(120.04)},
			{At: at(18), By: "KB", Kind: Rim, Blade: "general-48", Dial: []Measure{mmOf(0), mmOf(0.01), mmOf(-0.01), mmOf(0)}},
			{At: at(19), By: "KB", Kind: Mount, Blade: "general-48", Rings: []string{"r10"}},
			{At: at(20), By: "KB", Kind: StripCut, Lock: "a", Blade: "general-48", Rings: []string{"r10"}, Mounting: "2026-03-02T07:00:19Z KB mount", For: Datum, Readings: slices.Clone(three)},
			{At: at(21), By: "KB", Kind: Mount, Blade: "rip-24", Rings: []string{}},
			{At: at(22), By: "KB", Kind: StripCut, Lock: "a", Blade: "rip-24", Mounting: "2026-03-02T07:00:21Z KB mount", For: ForBlade, Differences: []Measure{mmOf(-0.01)}, Zeroed: []string{"2026-03-02T07:00:20Z KB strip"}},
			{At: at(23), By: "KB", Kind: StripCut, Lock: "a", Blade: "rip-24", Mounting: "2026-03-02T07:00:21Z KB mount", For: ForBlade, Readings: slices.Clone(three), Of: "2026-03-02T07:00:22Z KB strip"},
			{At: at(24), By: "KB", Kind: Correction, Of: "2026-03-02T07:00:22Z KB strip", Lock: "a", Blade: "rip-24", Mounting: "2026-03-02T07:00:21Z KB mount", For: ForBlade, Readings: slices.Clone(three)},
			{At: at(25), By: "KB", Kind: Remeasured, Blade: "rip-24", Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(2.9)}, ToothPlate: []Measure{mmOf(2.3)}, Back: true},
			{At: at(26), By: "KB", Kind: Box, Blade: "rip-24", Knife: "k25"},
			{At: at(27), By: "KB", Kind: Found, Blade: "rip-24", Mounting: "2026-03-02T07:00:21Z KB mount", Text: "a chip under the ring"},
			{At: at(28), By: "KB", Kind: Isolation, Still: true, How: "unplugged", Dead: "dead", Answers: "R. Moor"},
			{At: at(29), By: "KB", Kind: Kept, Of: "2026-03-02T07:00:22Z KB strip"},
			{At: at(30), By: "KB", Kind: KnifeMoved, Knife: "k25"},
			{At: at(31), By: "KB", Kind: KnifeGone, Knife: "k25", Text: "lost"},
			{At: at(32), By: "AB", Kind: KnifeBack, Knife: "k25"},
			{At: at(33), By: "AB", Kind: Felt, Blade: "rip-24", Knife: "k25", Faces: []Measure{mmOf(-0.2), mmOf(0.05)}},
		},
	}
}

// A key that a kind must have is held to something: else a record could be without it.
func TestEveryKeyThatMustBeIsHeld(t *testing.T) {
	for kind, keys := range KindTable {
		for _, u := range keys {
			if u.Required && keyChecks[u.Key] == nil {
				t.Errorf("nothing holds the key %s of %s records to what can be: see keyChecks in validate_record.go", u.Key, kind)
			}
		}
	}
}

func TestAWholeProfileHasNoFindings(t *testing.T) {
	p := shop()
	if f := p.Validate(); len(f) > 0 {
		t.Error(f)
	}
	for kind := range KindTable {
		if !slices.ContainsFunc(p.Records, func(r Record) bool { return r.Kind == kind }) {
			t.Errorf("no record of the kind %s is tried", kind)
		}
	}
}

// A dial that was zeroed at the front may show less at the rear, or nothing.
func TestADialMayShowLess(t *testing.T) {
	p := shop()
	r := &p.Records[17]
	r.SlotFront, r.SlotRear, r.FenceFront, r.FenceRear = mmOf(0), mmOf(-0.02), mmOf(0), mmOf(0)
	if f := p.Validate(); len(f) > 0 {
		t.Error(f)
	}
}

func TestValidateNamesEachFaultByItsPath(t *testing.T) {
	for _, c := range []struct {
		want string // the path; a ? behind it: missing only
		do   func(p *Profile)
	}{
		{"name", func(p *Profile) { p.Name = "../bay" }},
		{"name?", func(p *Profile) { p.Name = "" }},
		{"units?", func(p *Profile) { p.Units = NoUnit }},
		{"tolerance", func(p *Profile) { p.Tolerance = mmOf(0) }},
		{"tolerance?", func(p *Profile) { p.Tolerance = Measure{} }},
		{"working_width", func(p *Profile) { p.WorkingWidth = mmOf(-1) }},
		{"knife_margin", func(p *Profile) { p.KnifeMargin = mmOf(-0.1) }},
		{"rules?", func(p *Profile) { p.Rules = "" }},
		{"saw.plain_part?", func(p *Profile) { p.Saw.PlainPart = Measure{} }},
		{"saw.thread_end?", func(p *Profile) { p.Saw.ThreadEnd = Measure{} }},
		{"saw.loose_flange?", func(p *Profile) { p.Saw.LooseFlange = Measure{} }},
		{"saw.nut?", func(p *Profile) { p.Saw.Nut = Measure{} }},
		{"idle_minutes", func(p *Profile) { p.IdleMinutes = MaxIdleMinutes + 1 }},
		{"instruments.caliper.resolution", func(p *Profile) { p.Instruments.Caliper = mmOf(0) }},
		{"instruments.micrometer.resolution?", func(p *Profile) { p.Instruments.Micrometer = Measure{} }},
		{"saw.label", func(p *Profile) { p.Saw.Label = "a\x1b[2J" }},
		{"saw.tilt", func(p *Profile) { p.Saw.Tilt = "up" }},
		{"saw.fence_side?", func(p *Profile) { p.Saw.FenceSide = "" }},
		{"saw.flange", func(p *Profile) { p.Saw.Flange = "left" }},
		{"saw.flange_relief", func(p *Profile) { p.Saw.FlangeRelief = mmOf(80) }},
		{"saw.arbor_diameter", func(p *Profile) { p.Saw.ArborDiameter = mmOf(80); setBores(p, 90) }},
		{"saw.thread_pitch", func(p *Profile) { p.Saw.ThreadPitch = (MaxLength + 1).Of(MM) }},
		{"knives[0].thickness", func(p *Profile) { p.Knives[0].Thickness = mmOf(-2.5) }},
		{"knives[1].id", func(p *Profile) { p.Knives = append(p.Knives, p.Knives[0]) }},
		{"blades?", func(p *Profile) { p.Blades, p.Records = p.Blades[:1], nil }},
		{"blades[1].id", func(p *Profile) { p.Blades[1].ID = "a b"; p.Records = nil }},
		{"blades[1].diameter", func(p *Profile) { p.Blades[1].Diameter = mmOf(0) }},
		{"blades[1].bore", func(p *Profile) { p.Blades[1].Bore = mmOf(29.999999) }},
		{"blades[1].bore", func(p *Profile) { p.Blades[1].Bore = mmOf(250) }},
		{"blades[1].teeth", func(p *Profile) { p.Blades[1].Teeth = -1 }},
		{"blades[1].teeth?", func(p *Profile) { p.Blades[1].Teeth = 0 }},
		{"blades[1].plate?", func(p *Profile) { p.Blades[1].Plate = nil }},
		{"blades[0].kerf[1]", func(p *Profile) { p.Blades[0].Kerf[1] = mmOf(2.2) }},
		{"blades[0].plate[0]", func(p *Profile) { p.Blades[0].Plate[0] = mmOf(-2.2) }},
		{"blades[1].runout", func(p *Profile) { p.Blades[1].Runout = mmOf(-0.1) }},
		{"blades[1].knife", func(p *Profile) { p.Blades[1].Knife = "k30" }},
		{"rings[0].thickness", func(p *Profile) { p.Rings[0].Thickness = mmOf(0) }},
		{"rings[0].count", func(p *Profile) { p.Rings[0].Count, p.Standing = -1, []string{} }},
		{"rings[0].outer", func(p *Profile) { p.Rings[0].Outer = mmOf(30) }},
		{"rings[0].bore", func(p *Profile) { p.Rings[0].Bore = mmOf(29.999999) }},
		{"rings[0].bore", func(p *Profile) { p.Rings[0].Bore = mmOf(-30) }},
		{"rings[0].bore", func(p *Profile) { p.Rings[0].Bore, p.Rings[0].Outer = mmOf(78), mmOf(78) }},
		{"rings", func(p *Profile) { p.Rings[0].Count = MaxRingKit + 1 }},
		{"reference", func(p *Profile) { p.Reference = "other" }},
		{"reference", func(p *Profile) { p.Blades[0].Retired = true }},
		{"reference?", func(p *Profile) { p.Reference = "" }},
		{"standing?", func(p *Profile) { p.Standing = nil }},
		{"standing[0]", func(p *Profile) { p.Standing[0] = "r99" }},
		{"standing[2]", func(p *Profile) { p.Standing = []string{"r10", "r10", "r10"} }},
		{"records[1].at", func(p *Profile) { p.Records[1].At = p.Records[1].At.Add(-time.Hour) }},
		{"records[1].by", func(p *Profile) { p.Records[1].By = "KB1" }},
		{"records[0].kind", func(p *Profile) { p.Records[0].Kind = "other" }},
		{"records[0].run_down", func(p *Profile) { p.Records[0].RunDown = -1 }},
		{"records[0].how", func(p *Profile) { p.Records[0].How = "off" }},
		{"records[1].dial[1]", func(p *Profile) { p.Records[1].Dial[1] = (MaxLength + 1).Of(MM) }},
		{"records[2].blade", func(p *Profile) { p.Records[2].Blade = "other" }},
		{"records[2].rings[0]", func(p *Profile) { p.Records[2].Rings[0] = "r99" }},
		{"records[17].span", func(p *Profile) { p.Records[17].Span = mmOf(-1) }},
		{"records[3].width", func(p *Profile) { p.Records[3].Width = mmOf(0) }},
		{"records[4].lock", func(p *Profile) { p.Records[4].Lock = "b" }},
		{"records[4].tail", func(p *Profile) { p.Records[4].Tail = mmOf(-1) }},
		{"records[5].gaps", func(p *Profile) { p.Records[5].Gaps = p.Records[5].Gaps[:3] }},
		{"records[5].gaps[1]", func(p *Profile) { p.Records[5].Gaps[1] = mmOf(-0.05) }},
		{"records[5].knife", func(p *Profile) { p.Records[5].Knife = "" }},
		{"records[6].pairs", func(p *Profile) { p.Records[6].Pairs = p.Records[6].Pairs[:0] }},
		{"records[6].pairs[1].read", func(p *Profile) { p.Records[6].Pairs[1].Read = Measure{} }},
		{"records[22].readings", func(p *Profile) { p.Records[22].Differences = nil }},
		{"records[20].readings[2]", func(p *Profile) { p.Records[20].Readings[2] = mmOf(0) }},
		{"records[10].kerf[0]", func(p *Profile) { p.Records[10].Kerf[0] = mmOf(2.2) }},
		{"records[10].plate", func(p *Profile) { p.Records[10].Plate = nil }},
		{"records[11].blade", func(p *Profile) { p.Records[11].Blade = "" }},
		{"records[11].about", func(p *Profile) { p.Records[11].About = "other" }},
		{"records[11].text", func(p *Profile) { p.Records[11].Text = strings.Repeat("é", MaxText+1) }},
		{"records[12].of", func(p *Profile) { p.Records[12].Of = "2026-03-02T07:00:13Z KB void" }},
		{"records[12].why", func(p *Profile) { p.Records[12].Why = "" }},
		{"prove_every", func(p *Profile) { p.ProveEvery = MaxProveEvery + 1 }},
		{"rules", func(p *Profile) { p.Rules = "uk" }},
		{"half_runout", func(p *Profile) { p.HalfRunout = mmOf(-0.01) }},
		{"ring_half_width", func(p *Profile) { p.RingHalfWidth = mmOf(-0.01) }},
		{"instruments.caliper.range", func(p *Profile) { p.Instruments.CaliperRange = mmOf(0) }},
		{"saw.plain_part", func(p *Profile) { p.Saw.PlainPart, p.Saw.ThreadEnd = mmOf(40), mmOf(40) }},
		{"saw.thread_end", func(p *Profile) { p.Saw.ThreadEnd, p.Saw.LooseFlange, p.Saw.Nut = mmOf(20), mmOf(8), mmOf(12) }},
		{"saw.spindle_speed", func(p *Profile) { p.Saw.SpindleSpeed = MaxSpeed + 1 }},
		{"saw.motor_tilt", func(p *Profile) { p.Saw.MotorTilt = "perhaps" }},
		{"saw.contact_brake", func(p *Profile) { p.Saw.ContactBrake = "perhaps" }},
		{"saw.scoring", func(p *Profile) { p.Saw.Scoring = "perhaps" }},
		{"saw.from_paper[1]", func(p *Profile) { p.Saw.FromPaper = []string{"nut", "bolt"} }},
		{"blades[1].marked_speed", func(p *Profile) { p.Blades[1].MarkedSpeed = -1 }},
		{"blades[1].tooth_plate[1]", func(p *Profile) { p.Blades[1].ToothPlate = []Measure{mmOf(2.9), mmOf(3)} }},
		{"records[0].run_down", func(p *Profile) { p.Records[0].Still = true }},
		{"records[28].run_down", func(p *Profile) { p.Records[28].Still = false }},
		{"records[28].answers", func(p *Profile) { p.Records[28].Answers = "\x1b" }},
		{"records[15].left", func(p *Profile) { p.Records[15].Left = "k30" }},
		{"records[15].left", func(p *Profile) { p.Records[15].Knife = "k25" }},
		{"records[16].faces", func(p *Profile) { p.Records[16].Faces = p.Records[16].Faces[:1] }},
		{"records[16].faces[1]", func(p *Profile) { p.Records[16].Faces[1] = Measure{} }},
		{"records[17].slot_rear", func(p *Profile) { p.Records[17].SlotRear = Measure{} }},
		{"records[17].slot_rear", func(p *Profile) { p.Records[17].SlotRear = mmOf(0) }},
		{"records[17].fence_rear", func(p *Profile) { p.Records[17].FenceRear = mmOf(-0.03) }},
		{"records[17].fence_front", func(p *Profile) { p.Records[17].FenceFront = mmOf(-120) }},
		{"records[20].round", func(p *Profile) { p.Records[20].Round = true }},
		{"records[18].dial", func(p *Profile) { p.Records[18].Dial = nil }},
		{"records[20].for", func(p *Profile) { p.Records[20].For, p.Records[22].Zeroed = "other", nil }},
		{"records[20].differences", func(p *Profile) {
			p.Records[20].Readings, p.Records[20].Differences = nil, []Measure{mmOf(0)}
		}},
		{"records[20].rings", func(p *Profile) { p.Records[20].Rings = nil }},
		{"records[22].mounting", func(p *Profile) { p.Records[22].Mounting, p.Records[23].Of = "2026-03-02T07:00:21Z KB", "" }},
		{"records[22].blade", func(p *Profile) { p.Records[22].Blade, p.Records[23].Of = "general-48", "" }},
		{"records[22].zeroed", func(p *Profile) { p.Records[22].Differences = []Measure{mmOf(0), mmOf(0)} }},
		{"records[22].zeroed[0]", func(p *Profile) { p.Records[22].Zeroed[0] = "2026-03-02T07:00:21Z KB strip" }},
		{"records[22].zeroed[0]", func(p *Profile) { p.Records[20].For = ForBlade }},
		{"records[22].readings", func(p *Profile) { p.Records[22].Readings = []Measure{mmOf(120)} }},
		{"records[23].of", func(p *Profile) { p.Records[23].Of = "2026-03-02T07:00:23Z KB strip" }},
		{"records[23].of", func(p *Profile) { p.Records[23].Of = "2026-03-02T07:00:21Z KB mount" }},
		{"records[23].of", func(p *Profile) { p.Records[23].Of = "2026-03-02T07:00:20Z KB strip" }},
		{"records[23].of", func(p *Profile) { p.Records[23].For = Closing }},
		{behind(0) + ".of", func(p *Profile) { p.more(p.Records[23]).Of = p.Records[23].Ref() }},
		{behind(1) + ".of", func(p *Profile) {
			p.more(Record{Kind: FenceLock, Lock: "b", Width: mmOf(120)})
			p.more(p.Records[23]).Lock = "b"
		}},
		{behind(1) + ".of", func(p *Profile) {
			m := p.more(p.Records[21]).Ref()
			p.more(p.Records[23]).Mounting = m
		}},
		{"records[24].of", func(p *Profile) { p.Records[24].Of = "2026-03-02T07:00:12Z KB void" }},
		{"records[24].of", func(p *Profile) { p.Records[24].Of = "2026-03-02T07:00:25Z KB measured" }},
		{"records[24].blade", func(p *Profile) { p.Records[24].Blade = "general-48" }},
		{"records[24].readings[0]", func(p *Profile) { p.Records[24].Readings = []Measure{mmOf(0)} }},
		{"records[25].tooth_plate[0]", func(p *Profile) { p.Records[25].ToothPlate[0] = mmOf(2.9) }},
		{"records[26].knife", func(p *Profile) { p.Records[26].Knife = "" }},
		{"records[27].blade", func(p *Profile) { p.Records[27].Blade = "general-48" }},
		{"records[27].text", func(p *Profile) { p.Records[27].Text = "" }},
		{"records[10].datum", func(p *Profile) { p.Records[10].Datum = "goes" }},
		{"records[29].of", func(p *Profile) { p.Records[29].Of = "2026-03-02T07:00:21Z KB mount" }},
		{"records[29].of", func(p *Profile) { p.Records[29].Of = p.Records[23].Ref() }},
		{"records[29].of", func(p *Profile) { p.Records[29].Of = "" }},
	} {
		p := shop()
		c.do(&p)
		path, missing := strings.CutSuffix(c.want, "?")
		f := p.Validate()
		if len(f) != 1 || f[0].Path != path || f[0].Missing != missing || f[0].Fault == "" || f[0].Cure == "" {
			t.Errorf("want %s, got %+v", c.want, f)
		}
	}
}

// behind is the path of a record that more added: the first, 0, the second, 1.
func behind(n int) string { return fmt.Sprintf("records[%d]", len(shop().Records)+n) }

// more adds a record behind all others.
func (p *Profile) more(r Record) *Record {
	last := len(p.Records)
	r.At, r.By = p.Records[last-1].At.Add(time.Second), "KB"
	p.Records = append(p.Records, r)
	return &p.Records[last]
}

func setBores(p *Profile, mm float64) {
	for i := range p.Blades {
		p.Blades[i].Bore = mmOf(mm)
	}
	for i := range p.Rings {
		p.Rings[i].Outer = mmOf(mm + 20)
	}
}

func TestValidateJustInsideTheLimits(t *testing.T) {
	p := shop()
	p.Blades[1].Bore = p.Saw.ArborDiameter
	p.Blades[0].Kerf[1] = (p.Blades[0].Plate[0].Length + 1).Of(MM)
	p.Saw.FlangeRelief = (p.Saw.FlangeDiameter.Length - 1).Of(MM)
	p.Saw.Label = strings.Repeat("é", MaxText)
	p.Rings[0].Count = MaxRingKit
	p.Records[1].At = p.Records[0].At
	p.IdleMinutes = MaxIdleMinutes
	p.ProveEvery, p.Saw.SpindleSpeed, p.Saw.Scoring, p.Saw.FromPaper = MaxProveEvery, MaxSpeed, No, paperKeys
	p.Saw.PlainPart, p.Saw.ThreadEnd, p.Saw.LooseFlange, p.Saw.Nut = mmOf(20.000001), mmOf(20.000001+1e-6), mmOf(8), mmOf(12)
	p.Blades[1].ToothPlate = []Measure{mmOf(2.999999)}
	if f := p.Validate(); len(f) > 0 {
		t.Error(f)
	}
}

func TestValidateReportsAllAtOnce(t *testing.T) {
	p := shop()
	p.Tolerance, p.Saw.Tilt, p.Blades[1].Knife, p.Records[11].About = mmOf(-1), "up", "k30", "old"
	var paths []string
	for _, f := range p.Validate() {
		paths = append(paths, f.Path)
	}
	if got := strings.Join(paths, " "); got != "tolerance saw.tilt blades[1].knife records[11].about" {
		t.Error(got)
	}
	if f := (Profile{}).Validate(); slices.ContainsFunc(f, func(f Finding) bool { return !f.Missing }) || len(f) < 15 {
		t.Errorf("an empty profile is not filled in yet, and nothing else: %v", f)
	}
}

// TestValidateFrom: what stands before is taken as good, but is still known.
func TestValidateFrom(t *testing.T) {
	p := shop()
	p.Records[0].How = "off"
	if f := p.ValidateFrom(4); len(f) > 0 {
		t.Error(f)
	}
	p.Records[11].About = "old"
	if f := p.ValidateFrom(8); len(f) != 1 || f[0].Path != "records[11].about" {
		t.Error(f)
	}
}

func TestTextFault(t *testing.T) {
	for _, s := range []string{"", "48-tooth \"general\"", "½ Ø12 日本", "e\u0301\u0301\u0301\u0301", strings.Repeat("é", MaxText)} {
		if f := TextFault(s); f != "" {
			t.Errorf("%q: %s", s, f)
		}
	}
	for _, s := range []string{"\x1b", "\x00", "\t", "\n", "\u0085", "\u202e", "\u200b", "\ufeff", "a\xff", "\u00a0", "e\u0301\u0301\u0301\u0301\u0301", strings.Repeat("é", MaxText+1)} {
		if TextFault(s) == "" {
			t.Errorf("%q is taken", s)
		}
	}
}
