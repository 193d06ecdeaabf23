package wizard

import (
	"errors"
	"maps"
	"reflect"
	"slices"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages"
	"example.com/sawdatum/wizard/stages/practice"
)

// Job is a run of the procedure with what it needs of the world. Both faces hold
// one. It is a value: what a face draws is what it holds.
type Job struct {
	Procedure procedure.Procedure
	Store     Store
	clock     func() time.Time
	Saw       procedure.Saw // nil: a real saw
	drafts    map[procedure.Place]map[string]string
	Start     model.Profile  // as it was opened
	Followed  []model.Reason // what followed from the last accepted answer
	refused   Outcome        // the export that did not replace a file
	Files     []string       // written for others
	Papers    []Paper        // that the closing place can write anew
	Aside     *AsideError    // where the work is kept, if not in the profile's own file
}

// NewJob begins a run on the profile of a store. In practice it is stamped by a clock of
// its own, whatever Options.Clock says.
func NewJob(o Options) Job {
	j := Job{Store: o.Store, Start: o.Store.Profile, clock: o.Clock, drafts: map[procedure.Place]map[string]string{}}
	if j.clock == nil {
		j.clock = time.Now
	}
	if o.Practice {
		j.Saw = practice.New(o.Store.Profile, o.Seed)
		j.clock = practiceClock()
	}
	o.Run.Unkept = o.Practice && o.Store.Save == nil
	j.Procedure = procedure.New(o.Store.Profile, stages.House(o.Run), solver.Judge, o.Run)
	return j
}

// Answer sends what was typed for a visit. changed reports that the profile is no longer
// what it was before. The error is a *procedure.Refusal: next then stands where j does.
func (j Job) Answer(visit uint64, typed map[string]string) (next Job, changed bool, err error) {
	view := j.Procedure.View()
	next, changed, err = j.send(procedure.Event{Kind: procedure.Answer, Visit: visit, Answers: typed})
	if why := unreadable(j.Procedure.Profile(), next.Procedure.Profile()); changed && why != "" {
		return j, false, &procedure.Refusal{Place: view.Place, Unmet: []string{why}}
	}
	if err == nil {
		known := j.Known(view)
		told := func(r model.Reason) bool {
			return slices.Contains(known, r) || slices.ContainsFunc(next.Followed, func(f model.Reason) bool { return f.Code == r.Code })
		}
		if !view.Correcting {
			next.Followed = append(slices.DeleteFunc(slices.Clone(view.Follows(typed)), told), next.Followed...)
		}
		next.drafts = maps.Clone(next.drafts)
		delete(next.drafts, view.Place)
	}
	return next, changed, err
}

// unreadable is why a file with what was answered could not be read again; empty: it can. The
// fields refuse what they can: this holds what no single field sees.
func unreadable(before, after model.Profile) string {
	for _, f := range after.ValidateFrom(len(before.Records)) {
		if !f.Missing && !f.Doubt && !slices.Contains(before.ValidateFrom(len(before.Records)), f) {
			return "this cannot stand in the file: " + f.Fault + ": " + f.Cure
		}
	}
	return ""
}

// Known is what both faces say of a place before anything is typed there: what is a danger, and
// a verdict.
func (j Job) Known(v procedure.View) []model.Reason {
	return slices.DeleteFunc(slices.Clone(v.Follows(j.Typed(v))), func(r model.Reason) bool { return r.Weight != model.Danger && r.Code != "verdict" })
}

// Left holds the field of a key, which was left, against what is typed before it. The error is
// a *procedure.Refusal: what is wrong or unlikely about it.
func (j Job) Left(visit uint64, key string, typed map[string]string) (Job, error) {
	p, err := j.Procedure.Apply(procedure.Event{Kind: procedure.Leave, Visit: visit, Field: key, Answers: typed})
	j.Procedure = p
	return j, err
}

// Lead sends what is no answer: back, forward, other work, a lapse. The error is a
// *procedure.Refusal: next then stands where j does.
func (j Job) Lead(kind procedure.EventKind, place procedure.Place) (next Job, err error) {
	next, _, err = j.send(procedure.Event{Kind: kind, Place: place})
	return next, err
}

func (j Job) send(e procedure.Event) (next Job, changed bool, err error) {
	e.At = j.clock()
	p, err := j.Procedure.Apply(e)
	changed = Differs(j.Procedure.Profile(), p.Profile())
	j.Procedure = p
	if err == nil {
		j.Followed = p.Report()
	}
	return j, changed, err
}

// Join goes on with a profile that holds another shift's records too; false where the two
// cannot be brought together.
func (j Job) Join(file model.Profile) (Job, bool) {
	next, _, err := j.send(procedure.Event{Kind: procedure.Joined, Profile: file})
	return next, err == nil
}

// Differs reports that two states of one profile are not the same. Records are only ever
// added, so that their number tells.
func Differs(a, b model.Profile) bool {
	if len(a.Records) != len(b.Records) {
		return true
	}
	a.Records, b.Records = nil, nil
	return !reflect.DeepEqual(a, b)
}

// Keep remembers what was typed at a place and not sent.
func (j Job) Keep(place procedure.Place, typed map[string]string) Job {
	j.drafts = maps.Clone(j.drafts)
	j.drafts[place] = maps.Clone(typed)
	return j
}

// Typed is what stands in the fields of the present place: what was typed there and
// not sent, else what the procedure puts there. A gate is always empty.
func (j Job) Typed(v procedure.View) map[string]string {
	out := map[string]string{}
	draft := j.drafts[v.Place]
	for _, f := range v.Fields {
		switch text, ok := draft[f.Key]; {
		case v.Gate || f.Kind == procedure.FieldWord:
		case v.Correcting:
			out[f.Key] = f.Value
		case ok:
			out[f.Key] = text
		default:
			out[f.Key] = f.Value
		}
	}
	return out
}

// Finished reports that the closing place was answered; where only isolation was asked
// for, that it was recorded in this run.
func (j Job) Finished() bool {
	if j.Procedure.Options().Mode == procedure.IsolateOnly {
		return slices.ContainsFunc(j.Procedure.Now().Now(), func(r model.Record) bool { return r.Kind == model.Isolation })
	}
	return j.Procedure.Finished()
}

// Refusal is the refusal that an error of Apply holds; another error is one unmet condition.
func Refusal(err error) *procedure.Refusal {
	var r *procedure.Refusal
	if errors.As(err, &r) {
		return r
	}
	return &procedure.Refusal{Unmet: []string{err.Error()}}
}

// Placed takes the error of a save into the job. A save that went to another file is no
// error any more; what comes back says why nothing was saved at all.
func (j Job) Placed(err error) (Job, error) {
	var aside *AsideError
	if errors.As(err, &aside) {
		j.Aside, j.Store.Path = aside, aside.Path
		return j, nil
	}
	return j, err
}

// Ended is the result of the run. Where something was accepted it is saved once more, in case that
// failed, or the file was taken away since.
func (j *Job) Ended(unsaved bool) Result {
	var err error
	if j.Store.Save != nil && (unsaved || Differs(j.Start, j.Procedure.Profile())) {
		_, err = j.Store.Save(j.Procedure.Profile())
		*j, err = j.Placed(err)
	}
	return Result{Finished: j.Finished(), Unsaved: err, Path: j.Store.Path, Profile: j.Procedure.Profile()}
}
