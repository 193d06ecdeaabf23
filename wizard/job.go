package wizard

import (
	"errors"
	"maps"
	"reflect"
	"slices"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// job is a run of the procedure with what it needs of the world. Both faces hold
// one. It is a value: what a face draws is what it holds.
type job struct {
	procedure procedure.Procedure
	store     Store
	clock     func() time.Time
	saw       *practiceSaw // nil: a real saw
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
		j.saw = newPracticeSaw(o.Store.Profile, o.Seed)
		j.clock = practiceClock()
	}
	j.procedure = procedure.New(o.Store.Profile, o.Judge, o.Run)
	return j
}

// practiceClock starts at a fixed time and moves on with every answer, so that a
// practice run can be repeated to the last byte.
func practiceClock() func() time.Time {
	now := time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC)
	return func() time.Time {
		now = now.Add(40 * time.Second)
		return now
	}
}

// apply sends one event. changed reports that the profile is no longer what was
// last saved.
func (j job) apply(kind procedure.EventKind, place procedure.Place, answers map[string]string) (next job, changed bool, err error) {
	p, err := j.procedure.Apply(procedure.Event{Kind: kind, At: j.clock(), Place: place, Answers: answers})
	changed = differs(j.procedure.Profile(), p.Profile())
	before, view := j.procedure, j.procedure.View()
	j.procedure = p
	if err == nil {
		j.followed = p.Report()
	}
	if err == nil && kind == procedure.Answer {
		told := func(r model.Reason) bool {
			return slices.ContainsFunc(j.followed, func(f model.Reason) bool { return f.Code == r.Code })
		}
		j.followed = append(slices.DeleteFunc(scene{before, view, answers}.live(), told), j.followed...)
		j.drafts = maps.Clone(j.drafts)
		delete(j.drafts, place)
		if j.saw != nil {
			j.saw.follow(before, p, place, answers)
		}
	}
	return j, changed, err
}

// join takes in a profile that holds another shift's records too; false where it
// cannot be.
func (j job) join(file model.Profile) (job, bool) {
	p, err := j.procedure.Apply(procedure.Event{Kind: procedure.Joined, At: j.clock(), Profile: file})
	j.procedure, j.followed = p, p.Report()
	return j, err == nil
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
		return j.procedure.Isolated()
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
