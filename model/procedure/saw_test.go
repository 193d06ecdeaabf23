package procedure_test

import (
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// The modelled saw. It is moved by what people do there, read off the words of each
// place, and by an adversary. It knows nothing of the guards of the procedure.

// handsIn are the places whose words send hands to the arbor, turning those that
// have the blade turn, standing the rest. A place in none of them fails the test.
var (
	handsIn  = []string{"arbor", "mount", "rim", "align", "knife", "hold", "clean", "power"}
	turning  = []string{"boards", "scale", "reference", "cut"}
	measured = []string{"flange", "thread", "knives", "blade", "thickness", "rings", "sharpened", "returned"}
	standing = []string{
		"saw", "source", "instruments", "rack", "datum", "unfit",
		"stop", "slow", "isolate", "lock", "fence", "reread", "more", "written", "leave", "out",
		"who", "reason", "fence-moved", "other-blade", "retire", "change-knife", "blade-knife", "void", "note", "close",
	}
	sorted = slices.Concat(handsIn, turning, measured, standing)
)

// saw is the saw as it really is.
type saw struct {
	live    bool         // the blade can start
	proved  bool         // isolated in this run, and found dead, by somebody who stands there
	lapsed  string       // why it is not: what happened since
	still   bool         // seen to stand since it last could turn
	slow    bool         // it took longer than 10 s and nobody has looked again
	blade   string       // on the arbor; empty: none
	rings   string       // behind it, flange first
	said    string       // the blade that somebody last said to have mounted
	knife   string       // fitted
	squared string       // the datum that the knife was squared to
	setting int          // how often a knife was squared
	gap     model.Length // the largest that was felt between it and the board
	fence   int          // where the fence stands: another number, another place
	spoken  int          // where it stood when somebody last spoke of it
	mixed   bool         // and two shifts have locked it: whoever is asked looks which lock is meant
	board   board        // the gauge board
	arbor   int          // how often arbor and flange were worked on
	worn    wear         // how often each blade was sharpened
	dirty   bool         // nobody has said that the flange is clean
	lies    bool         // what is to be measured lies on the bench, or its measure on paper, as somebody said
	loose   bool         // nobody has seen that the nut finds thread enough
	word    string       // typed at the last gate that has one
	out     bool         // somebody has said that hands are out and the saw is closed
	checked bool         // nut, mark, knife, throat, table, people: looked at since hands were last in
	asked   bool         // in this run, since the last interruption, somebody spoke for the fence
	halves  halves       // the second half of each comparison piece
	boxes   boxes        // what is written on each blade's box
	narrow  bool         // the rip's teeth are narrower than was read at first
	made    []fact       // beside the records, one for each
}

type board struct {
	fence int
	datum string
}

// boxes are the texts on the boxes of the blades: rings and knife; empty: nothing yet.
type boxes struct{ general, rip, thin, more string }

func (b *boxes) of(id string) *string {
	if text, ok := map[string]*string{"general": &b.general, "rip": &b.rip, "thin": &b.thin}[id]; ok {
		return text
	}
	return &b.more
}

// told is what a box should tell.
func told(rings []string, knife string) string { return strings.Join(rings, " ") + " / " + knife }

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

// half is what the blade's half of a piece shows, if it was cut: the width of the part
// that is left of it, and of which cut.
type half struct {
	cut bool
	fact
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

// truth is what nobody has typed: the rings that bring the rip to the bare reference,
// before and after sharpening, on this saw.
type truth struct {
	rip [2]model.Length
	geometry
}

const hundredth = model.Millimetre / 100

// need is the true height that brings a blade to the datum of the bare reference, far:
// it cuts so much wider without rings; near: so much narrower.
func (w world) need(s *saw, blade string) model.Length {
	switch blade {
	case "rip":
		return w.truth.rip[min(s.worn.rip, 1)]
	case "thin":
		return w.bare["thin"]
	}
	return 20 * hundredth // a blade added is like the rip of the first truth
}

// world is what does not change in one exploration.
type world struct {
	truth
	reads bool // people see what a file that was edited does not tell: the fence not where that lock was, a half already ripped
}

// geometry is the saw's side of its flange, and its blades as they came from the maker.
type geometry struct {
	near   bool
	two    bool                       // blades on the rack only, no thin one
	blanks map[string][2]model.Length // plate, kerf
	bare   map[string]model.Length    // need of the blades that are the same in every truth
}

// A ring moves the blade off the flange: away from the part on a far flange's saw, so
// that it comes out narrower, and into it on a near flange's, so that it comes out
// wider. The near saw's blades are others, since there the teeth that stand out least
// make the reference.
var (
	farSaw = geometry{
		blanks: map[string][2]model.Length{"general": {220 * hundredth, 320 * hundredth}, "rip": {200 * hundredth, 300 * hundredth}, "thin": {160 * hundredth, 240 * hundredth}},
		bare:   map[string]model.Length{"thin": 60 * hundredth},
	}
	twoSaw = geometry{
		two:    true,
		blanks: farSaw.blanks,
		bare:   farSaw.bare,
	}
	nearSaw = geometry{
		near:   true,
		blanks: map[string][2]model.Length{"general": {220 * hundredth, 320 * hundredth}, "rip": {200 * hundredth, 340 * hundredth}, "thin": {120 * hundredth, 240 * hundredth}},
		bare:   map[string]model.Length{"thin": 10 * hundredth},
	}
	// the teeth of its rip stand so close to the plate that the kit cannot bring it near
	shallowSaw = geometry{
		blanks: map[string][2]model.Length{"general": {220 * hundredth, 320 * hundredth}, "rip": {160 * hundredth, 260 * hundredth}, "thin": {160 * hundredth, 240 * hundredth}},
		bare:   map[string]model.Length{"thin": 60 * hundredth},
	}
)

// datum names the face that the reference cuts now: a blade of its wear, with these
// rings, on this arbor.
func (s *saw) datum(p model.Profile) string {
	return s.face(p.Reference, strings.Join(p.Standing, " "))
}

// face names the line at which a blade of its wear cuts with these rings on this arbor.
func (s *saw) face(blade, rings string) string {
	return blade + strconv.Itoa(s.worn.count(blade)) + " " + rings + " arbor" + strconv.Itoa(s.arbor)
}

// width is what the part measures that the mounted blade leaves with the fence where
// it is: a place of the fence differs from the next two by 0.20 mm or more.
func (w world) width(s *saw, p model.Profile) model.Length {
	at := func(blade, rings string) model.Length {
		h := height(rings)
		wide := model.Length(min(s.worn.general, 1)) * 5 * hundredth
		switch {
		case w.near && blade == "general":
			return wide + h
		case w.near:
			return h - w.need(s, blade)
		case blade == "general":
			return wide - h
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
	case same && w.reads && strings.HasPrefix(v.Do[0], "Take the piece marked"):
		return width // its other half is ripped already, as anybody sees: another piece
	case same && answers["piece"] != "fresh":
		return min(width, piece.width)
	}
	return width
}

// set is what the reference's part measures where the fence stands.
func (s *saw) set() model.Length { return fenceWidth(s.fence) }

func fenceWidth(fence int) model.Length {
	return 120*model.Millimetre + model.Length(fence%3)*20*hundredth
}

// height is what rings truly add, whatever somebody measured.
func height(rings string) (sum model.Length) {
	for _, id := range strings.Fields(rings) {
		sum += map[string]model.Length{"r10": 10, "r25": 25, "r50": 50}[id] * hundredth
	}
	return sum
}

// blank is a blade's plate and kerf. A blade that is added is like the rip.
func (g geometry) blank(id string, worn int) (plate, kerf model.Length) {
	b, ok := g.blanks[id]
	if !ok {
		b = g.blanks["rip"]
	}
	return b[0], b[1] - model.Length(min(worn, 1))*10*hundredth
}

// wide is how much wider a part this blade leaves than the reference, by plate and
// kerf: half of both sums lies beside the middle of the flange's side (job's geometry).
func (w world) wide(s *saw, p model.Profile, blade, rings string) model.Length {
	face := func(id, rings string) model.Length {
		plate, kerf := w.blank(id, s.worn.count(id))
		h := height(rings)
		if w.near {
			return (kerf-plate)/2 - h
		}
		return (plate+kerf)/2 + h
	}
	return face(p.Reference, strings.Join(p.Standing, " ")) - face(blade, rings)
}

var thickness = map[string]model.Length{"k25": 250 * hundredth, "k24": 240 * hundredth, "k20": 200 * hundredth}

// fits is the knife window: 0.2 mm or more over the plate, thinner than the kerf
// (EN 1870-1, figure 6).
func (w world) fits(s *saw, blade, knife string) bool {
	plate, kerf := w.blank(blade, s.worn.count(blade))
	if s.narrow && blade == "rip" {
		kerf = 245 * hundredth
	}
	t, known := thickness[knife]
	return known && t >= plate+20*hundredth && t < kerf
}

// interrupted is what may happen while nobody looks: power comes back in any case.
func (s *saw) interrupted(how string) {
	s.live, s.proved, s.lapsed, s.still, s.asked = true, false, how, false, false
	s.lies = false
	s.word = "" // another run has other words
}
