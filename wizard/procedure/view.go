package procedure

import (
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// Place names a row and the blade it is about, for drafts and for the trail.
type Place struct{ Step, Blade string }

func (p Place) String() string { return strings.TrimSpace(p.Step + " " + p.Blade) }

// EventKind names what can happen to the procedure.
type EventKind string

// The events.
const (
	Answer  EventKind = "answer"  // the fields of a view were typed and sent
	Leave   EventKind = "leave"   // a field of a view was left: Event.Field names it
	Back    EventKind = "back"    // open the last reading for correction; again: the one before
	Forward EventKind = "forward" // from a correction or other work to where the work stands
	Begin   EventKind = "begin"   // other work: Event.Place names it (Tasks)
	Idle    EventKind = "idle"    // no key for too long
	Suspend EventKind = "suspend" // the program was stopped and goes on, or the clock jumped
	Joined  EventKind = "joined"  // another shift's records came in: Event.Profile holds both
)

// Event is one thing that happens. Visit names the view that an answer was typed for; an
// answer for another one is refused.
type Event struct {
	Kind    EventKind
	At      time.Time
	Visit   uint64
	Place   Place // Begin
	Answers Answers
	Field   string        // Leave
	Profile model.Profile // Joined
}

// Fault is what is wrong with one field. Question is set where the text is only unlikely:
// typing the same again accepts it.
type Fault struct {
	Field    string
	Text     string // what is wrong, and what would be right
	Question bool
}

// Refusal is why an event was not taken. Nothing has changed then, but for what was
// questioned.
type Refusal struct {
	Place  Place
	Faults []Fault
	Unmet  []string // conditions of the procedure that do not hold
}

func (r *Refusal) Error() string {
	parts := append([]string(nil), r.Unmet...)
	for _, f := range r.Faults {
		parts = append(parts, f.Text)
	}
	return r.Place.String() + ": " + strings.Join(parts, "; ")
}

// View is what both faces show of the present row, and all that they show it from. Texts
// are single sentences without markup; a face wraps them.
type View struct {
	Place      Place
	Stage      int // 1 to 11
	Title      string
	Do         []string // orders
	Why        []string // cautions, and the first time the reason; two lines at most
	Help       []string // more of it, for the help key
	Gate       bool
	Look       Look
	Fields     []Field
	Visit      uint64 // grows with every accepted change
	Correcting bool   // only typed, nothing is done: no orders
	Begun      bool   // other work that can be left

	row     *Row
	context Context
}

// Context is the moment that the view was made at.
func (v View) Context() Context { return v.context }

// Follows is what follows from what is typed so far.
func (v View) Follows(a Answers) []model.Reason {
	if v.row.Follows == nil {
		return nil
	}
	return v.row.Follows(v.context, a)
}

// Figure is the one number of the screen.
func (v View) Figure(a Answers) Figure {
	if v.row.Figure == nil || v.Correcting {
		return Figure{}
	}
	return v.row.Figure(v.context, a)
}

// Picture is the drawing of the screen; nil: none.
func (v View) Picture(a Answers) Picture {
	if v.row.Picture == nil {
		return nil
	}
	return v.row.Picture(v.context, a)
}

// Read is what the saw of practice shows at a field; false where it has nothing to say,
// or where nothing is done but a reading corrected.
func (v View) Read(s Saw, field string, a Answers) (string, bool) {
	read, ok := v.row.Simulated[field]
	if !ok || v.Correcting {
		return "", false
	}
	text := read(v.context, s, a)
	return text, text != ""
}

// Simulates reports whether the saw of practice may have something to show at a field.
func (v View) Simulates(field string) bool { return v.row.Simulated[field] != nil && !v.Correcting }

// View is the row where the procedure stands, or the gate before it.
func (p Procedure) View() View {
	if p.fix != nil {
		return p.correction()
	}
	row, c := p.here()
	v := View{
		Place: Place{row.Name, c.Blade}, Stage: p.stage(), Title: row.Title(c), Gate: row.Gate, Look: row.Look,
		Visit: p.visit, Begun: p.begun != nil, row: row, context: c,
	}
	for _, text := range row.Help {
		v.Help = append(v.Help, c.Unit().Words(text))
	}
	if row.Act.open(p.now.Lock, c) {
		v.Do = row.Act.says(p.now.Lock, c)
	}
	if row.Why != nil {
		v.Why = row.Why(c)
	}
	if row.Once != nil {
		first := &v.Why
		if c.Again {
			first = &v.Help
		}
		*first = slices.Concat(*first, row.Once(c))
	}
	if row.Fields != nil {
		v.Fields = row.Fields(c)
	}
	return v
}

// Power is what is known of the saw's power, since when and by whom.
func (p Procedure) Power() (interlock.Power, PowerSince) { return p.now.Lock.Power(), p.now.Power }

// HasFigure and HasPicture report whether the row has one, whatever is typed: a figure that
// follows from what is typed has its caption before.
func (v View) HasFigure() bool  { return v.Figure(nil) != (Figure{}) }
func (v View) HasPicture() bool { return v.row.Picture != nil }
