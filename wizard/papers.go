package wizard

import (
	"fmt"
	"path/filepath"

	"example.com/sawdatum/wizard/procedure"
)

// Paper is a card, a page or labels on disk that no longer tell what the profile tells.
type Paper struct {
	Path   string
	Export procedure.Export // that writes it anew
	Date   string           // when it was written
	State  string           // short number of what it tells
	Now    string           // of what the profile tells
}

// old says how old the paper is.
func (p Paper) old() string {
	return fmt.Sprintf("%s is of %s, state %s; the blades are in state %s now", printable(filepath.Base(p.Path)), p.Date, p.State, p.Now)
}

// hang says what is to be done with a paper that is written anew.
func (p Paper) hang() string {
	if p.Export.As == "labels" {
		return "then change those on the boxes"
	}
	return "then change the one on the wall"
}

// stale looks for papers that are to be written anew, once the closing place is there.
func (j job) stale() []Paper {
	if j.store.Stale == nil || j.procedure.View().Look != procedure.Result {
		return nil
	}
	return j.store.Stale(j.procedure.Profile())
}

// staleSentences name the papers that the closing place can write anew.
func (j job) staleSentences() []string {
	var out []string
	for _, p := range j.papers {
		out = append(out, fmt.Sprintf("STALE: %s. Type %s to write it anew, %s.", p.old(), p.Export, p.hang()))
	}
	return out
}
