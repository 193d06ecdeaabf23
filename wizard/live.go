package wizard

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
)

// consequences say for each place what follows from what is typed in it, as soon as
// there is enough of it. What follows from a whole answer by the records is told by
// the procedure.
var consequences = map[string]func(scene) []model.Reason{
	"flange":      scene.flangeWords,
	"thickness":   scene.knifeFit,
	"sharpened":   scene.knifeFit,
	"returned":    scene.knifeFit,
	"blade-knife": scene.knifeFit,
	"rings":       scene.ringWords,
	"arbor":       scene.flangeDial,
	"rim":         scene.rimDial,
	"align":       scene.heelToe,
	"boards":      scene.taper,
	"knife":       scene.tipGap,
	"scale":       scene.scaleWords,
}

// live is what follows from what is typed so far.
func (s scene) live() []model.Reason {
	if of, ok := consequences[s.view.Place.Step]; ok {
		return of(s)
	}
	return nil
}

func (s scene) words() solver.Words { return solver.WordsOf(s.profile()) }

// lengths are the lengths in several fields; false while one of them is none yet.
func (s scene) lengths(keys ...string) ([]model.Length, bool) {
	out := make([]model.Length, len(keys))
	for i, key := range keys {
		l, ok := s.typedLength(key)
		if !ok {
			return nil, false
		}
		out[i] = l
	}
	return out, true
}

func (s scene) flangeWords() []model.Reason {
	l, ok := s.lengths("flange_diameter", "flange_relief")
	if !ok || l[1] >= l[0] {
		return nil
	}
	var largest model.Length
	for _, b := range s.profile().Rack() {
		largest = max(largest, b.Diameter.Length)
	}
	return solver.CheckFlange(l[0], l[1], largest, s.words())
}

func (s scene) knifeFit() []model.Reason {
	id := cmp.Or(s.view.Blade, s.chosen("blade"))
	blade, _ := s.profile().BladeByID(id)
	plate, kerf, _ := s.thickness(id)
	if read := s.field("kerf").Key != ""; read && (len(s.readings("plate")) == 0 || len(s.readings("kerf")) == 0) {
		return nil // what was read before does not tell how it is now
	}
	knife, ok := s.profile().KnifeByID(blade.Knife)
	if typed, found := s.profile().KnifeByID(s.chosen("knife")); found {
		knife, ok = typed, true
	}
	if !ok || plate == 0 || kerf <= plate {
		return nil
	}
	_, _, reasons := solver.KnifeWindow(plate, kerf, knife.Thickness.Length, s.profile().Margin(), s.words())
	for i := range reasons { // the place after it shows them too, and may be about another blade
		reasons[i].Text = s.profile().BladeName(id) + ": " + reasons[i].Text
	}
	return reasons
}

func (s scene) ringWords() []model.Reason {
	var out []model.Reason
	for _, r := range s.kit() {
		if r.Outer.Unit != model.NoUnit && len(out) == 0 { // mostly all have one diameter
			out = solver.CheckRing(r, s.profile().Saw.FlangeDiameter.Length, s.profile().Saw.FlangeRelief.Length, s.words())
		}
	}
	return out
}

// kit is the rings as their rows tell so far, and the new ones.
func (s scene) kit() []model.Ring {
	var out []model.Ring
	for _, f := range s.view.Fields {
		if r, err := model.ParseRing(s.answers[f.Key], f.Unit); f.Kind == procedure.FieldRing && err == nil && r.Count > 0 {
			out = append(out, r)
		}
	}
	bought, _ := model.ParseKit(s.answers["kit"], s.field("kit").Unit)
	outer, known := s.typedLength("outer")
	for _, r := range bought {
		if known {
			r.Outer = outer.Of(model.MM)
		}
		out = append(out, r)
	}
	return out
}

// micrometerWords has the digits of the dial, which are those of the micrometer.
func (s scene) micrometerWords() solver.Words {
	w := s.words()
	w.Resolution = s.profile().Instruments.Micrometer.Length
	return w
}

func (s scene) flangeDial() []model.Reason {
	h, err := solver.FirstHarmonic(s.readings("dial"))
	if err != nil {
		return nil
	}
	b, _ := s.profile().BladeByID(s.profile().Reference)
	return solver.FlangeWords(h, s.profile().Saw.FlangeDiameter.Length, b.Diameter.Length, s.micrometerWords())
}

// wobbles tells flange and blade apart, once both sets of readings and the angle are
// there.
func (s scene) wobbles() solver.Wobbles {
	degrees, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s.answers["turned"]), "deg")), 64)
	if err != nil {
		return solver.Wobbles{}
	}
	apart, err := solver.Separate(s.readings("dial"), s.readings("dial_turned"), degrees)
	if err != nil {
		return solver.Wobbles{}
	}
	return apart
}

func (s scene) rimDial() []model.Reason {
	h, err := solver.FirstHarmonic(s.readings("dial"))
	if err != nil {
		return nil
	}
	return solver.RimWords(h, s.wobbles(), s.micrometerWords())
}

