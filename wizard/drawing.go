package wizard

import (
	"cmp"
	"reflect"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
)

// scene is what a picture is drawn from: where the work stands, as it would stand if
// what is typed were accepted, and what is typed so far, valid or not.
type scene struct {
	procedure procedure.Procedure // with what is typed, once it is whole
	view      procedure.View
	answers   map[string]string
}

// drawings turn a scene into the picture of its place; nil: nothing to draw yet.
var drawings = map[procedure.Picture]func(scene) picture.Picture{
	procedure.ArborSection: scene.arbor,
	procedure.AlignPicture: scene.align,
	procedure.KnifeWindow:  scene.knives,
	procedure.RackPicture:  scene.rack,
	procedure.DialPicture:  scene.dial,
	procedure.PiecePicture: scene.piece,
	procedure.ScalePicture: scene.scale,
}

// draw is the picture of the scene.
func (s scene) draw() picture.Picture {
	if of, ok := drawings[s.view.Picture]; ok {
		return of(s)
	}
	return nil
}

// sentence is the picture of a place in words; empty where it has none.
func sentence(p procedure.Procedure, v procedure.View, answers map[string]string) string {
	if pic := (scene{p, v, answers}).draw(); pic != nil {
		return pic.Sentence()
	}
	return ""
}

func (s scene) profile() model.Profile { return s.procedure.Profile() }

// figures are lengths with one digit more than the caliper has: results.
func (s scene) figures() picture.Figures {
	return picture.Figures{Unit: s.profile().Units, Resolution: s.profile().Instruments.Caliper.Length / 10}
}

func (s scene) field(key string) procedure.Field {
	for _, f := range s.view.Fields {
		if f.Key == key {
			return f
		}
	}
	return procedure.Field{}
}

// typedLength is a length as it stands in a field; false where it is none yet.
func (s scene) typedLength(key string) (model.Length, bool) {
	m, err := model.ParseLength(s.answers[key], s.field(key).Unit)
	return m.Length, err == nil
}

func (s scene) readings(key string) []model.Length {
	return model.Lengths(soFar(s.field(key), s.answers[key]))
}

// mean of readings; zero where there are none.
func mean(ls []model.Length) model.Length {
	m, err := solver.Mean(ls)
	if err != nil {
		return 0
	}
	return m
}

// chosen is the option that is named in a field; empty while none is.
func (s scene) chosen(key string) string {
	option, _ := s.field(key).Choice(s.answers[key])
	return option
}

// blade is the blade that the place is about: its own, the one named in it, the one
// on the arbor, else the reference.
func (s scene) blade() string {
	if s.view.Blade != "" {
		return s.view.Blade
	}
	if id := s.chosen("blade"); id != "" {
		return id
	}
	if on := s.procedure.State().Mounted; on != nil && s.view.Place.Step == "power" {
		return on.Blade
	}
	return s.profile().Reference
}

// thickness is plate and kerf of a blade: as they are typed here, else as read last.
func (s scene) thickness(id string) (plate, kerf, runout model.Length) {
	b := s.procedure.State().Blades[id]
	plate, kerf, runout = mean(model.Lengths(b.Plate)), mean(model.Lengths(b.Kerf)), b.Runout.Length
	if id == s.blade() {
		if typed := s.readings("plate"); len(typed) > 0 {
			plate = mean(typed)
		}
		if typed := s.readings("kerf"); len(typed) > 0 {
			kerf = mean(typed)
		}
	}
	return plate, kerf, runout
}

// datum is where the datum face lies, from the flange face; false where no reference
// is chosen and read.
func (s scene) datum() (model.Length, bool) {
	p, plan := s.profile(), s.procedure.Plan()
	height, ok := p.StackHeight(plan.Standing)
	plate, kerf, runout := s.thickness(plan.Reference)
	if !ok || plan.Reference == "" || plate == 0 || kerf == 0 {
		return 0, false
	}
	return solver.Thickness{Plate: plate, Kerf: kerf, Runout: runout}.CutFace(p.Saw.Flange, height), true
}

