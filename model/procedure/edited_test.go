package procedure_test

import (
	"fmt"
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// edited starts from files that no run of the program wrote: records of a long story
// lost, swapped with the next, or there twice, as by a hand or by somebody's merge of
// two copies. The file ends behind the change, or goes on. Files that the program
// would not open are left out.
func edited(s *search) {
	profile, saws := s.story()
	all := len(profile.Records)
	for i := range profile.Records {
		for _, edit := range edits {
			records, facts := edit.change(profile.Records, saws[all].made, i)
			if records == nil {
				continue
			}
			for _, end := range []int{min(i+2, len(records)), len(records)} {
				part, now := profile, saws[end+all-len(records)]
				part.Records = slices.Clone(records[:end])
				now.made = slices.Clone(facts[:end])
				if len(part.Validate()) > 0 {
					continue
				}
				now.interrupted("leave")
				now.remark(part.Records)
				s.start(procedure.New(part, s.judge, procedure.Options{Seed: 1}), now,
					fmt.Sprintf("record %d of %d, a %s, %s", i+1, end, profile.Records[i].Kind, edit.name))
			}
		}
	}
}

// edits are the changes to a list of records and the facts beside them.
var edits = []struct {
	name   string
	change func([]model.Record, []fact, int) ([]model.Record, []fact)
}{
	{"is lost", func(r []model.Record, f []fact, i int) ([]model.Record, []fact) {
		if onlyWitness(r[i]) {
			return nil, nil
		}
		return slices.Delete(slices.Clone(r), i, i+1), shifted(slices.Delete(slices.Clone(f), i, i+1), i, -1)
	}},
	{"stands behind the next", func(r []model.Record, f []fact, i int) ([]model.Record, []fact) {
		if i+1 == len(r) {
			return nil, nil
		}
		r, f = slices.Clone(r), slices.Clone(f)
		r[i], r[i+1], f[i], f[i+1] = r[i+1], r[i], f[i+1], f[i]
		r[i].At, r[i+1].At = r[i+1].At, r[i].At
		for k := range f {
			switch f[k].base {
			case i:
				f[k].base = i + 1
			case i + 1:
				f[k].base = i
			}
		}
		return r, f
	}},
	{"names the fence lock before its own", func(r []model.Record, f []fact, i int) ([]model.Record, []fact) {
		k := slices.IndexFunc(r, func(o model.Record) bool { return o.Kind == model.FenceLock && o.Lock == r[i].Lock })
		for k--; k >= 0; k-- {
			if r[k].Kind == model.FenceLock && r[i].Kind != model.FenceLock {
				r = slices.Clone(r)
				r[i].Lock = r[k].Lock
				return r, f
			}
		}
		return nil, nil
	}},
	{"is there twice", func(r []model.Record, f []fact, i int) ([]model.Record, []fact) {
		return slices.Insert(slices.Clone(r), i, r[i]), shifted(slices.Insert(slices.Clone(f), i, f[i]), i, 1)
	}},
}

// onlyWitness are records of what nothing else tells: a blade that was sharpened looks
// like one that was not, and what is written on a box is read by nobody at the saw.
func onlyWitness(r model.Record) bool {
	return r.Kind == model.Sharpened || r.Kind == model.Returned || r.About == model.AboutWritten
}

// shifted points the further readings at their cuts again.
func shifted(facts []fact, from, by int) []fact {
	for k := range facts {
		switch base := facts[k].base; {
		case base == from && by < 0:
			facts[k].base = -1
		case base >= from:
			facts[k].base += by
		}
	}
	return facts
}

// remark voids what the voids that are still there name.
func (s *saw) remark(records []model.Record) {
	of := map[string]bool{}
	for _, r := range records {
		if r.Kind == model.Void {
			of[r.Of] = true
		}
	}
	for i, r := range records {
		s.made[i].voided = of[r.Ref()] && r.Kind != model.Void
	}
}

// story is a long way: a whole setup; the rip sharpened, cut with readings that
// scatter and read further; the fence bumped; the lock of the scale and a reference
// cut voided and done once more; sharpened again as soon as it was in; said to be
// sharpened once more, which it was not; and a run for the rip, under another fence lock.
func (s *search) story() (model.Profile, []saw) {
	profile, saws := s.complete()
	t := tale{s: s, p: procedure.New(profile, s.judge, procedure.Options{Seed: 1}), at: saws[len(saws)-1], saws: saws}
	t.at.interrupted("leave")
	t.on("who")
	t.begin("sharpened", "rip")
	t.until("cut", "scattered")
	t.on("more")
	t.until("cut", "scattered")
	t.on("more")
	t.until("written", "")
	t.begin("fence-moved", "")
	t.begin("sharpened", "rip")
	t.until("cut", "")
	t.begin("void", "the last reference_cut")
	t.until("cut", "")
	t.begin("void", "the last fence_lock")
	t.until("cut", "scattered")
	t.on("more")
	t.until("cut", "scattered")
	t.on("more")
	t.begin("sharpened", "rip")
	t.until("cut", "")
	t.on("written")
	t.begin("sharpened", "rip, but it was not")
	t.until("cut", "")
	t.on("written")
	t.runs("rip")
	t.until("reference", "")
	t.until("cut", "")
	return t.p.Profile(), t.saws
}

// tale takes an honest hand through a story.
type tale struct {
	s    *search
	p    procedure.Procedure
	at   saw
	saws []saw // at each number of records
}

// until answers honestly up to a place, and that in the way that the label names.
func (t *tale) until(step, label string) {
	for range 40 {
		if t.p.Place().Step == step {
			t.answer(label)
			return
		}
		t.answer("")
	}
	t.s.fail(-1, "the story", "never comes to "+step+", but to "+t.p.Place().String())
}

func (t *tale) on(step string) {
	if t.p.Place().Step == step {
		t.answer("")
	}
}

// runs begins a run for one blade, with a fence that nobody is sure of.
func (t *tale) runs(blade string) {
	t.at.interrupted("leave")
	t.p = procedure.New(t.p.Profile(), t.s.judge, procedure.Options{Seed: 1, Mode: procedure.OneBlade, Blade: blade})
	t.until("fence", "moved")
}

func (t *tale) begin(step, label string) {
	t.turn(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: step}})
	if t.p.Place().Step == "source" {
		t.answer("")
	}
	t.answer(label)
}

