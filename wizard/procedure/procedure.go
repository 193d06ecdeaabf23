package procedure

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// House is what a procedure is built of: the rows in their order, a row for each gate of
// the interlock, the row that asks where a part is before it is measured, and the other
// work that may begin at any time.
type House struct {
	Blocks []Block
	Gate   func(interlock.Gate, Context) *Row
	Where  *Row
	Work   []Row
	Ends   bool // the run is over when every row is done; else a row finishes it
}

// Procedure is where the work stands: a value, whose copies are independent. Apply is the
// only thing that moves it.
type Procedure struct {
	house    House
	now      Context
	visit    uint64          // grows with every change: an answer names the view that it was typed for
	fix      *fix            // the record whose readings are being corrected
	begun    *Row            // other work that was begun
	about    string          // the blade that it is about; empty: none
	heads    []head          // what was typed into the head in this run, oldest first
	asked    map[string]bool // what was typed when it was questioned; true: typed again at its field
	paper    Place           // the row whose values are typed from the manual
	isolate  bool            // a part is in the saw: isolate before it is measured
	finished bool
	export   Export
	report   []model.Reason
	events   []interlock.Event
}

// New begins a run on a profile. Nothing is known of the saw.
func New(profile model.Profile, house House, judge Judge, options Options) Procedure {
	c := Context{Profile: profile, Options: options, judge: judge, Started: len(profile.Records)}
	if n := len(profile.Records); n > 0 {
		c.At = profile.Records[n-1].At
	}
	return Procedure{house: house, now: c.read(), visit: 1}
}

// Profile is the profile as it stands, the new records at its end.
func (p Procedure) Profile() model.Profile { return p.now.Profile }

// Now is the present moment, as rows read it.
func (p Procedure) Now() Context { return p.now }

// State is what the records say.
func (p Procedure) State() State { return p.now.State }

// Plan is what the numbers say.
func (p Procedure) Plan() Plan { return p.now.Plan }

// Options are those that the run began with.
func (p Procedure) Options() Options { return p.now.Options }

// Finished reports whether the run is over.
func (p Procedure) Finished() bool { return p.finished }

// Report tells what followed from the last accepted answer.
func (p Procedure) Report() []model.Reason { return p.report }

// Export is what the last accepted answer asked to be written. The procedure stays where
// it is; writing is the caller's.
func (p Procedure) Export() Export { return p.export }

// Events are what the last accepted change told the interlock.
func (p Procedure) Events() []interlock.Event { return p.events }

// Apply takes one event. It returns the procedure after it or, with a *Refusal, the
// procedure as it was: nothing then has moved but the memory of what was questioned.
func (p Procedure) Apply(e Event) (Procedure, error) {
	handle, ok := handlers[e.Kind]
	if !ok || p.finished {
		return p, p.refuse("nothing is open any more")
	}
	if e.At.After(p.now.At) {
		before := p.now.At
		p.now.At = e.At
		if e.At.Format(time.DateOnly) != before.Format(time.DateOnly) { // what is due by now
			p.now = p.now.read()
		}
	}
	return handle(p, e)
}

var handlers map[EventKind]func(Procedure, Event) (Procedure, error)

func init() {
	handlers = map[EventKind]func(Procedure, Event) (Procedure, error){
		Answer: answer, Leave: leave, Back: back, Forward: forward, Begin: begin, Joined: joined,
		Idle: func(p Procedure, _ Event) (Procedure, error) { return p.lapse(), nil },
		Suspend: func(p Procedure, _ Event) (Procedure, error) {
			return p.interrupt("Hands away from the blade: the program was stopped in between, and nothing is known of the saw. Treat it as live."), nil
		},
	}
}

func (p Procedure) refuse(unmet ...string) *Refusal {
	return &Refusal{Place: p.View().Place, Unmet: unmet}
}

func answer(p Procedure, e Event) (Procedure, error) {
	v := p.View()
	if e.Visit != p.visit {
		return p, p.refuse("that was typed for a screen that is not open any more")
	}
	var faults []Fault
	fields := v.Fields
	if i := slices.IndexFunc(fields, func(f Field) bool { return f.Alone(e.Answers[f.Key]) }); i >= 0 {
		faults = besides(fields, i, e.Answers)
		fields = fields[:i+1]
	}
	for _, f := range fields {
		if err := f.Check(e.Answers[f.Key]); err != nil {
			faults = append(faults, Fault{Field: f.Key, Text: err.Error()})
		}
	}
	if len(faults) > 0 {
		return p, &Refusal{Place: v.Place, Faults: faults}
	}
	next, faults := p.held(v, fields, e.Answers)
	t := p.taking(v, v.Fields, e.Answers)
	if !faulty(faults) {
		if p.fix != nil {
			p.fix.take(t, v.row)
		} else {
			v.row.Act.take(p.now.Lock, t)
		}
	}
	faults = append(faults, t.faults...)
	if len(t.unmet) > 0 || faulty(faults) {
		return p, &Refusal{Place: v.Place, Unmet: t.unmet, Faults: faults}
	}
	if typed := t.typed("all of " + v.Place.String()); len(faults) > 0 && !next.wasAsked(typed) {
		return next.ask(typed, false), &Refusal{Place: v.Place, Faults: faults}
	}
	if p.fix == nil {
		t.Keep(answered(v.row), "yes")
	}
	next = p.settle(v, t)
	if n := len(next.now.Profile.Records); v.row.Head != nil && p.fix == nil && n == len(p.now.Profile.Records) {
		next.heads = append(p.heads[:len(p.heads):len(p.heads)], head{v.row, v.Place.Blade, n})
	}
	return next, nil
}

