package profiles

import (
	"fmt"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// wellAfter is how far a record may be ahead of the clock: more than the clocks of two
// shifts differ, whatever the zone that one of them was set to by mistake.
const wellAfter = 24 * time.Hour

// Ahead lists the records of a profile whose times are more than a day after now. They can be, so
// they are no faults; but whatever is recorded next would have to be dated after them.
func Ahead(p model.Profile, now time.Time) []model.Finding {
	var out []model.Finding
	for i := range p.Records {
		if at := p.Records[i].At; at.After(now.Add(wellAfter)) {
			out = append(out, model.Finding{
				Path:  fmt.Sprintf("records[%d].at", i),
				Fault: fmt.Sprintf("%s is well after now, which is %s by the clock of this computer", at.Format(time.RFC3339), now.UTC().Format(time.RFC3339)),
				Cure:  "correct it in the file, or set the clock",
			})
		}
	}
	return out
}

// Ahead lists the records of the file whose times are well after now, with their lines.
func (f File) Ahead(now time.Time) text.Findings { return f.doc.Locate(Ahead(f.Profile, now)) }
