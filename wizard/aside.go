package wizard

import (
	"fmt"
	"strings"
)

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

func (e *AsideError) Error() string {
	return fmt.Sprintf("%s: %s: yours is kept in %s: %s", e.Own, e.Why, e.Path, e.Cure)
}

// sentences tell all of it; at most so many values.
func (e *AsideError) sentences(most int) []string {
	out := []string{fmt.Sprintf("KEPT ELSEWHERE: %s in %s, so yours is kept in %s.", printable(e.Why), printable(e.Own), printable(e.Path))}
	for i, v := range e.Values {
		if i == most {
			out = append(out, fmt.Sprintf("And %d more.", len(e.Values)-most))
			break
		}
		out = append(out, fmt.Sprintf("%s: here %s, there %s.", printable(v.Path), printable(v.Mine), printable(v.Theirs)))
	}
	return append(out, "To settle it: "+printable(e.Cure))
}

// shownValues is how many of the values that differ stand over a step.
const shownValues = 3

func (e *AsideError) notice() notice {
	if e == nil {
		return notice{}
	}
	return notice{"KEPT ELSEWHERE: F1 says where, what differs, and how to settle it.", strings.Join(e.sentences(shownValues), " "), true}
}
