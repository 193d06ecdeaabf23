package model

// Finding is one thing wrong with a profile.
type Finding struct {
	Path    string // key path: blades[2].kerf[0]
	Fault   string // what is wrong
	Cure    string // what would be right
	Missing bool   // not a fault yet in a profile that is still being filled in
	Doubt   bool   // it can be read, and is hardly so at any saw
}

func (f Finding) Error() string { return f.Path + ": " + f.Fault + ": " + f.Cure }
