package procedure_test

import (
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// does moves the saw by what a person did who gave these answers at this place, and
// was believed. proper tells that each answer was the right one for this screen.
func (w world) does(s *saw, v procedure.View, answers map[string]string, wrong string, before, after procedure.Procedure) {
	p := before.Profile()
	ok := func(keys ...string) bool {
		for _, k := range keys {
			if k == wrong || wrong == "all" || wrong == "late" {
				return false
			}
		}
		return true
	}
	slot := func() *half { return s.halves.of(v.Place.Blade) }
	did := fact{genuine: wrong != "late", datum: s.datum(p), before: fenceOf(before, s)}
	if !slices.Contains([]string{"flange", "blade", "returned"}, v.Place.Step) { // more of the same part may follow
		s.lies = v.Place.Step == "source" && ok("where") && answers["where"] != "saw"
	}
	switch step := v.Place.Step; step {
	case "stop":
		s.still, s.slow = ok("run_down"), answers["run_down"] == "14"
	case "slow":
		s.slow = !ok("still")
	case "isolate":
		if wrong == "late" {
			break
		}
		s.proved = s.still && !s.slow && ok("how", "dead", "by", "word")
		s.live = !s.proved
		if !s.proved {
			s.lapsed = "never"
		}
		s.word = answers["word"]
	case "power":
		if wrong == "late" {
			break
		}
		s.word = answers["word"]
		s.live, s.proved, s.lapsed, s.still = true, false, "live", false
		s.checked = ok("teeth", "name", "nut", "mark", "knife", "throat", "tools", "people", "word", "rings") && s.blade != ""
	case "arbor":
		s.blade, s.rings, s.said, s.checked = "", "", "", false
		s.arbor++
		s.dirty, s.loose = !ok("clean"), !ok("spare_thread")
	case "clean":
		s.blade, s.rings, s.said, s.checked = "", "", "", false
	case "hold":
		s.out = ok("closed")
	case "mount":
		s.blade, s.rings, s.checked = v.Place.Blade, strings.Join(v.Rings, " "), false
		if !ok("teeth") {
			s.blade = map[string]string{"general": "rip"}[v.Place.Blade]
			if s.blade == "" {
				s.blade = "general"
			}
		}
		if !ok("name") {
			s.blade = "thin"
		}
		if !ok("rings") {
			s.rings = "r25 r10"
		}
		s.said = v.Place.Blade
		if asks(v, "knife") && ok("knife") { // squared to nothing
			b, _ := p.BladeByID(v.Place.Blade)
			s.knife, s.squared, s.setting = b.Knife, "nothing", s.setting+1
		}
	case "rim", "align":
		s.checked = false
	case "knife":
		s.checked, s.setting = false, s.setting+1
		s.blade, s.rings, s.said = p.Reference, strings.Join(p.Standing, " "), p.Reference
		if !ok("teeth") {
			s.blade = "rip"
		}
		if !ok("name") {
			s.blade = "thin"
		}
		s.knife = ""
		for id, t := range thickness {
			if strings.Contains(v.Do[1], "knife of "+t.Of(model.MM).String()) {
				s.knife = id
			}
		}
		if felt, err := model.ParseReadings(answers["gaps"], model.MM); err == nil {
			s.gap = slices.Max(model.Lengths(felt))
		}
		s.squared = "nothing"
		if s.board.fence == s.fence && ok("off", "gaps", "tip_gap") {
			s.squared = s.board.datum
		}
	case "boards":
		s.fence++
		s.asked, s.board = ok("locked"), board{s.fence, s.datum(p)}
		if s.blade != p.Reference || s.rings != strings.Join(p.Standing, " ") {
			s.board.datum = "no reference"
		}
		if !ok("length", "lead", "tail") {
			s.board.datum = "a bad board"
		}
	case "scale", "lock":
		s.fence++
		s.asked = ok("locked")
	case "fence":
		s.asked = answers["fence"] == "untouched"
	case "fence-moved":
		s.asked = false
		if ok("moved") && answers["truly"] != "no" {
			s.fence++
		}
	case "reference":
		did.width, did.rings = s.set(), s.rings
		if s.blade != p.Reference {
			did.genuine = false
		}
		slot().cut = false
	case "cut":
		did.width = w.rip(s, p, v, answers)
	case "more":
		did.width = slot().width
	case "written":
		b, _ := p.BladeByID(v.Place.Blade)
		*s.boxes.of(b.ID) = told(v.Rings, b.Knife)
		if !ok("rings") {
			*s.boxes.of(b.ID) = "a slip"
		}
	case "sharpened", "returned": // away, nobody knows what became of its teeth
		blade := v.Place.Blade
		if blade == "" {
			blade = answers["blade"]
		}
		did.genuine = answers["truly"] != "no"
		if n := s.worn.of(blade); did.genuine && n != nil {
			*n++
		} else if did.genuine {
			s.worn.more++
		}
		if s.blade == blade { // whoever takes it to the bench finds it there, whatever was said
			s.blade, s.rings, s.checked = "", "", false
		}
		if s.said == blade {
			s.said = ""
		}
	}
	if slices.Contains([]string{"boards", "scale", "lock", "fence", "fence-moved"}, v.Place.Step) {
		s.spoken, s.mixed = s.fence, false
	}
	did.blade, did.rings, did.knife, did.fence, did.setting = s.blade, s.rings, s.knife, s.fence, s.setting
	did.worn = s.worn.count(s.blade)
	switch v.Place.Step {
	case "cut":
		*slot() = half{true, did}
	case "reread":
		genuine := did.genuine
		did = slot().fact
		did.genuine = did.genuine && genuine
	}
	w.witness(s, did, before, after)
}

func asks(v procedure.View, key string) bool {
	return slices.ContainsFunc(v.Fields, func(f procedure.Field) bool { return f.Key == key })
}

// witness puts a fact beside every new record.
func (w world) witness(s *saw, did fact, before, after procedure.Procedure) {
	old, records := len(before.Profile().Records), after.Profile().Records
	s.made = slices.Clone(s.made)
	for _, r := range records[min(old, len(records)):] {
		f := did
		f.kind, f.base = r.Kind, -1
		if r.Kind == model.Mount || r.Kind == model.Scale {
			f.datum = s.face(s.blade, s.rings)
		}
		if r.More {
			for j := len(s.made) - 1; j >= 0; j-- {
				if o := records[j]; !s.made[j].voided && o.Kind == r.Kind && o.Blade == r.Blade && (r.Kind == model.BladeCut || o.Lock == r.Lock && o.Piece == r.Piece) {
					f, f.base = s.made[j], j
					f.genuine = f.genuine && did.genuine
					break
				}
			}
		}
		if r.Kind == model.Void {
			s.undo(records, r.Of)
		}
		s.made = append(s.made, f)
	}
}

// undo is what is true once a record is said to be wrong. What was done with hands
// stays done; what was only typed was never so.
func (s *saw) undo(records []model.Record, of string) {
	for i := range s.made {
		if records[i].Ref() != of || s.made[i].voided {
			continue
		}
		s.made[i].voided = true
		if records[i].About == model.AboutWritten {
			*s.boxes.of(records[i].Blade) = "nobody knows what"
		}
	}
}
