package tell

import (
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

func TestTally(t *testing.T) {
	f := procedure.Field{Kind: procedure.FieldLengths, Measuring: true, Unit: model.MM, AtLeast: 3}
	inches := procedure.Field{Kind: procedure.FieldLengths, Measuring: true, Unit: model.IN, AtLeast: 2}
	for _, c := range []struct {
		field procedure.Field
		text  string
		want  string
	}{
		{f, "", ""},
		{f, "119.98", "1 reading (2 more wanted)"},
		{f, "119.98 119.99", "2 readings (1 more wanted), mean 119.985 mm, spread 0.01 mm"},
		{f, "119.98 119.99 120.00", "3 readings, mean 119.990 mm, spread 0.02 mm"},
		{f, "119.98 119.99 12x", "2 readings (1 more wanted), mean 119.985 mm, spread 0.01 mm"},
		{f, "119.98 119.99 1", "2 readings (1 more wanted), mean 119.985 mm, spread 0.01 mm"},
		{f, "119.98 119.99 120.0", "2 readings (1 more wanted), mean 119.985 mm, spread 0.01 mm"},
		{f, "119.98 119.99 120 ", "3 readings, mean 119.990 mm, spread 0.02 mm"},
		{f, "abc 119.99", ""},
		{procedure.Field{Kind: procedure.FieldLengths, Measuring: true, Unit: model.MM, AtLeast: 4, AtMost: 4}, "0 0.05", "2 of 4"},
		{inches, "0.126 0.128", "2 readings, mean 0.1270 in, spread 0.002 in"},
		{procedure.Field{Kind: procedure.FieldText}, "12 13", ""},
	} {
		if got := Tally(c.field, c.text); got != c.want {
			t.Errorf("tally(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}
