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
)

// job is a run of the procedure with what it needs of the world. Both faces hold
// one. It is a value: what a face draws is what it holds.
type job struct {
	procedure procedure.Procedure
	store     Store
	clock     func() time.Time
	saw       procedure.Saw // nil: a real saw
	drafts    map[procedure.Place]map[string]string
	start     model.Profile  // as it was opened
	followed  []model.Reason // what followed from the last accepted answer
	refused   handed         // the export that did not replace a file
	files     []string       // written for others
	papers    []Paper        // that the closing place can write anew
	aside     *AsideError    // where the work is kept, if not in the profile's own file
}

func newJob(o Options) job {
	j := job{store: o.Store, start: o.Store.Profile, clock: o.Clock, drafts: map[procedure.Place]map[string]string{}}
	if j.clock == nil {
		j.clock = time.Now
	}
	if o.Practice {
		j.saw = stages.Practice(o.Store.Profile, o.Seed)
		j.clock = practiceClock()
	}
	j.procedure = procedure.New(o.Store.Profile, stages.House(o.Run), solver.Judge, o.Run)
	return j
}

// practiceClock starts at a fixed time and moves on with every answer, so that a
// practice run can be repeated to the last byte.
func practiceClock() func() time.Time {
	now := time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC)
	return func() time.Time {
		now = now.Add(6 * time.Second)
		return now
	}
}

// answer sends what was typed for a visit; lead sends what is no answer. changed reports
// that the profile is no longer what was last saved.
func (j job) answer(visit uint64, typed map[string]string) (next job, changed bool, err error) {
	view := j.procedure.View()
	next, changed, err = j.send(procedure.Event{Kind: procedure.Answer, Visit: visit, Answers: typed})
	if err == nil {
		told := func(r model.Reason) bool {
			return slices.ContainsFunc(next.followed, func(f model.Reason) bool { return f.Code == r.Code })
		}
		if !view.Correcting {
			next.followed = append(slices.DeleteFunc(slices.Clone(view.Follows(typed)), told), next.followed...)
		}
		next.drafts = maps.Clone(next.drafts)
		delete(next.drafts, view.Place)
	}
	return next, changed, err
}

func (j job) lead(kind procedure.EventKind, place procedure.Place) (next job, err error) {
	next, _, err = j.send(procedure.Event{Kind: kind, Place: place})
	return next, err
}

func (j job) send(e procedure.Event) (next job, changed bool, err error) {
	e.At = j.clock()
	p, err := j.procedure.Apply(e)
	changed = differs(j.procedure.Profile(), p.Profile())
	j.procedure = p
	if err == nil {
		j.followed = p.Report()
	}
	return j, changed, err
}

// join takes in a profile that holds another shift's records too; false where it
// cannot be.
func (j job) join(file model.Profile) (job, bool) {
	next, _, err := j.send(procedure.Event{Kind: procedure.Joined, Profile: file})
	return next, err == nil
}

func differs(a, b model.Profile) bool {
	if len(a.Records) != len(b.Records) {
		return true
	}
	a.Records, b.Records = nil, nil
	return !reflect.DeepEqual(a, b)
}

// keep remembers what was typed at a place and not sent.
func (j job) keep(place procedure.Place, typed map[string]string) job {
	j.drafts = maps.Clone(j.drafts)
	j.drafts[place] = maps.Clone(typed)
	return j
}

// typed is what stands in the fields of the present place: what was typed there and
// not sent, else what the procedure puts there. A gate is always empty.
func (j job) typed(v procedure.View) map[string]string {
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

func (j job) finished() bool {
	if j.procedure.Options().Mode == procedure.IsolateOnly {
		return slices.ContainsFunc(j.procedure.Now().Now(), func(r model.Record) bool { return r.Kind == model.Isolation })
	}
	return j.procedure.Finished()
}

// refusal is the refusal in an error of Apply.
func refusal(err error) *procedure.Refusal {
	var r *procedure.Refusal
	if errors.As(err, &r) {
		return r
	}
	return &procedure.Refusal{Unmet: []string{err.Error()}}
}

// placed takes in where a save went. An error is what is not saved at all.
func (j job) placed(err error) (job, error) {
	var aside *AsideError
	if errors.As(err, &aside) {
		j.aside, j.store.Path = aside, aside.Path
		return j, nil
	}
	return j, err
}
