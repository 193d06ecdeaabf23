package model

import (
	"cmp"
	"slices"
	"time"
)

// Shifts is who wrote the newest records, and where those begin: behind the last record of
// somebody else. Other is empty, and First 0, where nobody else has written yet.
type Shifts struct {
	By, Other string
	Since     time.Time // of the other's last record
	First     int       // index of the first record after it
}

// ShiftsOf finds the two shifts of a profile.
func ShiftsOf(records []Record) Shifts {
	var s Shifts
	for i := len(records) - 1; i >= 0; i-- {
		r := records[i]
		if s.By = cmp.Or(s.By, r.By); r.By != s.By {
			s.Other, s.Since, s.First = r.By, r.At, i+1
			break
		}
	}
	return s
}

// Before is the profile as the other shift left it, under the head that it has now.
func Before(p Profile) Profile {
	p.Records = slices.Clip(p.Records[:ShiftsOf(p.Records).First])
	return p
}
