package metrology

import "example.com/sawdatum/model"

// Words says lengths as a shop reads them: in its unit, with the digits of its
// caliper where something is to be set, and one more where something was computed.
type Words struct {
	Unit       model.Unit
	Resolution model.Length // of the caliper; 0: not known
}

// WordsOf is how a profile's shop reads lengths.
func WordsOf(p model.Profile) Words {
	return Words{Unit: p.Units, Resolution: p.Instruments.Caliper.Length}
}

// Set is a length that a hand sets or a caliper shows.
func (w Words) Set(l model.Length) string { return l.Show(w.Unit, w.Resolution) }

// Size is the thickness of a knife or a ring as people call it.
func (w Words) Size(l model.Length) string { return l.Size(w.Unit, w.Resolution) }

// Up is the next length above that Set shows in full: as a limit, safe to read.
func (w Words) Up(l model.Length) model.Length { return -w.Down(-l) }

// Down is the next length below that Set shows in full.
func (w Words) Down(l model.Length) model.Length {
	unit, digits := model.Millimetre, 2
	if w.Unit == model.IN {
		unit, digits = model.Inch, 3
	}
	step := unit
	for n := 0; n < 6 && (w.Resolution > 0 && step > w.Resolution || w.Resolution == 0 && n < digits); n++ {
		step /= 10
	}
	below := l % step
	if below < 0 {
		below += step
	}
	return l - below
}

// Result is a computed length.
func (w Words) Result(l model.Length) string {
	return l.Show(w.Unit, max(model.Computed(w.Resolution, w.Unit), min(w.Resolution, 1)))
}

// Figure is a length in a sentence about stacks: as a computed length where the
// shop's caliper is known, else with every digit.
func (w Words) Figure(l model.Length) string {
	if w.Resolution == 0 {
		return l.Of(w.Unit).String()
	}
	return w.Result(l)
}

// Plural is one for a single thing, else many.
func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
