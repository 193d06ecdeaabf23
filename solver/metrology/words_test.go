package metrology

import (
	"math"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// TestWords: what is set has the caliper's digits, what is computed one more, and a limit is never
// shown wider than it is.
func TestWords(t *testing.T) {
	p := model.Profile{Units: model.IN, Instruments: model.Instruments{Caliper: model.Measure{Length: model.Thou / 2, Unit: model.IN}}}
	if w := WordsOf(p); w.Unit != model.IN || w.Resolution != model.Thou/2 {
		t.Errorf("%+v", w)
	}
	mm, coarse, none := Words{model.MM, given.MM(0.01)}, Words{model.MM, given.MM(0.1)}, Words{Unit: model.MM}
	in, bare := Words{model.IN, model.Thou}, Words{Unit: model.IN}
	length := given.MM(1.23456)
	for _, c := range []struct {
		what      string
		got, want model.Length
	}{
		{"down", mm.Down(length), given.MM(1.23)}, {"up", mm.Up(length), given.MM(1.24)}, {"what is full", mm.Down(given.MM(1.23)), given.MM(1.23)},
		{"below nought", mm.Down(-length), given.MM(-1.24)}, {"coarse", coarse.Down(length), given.MM(1.2)},
		{"no caliper", none.Down(length), given.MM(1.23)}, {"in inches", in.Down(model.Inch + model.Thou + 5), model.Inch + model.Thou},
		{"inches, no caliper", bare.Down(model.Inch + model.Thou*3/2), model.Inch + model.Thou},
		{"steps of a nanometre", Words{model.MM, 1}.Down(length), length}, {"inches in steps of a nanometre: to a millionth", Words{model.IN, 1}.Down(13), 0},
		{"a step of 0.02 mm", Words{model.MM, given.MM(0.02)}.Down(length), given.MM(1.23)},
	} {
		if c.got != c.want {
			t.Errorf("%s: %d, want %d", c.what, c.got, c.want)
		}
	}
	for _, c := range [][2]string{
		{mm.Set(length), "1.23 mm"}, {mm.Result(length), "1.235 mm"}, {mm.Figure(length), "1.235 mm"}, {none.Figure(length), "1.23456 mm"},
		{Plural(1, "strip", "strips"), "strip"}, {Plural(2, "strip", "strips"), "strips"}, {Plural(0, "strip", "strips"), "strips"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
}

// TestReadMeanRefuses: no readings, readings that nothing on a saw has, and steps that are none.
func TestReadMeanRefuses(t *testing.T) {
	one := given.Lengths(1)
	for what, c := range map[string]struct {
		readings []model.Length
		step     model.Length
		fails    bool
	}{
		"none": {nil, 0, true}, "one": {one, 0, false}, "too long": {[]model.Length{1, model.MaxLength + 1}, 0, true}, "too far below": {[]model.Length{-model.MaxLength - 1}, 0, true},
		"as long as may be": {[]model.Length{model.MaxLength, -model.MaxLength}, 0, false}, "a step below nought": {one, -1, true}, "a step too long": {one, model.MaxLength + 1, true}, "a long step": {one, model.MaxLength, false},
	} {
		if _, _, err := ReadMean(c.readings, c.step); (err != nil) != c.fails {
			t.Errorf("%s: %v", what, err)
		}
	}
	for _, alike := range [][]model.Length{one, given.Lengths(2, 2, 2)} {
		if mean, c, err := ReadMean(alike, 0); err != nil || mean != float64(alike[0]) || c.Standard != 0 || !math.IsInf(c.Freedom, 1) {
			t.Errorf("%v: %v, %+v, %v", alike, mean, c, err)
		}
	}
}
