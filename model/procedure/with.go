package procedure

import "example.com/sawdatum/model"

// With is the field with a check of its own behind that of its kind: it says what is
// wrong with a typed text, and what would be right.
func (f Field) With(check func(text string) error) Field {
	f.check = check
	return f
}

// ParsePairs reads settings and readings: 60=60.12 120=120.11. bare is the unit of a bare
// number.
func ParsePairs(text string, bare model.Unit) ([]model.Pair, error) { return parsePairs(text, bare) }
