package procedure_test

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// rack is the shop of the walk with three knives, and the blades of this saw.
func (g geometry) rack() model.Profile {
	p := shop()
	for id, t := range map[string]model.Length{"k24": 240 * hundredth, "k20": 200 * hundredth} {
		p.Knives = append(p.Knives, model.Knife{ID: id, Thickness: t.Of(model.MM)})
	}
	slices.SortFunc(p.Knives, func(a, b model.Knife) int { return int(b.Thickness.Length - a.Thickness.Length) })
	if g.near {
		p.Saw.Tilt, p.Saw.Flange = model.TiltRight, model.Near
	}
	for i := range p.Blades {
		plate, kerf := g.blank(p.Blades[i].ID, 0)
		p.Blades[i].Plate, p.Blades[i].Kerf = read(plate), read(kerf)
	}
	if g.two {
		p.Blades = p.Blades[:2]
	}
	return p
}

func read(l model.Length) []model.Measure { return slices.Repeat([]model.Measure{l.Of(model.MM)}, 3) }

// asFound is a saw that nobody knows anything about yet.
func asFound() saw {
	return saw{live: true, lapsed: "restart", knife: "k25", blade: "thin", dirty: true, loose: true}
}

func freshly(s *search) {
	s.start(procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), asFound(), "a profile without records")
}

func unknown(s *search) {
	empty := model.Profile{Version: 1, Name: "new"}
	s.start(procedure.New(empty, s.judge, procedure.Options{Seed: 1}), asFound(), "a saw that nothing is known of")
}

// complete is a setup that an honest person took to its end, and the saw at each
// record on the way.
func (s *search) complete() (model.Profile, []saw) {
	p, at := procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), asFound()
	saws := []saw{at}
	for range 60 {
		if p.Finished() {
			return p.Profile(), saws
		}
		next := s.world.honestly(&p, &at)
		if !next {
			break
		}
		for len(saws) <= len(p.Profile().Records) {
			saws = append(saws, at)
		}
	}
	s.fail(-1, "the honest way", "does not come to its end, but to "+p.Place().String())
	return p.Profile(), saws
}

// honestly answers the present place; false when it is refused.
func (w world) honestly(p *procedure.Procedure, at *saw) bool {
	v := p.View()
	answers := w.honest(*p, at, v)
	next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: typedAt(v.Place)})
	if err != nil {
		return false
	}
	w.does(at, v, answers, "", *p, next)
	*p = next
	return true
}

// knives is a whole setup after which other knives were set, and the saw.
func knives(ids ...string) func(*search) {
	return func(s *search) {
		profile, saws := s.complete()
		at := saws[len(saws)-1]
		at.interrupted("leave")
		p := procedure.New(profile, s.judge, procedure.Options{Seed: 1})
		s.world.honestly(&p, &at)
		for _, id := range ids {
			p, _ = p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "change-knife"}})
			p, _ = p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.Place(), At: noon, Answers: map[string]string{"knife": id}})
			for range 20 {
				if k := p.State().Knife; k != nil && k.Knife == id {
					break
				}
				s.world.honestly(&p, &at)
			}
		}
		s.start(p, at, "a whole setup, and after it the knife "+strings.Join(ids, ", then "))
	}
}

// thinKnife is a whole setup of a rack whose thin blade runs with a knife of its own,
// which is now to be set.
func thinKnife(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	p := procedure.New(withThinKnife(profile), s.judge, procedure.Options{Seed: 1})
	s.world.honestly(&p, &at)
	p, _ = p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "change-knife"}})
	p, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.Place(), At: noon, Answers: map[string]string{"knife": "k20"}})
	if err != nil {
		s.fail(-1, "the honest way", err.Error())
	}
	s.start(p, at, "a whole setup, and now the knife of the thin blade")
}

// ripNext is a rack whose rip runs with a knife of its own, and no blade but the
// reference with the one that is set first.
func ripNext(s *search) {
	profile := s.world.rack()
	profile.Blades[1].Knife = "k24"
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "a rip that runs with a knife of its own, and no other")
}

// thinNext is a rack without the rip, so that no other blade runs with the knife of the
// reference blade.
func thinNext(s *search) {
	profile := withThinKnife(s.world.rack())
	for i := range profile.Blades {
		profile.Blades[i].Retired = profile.Blades[i].ID == "rip"
	}
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "a thin blade that runs with a knife of its own, and no other")
}

// withThinKnife has the thin blade run with the knife of 2.0 mm, and a ring for it.
func withThinKnife(profile model.Profile) model.Profile {
	profile.Blades = slices.Clone(profile.Blades)
	for i := range profile.Blades {
		if b := &profile.Blades[i]; b.ID == "thin" {
			b.Knife = "k20"
		}
	}
	profile.Rings = append(slices.Clone(profile.Rings), model.Ring{ID: "r50", Thickness: (50 * hundredth).Of(model.MM), Count: 1, Outer: (78 * model.Millimetre).Of(model.MM)})
	return profile
}

