package procedure

import (
	"strings"
	"time"

	"example.com/sawdatum/model"
)

// View is what both faces show of the place where the procedure stands: the same
// words, fields and gates on the full screen and in plain lines. Texts are single
// sentences without markup; a face wraps them.
type View struct {
	Place   Place
	Number  int    // 1 to 11, the step of the procedure that the place belongs to
	Title   string // of the place: "Mount the 24-tooth rip"
	Do      []string
	Why     []string
	Help    []string // more of the why, and the cautions, for the help key
	Gate    bool     // a safety gate: typed by hand, never pasted, never filled in
	Fields  []Field
	Picture Picture
	Blade   string   // the blade that the place is about; may be empty
	Rings   []string // the rings that belong to it here, flange first
	Knife   string   // the knife that is squared here; empty: the one that the blade names
	Again   bool     // looked at again by going back: what was read stands in the fields
	Last    bool     // the closing place
	Hold    bool     // isolated and hands may be in: the large sign of the isolate command
}

// Picture names the drawing that belongs to a place.
type Picture string

// The pictures of the procedure.
const (
	NoPicture    Picture = ""
	ArborSection Picture = "arbor"
	KnifeWindow  Picture = "knife"
	RackPicture  Picture = "rack"
	DialPicture  Picture = "dial"
	PiecePicture Picture = "piece"
	ScalePicture Picture = "scale"
	AlignPicture Picture = "align" // blade and fence against the mitre slot, from above
)

// Place is one place of the procedure: a row of the step table, and the blade it
// is about where there is one for each blade.
type Place struct {
	Step  string
	Blade string
}

func (p Place) String() string {
	if p.Blade == "" {
		return p.Step
	}
	return p.Step + " " + p.Blade
}

// FieldKind says how a field's text is read.
type FieldKind string

// The kinds of field.
const (
	FieldText     FieldKind = "text"
	FieldChoice   FieldKind = "choice"   // one of Options, by what it is called, itself or its number
	FieldLength   FieldKind = "length"   // one length
	FieldLengths  FieldKind = "lengths"  // several, separated by spaces
	FieldPairs    FieldKind = "pairs"    // set=read, separated by spaces
	FieldCount    FieldKind = "count"    // a whole number
	FieldSeconds  FieldKind = "seconds"  // a number of seconds
	FieldDegrees  FieldKind = "degrees"  // an angle
	FieldRings    FieldKind = "rings"    // rings of the kit, by thickness or id, flange first
	FieldKit      FieldKind = "kit"      // thicknesses with counts: 0.10x2 0.25
	FieldRing     FieldKind = "ring"     // a row of the kit: thickness, measured, outer, count
	FieldWord     FieldKind = "word"     // exactly Word, typed by hand
	FieldInitials FieldKind = "initials" // one to four letters
	FieldExport   FieldKind = "export"   // Word, or one of Options, with both behind it for both units
)

// Field is one thing to type.
type Field struct {
	Key       string
	Label     string // "Widths of the blade's half"
	Hint      string // range and example: "three or more, such as 119.98 119.99 119.98"
	Kind      FieldKind
	Options   []string
	Called    []string   // what people call the options, in their order; empty: as they are
	Whole     bool       // a choice that is typed in full: it says what somebody has seen
	Word      string     // FieldWord: what must be typed; FieldExport: what leaves
	Unit      model.Unit // of a bare number
	Min, Max  model.Length
	AtLeast   int  // least number of readings
	AtMost    int  // zero: no limit
	Optional  bool // empty is an answer
	Measuring bool // something is measured here: practice may read it from the simulated saw
	Value     string
	check     func(text string) error
	rule      func(text string) []model.Reason // of what was typed: a danger is refused, a warning asked again
}

// Power is what the program knows of the saw's power. The zero value is unknown,
// and unknown counts as live.
type Power uint8

// The states of power.
const (
	Unknown Power = iota
	Isolated
	Live
)

func (p Power) String() string { return [...]string{"unknown: treat as live", "isolated", "live"}[p] }

// EventKind names what can happen to the procedure.
type EventKind string

// The events.
const (
	Answer  EventKind = "answer"  // the fields of the place were typed and sent
	Back    EventKind = "back"    // one place back
	Forward EventKind = "forward" // from a place looked at again to where the work stands
	Begin   EventKind = "begin"   // other work than the next step: Event.Place names it (Tasks)
	Idle    EventKind = "idle"    // no key for too long, or the clock jumped
	Suspend EventKind = "suspend" // the program was stopped and goes on
	Joined  EventKind = "joined"  // another shift's records came in: Event.Profile holds both
)

// Event is one thing that happens. Place names the place that it is meant for; an
// event meant for another place than the present one is refused.
type Event struct {
	Kind    EventKind
	At      time.Time
	Place   Place
	Answers map[string]string // field key, text as typed
	Profile model.Profile     // Joined only
}

// Fault is what is wrong with one field. Question is set where the text is only
// unlikely: typing the same again accepts it.
type Fault struct {
	Field    string
	Text     string // what is wrong, and what would be right
	Question bool
}

// Refusal is why an event was not taken. Nothing has changed then, but for what
// was questioned.
type Refusal struct {
	Place  Place
	Faults []Fault
	Unmet  []string // conditions of the procedure that do not hold
}

func (r *Refusal) Error() string {
	var parts []string
	parts = append(parts, r.Unmet...)
	for _, f := range r.Faults {
		parts = append(parts, f.Text)
	}
	return r.Place.String() + ": " + strings.Join(parts, "; ")
}