// datumOf is where the datum face lies to a blade on its flange: as its last cut says,
// whatever plate and kerf do, else as datum.
func (s scene) datumOf(id string) (model.Length, bool) {
	row, _ := s.procedure.Plan().Blade(id)
	cut, ok := s.procedure.State().Blades[id].Last()
	on, known := s.profile().StackHeight(cut.Rings)
	plate, kerf, runout := s.thickness(id)
	if !ok || !known || row.Basis != model.Measured || id == s.profile().Reference || plate == 0 || kerf == 0 {
		return s.datum()
	}
	return solver.Thickness{Plate: plate, Kerf: kerf, Runout: runout}.CutFace(s.profile().Saw.Flange, on) + row.Offset, true
}

// astray reports whether the rings that are typed, as far as they are, are not those that
// go on.
func (s scene) astray() bool {
	typed, ok := s.typedRings()
	if !ok || s.view.Place.Step != "mount" {
		return false
	}
	for i, height := range typed {
		if i >= len(s.view.Rings) {
			return true
		}
		if r, _ := s.profile().RingByID(s.view.Rings[i]); r.Height() != height {
			return true
		}
	}
	return false
}

func (s scene) arbor() picture.Picture {
	p := s.profile()
	a := picture.ArborSection{Figures: s.figures(), Flange: p.Saw.Flange, FenceSide: p.Saw.FenceSide, Tolerance: p.Tolerance.Length}
	for _, flange := range []model.Flange{model.Far, model.Near} {
		if strings.EqualFold(strings.TrimSpace(s.answers["flange"]), string(flange)) {
			a.Flange = flange
		}
	}
	a.Rings = s.rings()
	id := s.blade()
	if id == "" || s.view.Place.Step == "rings" {
		return a
	}
	a.Blade = p.BladeName(id)
	a.Plate, a.Kerf, a.Runout = s.thickness(id)
	a.Datum, a.HasDatum = s.datumOf(id)
	a.Astray = s.astray()
	blade, _ := p.BladeByID(id)
	if k, ok := p.KnifeByID(cmp.Or(s.view.Knife, blade.Knife)); ok {
		a.Knife, a.KnifeFace, a.Gap = k.Thickness.Length, a.Datum, solver.FeelerGap(s.procedure.State(), k.ID)
	}
	if !a.HasDatum {
		a.Knife = 0
	}
	return a
}

// rings are the heights of the rings of the scene, flange first: as typed, else those
// that belong to the blade or are on the arbor.
func (s scene) rings() []model.Length {
	p := s.profile()
	if s.view.Place.Step == "rings" {
		var out []model.Length
		for _, r := range s.kit() {
			out = append(out, r.Thickness.Length)
		}
		return out
	}
	ids := s.view.Rings
	if on := s.procedure.State().Mounted; on != nil && s.view.Place.Step == "power" {
		ids = on.Rings
	}
	if typed, ok := s.typedRings(); ok {
		return typed
	}
	var out []model.Length
	for _, id := range ids {
		if r, ok := p.RingByID(id); ok {
			out = append(out, r.Height())
		}
	}
	return out
}

// typedRings are the rings as they stand in the field for them so far.
func (s scene) typedRings() ([]model.Length, bool) {
	words := strings.Fields(s.answers["rings"])
	if len(words) == 0 {
		return nil, false
	}
	for n := len(words); n > 0; n-- { // the last one may still be under way
		ids, err := s.profile().ParseStack(strings.Join(words[:n], " "))
		if err != nil {
			continue
		}
		out := make([]model.Length, len(ids))
		for i, id := range ids {
			r, _ := s.profile().RingByID(id)
			out[i] = r.Height()
		}
		return out, true
	}
	return nil, true
}

