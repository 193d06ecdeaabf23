// Package procedure is the way through setting up a saw, as a value. Apply is the
// only thing that moves it. Nothing in it knows of terminals, files or clocks.
package procedure

import (
	"slices"
	"time"

	"example.com/sawdatum/model"
)

// Mode says how much of the procedure is wanted.
type Mode uint8

// The whole setup; one blade only; only the prompts before hands go near the arbor.
const (
	Setup Mode = iota
	OneBlade
	IsolateOnly
)

// Options are fixed when a run begins. Seed chooses the words of the gates.
type Options struct {
	Mode    Mode
	Blade   string // OneBlade: its id
	Seed    uint64
	At      time.Time // when the run begins; zero: not known
	Exports []string  // ways of handing the profile on that the closing place offers
}

// Procedure is where the work stands: the profile with its records, what they say,
// and what is known in this run only. Copies are independent.
type Procedure struct {
	profile model.Profile
	state   model.State
	plan    model.Plan
	judge   model.Judge
	options Options
	start   int // records that were there when the run began
	run     run
}

// run is what no file can know: it begins anew with every run of the program.
type run struct {
	power    Power
	since    time.Time
	came     time.Time     // the present place stands open since then; zero: not known
	by       string        // who isolated the saw
	who      string        // initials of who is at the saw
	fence    string        // the lock that is known to be untouched
	seen     bool          // what is on the arbor was put there or looked at in this run
	stopped  bool          // the blade was switched off and stood still
	runDown  time.Duration // typed with it
	slow     bool          // a run-down over ten seconds was looked at
	again    Place         // a place looked at again, or other work; zero: none
	gates    int           // gates passed or voided, for the words
	asked    string        // what was typed when it was questioned
	adding   bool          // one more blade is being typed in
	rack     bool          // the rack was said to be whole
	rim      bool          // the rim readings were asked for
	knife    string        // the knife to align instead of the reference blade's
	lies     string        // the part that was said to lie on the bench, or whose measure is on paper
	paper    bool          // the latter
	hands    string        // the part that is to be measured in the saw
	behind   string        // the knife typed at power-up, until the saw is isolated again
	out      string        // the cut that was taken for out: other rings go on, or the blade is left
	clean    string        // the cut before which something may have lain under rings or blade
	reason   bool          // one blade: why it is run again was told
	sharp    bool          // one blade: it was sharpened, and its readings are due
	isolated bool          // an isolation was confirmed in this run
	held     bool          // isolate only: hands are out again
	finished bool
	export   Export // asked for by the last answer
	report   []model.Reason
}

// New begins a run. Power is unknown, and whether the fence was left alone too.
func New(profile model.Profile, judge model.Judge, options Options) Procedure {
	p := Procedure{profile: profile, judge: judge, options: options, start: len(profile.Records), run: run{came: options.At}}
	if model.Dropped("start-power") {
		p.run.power = Isolated
	}
	if model.Dropped("start-fence") {
		p.run.fence = model.Fold(profile).Lock
	}
	p.refold()
	return p
}

func (p *Procedure) refold() {
	p.state = model.Fold(p.profile)
	p.plan = p.judge(p.profile)
}

// Profile is the profile as it stands, the new records at its end.
func (p Procedure) Profile() model.Profile { return p.profile }

// State is what the records say.
func (p Procedure) State() model.State { return p.state }

// Plan is what the numbers say.
func (p Procedure) Plan() model.Plan { return p.plan }

// Power is what is known of the saw's power, since when and by whom.
func (p Procedure) Power() (power Power, since time.Time, by string) {
	return p.run.power, p.run.since, p.run.by
}

// FenceKnown reports whether the fence lock in force was made, or affirmed as
// untouched, in this run.
func (p Procedure) FenceKnown() bool {
	return holds("fence-known", p.state.Lock != "" && p.run.fence == p.state.Lock)
}

// Isolated reports whether the isolation gate was passed in this run.
func (p Procedure) Isolated() bool { return p.run.isolated }

// Finished reports whether the closing place was answered.
func (p Procedure) Finished() bool { return p.run.finished }

// Report tells what followed from the last accepted answer.
func (p Procedure) Report() []model.Reason { return p.run.report }

// Options are those that the run began with.
func (p Procedure) Options() Options { return p.options }

// Apply takes one event. It returns the procedure after it, or, with a *Refusal,
// the procedure as it was: nothing then has moved but the memory of what was
// questioned.
func (p Procedure) Apply(e Event) (Procedure, error) {
	here := p.Place()
	named := e.Place != (Place{}) || e.Kind == Answer
	if named && e.Kind != Begin && e.Place != here && !model.Dropped("place-named") {
		return p, &Refusal{Place: here, Unmet: []string{misplaced(e.Place, here)}}
	}
	handle, ok := eventTable[e.Kind]
	if !ok || p.run.finished {
		return p, &Refusal{Place: here, Unmet: []string{"nothing is open any more"}}
	}
	next, err := handle(p, e, here)
	if err == nil {
		next.run.came = e.At
	}
	return next, err
}

func misplaced(meant, here Place) string {
	if meant == (Place{}) {
		return "that answer names no place, and the work stands at " + here.String()
	}
	return "that answer is for " + meant.String() + ", and the work stands at " + here.String()
}

var eventTable map[EventKind]func(Procedure, Event, Place) (Procedure, error)

