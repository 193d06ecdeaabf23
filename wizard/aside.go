package wizard

import "fmt"

// AsideError tells of a save that went to another file, since what somebody else did to
// the profile's own meanwhile cannot be brought together without a person. Work goes on
// in that file.
type AsideError struct {
	Path   string  // where it is kept now
	Own    string  // the profile's own file
	Why    string  // "somebody else changed the head too"
	Values []Value // that differ: mine are those kept here, theirs those in its own file
	Cure   string  // what brings the two together
}

// Error tells it on one line, what to do included.
func (e *AsideError) Error() string {
	return fmt.Sprintf("%s: %s: yours is kept in %s: %s", e.Own, e.Why, e.Path, e.Cure)
}

// Value is one value of a profile that two copies of it do not agree on. A copy that
// lacks it says so in words.
type Value struct {
	Path   string // blades[rip-24].kerf
	Mine   string
	Theirs string
}