// narrowed is a whole setup after which the kerf of the rip was read once more, and
// was found narrower than its knife.
func narrowed(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	at.narrow = true
	profile.Blades = slices.Clone(profile.Blades)
	for i := range profile.Blades {
		if b := &profile.Blades[i]; b.ID == "rip" {
			kerf := (245 * hundredth).Of(model.MM)
			b.Kerf = []model.Measure{kerf, kerf, kerf}
		}
	}
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), at, "a whole setup, and then a kerf of 2.45 mm read on the rip")
}

// waiting is a rack whose rip names another knife than the one that is set first.
func waiting(s *search) {
	profile := s.world.rack()
	more := profile.Blades[1]
	more.ID, more.Label, more.Teeth = "spare-rip", "spare-rip", 30
	profile.Blades[1].Knife, profile.Blades[2] = "k24", more
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "a rip that runs with a knife of its own")
}

// returned is a whole setup after which the rip left the rack; it may come back.
func returned(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	profile.Blades = slices.Clone(profile.Blades)
	profile.Blades[1].Retired = true
	p := procedure.New(profile, s.judge, procedure.Options{Seed: 1})
	s.world.honestly(&p, &at)
	s.start(p, at, "a whole setup, after which the rip left the rack")
}

// twins is a rack in which the foreign blade that is put on now and then has as many
// teeth as the reference.
func twins(s *search) {
	profile := s.world.rack()
	profile.Blades[2].Teeth = profile.Blades[0].Teeth
	s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1}), asFound(), "two blades with as many teeth")
}

// anotherPiece is a whole setup after which one more blade like the rip was compared,
// under a fence lock of its own: no half was cut for the rip under it.
func anotherPiece(s *search) {
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	more := profile.Blades[1]
	more.ID, more.Label, more.Teeth = "spare-rip", "spare-rip", 30
	profile.Blades = append(slices.Clone(profile.Blades), more)
	t := tale{s: s, p: procedure.New(profile, s.judge, procedure.Options{Seed: 1, Mode: procedure.OneBlade, Blade: more.ID}), at: at, saws: saws}
	t.until("fence", "moved")
	t.until("written", "")
	t.at.interrupted("leave")
	s.start(procedure.New(t.p.Profile(), s.judge, procedure.Options{Seed: 1}), t.at, "a whole setup, and one more blade compared after it")
}

// doubtful is a setup in which the reference half was read with scatter, and then more.
func doubtful(s *search) {
	at := asFound()
	t := tale{s: s, p: procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), at: at, saws: []saw{at}}
	t.until("reference", "scattered")
	t.until("cut", "")
	t.until("more", "")
	s.start(t.p, t.at, "a reference half read with scatter, and both halves read further")
}

func resumed(s *search) { s.resume("", func(*tale) {}) }

// choosing resumes at every record, with the choice of another knife to begin with.
func choosing(s *search) {
	s.resume(", and now another knife", func(t *tale) {
		t.on("who")
		t.begin("change-knife", "k24")
	})
}

// resume takes a whole setup up at every record, and does something first.
func (s *search) resume(what string, do func(*tale)) {
	profile, saws := s.complete()
	for k := range saws {
		part, at := profile, saws[k]
		part.Records = profile.Records[:k:k]
		at.made = at.made[:k:k]
		at.interrupted("leave")
		t := tale{s: s, p: procedure.New(part, s.judge, procedure.Options{Seed: 1}), at: at, saws: saws}
		do(&t)
		s.start(t.p, t.at, fmt.Sprintf("resumed after record %d%s", k, what))
	}
}

func once(blade string) func(*search) {
	return func(s *search) {
		profile, saws := s.complete()
		at := saws[len(saws)-1]
		at.interrupted("leave")
		s.start(procedure.New(profile, s.judge, procedure.Options{Seed: 1, Mode: procedure.OneBlade, Blade: blade}), at, "a whole setup, and now "+blade)
	}
}

// boardAgain is a setup in which a gauge board was ripped once more behind the scale, so
// that the blade is cut under the lock of that board.
func boardAgain(s *search) {
	at := asFound()
	t := tale{s: s, p: procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), at: at, saws: []saw{at}}
	t.until("scale", "")
	t.turn(procedure.Event{Kind: procedure.Back})
	t.turn(procedure.Event{Kind: procedure.Back})
	t.until("boards", "")
	t.turn(procedure.Event{Kind: procedure.Forward})
	t.until("written", "")
	s.start(t.p, t.at, "a setup with one more gauge board behind the scale")
}

// mistaken is a setup in which the reference was mounted, and then said to be sharpened,
// which it was not.
func mistaken(s *search) {
	at := asFound()
	t := tale{s: s, p: procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1}), at: at, saws: []saw{at}}
	t.until("mount", "")
	t.begin("sharpened", "general, but it was not")
	s.start(t.p, t.at, "the reference mounted, and then a sharpening that never was")
}

func isolateOnly(s *search) {
	s.start(procedure.New(s.world.rack(), s.judge, procedure.Options{Seed: 1, Mode: procedure.IsolateOnly}), asFound(), "isolate only")
}
