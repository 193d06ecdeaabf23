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

// result is a computed length.
func (w Words) result(l model.Length) string {
	return l.Show(w.Unit, max(w.Resolution/10, min(w.Resolution, 1)))
}
