package wizard

import "example.com/sawdatum/wizard/procedure"

// Paper is a card, a page or labels on disk that no longer tell what the profile tells.
type Paper struct {
	Path   string
	Export procedure.Export // that writes it anew
	Date   string           // when it was written
	State  string           // short number of what it tells
	Now    string           // of what the profile tells
}

// Stale looks for papers that are to be written anew, once a place is there that tells of
// them.
func (j Job) Stale() []Paper {
	if look := j.Procedure.View().Look; j.Store.Stale == nil || look != procedure.Result && look != procedure.Handover {
		return nil
	}
	return j.Store.Stale(j.Procedure.Profile())
}
