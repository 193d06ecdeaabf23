package procedure_test

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// The modelled saw. It is moved by what people do there, read off the words of each
// place, and by an adversary. It knows nothing of the guards of the procedure.

// handsIn are the places whose words send hands to the arbor, turning those that
// have the blade turn, standing the rest. A place in none of them fails the test.
var (
	handsIn  = []string{"arbor", "mount", "rim", "align", "knife", "hold"}
	turning  = []string{"boards", "scale", "reference", "cut"}
	standing = []string{
		"saw", "flange", "thread", "knives", "instruments", "blade", "thickness", "rack", "rings", "datum", "unfit",
		"stop", "slow", "isolate", "power", "lock", "fence", "more", "written", "leave",
		"who", "reason", "sharpened", "fence-moved", "other-blade", "retire", "change-knife", "blade-knife", "void", "note", "close",
	}
	told = slices.Concat(handsIn, turning, standing)
)

// saw is the saw as it really is.
type saw struct {
	live    bool   // the blade can start
	proved  bool   // isolated in this run, and found dead, by somebody who stands there
	lapsed  string // why it is not: what happened since
	still   bool   // seen to stand since it last could turn
	slow    bool   // it took longer than 10 s and nobody has looked again
	blade   string // on the arbor; empty: none
	rings   string // behind it, flange first
	knife   string // fitted
	squared string // the datum that the knife was squared to
	setting int    // how often a knife was squared
	fence   int    // where the fence stands: another number, another place
	spoken  int    // where it stood when somebody last spoke of it
	board   board  // the gauge board
	arbor   int    // how often arbor and flange were worked on
	worn    wear   // how often each blade was sharpened
	checked bool   // nut, mark, knife, throat, table, people: looked at since hands were last in
	asked   bool   // in this run, since the last interruption, somebody spoke for the fence
	halves  halves // the second half of each comparison piece
	narrow  bool   // the rip's teeth are narrower than was read at first
	made    []fact // beside the records, one for each
	last    string // the reading place answered last, for an answer that comes twice
	lastTo  map[string]string
}

type board struct {
	fence int
	datum string
}

type wear struct{ general, rip, thin, more int }

func (w *wear) of(id string) *int {
	return map[string]*int{"general": &w.general, "rip": &w.rip, "thin": &w.thin}[id]
}

func (w wear) count(id string) int {
	if n := (&w).of(id); n != nil {
		return *n
	}
	return w.more
}

// half is what the blade's half of a piece shows: the width of the part that is left
// of it, if it was cut.
type half struct {
	cut   bool
	fence int
	width model.Length
}

type halves struct{ rip, thin, more half }

func (h *halves) of(id string) *half {
	switch id {
	case "rip":
		return &h.rip
	case "thin":
		return &h.thin
	}
	return &h.more
}

// fact is what a record stands for at the saw.
type fact struct {
	kind    model.Kind
	genuine bool // it was really done, now and at this saw
	blade   string
	rings   string
	knife   string
	fence   int
	datum   string
	setting int
	worn    int
	width   model.Length // what the caliper sees
	voided  bool
	before  int // where the fence stood before
	base    int // more readings: of which record
}

// truth is what nobody has typed: how far each blade cuts wider than the reference
// without rings, before and after sharpening.
type truth struct{ rip [2]model.Length }

const hundredth = model.Millimetre / 100

// need is the true height that brings a blade to the datum of the bare reference.
func (w world) need(s *saw, blade string) model.Length {
	switch blade {
	case "rip":
		return w.truth.rip[min(s.worn.rip, 1)]
	case "thin":
		return 60 * hundredth
	}
	return 20 * hundredth // a blade added is like the rip of the first truth
}

// world is what does not change in one exploration.
type world struct {
	truth truth
	late  bool // answers may come once more, late
}

// datum names the face that the reference cuts now: a blade of its wear, with these
// rings, on this arbor.
func (s *saw) datum(p model.Profile) string {
	return fmt.Sprintf("%s%d %s arbor%d", p.Reference, s.worn.count(p.Reference), strings.Join(p.Standing, "+"), s.arbor)
}

// width is what the part measures that the mounted blade leaves with the fence where
// it is: neighbouring places of the fence differ by 0.20 mm.
func (w world) width(s *saw, p model.Profile) model.Length {
	at := func(blade, rings string) model.Length {
		h, _ := p.StackHeight(split(rings))
		if blade == "general" {
			return -h + model.Length(min(s.worn.general, 1))*5*hundredth
		}
		return w.need(s, blade) - h
	}
	return s.set() + at(s.blade, s.rings) - at(p.Reference, strings.Join(p.Standing, " "))
}