func (s scene) knives() picture.Picture {
	p := s.profile()
	k := picture.KnifeWindow{Figures: picture.Figures{Unit: p.Units, Resolution: p.Instruments.Micrometer.Length}, Margin: p.Margin()}
	rack := p.Rack()
	if id := s.blade(); id != "" { // the blade at hand comes first
		for i, b := range rack {
			if b.ID == id && i > 0 && s.view.Place.Step != "knives" {
				rack = append(append([]model.Blade{b}, rack[:i]...), rack[i+1:]...)
			}
		}
	}
	for _, b := range rack {
		row := picture.KnifeBlade{ID: b.ID, Label: p.BladeName(b.ID)}
		row.Plate, row.Kerf, _ = s.thickness(b.ID)
		knife, ok := p.KnifeByID(b.Knife)
		if b.ID == s.blade() && s.view.Place.Step == "blade-knife" {
			if typed, found := p.KnifeByID(s.chosen("knife")); found {
				knife, ok = typed, true
			}
		}
		row.Fit = model.KnifeNone
		if ok {
			row.Knife = knife.Thickness.Length
			row.Fit, _, _ = solver.KnifeWindow(row.Plate, row.Kerf, row.Knife, p.Margin(), solver.WordsOf(p))
		}
		k.Blades = append(k.Blades, row)
	}
	if len(k.Blades) == 0 {
		return nil
	}
	return k
}

func (s scene) rack() picture.Picture {
	p, plan := s.profile(), s.procedure.Plan()
	datum, known := s.datum()
	if !known {
		return nil
	}
	r := picture.Rack{Figures: s.figures(), FenceSide: p.Saw.FenceSide, Tolerance: p.Tolerance.Length, Current: s.view.Blade}
	for _, b := range plan.Blades {
		if b.Knife != model.KnifeFits {
			b.Verdict = "" // whatever the numbers say, it must not run with its knife
		}
		rings := ""
		if len(b.Stack) > 0 {
			rings = p.RingNames(b.Stack)
		}
		r.Blades = append(r.Blades, picture.RackBlade{
			ID: b.ID, Label: p.BladeName(b.ID), Reference: b.ID == plan.Reference, Known: b.CutFace != 0,
			Before: b.CutFace - datum, After: b.Residual, Expanded: b.Expanded, Verdict: b.Verdict, Rings: rings, Ready: b.Ready,
		})
	}
	return r
}

func (s scene) piece() picture.Picture {
	p := s.profile()
	piece := picture.ComparisonPiece{Figures: s.figures(), Reference: p.BladeName(p.Reference), Blade: p.BladeName(s.view.Blade), Tolerance: p.Tolerance.Length}
	typed := s.readings("readings")
	if s.view.Place.Step == "reference" {
		piece.Width, piece.HasReference = mean(typed), len(typed) > 0
		return piece
	}
	state := s.procedure.State()
	reference := mean(model.Lengths(state.References(state.Lock, s.view.Blade)))
	piece.Width, piece.HasReference = reference, reference != 0
	if row, ok := s.procedure.Plan().Blade(s.view.Blade); ok && row.Basis == model.Measured {
		piece.Offset, piece.Expanded, piece.HasOffset = row.Offset, row.Expanded, slices.Contains([]string{"more", "out"}, s.view.Place.Step)
	}
	if len(typed) > 0 && slices.Contains([]string{"cut", "reread"}, s.view.Place.Step) {
		piece.HasOffset, piece.Offset = true, mean(typed)-reference
		if how := strings.TrimSpace(s.answers["how"]); strings.EqualFold(how, "differences") || how == "2" {
			piece.Offset = mean(typed)
		}
	}
	return piece
}

// drawn is the last picture of a visit: what it is of, in which size, and its lines. A
// picture is a function of those alone, so it is drawn again only when they change.
type drawn struct {
	of    picture.Picture
	w, h  int
	lines []string
}

// picture draws the scene of the step in exactly this size, or the state of the power
// where it has none; nil where there is nothing to show.
func (s step) picture(w, h int) []string {
	pic := scene{s.ahead, s.place, s.typing.values()}.draw()
	if pic == nil {
		return s.powerSign(w, h)
	}
	if last := s.drawn; last.w != w || last.h != h || !reflect.DeepEqual(last.of, pic) {
		*s.drawn = drawn{pic, w, h, strings.Split(pic.Draw(w, h, s.look.pictures()), "\n")}
	}
	return slices.Clone(s.drawn.lines)
}
