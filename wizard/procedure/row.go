// Package procedure moves through rows. It knows no step: the rows and the gates come
// from package stages, which reaches nothing of a Procedure but what Context and Taking
// export. Nothing in it knows of terminals, files or clocks.
package procedure

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// Block is rows that belong together: gone through once, or once for each of what Each
// lists, such as the blades of the rack.
type Block struct {
	Each func(Context) []string // nil: once
	Rows []Row
}

// Row is all of a step. What power it needs follows from its act.
type Row struct {
	Name  string // for drafts, the trail and tests: no product code compares it
	Stage int    // 1 to 11, as the trade's order has them
	Gate  bool   // typed by hand: never pasted, never filled in, deaf until it can be read
	Look  Look   // how the full face lays it out

	When  func(Context) bool           // nil: always
	Done  func(Context) bool           // nil: never; a row of other work is over with its answer
	Needs func(Context) interlock.Need // nil: nothing but power

	Title  func(Context) string
	Also   string // other work: what else people call it
	Act    Act
	Why    func(Context) []string // cautions, at most two lines; nil: none
	Once   func(Context) []string // the reason: told the first time, then behind the help key; nil: none
	Help   []string               // more of it; of each {300 mm|12 in} a shop reads the part in its unit
	Fields func(Context) []Field
	Reads  *Reads        // the record whose readings going back corrects; nil: none
	Head   func(*Taking) // takes what is typed into the head of the profile, where going back corrects it; nil: nothing

	Follows   func(Context, Answers) []model.Reason // while it is typed; nil: nothing
	Figure    func(Context, Answers) Figure         // nil: none
	Picture   func(Context, Answers) Picture        // nil: none
	Simulated map[string]Simulated                  // by field key
	Redo      func(*Taking)                         // does its physical act again: drops its fact; nil: cannot be
}

// Look is how the full face lays a row out.
type Look uint8

// As every step; a table of the rack to be read, with papers to be asked for; a large sign
// that is to be seen from afar; what the other shift has to know.
const (
	Step Look = iota
	Result
	Sign
	Handover
)

// Reads ties a row to the kind of record whose readings it takes, so that they can be
// corrected without doing anything at the saw.
type Reads struct {
	Kind  model.Kind
	Of    func(model.Record) bool                       // which of that kind; nil: all
	About func(model.Record) string                     // what Each listed for it; nil: the blade
	Keys  []string                                      // the fields that are readings; the others are gates and orders
	Typed func(Context, model.Record) map[string]string // what was typed, by field key
	Put   func(*Taking, *model.Record)                  // what is typed into a record; a fault refuses it
}

// about is what a record's row was about.
func (r *Reads) about(rec model.Record) string {
	if r.About != nil {
		return r.About(rec)
	}
	return rec.Blade
}

// Figure is the one number or word of a screen that the hand carries to the saw, or the
// result of what is being typed.
type Figure struct {
	Text    string // "0.10", "OUT"; empty: none yet
	Caption string // "one ring, mm"; empty: no figure, whatever is typed
	Order   bool   // something to do: drawn faint, since the orders say it too
}

// Picture is drawn by the full face; the plain one says its sentence.
type Picture interface{ Sentence() string }

// Answers are what is typed at a row, by field key.
type Answers map[string]string

// Saw is the saw of practice. Only stages knows what it is; the engine hands it through.
type Saw any

// Simulated is what an instrument shows at the saw of practice, as somebody would type
// it; empty where it has nothing to say.
type Simulated func(Context, Saw, Answers) string

// Act is what is done in a step. What it says and what it takes stand behind the pass
// for it, so that a step that sends hands in cannot be written without one.
type Act interface {
	power() interlock.Power
	open(interlock.State, Context) bool
	says(interlock.State, Context) []string
	take(interlock.State, *Taking)
}

// The acts: hands near the arbor; a blade that turns; words and values out of the head,
// from the manual or from an older profile.
type (
	HandsIn struct {
		Says   func(Context, interlock.Hands) []string
		Accept func(*Taking, interlock.Hands)
	}
	Spins struct {
		Says   func(Context, interlock.Turning) []string
		Accept func(*Taking, interlock.Turning)
	}
	Paper struct {
		Says   func(Context) []string
		Accept func(*Taking)
	}
	// Measure is measuring a part: in the saw only where that is isolated, else on the
	// bench. A part without a name is fixed in the saw and never on the bench. Where
	// FromPaper is set, the manual will do, and then there is no pass.
	Measure struct {
		Part      func(Context) string
		FromPaper bool
		Says      func(Context, interlock.Bench) []string
		Accept    func(*Taking, interlock.Bench)
	}
)

func (HandsIn) power() interlock.Power { return interlock.Isolated }
func (a HandsIn) open(s interlock.State, _ Context) bool {
	return s.Hands() != interlock.Hands{}
}
func (a HandsIn) says(s interlock.State, c Context) []string { return a.Says(c, s.Hands()) }
func (a HandsIn) take(s interlock.State, t *Taking)          { a.Accept(t, s.Hands()) }

func (Spins) power() interlock.Power { return interlock.Live }
func (a Spins) open(s interlock.State, _ Context) bool {
	return s.Turning() != interlock.Turning{}
}
func (a Spins) says(s interlock.State, c Context) []string { return a.Says(c, s.Turning()) }
func (a Spins) take(s interlock.State, t *Taking)          { a.Accept(t, s.Turning()) }

func (Paper) power() interlock.Power                       { return interlock.Unknown }
func (Paper) open(interlock.State, Context) bool           { return true }
func (a Paper) says(_ interlock.State, c Context) []string { return a.Says(c) }
func (a Paper) take(_ interlock.State, t *Taking)          { a.Accept(t) }

func (Measure) power() interlock.Power { return interlock.Unknown }
func (a Measure) pass(s interlock.State, c Context) interlock.Bench {
	part := a.Part(c)
	if part == "" && s.Hands() == (interlock.Hands{}) {
		return interlock.Bench{}
	}
	return s.Bench(part)
}
func (a Measure) open(s interlock.State, c Context) bool {
	return a.pass(s, c) != interlock.Bench{} || a.FromPaper && c.paper
}
func (a Measure) says(s interlock.State, c Context) []string { return a.Says(c, a.pass(s, c)) }
func (a Measure) take(s interlock.State, t *Taking)          { a.Accept(t, a.pass(s, t.Context)) }
