package wizard

import (
	"testing"

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
		{mm("120"), ", widths 120 mm"},
		{mm("120", "119.99", "119.9"), ", widths 120.00 119.99 119.90 mm"},
		{mm("0.0001", "-2"), ", widths 0.0001 -2.0000 mm"},
		{inch("0.125", "0.1255"), ", widths 0.1250 0.1255 in"},
		{inch("0.125", "3.2 mm"), ", widths 0.125 in 3.2 mm"},
		{[]model.Measure{model.Length(1).Of(model.IN), mm("1")[0].Length.Of(model.IN)}, ", widths 0.000001 mm 1 mm"},
		{inch("1/8", "12 thou"), ", widths 1/8 in 12 thou"},
	} {
		if got := also("widths", c.readings); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
