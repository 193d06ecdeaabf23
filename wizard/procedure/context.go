package procedure

import (
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// State is what the records say; Plan what the numbers say at a moment; Judge works the
// plan out.
type (
	State = model.State
	Plan  = model.Plan
	Judge func(model.Profile, time.Time) Plan
)

// Mode says how much of the procedure is wanted.
type Mode uint8

// The whole setup; one blade only; the daily swap; a proof of a blade; only the prompts
// before hands go near the arbor.
const (
	Setup Mode = iota
	OneBlade
	Swap
	Prove
	IsolateOnly
)

// Options are fixed when a run begins. Seed chooses the words of the gates.
type Options struct {
	Mode    Mode
	Blade   string // OneBlade, Swap, Prove: its id
	Proves  bool   // Swap: a proof is made of it
	Offers  bool   // Swap: where a blade is due, or to be checked, it is asked whether a proof is made of it
	Seed    uint64
	Exports []string // ways of handing the profile on that the closing row offers
	Unkept  bool     // nothing is written: practice
	Shows   []string // those of them that can be read on the screen
}

// Fact is something typed in this run that no file holds, such as a rack that was said
// to be whole. One that does not last is forgotten with an interruption of any kind.
type Fact struct {
	Name  string
	Lasts bool
}

// Context is what rows read.
type Context struct {
	Profile model.Profile
	State   State // what the records say
	Plan    Plan  // what the numbers say
	Lock    interlock.State
	Options Options
	Blade   string         // what Each listed; empty: none
	Need    interlock.Need // a gate: what the row behind it needs
	Who     string         // initials of who is at the saw; empty: not asked yet
	Power   PowerSince
	Gates   int // gates passed or voided in this run, for their words
	At      time.Time
	Opened  time.Time // when this row came up
	Started int       // records that were there when the run began
	Again   bool      // the row where the work stands was answered before, and no interruption has come since

	facts map[Fact]string
	judge Judge
	paper bool // the values of this row are read from the manual
}

// PowerSince tells since when the power is what it is, and by whom.
type PowerSince struct {
	Since time.Time
	By    string
}

// All are the records of the profile, oldest first.
func (c Context) All() []model.Record { return c.Profile.Records }

// Now are the records of this run.
func (c Context) Now() []model.Record { return c.Profile.Records[c.Started:] }

// Fact is what was typed in this run under that name; empty: nothing.
func (c Context) Fact(f Fact) string { return c.facts[f] }

// FromPaper reports whether the values of this row are typed as the manual or an older
// profile has them.
func (c Context) FromPaper() bool { return c.paper }

// For is the same moment, looked at for another blade.
func (c Context) For(blade string) Context { c.Blade = blade; return c }

// With is the moment as it would be with one more record, for showing what follows from
// a reading before it is taken. Nothing of it is kept.
func (c Context) With(r model.Record) Context {
	r.At, r.By = after(c.Profile.Records, c.At), c.Who
	n := len(c.Profile.Records)
	c.Profile.Records = append(c.Profile.Records[:n:n], r)
	return c.read()
}

// WithHead is the moment as it would be with another head of the profile.
func (c Context) WithHead(write func(*model.Profile)) Context {
	write(&c.Profile)
	return c.read()
}

// before is the moment as it was when so many records were there, for a look at what one
// of them was typed into.
func (c Context) before(records int) Context {
	c.Profile.Records = c.Profile.Records[:records:records]
	return c.read()
}

// read reads the records anew.
func (c Context) read() Context {
	c.State, c.Plan = model.Fold(c.Profile), c.judge(c.Profile, c.At)
	return c
}

// after is a time for a record behind these: whole seconds, later than the last one, so
// that two copies of a profile merge in the order in which things were done and every
// record has a Ref of its own.
func after(records []model.Record, at time.Time) time.Time {
	at = at.UTC().Truncate(time.Second)
	if n := len(records); n > 0 && !at.After(records[n-1].At) {
		return records[n-1].At.UTC().Truncate(time.Second).Add(time.Second)
	}
	return at
}
