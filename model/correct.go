package model

// corrected is a record as a correction of it reads: what happened when and by whose
// hand stays, and so does the strip that further readings are of.
func corrected(first, by *Record) *Record {
	now := *by
	now.At, now.By, now.Kind, now.Of = first.At, first.By, first.Kind, first.Of
	return &now
}