func init() {
	eventTable = map[EventKind]func(Procedure, Event, Place) (Procedure, error){
		Answer:  answer,
		Back:    back,
		Forward: forward,
		Begin:   begin,
		Idle: func(p Procedure, _ Event, _ Place) (Procedure, error) {
			return p.forget("idle", "Isolation has lapsed: nobody touched a key for too long. Treat the saw as live."), nil
		},
		Suspend: func(p Procedure, _ Event, _ Place) (Procedure, error) {
			return p.forget("suspend", "Isolation has lapsed: the program was stopped in between. Treat the saw as live."), nil
		},
		Joined: joinedRecords,
	}
}

// joinedRecords goes on with a profile into which another shift's records came.
// Somebody else is at the saw then, so neither power nor fence is known any more.
func joinedRecords(p Procedure, e Event, _ Place) (Procedure, error) {
	start := len(e.Profile.Records)
	if p.start < len(p.profile.Records) {
		first := p.profile.Records[p.start].Ref()
		start = slices.IndexFunc(e.Profile.Records, func(r model.Record) bool { return r.Ref() == first })
		if !holds("joined-keeps", start >= 0) {
			return p, &Refusal{Place: p.Place(), Unmet: []string{"that profile lacks what was recorded in this run"}}
		}
	}
	p.profile, p.start = e.Profile, start
	p.refold()
	p = p.forget("joined", "Another shift has recorded work at this saw: its records came in. Treat the saw as live, and the fence as moved.")
	if len(p.run.report) == 0 {
		p.run.report = []model.Reason{{Code: "records-joined", Weight: model.Warns, Text: "Another shift has recorded work at this saw: its records came in."}}
	}
	return p, nil
}

// forget makes power and fence unknown: somebody may have been at the saw.
func (p Procedure) forget(guard, why string) Procedure {
	if p.run.power != Unknown {
		p.run.report = []model.Reason{{Code: "isolation-lapsed", Weight: model.Danger, Text: why}}
	}
	if !model.Dropped(guard + "-voids-power") {
		p.run.power = Unknown
	}
	if !model.Dropped(guard + "-voids-standstill") {
		p.run.stopped, p.run.slow = false, false
	}
	if !model.Dropped(guard + "-voids-sight") {
		p.run.seen = false
	}
	if !model.Dropped(guard + "-voids-fence") {
		p.run.fence = ""
	}
	p.run.lies, p.run.paper = "", false
	p.run.gates++
	return p
}

func answer(p Procedure, e Event, here Place) (Procedure, error) {
	return p.take(e, here, table[here.Step].fields(context{p, here.Blade}))
}

// take answers the fields of a place.
func (p Procedure) take(e Event, here Place, fields []Field) (Procedure, error) {
	var faults []Fault
	for _, f := range fields {
		if err := f.Check(e.Answers[f.Key]); err != nil && !dropped(here, f) {
			faults = append(faults, Fault{Field: f.Key, Text: err.Error()})
		}
	}
	if len(faults) > 0 {
		return p, &Refusal{Place: here, Faults: faults}
	}
	next := p
	next.run.report, next.run.asked, next.run.export = nil, "", Export{}
	t := &taking{Procedure: &next, here: here, blade: here.Blade, at: e.At, answers: e.Answers, fields: fields}
	table[here.Step].accept(t)
	for _, f := range fields {
		t.limit(f.Key, f.ruling(e.Answers[f.Key]))
	}
	if len(t.faults) > 0 {
		if typed := here.String() + joined(fields, e.Answers); t.onlyQuestions() {
			if p.run.asked == typed {
				return next.settle(here, t), nil
			}
			p.run.asked = typed
		}
		return p, &Refusal{Place: here, Faults: t.faults}
	}
	return next.settle(here, t), nil
}

func joined(fields []Field, answers map[string]string) string {
	var s string
	for _, f := range fields {
		s += "\x00" + answers[f.Key]
	}
	return s
}

// settle reads the records anew after an accepted answer.
func (p Procedure) settle(here Place, t *taking) Procedure {
	if p.run.again == here {
		p.run.again = Place{}
	}
	if table[here.Step].gate && !model.Dropped("word-changes") {
		p.run.gates++
	}
	if t.changed {
		p.refold()
	}
	p.cleared()
	if t.after != nil {
		p.run.report = append(p.run.report, t.after(p)...)
	}
	return p
}

// Preview is the procedure as if these answers were accepted now; false when they
// are not yet whole. Nothing of it is kept.
func (p Procedure) Preview(answers map[string]string) (Procedure, bool) {
	here := p.Place()
	row := table[here.Step]
	if row.gate || p.run.finished {
		return p, false
	}
	fields := row.fields(context{p, here.Blade})
	p.run.asked = here.String() + joined(fields, answers)
	at := p.last()
	if at.IsZero() {
		at = time.Unix(0, 0).UTC()
	}
	next, err := p.take(Event{Kind: Answer, Place: here, Answers: answers, At: at}, here, fields)
	return next, err == nil
}

func (p Procedure) last() time.Time {
	if n := len(p.profile.Records); n > 0 {
		return p.profile.Records[n-1].At
	}
	return time.Time{}
}

func begin(p Procedure, e Event, here Place) (Procedure, error) {
	i := slices.IndexFunc(p.Tasks(), func(t Task) bool { return t.Place == e.Place })
	if !holds("begin-listed", i >= 0) {
		return p, &Refusal{Place: here, Unmet: []string{"that cannot begin now"}}
	}
	return p.turnTo(e.Place), nil
}
