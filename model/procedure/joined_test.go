package procedure_test

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// brought is what another shift's records tell that come in while this one works.
var brought = []string{"a note", "a note, and another blade is on", "a blade mounted", "the fence locked elsewhere", "the fence locked elsewhere, by a slow clock", "and the last of ours is missing"}

// joined brings another shift's records in. What they tell was done at the saw.
func (s *search) joined(i int, what string) {
	n := s.level[i]
	profile, at := n.p.Profile(), n.saw
	did := fact{genuine: true, datum: at.datum(profile), before: fenceOf(n.p, &at), base: -1}
	at.interrupted("joined")
	r := model.Record{At: noon, By: "MO"}
	if last := len(profile.Records) - 1; last >= 0 {
		r.At = profile.Records[last].At.Add(time.Second)
	}
	switch what {
	case "a note":
		r.Kind, r.Text = model.Note, "the caliper is with us"
	case "a note, and another blade is on":
		at.blade, at.rings = "thin", ""
		r.Kind, r.Text = model.Note, "the caliper is with us"
	case "a blade mounted":
		on := "thin"
		if s.world.two {
			on = "rip"
		}
		at.blade, at.rings, at.said = on, "", on
		r.Kind, r.Blade, r.Rings = model.Mount, on, []string{}
		did.datum = at.face(on, "")
	case "the fence locked elsewhere", "the fence locked elsewhere, by a slow clock":
		at.fence++
		at.spoken = at.fence
		r.Kind, r.Lock, r.Width = model.FenceLock, fmt.Sprintf("theirs-%d", len(profile.Records)), profile.WorkingWidth
	default:
		if s.without(i) {
			s.fail(n.at, "R6", "records came in without a reading of this run, which is gone", "joined, "+what)
		}
		return
	}
	did.kind, did.blade, did.rings, did.knife, did.fence, did.setting = r.Kind, at.blade, at.rings, at.knife, at.fence, at.setting
	did.worn = at.worn.count(at.blade)
	here := len(profile.Records)
	if strings.HasSuffix(what, "slow clock") {
		if here == n.p.Began() || s.events.whole { // what is last on record is in no key
			return
		}
		here--
		r.At, at.mixed = profile.Records[here].At.Add(-time.Millisecond), true
	}
	at.made = shifted(slices.Insert(slices.Clone(at.made), here, did), here, 1)
	profile.Records = slices.Insert(slices.Clone(profile.Records), here, r)
	s.transitions++
	next, err := n.p.Apply(procedure.Event{Kind: procedure.Joined, Profile: profile, At: noon})
	if n.p.Finished() {
		s.refused++
		return
	}
	if err != nil {
		s.fail(n.at, "R6", "another shift's records are refused: "+err.Error(), "joined, "+what)
		return
	}
	s.visit(n.at, next, at, n.spent, "joined, "+what)
}

// without reports whether a profile is taken that lacks a record of this run.
func (s *search) without(i int) bool {
	p := s.level[i].p
	profile := p.Profile()
	if p.Began() >= len(profile.Records) {
		return false
	}
	s.transitions++
	s.refused++
	profile.Records = profile.Records[:p.Began():p.Began()]
	next, err := p.Apply(procedure.Event{Kind: procedure.Joined, Profile: profile, At: noon})
	return err == nil && !kept(p.Profile().Records, next.Profile().Records)
}
