package solver

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

// set is a length that a hand sets or a caliper shows.
func (w Words) set(l model.Length) string { return l.Show(w.Unit, w.Resolution) }

// up and down are the next lengths that set shows in full, upward and downward: limits
// that are safe to read.
func (w Words) up(l model.Length) model.Length { return -w.down(-l) }

func (w Words) down(l model.Length) model.Length {
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

// result is a computed length.
func (w Words) result(l model.Length) string {
	return l.Show(w.Unit, max(w.Resolution/10, min(w.Resolution, 1)))
}
