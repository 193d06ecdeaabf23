// Package plain is the face in plain lines: every place as numbered questions, one line an
// answer. Rules of its output: whole sentences, no box characters, no cursor movement, no
// colour. One reader for the whole run, and the end of the input is never an answer.
package plain

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// plain is a run of the plain face.
type plain struct {
	wizard.Job
	in      *bufio.Reader
	watch   *wizard.Watch
	out     io.Writer
	toured  bool            // how practice goes was told
	anew    map[string]bool // fields whose text was refused or questioned: an empty line does not keep it
	unsaved error
	copyTo  func(path string, p model.Profile) error
}

// lineLimit bounds what is kept of one answer; no field takes so much.
const lineLimit = 4000

const plainKeys = "Commands: ? or /help explains, /back opens the last reading for correction and again the one before, /forward returns to where the work stands, /records lists what was done, /work lists other work, /quit leaves."

// Run asks the whole procedure in plain lines. The error is one line for
// people; Result holds also then what was done.
func Run(o wizard.Options) (wizard.Result, error) {
	if o.In == nil {
		o.In = os.Stdin
	}
	if o.Out == nil {
		o.Out = os.Stdout
	}
	o.In = untilEnded(o.In)
	return GoOn(wizard.NewJob(o), wizard.NewWatch(wizard.Continued()), o)
}

// GoOn asks from where a run stands. Of the options it takes In, Out and Copy.
func GoOn(j wizard.Job, w *wizard.Watch, o wizard.Options) (wizard.Result, error) {
	p := newPlain(j, w, o)
	return p.goOn()
}

func newPlain(j wizard.Job, w *wizard.Watch, o wizard.Options) plain {
	return plain{Job: j, in: bufio.NewReader(o.In), watch: w, out: o.Out, copyTo: o.Copy}
}

// goOn goes from place to place until the end, or until the input ends.
func (p *plain) goOn() (wizard.Result, error) {
	p.welcome()
	err := p.run()
	result := p.Ended(p.unsaved != nil)
	tell.Farewell(p.out, p.Job, result)
	return result, err
}

func (p *plain) say(format string, a ...any) { fmt.Fprintf(p.out, format+"\n", a...) }

func (p *plain) welcome() {
	name := p.Procedure.Profile().Name
	if p.Saw != nil {
		p.say("Practice with the saw %s. An empty answer to a measuring question reads the simulated saw.", name)
	} else {
		p.say("The saw %s.", name)
	}
	p.say(plainKeys)
}

func (p *plain) run() error {
	for !p.Procedure.Finished() {
		if err := p.place(); err != nil {
			return err
		}
	}
	return nil
}

// place shows the present place and asks its questions until they are accepted, or
// until a command leads elsewhere.
func (p *plain) place() error {
	v := p.Procedure.View()
	opened := pictured(v, p.Typed(v))
	p.show(v)
	p.anew = nil
	answers := map[string]string{}
	ask := v.Fields
	for {
		for i := 0; i < len(ask); i++ {
			moved, err := p.ask(v, ask[i], i, answers)
			if err != nil || moved {
				return err
			}
			if ask[i].Alone(answers[ask[i].Key]) {
				break
			}
			if i+1 < len(ask) && !p.left(v, ask[i], answers) {
				i--
				continue
			}
			if i+1 < len(ask) {
				opened = p.redrawn(opened, pictured(v, answers))
			}
		}
		next, changed, err := p.Answer(v.Visit, answers)
		p.Job = next
		if err == nil {
			p.redrawn(opened, pictured(v, answers))
			p.report(changed)
			if !p.export() || p.Procedure.View().Place != v.Place {
				return nil
			}
			v = p.Procedure.View()
			answers, ask = map[string]string{}, v.Fields
			continue
		}
		r := wizard.Refusal(err)
		for _, unmet := range r.Unmet {
			p.say("%s", model.Sentence("Not yet: "+unmet))
		}
		if ask = p.faulty(v, r); len(ask) == 0 {
			return nil
		}
	}
}

// left reports whether the answer to one question may stand with those before it, and tells
// why not.
func (p *plain) left(v procedure.View, f procedure.Field, answers map[string]string) bool {
	next, err := p.Left(v.Visit, f.Key, answers)
	p.Job = next
	if err != nil {
		p.faulty(v, wizard.Refusal(err))
	}
	return err == nil
}

// faulty tells what is wrong and lists the fields to ask again.
func (p *plain) faulty(v procedure.View, r *procedure.Refusal) []procedure.Field {
	var again []procedure.Field
	p.anew = map[string]bool{}
	for _, f := range v.Fields {
		wrong := false
		for _, fault := range r.Faults {
			if fault.Field == f.Key {
				p.say("%s", model.Sentence(f.Label+": "+model.Printable(fault.Text)))
				wrong, p.anew[f.Key] = true, true
			}
		}
		if wrong {
			again = append(again, f)
		}
	}
	return again
}

