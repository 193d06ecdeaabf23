package stages

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// TestInchShopReadsNoMillimetres goes through a whole setup in inches: no screen of it
// speaks of millimetres, but where something is called by them.
func TestInchShopReadsNoMillimetres(t *testing.T) {
	mmRE := regexp.MustCompile(`[0-9.]+ ?mm`)
	h := fresh(t, inches)
	for !h.p.Finished() {
		v := h.p.View()
		texts := append(append(append([]string{v.Title}, v.Do...), v.Why...), v.Help...)
		for _, f := range v.Fields {
			texts = append(texts, f.Label, f.Hint)
		}
		for _, r := range h.p.Report() {
			texts = append(texts, r.Text)
		}
		for _, text := range texts {
			if mmRE.MatchString(text) {
				t.Errorf("%s: %s", v.Place, text)
			}
		}
		h.step(nil)
	}
	house := House(procedure.Options{})
	rows := house.Work
	for _, b := range house.Blocks {
		rows = append(rows, b.Rows...)
	}
	for _, r := range rows {
		if r.Why == nil {
			continue
		}
		for _, text := range r.Why(h.p.Now()) {
			if mmRE.MatchString(text) {
				t.Errorf("%s: %s", r.Name, text)
			}
		}
	}
}

// inches is the shop of practice with everything measured and marked in inches.
func inches(p *model.Profile) {
	p.Units = model.IN
	to := func(m *model.Measure, step model.Length) {
		if m.Unit != model.NoUnit {
			*m = ((m.Length + step/2) / step * step).Of(model.IN)
		}
	}
	all := func(ms []model.Measure) {
		for i := range ms {
			to(&ms[i], model.Thou/10)
		}
	}
	for i := range p.Rings {
		r := &p.Rings[i]
		to(&r.Thickness, model.Thou)
		to(&r.Measured, model.Thou/10)
		to(&r.Outer, model.Thou)
	}
	for i := range p.Knives {
		to(&p.Knives[i].Thickness, model.Thou)
	}
	for i := range p.Blades {
		b := &p.Blades[i]
		to(&b.Diameter, model.Inch)
		to(&b.Bore, model.Thou)
		all(b.Plate)
		all(b.Kerf)
	}
	s := &p.Saw
	for _, m := range []*model.Measure{&s.FlangeDiameter, &s.FlangeRelief, &s.ArborDiameter, &s.LooseFlange, &s.Nut, &s.PlainPart, &s.ThreadEnd, &s.ThreadPitch, &s.ThroatLength} {
		to(m, model.Thou)
	}
	p.Tolerance, p.WorkingWidth = (4 * model.Thou).Of(model.IN), (model.Inch * 11 / 2).Of(model.IN)
	p.Instruments = model.Instruments{Caliper: (model.Thou / 2).Of(model.IN), CaliperRange: (6 * model.Inch).Of(model.IN), Micrometer: (model.Thou / 10).Of(model.IN)}
}

// TestStripsInDigitsThatAnInchShopReads: tenths of a thousandth at the finest, also where a caliper
// shows half thousandths.
func TestStripsInDigitsThatAnInchShopReads(t *testing.T) {
	var c context
	c.Profile.Units = model.IN
	c.Profile.Instruments.Caliper = (model.Thou / 2).Of(model.IN)
	c.Profile.WorkingWidth = (5 * model.Inch).Of(model.IN)
	c.State.Strips = []model.Strip{{For: model.Datum, Present: true, Readings: []model.Measure{(5*model.Inch + model.Thou/3).Of(model.IN)}}}
	if said := stripsLaid(c, "", nil).Sentence(); !strings.Contains(said, "is 5.0003 in wide") {
		t.Error(said)
	}
}

// TestTheScaleReadInFractions: a setting that was typed as a mixed number is offered for correction
// as one that reads the same, and what is refused of such a text is no point of the picture.
func TestTheScaleReadInFractions(t *testing.T) {
	var c context
	c.Profile.Units = model.IN
	want, err := procedure.ParsePairs("3-1/2=3-33/64 4=4.507", model.IN)
	if err != nil {
		t.Fatal(err)
	}
	offered := typedPairs(c, record{Pairs: want})["pairs"]
	if got, err := procedure.ParsePairs(offered, model.IN); err != nil || !slices.Equal(got, want) {
		t.Errorf("%v is offered as %q, which reads as %v, %v", want, offered, got, err)
	}
	if got := pairsSoFar(c, answers{"pairs": "3 1/2=3.508 4=4.507"}, "pairs"); len(got) != 1 || got[0].Set.Length != 4*model.Inch {
		t.Errorf("points %v", got)
	}
}

// TestALeafOverTheLimitReadsSo: a gap may be 0.10 mm, which is 0.00394 in, so that a leaf of
// .004 in is over it, and the refusal and the limit beside the figure do not read the same.
func TestALeafOverTheLimitReadsSo(t *testing.T) {
	h := fresh(t, inches)
	for h.p.View().Place.Step != "knife" {
		h.step(nil)
	}
	v := h.p.View()
	i := slices.IndexFunc(v.Fields, func(f procedure.Field) bool { return f.Key == "gaps" })
	if err := v.Fields[i].Check(".003 .001 .003 .001"); err != nil {
		t.Error(err)
	}
	err := v.Fields[i].Check(".004 .001 .004 .001")
	if err == nil || !strings.Contains(err.Error(), "0.0040 in at front low") || !strings.Contains(err.Error(), "0.0039 in") {
		t.Errorf("a leaf of .004: %v", err)
	}
	if f := v.Figure(procedure.Answers{"gaps": ".003 .001 .003 .001"}); !strings.Contains(f.Caption, "limit 0.0039 in") || !strings.HasPrefix(f.Text, "0.0030") {
		t.Errorf("the figure reads %+v", f)
	}
}