// besides tells of what was typed behind a field that ends the answer: it would be dropped.
func besides(fields []Field, alone int, answers Answers) (faults []Fault) {
	for _, f := range fields[alone+1:] {
		if text := strings.TrimSpace(answers[f.Key]); text != "" && text != f.Value {
			faults = append(faults, Fault{Field: f.Key, Text: fmt.Sprintf("%q would be dropped, by what stands at %q: empty it here, or answer otherwise there", model.Clip(text), fields[alone].Label)})
		}
	}
	return faults
}

// settle takes over what an accepted answer says. It and happened are all that writes to
// a Procedure after its beginning.
func (p Procedure) settle(v View, t *Taking) Procedure {
	after := t.Context
	after.Blade, after.Need, after.paper = "", interlock.Need{}, false
	if v.Gate {
		after.Gates++
	}
	if t.changed {
		after = after.read()
	}
	after.Opened = after.At
	p.now, p.events, p.report, p.export, p.finished = after, t.events, t.report, t.export, t.finished
	p.asked, p.fix, p.visit = nil, nil, p.visit+1
	p.isolate = (p.isolate || t.isolate) && after.Lock.Power() != interlock.Isolated
	switch {
	case t.onPaper:
		row, c := p.target()
		p.paper = Place{row.Name, c.Blade}
	case v.Place == p.paper:
		p.paper = Place{}
	}
	if p.begun == v.row && !t.stays {
		p.begun = nil
	}
	if t.interrupted {
		p = p.forgotten()
	}
	if row, c := p.target(); p.house.Ends && !row.open(c) {
		p.finished = true
	}
	if t.next != nil {
		p.begun, p.about = t.next, t.blade
	}
	if t.after != nil {
		p.report = append(p.report, t.after(after.For(v.Place.Blade))...)
	}
	return p
}

// happened takes over what came from outside.
func (p Procedure) happened(events ...interlock.Event) Procedure {
	p.events = events
	for _, e := range events {
		p.now.Lock, _ = p.now.Lock.Apply(e) // what became of the saw is taken in any state
	}
	p.now.Gates++
	p.now.Opened = p.now.At
	p.visit++
	p.asked, p.report = nil, nil
	return p
}

// HandsAway is said where nobody touched a key for long, until somebody vouches for the saw.
var HandsAway = model.Reason{Code: LapsedCode, Weight: model.Danger, Text: "Hands away from the blade: nobody touched a key for long. Treat the saw as live until its state is vouched for."}

// LapsedCode is that of a danger to somebody who stands at the saw now.
const LapsedCode = "isolation-lapsed"

// lapse: nobody touched a key for long. All that is known waits to be vouched for.
func (p Procedure) lapse() Procedure {
	known := p.now.Lock.Power() != interlock.Unknown
	p = p.happened(interlock.Lapsed())
	if known {
		p.report = []model.Reason{HandsAway}
	}
	return p
}

// interrupt: somebody may have been at the saw. Nothing is known of it any more, nor who
// stands there, nor what was said in this run and does not last.
func (p Procedure) interrupt(why string) Procedure {
	known := p.now.Lock.Power() != interlock.Unknown
	p = p.happened(interlock.Interrupted()).forgotten()
	if known {
		p.report = []model.Reason{{Code: LapsedCode, Weight: model.Danger, Text: why}}
	}
	return p
}

// forgotten is the procedure without what does not outlive an interruption.
func (p Procedure) forgotten() Procedure {
	kept := map[Fact]string{}
	for f, text := range p.now.facts {
		if f.Lasts {
			kept[f] = text
		}
	}
	p.now.facts, p.now.Who, p.now.Power = kept, "", PowerSince{}
	p.paper, p.isolate, p.begun, p.fix = Place{}, false, nil, nil
	return p
}

// joined goes on with a profile into which another shift's records came.
func joined(p Procedure, e Event) (Procedure, error) {
	started := len(e.Profile.Records)
	if now := p.now.Now(); len(now) > 0 {
		first := now[0].Ref()
		started = slices.IndexFunc(e.Profile.Records, func(r model.Record) bool { return r.Ref() == first })
		if started < 0 {
			return p, p.refuse("that profile lacks what was recorded in this run")
		}
	}
	p.now.Profile, p.now.Started = e.Profile, started
	p.now = p.now.read()
	p = p.interrupt("Another shift has recorded work at this saw: its records came in. Treat the saw as live, and the fence as moved.")
	if len(p.report) == 0 {
		p.report = []model.Reason{{Code: "records-joined", Weight: model.Warns, Text: "Another shift has recorded work at this saw: its records came in."}}
	}
	return p, nil
}

// Check reports a house in which something is missing: a gate without a row, a row
// without a name or an act, two rows with one name in a block.
func (h House) Check() error {
	var faults []error
	for _, g := range interlock.Gates() {
		if h.Gate == nil || h.Gate(g, Context{}) == nil {
			faults = append(faults, errors.New("no row for the gate "+g.String()))
		}
	}
	seen := map[string]bool{}
	check := func(r Row) {
		if r.Name == "" || r.Act == nil || r.Title == nil || seen[r.Name] {
			faults = append(faults, errors.New("a row wants a name of its own, a title and an act: "+r.Name))
		}
		seen[r.Name] = true
	}
	for _, b := range h.Blocks {
		clear(seen) // a row may come again in another block
		for _, r := range b.Rows {
			check(r)
		}
	}
	for _, r := range h.Work {
		check(r)
	}
	if h.Where == nil {
		faults = append(faults, errors.New("no row asks where a part is"))
	}
	return errors.Join(faults...)
}
