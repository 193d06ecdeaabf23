package solver

import (
	"math"

	"example.com/sawdatum/model"
)

// Plan is what the numbers say about the whole rack of a profile, by its records.
// Reference and standing stack are the profile's, or chosen where it names none. A
// profile that is still being filled in gives a plan too: what is missing stands in
// the reasons.
func Plan(p model.Profile) model.Plan {
	if p.Units == model.NoUnit {
		p.Units = model.MM
	}
	s := sheet{profile: p, state: model.Fold(p), words: WordsOf(p)}
	s.out.Name = p.Name
	s.missing()
	s.readRack()
	var reasons []model.Reason
	s.kit, reasons = KitOf(p)
	s.out.Reasons = append(s.out.Reasons, reasons...)
	for _, r := range reasons {
		s.refused = s.refused || r.Code == "kit-refused"
	}
	s.chooseReference()
	for i := range s.findings {
		s.find(&s.findings[i])
	}
	s.chooseStanding()
	for _, f := range s.findings {
		s.out.Blades = append(s.out.Blades, s.row(f))
	}
	return s.out
}

// sheet is the plan while it is worked out.
type sheet struct {
	profile   model.Profile
	state     model.State
	words     Words
	kit       Kit
	refused   bool // the kit was
	findings  []finding
	reference *finding // nil: none yet
	farthest  string   // the blade that the geometry takes as reference
	standing  model.Length
	out       model.Plan
}

// finding is what is known of one blade before the standing stack is.
type finding struct {
	blade     model.Blade // with plate and kerf as read last
	thickness Thickness
	known     bool // plate and kerf were read
	barred    bool // it has no knife that fits it: it must not run, and takes no part in what serves the rack
	offset    Offset
	compared  bool       // offset is known
	cut       *model.Cut // the rip that the offset was measured on
	on        model.Length
	need      Need
	reasons   []model.Reason
}

func (s *sheet) say(code string, weight model.Weight, format string, a ...any) {
	s.out.Reasons = append(s.out.Reasons, one(code, weight, format, a...)...)
}

func (f *finding) say(code string, weight model.Weight, format string, a ...any) {
	f.reasons = append(f.reasons, one(code, weight, format, a...)...)
}

// missing says what the saw's figures lack.
func (s *sheet) missing() {
	p := s.profile
	_, threadKnown := StackLimit(p.Saw, 0, 0)
	for _, m := range []struct {
		lacks bool
		code  string
		text  string
	}{
		{!s.flangeKnown(), "flange-missing", "the side of the fixed flange is not known: look, and say far or near; nothing is computed without it"},
		{p.Tolerance.Unit == model.NoUnit, "tolerance-missing", "the tolerance is not set: no verdict can be given"},
		{!threadKnown, "thread-missing", "how far thread and plain part of the arbor reach is not known: no stack is checked against the thread"},
		{p.Instruments.Caliper.Unit == model.NoUnit, "caliper-missing", "the caliper's resolution is not known: measured uncertainties come out too small"},
		{p.Instruments.Micrometer.Unit == model.NoUnit, "micrometer-missing", "the micrometer's resolution is not known: predicted uncertainties come out too small"},
		{len(p.Rack()) == 0, "rack-empty", "the rack has no blades"},
	} {
		if m.lacks {
			s.say(m.code, model.Warns, "%s", m.text)
		}
	}
}

func (s *sheet) readRack() {
	for _, b := range s.profile.Rack() {
		state := s.state.Blades[b.ID]
		b.Plate, b.Kerf, b.Runout = state.Plate, state.Kerf, state.Runout
		f := finding{blade: b, thickness: Thickness{ID: b.ID, Name: b.Name(), Runout: b.Runout.Length}}
		plate, errPlate := Mean(model.Lengths(b.Plate))
		kerf, errKerf := Mean(model.Lengths(b.Kerf))
		f.thickness.Plate, f.thickness.Kerf = plate, kerf
		f.known = errPlate == nil && errKerf == nil
		if !f.known {
			f.say("thickness-missing", model.Warns, "plate and kerf have not both been read: read each at three places with the micrometer")
		}
		if f.known {
			k, named := s.profile.KnifeByID(b.Knife)
			fit, _, _ := KnifeWindow(plate, kerf, k.Thickness.Length, s.profile.Margin(), s.words)
			f.barred = !named || fit != model.KnifeFits
		}
		s.findings = append(s.findings, f)
	}
}