// rip is what the blade's half of the piece measures after this rip: the blade only
// takes away, so on a half that was cut before, the narrower cut stays to be seen.
func (w world) rip(s *saw, p model.Profile, v procedure.View, answers map[string]string) model.Length {
	width, piece := w.width(s, p), s.halves.of(v.Blade)
	switch same := piece.cut && piece.fence == s.fence; {
	case same && v.Again:
		return piece.width // read once more
	case same && answers["piece"] != "fresh":
		return min(width, piece.width)
	}
	return width
}

// set is what the reference's part measures where the fence stands.
func (s *saw) set() model.Length { return fenceWidth(s.fence) }

func fenceWidth(fence int) model.Length {
	return 120*model.Millimetre + model.Length(fence%2)*20*hundredth
}

func split(s string) []string { return strings.Fields(s) }

// trueKerf and truePlate hold for every knife question.
func blank(id string, worn int) (plate, kerf model.Length) {
	w := model.Length(min(worn, 1)) * 10 * hundredth
	switch id {
	case "general":
		return 220 * hundredth, 320*hundredth - w
	case "thin":
		return 160 * hundredth, 240*hundredth - w
	}
	return 200 * hundredth, 300*hundredth - w
}

var thickness = map[string]model.Length{"k25": 250 * hundredth, "k24": 240 * hundredth, "k20": 200 * hundredth}

// fits is the knife window: 0.2 mm or more over the plate, thinner than the kerf
// (EN 1870-1, figure 6).
func (s *saw) fits(blade, knife string) bool {
	plate, kerf := blank(blade, s.worn.count(blade))
	if s.narrow && blade == "rip" {
		kerf = 245 * hundredth
	}
	t, known := thickness[knife]
	return known && t >= plate+20*hundredth && t < kerf
}

// interrupted is what may happen while nobody looks: power comes back in any case.
func (s *saw) interrupted(how string) {
	s.live, s.proved, s.lapsed, s.still, s.asked = true, false, how, false, false
	s.last, s.lastTo = "", nil
}

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
	case "power":
		if wrong == "late" {
			break
		}
		s.live, s.proved, s.lapsed, s.still = true, false, "live", false
		s.checked = ok("teeth", "nut", "mark", "knife", "throat", "tools", "people", "word", "rings") && s.blade != ""
	case "arbor":
		s.blade, s.rings, s.checked = "", "", false
		s.arbor++
	case "mount":
		s.blade, s.rings, s.checked = v.Place.Blade, strings.Join(v.Rings, " "), false
		if !ok("teeth") {
			s.blade = map[string]string{"general": "rip"}[v.Place.Blade]
			if s.blade == "" {
				s.blade = "general"
			}
		}
		if !ok("rings") {
			s.rings = "r25 r10"
		}
		if asks(v, "knife") && ok("knife") { // squared to nothing
			b, _ := p.BladeByID(v.Place.Blade)
			s.knife, s.squared, s.setting = b.Knife, "nothing", s.setting+1
		}
	case "rim", "align":
		s.checked = false
	case "knife":
		s.checked, s.setting = false, s.setting+1
		s.blade, s.rings = p.Reference, strings.Join(p.Standing, " ")
		if !ok("teeth") {
			s.blade = "rip"
		}
		s.knife = ""
		for id, t := range thickness {
			if strings.Contains(v.Do[1], "knife of "+t.Of(model.MM).String()) {
				s.knife = id
			}
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
		*slot() = half{}
	case "cut":
		width := w.rip(s, p, v, answers)
		*slot() = half{true, s.fence, width}
		did.width = width
	case "more":
		did.width = slot().width
	case "sharpened":
		blade := v.Place.Blade
		if blade == "" {
			blade = answers["blade"]
		}
		if n := s.worn.of(blade); n != nil {
			*n++
		} else {
			s.worn.more++
		}
	}
	if slices.Contains([]string{"boards", "scale", "lock", "fence", "fence-moved"}, v.Place.Step) {
		s.spoken = s.fence
	}
	did.blade, did.rings, did.knife, did.fence, did.setting = s.blade, s.rings, s.knife, s.fence, s.setting
	did.worn = s.worn.count(s.blade)
	w.witness(s, did, before, after)
	if step := v.Place.Step; w.late && wrong == "" && (step == "cut" || step == "reference") {
		s.last, s.lastTo = step, answers
	}
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
		if records[i].Kind == model.Sharpened {
			if n := s.worn.of(records[i].Blade); n != nil {
				*n--
			} else {
				s.worn.more--
			}
		}
	}
}