// turn turns to another place.
func (t *tale) turn(e procedure.Event) {
	next, err := t.p.Apply(e)
	if err != nil {
		t.s.fail(-1, "the story", err.Error())
		return
	}
	t.p = next
}

func (t *tale) answer(label string) {
	v := t.p.View()
	for _, way := range t.s.world.tries(t.p, &t.at, v, events{work: 1}) {
		if way.label != label {
			continue
		}
		next, err := t.p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: way.answers, At: typedAt(v.Place)})
		if err != nil {
			t.s.fail(-1, "the story", err.Error())
			return
		}
		t.s.world.does(&t.at, v, way.answers, "", t.p, next)
		t.p = next
		for len(t.saws) <= len(next.Profile().Records) {
			t.saws = append(t.saws, t.at)
		}
		return
	}
	t.s.fail(-1, "the story", "nobody answers "+v.Place.String()+" with "+label)
}

// notWritten are kinds that this procedure does not write, or writes at the bench.
var notWritten = []model.Kind{model.Thickness, model.Returned, model.TakenOff, model.Line, model.HeelToe, model.Rim, model.StripCut, model.Remeasured, model.Box, model.Found, model.Correction}

// TestEditedStory: the story holds what the edits are about.
func TestEditedStory(t *testing.T) {
	s := trial{"edited", nil, exact, workOnly}.search()
	profile, saws := s.story()
	if s.bad != nil {
		t.Fatal(s.bad)
	}
	kinds := map[model.Kind]int{}
	more := 0
	for _, r := range profile.Records {
		kinds[r.Kind]++
		if r.More {
			more++
		}
	}
	for kind := range model.KindTable {
		if kinds[kind] == 0 && !slices.Contains(notWritten, kind) {
			t.Errorf("the story has no %s", kind)
		}
	}
	if more < 2 || len(saws) != len(profile.Records)+1 {
		t.Errorf("%d further readings, %d saws for %d records", more, len(saws), len(profile.Records))
	}
	t.Log(len(profile.Records), kinds, more)
}
