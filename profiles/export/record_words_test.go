package export

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
)

// TestReadingsOfARecord: digits line up, and nothing of what was typed is rounded away.
func TestReadingsOfARecord(t *testing.T) {
	inch := func(texts ...string) []model.Measure {
		var out []model.Measure
		for _, text := range texts {
			m, err := model.ParseLength(text, model.IN)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, m)
		}
		return out
	}
	for _, c := range []struct {
		readings []model.Measure
		want     string
	}{
		{nil, ""},
		{mms(120000000), ", widths 120 mm"},
		{mms(120000000, 119990000, 119900000), ", widths 120.00 119.99 119.90 mm"},
		{mms(100, -2000000), ", widths 0.0001 -2.0000 mm"},
		{inch("0.125", "0.1255"), ", widths 0.1250 0.1255 in"},
		{inch("0.125", "3.2 mm"), ", widths 0.125 in 3.2 mm"},
		{[]model.Measure{model.Length(1).Of(model.IN), mms(1000000)[0].Length.Of(model.IN)}, ", widths 0.000001 mm 1 mm"},
		{inch("1/8", "12 thou"), ", widths 1/8 in 12 thou"},
	} {
		if got := also("widths", c.readings); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestAMeanIsToldInDigitsOfTheCaliper: one more than it shows; what was typed stays as it is.
func TestAMeanIsToldInDigitsOfTheCaliper(t *testing.T) {
	p := chosenDemo()
	p.Units, p.Instruments.Caliper = model.MM, mms(10_000)[0]
	r := model.Record{Kind: model.Scale, Pairs: []model.Pair{{Set: mms(105000000)[0], Read: mms(105170000)[0]}, {Set: mms(140000000)[0], Read: mms(140136667)[0]}}}
	const want = "fence scale: 105 mm reads 105.17 mm, 140 mm reads 140.137 mm"
	if got := recordTable[model.Scale](p, r); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestEveryKindOfRecordIsTold(t *testing.T) {
	for kind := range model.KindTable {
		if _, ok := recordTable[kind]; !ok && kind != model.Correction { // it is told as the kind that it corrects
			t.Errorf("records of kind %s are not told", kind)
		}
	}
	p := chosenDemo()
	r := model.Record{At: time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC), By: "KB", Kind: model.StripCut, Blade: "rip-24", Rings: []string{"r10"}, For: model.ForBlade, Readings: mms(119_980_000, 119_990_000)}
	p.Records = []model.Record{r, {At: r.At.Add(time.Hour), By: "MO", Kind: model.Void, Of: r.Ref(), Why: "wrong strip"}}
	want := "1  2026-03-02 07:00 KB  strip of 24-tooth rip with 0.10 mm, widths 119.98 119.99 mm (VOID: wrong strip)"
	if got := RecordLines(p)[0]; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	at := func(kind model.Kind, r model.Record) model.Record {
		r.At, r.By, r.Kind = time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC), "KB", kind
		return r
	}
	strip := at(model.StripCut, model.Record{Blade: "rip-24", Rings: []string{"r10"}, For: model.ForBlade, Readings: mms(139980000, 139990000)})
	again := strip
	again.Of, again.Kind = strip.Ref(), model.Correction
	for _, c := range []struct {
		r    model.Record
		want string
	}{
		{strip, "strip of 24-tooth rip with 0.10 mm, widths 139.98 139.99 mm (CORRECTED further down)"},
		{at(model.StripCut, model.Record{Blade: "rip-24", For: model.Datum, Of: "x", Readings: mms(140000000)}), "read again, reference strip of 24-tooth rip with no rings, widths 140 mm (CORRECTED further down)"},
		{again, "correction: 2026-03-02T07:00:00Z KB strip: strip of 24-tooth rip with 0.10 mm, widths 139.98 139.99 mm"},
		{at(model.Correction, model.Record{Of: "x correction"}), "correction"},
		{at(model.Isolation, model.Record{RunDown: 12 * time.Second, Typed: true, How: "locked", Answers: "R. Moor"}), "isolated: locked, run-down 12 s (typed), R. Moor answers for it, start control dead"},
		{at(model.Isolation, model.Record{Still: true, How: "locked"}), "isolated: locked, stood still already, start control dead"},
		{at(model.TakenOff, model.Record{Blade: "rip-24", Rings: []string{"r10"}, Left: "k25"}), "taken off: 24-tooth rip, 0.10 mm; knife 2.5 mm stays in"},
		{at(model.TakenOff, model.Record{Knife: "k25"}), "taken off: no blade, no rings, knife 2.5 mm; the saw is empty"},
		{at(model.Line, model.Record{Blade: "rip-24", Knife: "k25", TipGap: mms(5000000)[0], Faces: mms(0, 50000)}), "knife 2.5 mm in line with 24-tooth rip, tip gap 5 mm, behind the tips 0.00 0.05 mm"},
		{at(model.HeelToe, model.Record{Blade: "rip-24", SlotFront: mms(95000000)[0], SlotRear: mms(95030000)[0], FenceRear: mms(30000)[0]}), "heel and toe of 24-tooth rip, slot 95 mm to 95.03 mm, fence by dial +0.03 mm at the rear"},
		{at(model.HeelToe, model.Record{Blade: "rip-24", SlotRear: mms(-30000)[0], FenceRear: mms(0)[0]}), "heel and toe of 24-tooth rip, slot by dial -0.03 mm at the rear, fence by dial 0 mm at the rear"},
		{at(model.Sharpened, model.Record{Blade: "rip-24", Datum: model.DatumStays}), "24-tooth rip sharpened, the datum stays"},
		{at(model.Remeasured, model.Record{Blade: "rip-24", Back: true, Runout: mms(30000)[0]}), "24-tooth rip back on the rack, as new, runout 0.03 mm"},
		{at(model.Box, model.Record{Blade: "rip-24", Rings: []string{"r10"}, Knife: "k25"}), "on the box of 24-tooth rip: 0.10 mm, knife 2.5 mm"},
		{at(model.Found, model.Record{Blade: "rip-24", Text: "nothing"}), "found when cleaned for 24-tooth rip: nothing"},
		{at(model.Kept, model.Record{Of: "2026-03-02T07:00:00Z KB strip"}), "a strip stood apart, was looked at and counts: 2026-03-02T07:00:00Z KB strip"},
		{at(model.KnifeGone, model.Record{Knife: "k25", Text: "given away"}), "knife 2.5 mm is gone: given away"},
		{at(model.KnifeBack, model.Record{Knife: "k25"}), "knife 2.5 mm is there again"},
	} {
		p.Records = []model.Record{c.r, again}
		if got := strings.TrimPrefix(RecordLines(p)[0], "1  2026-03-02 07:00 KB  "); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// mms are readings in millimetres, given in nanometres.
func mms(nm ...int) (out []model.Measure) {
	for _, n := range nm {
		out = append(out, mm(n))
	}
	return out
}