func (s scene) heelToe() []model.Reason {
	l, ok := s.lengths("slot_front", "slot_rear", "fence_front", "fence_rear", "span")
	if !ok {
		return nil
	}
	a, err := solver.Align(solver.Tooth{SlotFront: l[0], SlotRear: l[1], FenceFront: l[2], FenceRear: l[3], Span: l[4]}, s.words())
	if err != nil {
		return nil
	}
	return a.Reasons
}

func (s scene) taper() []model.Reason {
	l, ok := s.lengths("lead", "tail", "length")
	if !ok {
		return nil
	}
	_, reasons, err := solver.Taper(l[0], l[1], l[2], s.words())
	if err != nil {
		return nil
	}
	return reasons
}

func (s scene) tipGap() []model.Reason {
	gap, ok := s.typedLength("tip_gap")
	if !ok {
		return nil
	}
	return solver.CheckTipGap(gap, s.profile().Gap, s.words())
}

// pairs are the whole pairs of setting and reading typed so far.
func (s scene) pairs() []model.Pair {
	var out []model.Pair
	unit := s.field("pairs").Unit
	for _, word := range strings.Fields(s.answers["pairs"]) {
		set, read, _ := strings.Cut(word, "=")
		x, err := model.ParseLength(set, unit)
		y, err2 := model.ParseLength(read, unit)
		if err == nil && err2 == nil && y.Length > x.Length/2 { // a reading under way is no point yet
			out = append(out, model.Pair{Set: x, Read: y})
		}
	}
	return out
}

func (s scene) scaleWords() []model.Reason {
	p := s.profile()
	fit, err := solver.FitScale(s.pairs(), p.WorkingWidth.Length, s.words())
	var out []model.Reason
	if err == nil {
		out = fit.Reasons
	}
	if strings.TrimSpace(s.answers["cursor"]) != "" { // it was moved
		out = slices.DeleteFunc(out, func(r model.Reason) bool { return r.Code == "cursor" })
	}
	if final, ok := s.typedLength("final"); ok {
		by, words := solver.Nudge(final, p.WorkingWidth.Length, s.words())
		r := model.Reason{Code: "nudge", Text: words}
		if by.Abs() > p.Tolerance.Length {
			r.Weight = model.Warns
		} else {
			r.Text = "the last rip is within " + p.Tolerance.String() + ": lock the fence here"
		}
		out = append([]model.Reason{r}, out...)
	}
	return out
}

func (s scene) scale() picture.Picture {
	p := s.profile()
	if len(s.pairs()) == 0 {
		return nil
	}
	f := picture.FenceScale{Figures: picture.Figures{Unit: p.Units, Resolution: p.Instruments.Caliper.Length}, Working: p.WorkingWidth.Length, Tolerance: p.Tolerance.Length}
	for _, pair := range s.pairs() {
		f.Points = append(f.Points, picture.ScalePoint{Set: pair.Set.Length, Read: pair.Read.Length})
	}
	if fit, err := solver.FitScale(s.pairs(), p.WorkingWidth.Length, s.words()); err == nil {
		f.Fitted, f.Slope = true, fit.B
		f.Shift, _ = model.FromMillimetres(fit.A / float64(model.Millimetre))
	}
	return f
}

func (s scene) align() picture.Picture {
	p := s.profile()
	a := picture.Alignment{Figures: picture.Figures{Unit: p.Units, Resolution: p.Instruments.Caliper.Length}, FenceSide: p.Saw.FenceSide}
	a.SlotFront, _ = s.typedLength("slot_front")
	a.FenceFront, _ = s.typedLength("fence_front")
	if a.SlotFront == 0 && a.FenceFront == 0 {
		return nil
	}
	if rear, _ := s.typedLength("slot_rear"); rear > a.SlotFront/2 { // a reading under way is none yet
		a.SlotRear = rear
	}
	if rear, _ := s.typedLength("fence_rear"); rear > a.FenceFront/2 {
		a.FenceRear = rear
	}
	return a
}

func (s scene) dial() picture.Picture {
	p := s.profile()
	d := picture.Dial{Figures: picture.Figures{Unit: p.Units, Resolution: p.Instruments.Micrometer.Length}, What: "flange"}
	if s.view.Place.Step == "rim" {
		d.What = "rim of the " + p.BladeName(p.Reference)
	}
	if d.Readings = s.readings("dial"); len(d.Readings) == 0 {
		return nil
	}
	if h, err := solver.FirstHarmonic(d.Readings); err == nil {
		d.Fitted, d.HighDeg = true, h.HighSpot
		d.Mean, _ = model.FromMillimetres(h.Mean / float64(model.Millimetre))
		d.Amplitude = h.Total / 2
	}
	if apart := s.wobbles(); apart != (solver.Wobbles{}) {
		d.BestDeg, _ = apart.Best()
		d.HasBest = true
	}
	return d
}
