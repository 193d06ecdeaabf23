package wizard

import "fmt"

// AsideError says that a save went to another file: somebody else changed the profile's own
// file meanwhile, and only a person can bring the two together. Work goes on in that file.
type AsideError struct {
	Path   string  // where it is kept now
	Own    string  // the profile's own file
	Why    string  // "somebody else changed the head too"
	Values []Value // that differ: mine are those kept here, theirs those in its own file
	Cure   string  // what brings the two together
}

// Error says it on one line, with what to do.
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
