package tell

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/procedure"
)

// soFar are the readings that stand in a field. The last word may still be under way:
// it is left out while it is not a length, or where all are of one thing, not typed to its end.
// Nothing is read from what is wrong before.
func soFar(f procedure.Field, text string) []model.Measure {
	if f.AtLeast != f.AtMost {
		text = model.Finished(text)
	}
	readings, err := model.ParseReadings(text, f.Unit)
	if err == nil {
		return readings
	}
	words := strings.Fields(text)
	if len(words) < 2 {
		return nil
	}
	readings, err = model.ParseReadings(strings.Join(words[:len(words)-1], " "), f.Unit)
	if err != nil {
		return nil
	}
	return readings
}

// Tally counts what stands in a field for several readings: how many, their mean and
// their spread. Of a choice that was typed by its number, or in part, it is the name. It is
// empty until there is a reading, and for other fields.
func Tally(f procedure.Field, text string) string {
	if f.Kind == procedure.FieldChoice {
		if name := f.Name(text); !strings.EqualFold(name, strings.TrimSpace(text)) {
			return name
		}
		return ""
	}
	if f.Kind != procedure.FieldLengths || !f.Measuring || f.AtLeast == 1 { // rings and knives are no readings of one thing
		return ""
	}
	readings := soFar(f, text)
	if len(readings) == 0 {
		return ""
	}
	lengths := model.Lengths(readings)
	count := fmt.Sprintf("%d readings", len(lengths))
	if len(lengths) == 1 {
		count = "1 reading"
	}
	if n := f.AtLeast - len(lengths); n > 0 {
		count += fmt.Sprintf(" (%d more wanted)", n)
	}
	if len(lengths) < 2 && f.AtLeast != f.AtMost {
		return count
	}
	if f.AtLeast == f.AtMost { // so many different things
		return fmt.Sprintf("%d of %d", len(lengths), f.AtMost)
	}
	unit := readings[0].Unit
	if unit != model.MM {
		unit = model.IN
	}
	digit := finest(text, unit)
	mean, err := metrology.Mean(lengths)
	if err != nil {
		return count
	}
	spread := slices.Max(lengths) - slices.Min(lengths)
	return fmt.Sprintf("%s, mean %s, spread %s", count, mean.Show(unit, model.Computed(digit, unit)), spread.Show(unit, digit))
}

// finest is one step of the last digit that was typed in any of the readings.
func finest(text string, unit model.Unit) model.Length {
	digits := 0
	for _, word := range strings.Fields(text) {
		_, after, _ := strings.Cut(word, ".")
		digits = max(digits, len(after)-len(strings.TrimLeft(after, "0123456789")))
	}
	step := model.Millimetre
	if unit != model.MM {
		step = model.Inch
	}
	for range min(digits, 5) {
		step /= 10
	}
	return step
}