func (p *plain) show(v procedure.View) {
	p.say("")
	lead := "Next:"
	if tell.Staged(p.Procedure) {
		lead = fmt.Sprintf("Stage %d of 11.", v.Stage)
	}
	p.say("%s %s", lead, model.Sentence(v.Title))
	var state []string
	for _, f := range tell.Saw(p.Procedure) {
		state = append(state, f.Head+" "+f.Words())
	}
	p.say("%s.", strings.Join(state, ". "))
	if p.Saw != nil && !p.toured {
		p.toured = true
		for _, line := range tell.Tour(p.Job) {
			p.say("Tour: %s", line)
		}
	}
	if v.Look == procedure.Sign {
		p.say("ISOLATED. HANDS MAY BE IN.")
	}
	for i, line := range v.Do {
		p.say("Do %d: %s", i+1, line)
	}
	for _, line := range v.Why {
		p.say("Careful: %s", line)
	}
	p.redrawn(nil, pictured(v, p.Typed(v)))
	for _, r := range p.Known(v) {
		if !slices.Contains(p.Followed, r) {
			p.say("So: %s", tell.SoLine(r))
		}
	}
	if v.Look == procedure.Handover {
		for _, line := range tell.Handover(p.Job, p.Stale(), 0) {
			p.say("%s", line)
		}
	}
	if v.Look == procedure.Result {
		p.Papers = p.Stale()
		for _, line := range append(tell.BladeSentences(p.Procedure), tell.StaleSentences(p.Papers)...) {
			p.say("%s", line)
		}
	}
}

// report tells what followed from an accepted answer, and saves.
func (p *plain) report(changed bool) {
	verdict := slices.ContainsFunc(p.Followed, func(r model.Reason) bool { return r.Code == "verdict" })
	for _, r := range p.Followed {
		if verdict && r.Code != "verdict" && r.Weight == model.Explains {
			continue // the records have it
		}
		p.say("So: %s", tell.SoLine(r))
	}
	if !changed || p.Store.Save == nil {
		return
	}
	file, err := p.Store.Save(p.Procedure.Profile())
	before := p.Store.Path
	if p.Job, err = p.Placed(err); p.Store.Path != before {
		for _, line := range tell.AsideSentences(p.Aside, len(p.Aside.Values)) {
			p.say("%s", line)
		}
	}
	failed := p.unsaved != nil
	if p.unsaved = err; err != nil {
		p.say("NOT SAVED: %s. The readings are kept here; type /copy FILE to save them elsewhere.", model.Printable(err.Error()))
		return
	}
	if failed {
		p.say("%s", tell.SavedAgain(p.Store))
	}
	if !wizard.Differs(file, p.Procedure.Profile()) {
		return
	}
	if next, ok := p.Join(file); ok {
		p.Job = next
		for _, r := range p.Procedure.Report() {
			p.say("So: %s", tell.SoLine(r))
		}
	}
}

// ask puts one question until it has an answer that the field takes. moved reports
// that a command, or too long a silence, led to another place.
func (p *plain) ask(v procedure.View, f procedure.Field, n int, answers map[string]string) (moved bool, err error) {
	kept := p.Typed(v)[f.Key]
	if p.anew[f.Key] {
		kept = ""
	}
	for {
		for i, called := range f.Called {
			if f.Numbered {
				p.say("Choice %d: %s.", i+1, called)
			} else if !strings.Contains(f.Hint, called) { // the question names the others
				p.say("Choice: %s.", called)
			}
		}
		p.say("Question %d of %d. %s (%s).", n+1, len(v.Fields), f.Label, f.Hint)
		if kept != "" {
			p.say("An empty answer keeps: %s", kept)
		}
		fmt.Fprint(p.out, "> ")
		asked := time.Now()
		text, err := p.line()
		if err != nil {
			return false, err
		}
		if p.lapsed(v, asked) {
			return true, nil
		}
		if strings.HasPrefix(text, "/") || text == "?" {
			if moved, err := p.command(v, text); moved || err != nil {
				return moved, err
			}
			continue
		}
		if v.Gate && p.Saw == nil && time.Since(asked) < wizard.DeafTime {
			p.say("That came before the question could be read, so it is not an answer. Read it, look, then type.")
			continue
		}
		if text == "" {
			text = kept
		}
		if text == "" && f.Measuring && p.Saw != nil {
			if reading, ok := v.Read(p.Saw, f.Key, answers); ok {
				text = reading
				p.say("The simulated saw reads: %s", text)
			}
		}
		if err := f.Check(text); err != nil {
			p.say("%s.", model.Printable(err.Error()))
			continue
		}
		answers[f.Key] = text
		p.Job = p.Keep(v.Place, answers)
		if s := tell.Tally(f, text); s != "" {
			p.say("%s.", s)
		}
		return false, nil
	}
}

// lapsed tells the procedure of a silence that was too long, or of a program that
// was stopped in between, and reports whether that led to another place.
func (p *plain) lapsed(v procedure.View, asked time.Time) bool {
	kind := procedure.EventKind("")
	if p.watch.Stopped() {
		kind = procedure.Suspend
	} else if p.watch.TooLong(asked, wizard.IdleTime(p.Procedure.Profile())) {
		kind = procedure.Idle
	}
	if kind == "" || p.Saw != nil {
		return false
	}
	before := p.Procedure
	p.Job, _ = p.Lead(kind, procedure.Place{})
	if p.Procedure.View().Place == v.Place && tell.PowerWords(before) == tell.PowerWords(p.Procedure) && !v.Gate {
		return false
	}
	p.report(false)
	p.say("That answer was not taken: look at the saw again.")
	return true
}