// chooseReference takes the profile's reference blade, or the one that the
// geometry takes, and explains.
func (s *sheet) chooseReference() {
	p := s.profile
	if !s.flangeKnown() {
		s.setReference(p.Reference)
		return
	}
	var rack, barred []Thickness
	for _, f := range s.findings {
		switch {
		case f.barred:
			barred = append(barred, f.thickness)
		case f.known:
			rack = append(rack, f.thickness)
		}
	}
	if len(rack) == 0 {
		rack, barred = barred, nil
	}
	best, found := Reference(p.Saw.Flange, rack)
	s.farthest = best.ID
	if worst, any := Reference(p.Saw.Flange, barred); any && reach(p.Saw.Flange, worst) > reach(p.Saw.Flange, best) {
		s.say("reference-barred", model.Warns, "the %s cuts beyond the %s and would be the reference, but it has no knife that fits it: a blade that must not run cannot define the datum", worst.Name, best.Name)
	}
	id := p.Reference
	if id == "" && found {
		id = best.ID
	}
	s.setReference(id)
	if s.reference == nil || !found || !s.reference.known {
		return
	}
	chosen := s.reference.thickness
	gap := (reach(p.Saw.Flange, best) - reach(p.Saw.Flange, chosen)) / 2
	if gap > 0 {
		s.say("reference-by-hand", model.Explains, "the figures would take the %s as the reference: rings move every blade away from it; with the %s as the reference it needs a standing stack of at least %s", best.Name, chosen.Name, s.words.figure(gap))
		return
	}
	extreme := "farthest toward the fence, and rings move the others that way"
	if p.Saw.Flange == model.Near {
		extreme = "farthest from the fence, and rings move the others that way"
	}
	s.say("reference", model.Explains, "the %s is the reference: without rings its cut face lies %s from the flange face, %s", chosen.Name, s.words.figure(chosen.CutFace(p.Saw.Flange, 0)), extreme)
	s.out.Reasons = append(s.out.Reasons, RuleOfThumb(p.Saw.Flange, p.Saw.Tilt, chosen, rack, s.words.figure)...)
}

func (s *sheet) setReference(id string) {
	s.out.Reference = id
	for i := range s.findings {
		if s.findings[i].blade.ID == id {
			s.reference = &s.findings[i]
		}
	}
	switch {
	case s.reference != nil:
	case id != "":
		s.say("reference-missing", model.Warns, "the reference blade %s is not on the rack: choose another", id)
	case len(s.findings) > 0:
		s.say("reference-missing", model.Warns, "no reference blade can be chosen before the plate and kerf of a blade are read")
	}
}

// find works out a blade's offset and its need of rings: from its last counting
// cut, else from the micrometer readings.
func (s *sheet) find(f *finding) {
	flange := s.profile.Saw.Flange
	if s.reference == nil || !s.flangeKnown() {
		return
	}
	f.need = Need{ID: f.blade.ID, Highest: s.highest(*f)}
	if f == s.reference {
		return
	}
	predicted, unpredicted := s.predict(f)
	s.measure(f)
	switch {
	case f.cut != nil:
		standing, _ := s.profile.StackHeight(s.profile.Standing)
		f.need.Height = Want(flange, f.on, f.offset.Value) - standing
		if unpredicted == nil {
			f.reasons = append(f.reasons, s.surprise(*f, predicted, standing)...)
		}
	case unpredicted == nil:
		f.offset, f.compared = predicted, true
		f.need.Height = Want(flange, 0, predicted.Value)
	}
	f.reasons = append(f.reasons, f.offset.Reasons...)
	s.accept(f, FeelerGap(s.state, f.blade.Knife), 0)
}

func (s *sheet) predict(f *finding) (Offset, error) {
	return PredictedOffset(s.profile.Saw.Flange, s.reference.blade, f.blade, s.profile.Instruments.Micrometer.Length)
}

// measure takes the blade's last counting cut.
func (s *sheet) measure(f *finding) {
	cut, ok := s.state.Blades[f.blade.ID].Last()
	if !ok {
		return
	}
	on, known := s.profile.StackHeight(cut.Rings)
	if !known {
		f.say("ring-gone", model.Warns, "a ring of its last cut is no longer in the kit: the prediction stands in; cut again")
		return
	}
	o, err := offsetOf(cut, s.profile.Instruments.Caliper.Length)
	if err != nil {
		f.say("cut-unreadable", model.Warns, "its last cut cannot be used: %v", err)
		return
	}
	f.offset, f.compared, f.cut, f.on = o, true, &cut, on
}

// offsetOf is the offset that a cut shows, typed as widths or as differences.
func offsetOf(cut model.Cut, caliper model.Length) (Offset, error) {
	if len(cut.Differences) > 0 {
		return MeasuredByDifference(model.Lengths(cut.Differences), model.Lengths(cut.Reference), caliper)
	}
	return MeasuredOffset(model.Lengths(cut.Readings), model.Lengths(cut.Reference), caliper)
}

// surprise compares the measured offset with the one predicted for the rings that
// were on.
func (s *sheet) surprise(f finding, predicted Offset, standing model.Length) []model.Reason {
	u, err := predicted.WithRings(s.profile, f.cut.Rings, s.profile.Standing)
	if err != nil {
		return nil
	}
	raised := f.on - standing
	if s.profile.Saw.Flange == model.Far {
		raised = -raised
	}
	return Surprise(s.profile.Saw.Flange, f.offset.Value, f.offset.U, predicted.Value+raised, u, s.words)
}

// highest is what the thread allows behind a blade; without figures, anything.
func (s *sheet) highest(f finding) model.Length {
	reference, plate := s.reference.thickness.Plate, f.thickness.Plate
	if !f.known || !s.reference.known {
		reference, plate = 0, 0
	}
	if limit, known := StackLimit(s.profile.Saw, reference, plate); known {
		return limit
	}
	return math.MaxInt64
}
