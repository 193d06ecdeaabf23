// Package wizard is a run: the procedure with a profile, a clock, what is typed and not
// sent, and what is saved and exported. People meet it on a full screen (wizard/screen) or
// in plain lines (wizard/plain). Both draw from the same procedure, so that they cannot
// differ in a gate, and both have their words from wizard/tell. The package touches no
// file: reading, saving and listing profiles come in as functions.
package wizard

import (
	"io"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// Store is one profile and where it lives.
type Store struct {
	Path    string // for people; empty: nothing is written
	Profile model.Profile
	// Save writes the profile as it stands; nil: nothing is written. Calls come one
	// after the other. It gives back what is in the file now: the same, or, where
	// another shift saved meanwhile, both. An error is one line for people, what to do
	// included.
	Save func(model.Profile) (model.Profile, error)
	// Export writes the profile for others (procedure.Export), beside where it lives,
	// and gives the file's full name; nil: nothing is written. Calls come after those of
	// Save. A file that is there already is replaced only where it is over; else the error
	// is fs.ErrExist, and the file is told of.
	Export func(e procedure.Export, over string, p model.Profile) (file string, err error)
	// Stale lists the papers beside the profile that no longer tell what it tells; nil:
	// none are looked for.
	Stale func(model.Profile) []Paper
	// Kept is where a file in an older format is kept as it was; empty: nowhere, so far.
	Kept func() string
}

// Found is one line of the start screen.
type Found struct {
	Path  string
	Name  string
	Saw   string
	Ready int // blades
	Due   int
	All   int
	Last  time.Time // of the last record; zero: none
	By    string
	Fault string // why it cannot be opened; the rest is empty then
	Stale []Paper

	Arbor  string       // the blade that is on it by the records; empty: none, or not known
	Rings  string       // behind that
	Blades []FoundBlade // what fails first
}

// FoundBlade is a blade of a profile that was found, as the papers tell of it.
type FoundBlade struct {
	ID, Name            string
	Rings, Knife, State string
	Usable              bool
	Proves              bool   // it, or what is on the saw, is due: a swap to it may prove it
	Barred              string // why no swap leads to it; empty: one does
	Check               string // why a pair of strips has to make it ready first; empty: none does
}

// Shelf is where profiles are kept: what the start screen needs.
type Shelf struct {
	List     func() ([]Found, error)
	Open     func(path string) (Store, error)
	Create   func(name string) (Store, error)
	Practice func() (Store, error) // the invented shop
}

// Options say what is run, and with which means. The zero value of each field is a
// sound default but for Store or Shelf.
type Options struct {
	Store    Store
	Shelf    Shelf // used by the full screen where Store is empty
	Run      procedure.Options
	Practice bool   // against the simulated saw
	Seed     uint64 // of the simulated saw
	// Copy writes a profile to another file and refuses to overwrite one.
	Copy func(path string, p model.Profile) error

	Clock func() time.Time // stamps records; practice has a clock of its own
	In    io.Reader        // nil: standard input
	Out   io.Writer        // nil: standard output

	NoColor bool // attributes only
	Light   bool // drawn for a light background
	ASCII   bool // plain characters only
}

// Result is how a run ended.
type Result struct {
	Finished bool  // the closing place was answered; isolate only: the gate was passed
	Unsaved  error // why accepted answers could not be written; nil: they are
	Path     string
	Profile  model.Profile
}
