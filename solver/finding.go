package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// finding is what is known of one blade before the standing stack is.
type finding struct {
	blade     model.Blade // with plate and kerf as read last
	thickness stacking.Thickness
	known     bool // plate and kerf were read
	barred    bool // it has no knife that fits it: it must not run, and takes no part in what serves the rack
	offset    stacking.Offset
	compared  bool     // Offset is known
	on        []string // rings, flange first, that the offset was measured with
	need      stacking.Need
	reasons   []model.Reason
}

func (f *finding) say(code string, weight model.Weight, format string, a ...any) {
	f.reasons = append(f.reasons, model.Because(code, weight, format, a...)...)
}

// readBench takes plate, kerf and runout of every blade as they were read last.
func (j *judging) readBench() {
	j.bare = map[string]stacking.Bare{}
	for _, b := range j.profile.Rack() {
		now := j.told.Blades[b.ID]
		b.Plate, b.Kerf, b.ToothPlate, b.Runout = now.Plate, now.Kerf, now.ToothPlate, now.Runout
		f := finding{blade: b, thickness: stacking.Thickness{ID: b.ID, Name: b.Name(), Runout: b.Runout.Length}}
		plate, errPlate := metrology.Mean(model.Lengths(b.Plate))
		kerf, errKerf := metrology.Mean(model.Lengths(b.Kerf))
		f.thickness.Plate, f.thickness.Kerf = plate, kerf
		f.known = errPlate == nil && errKerf == nil
		if !f.known {
			f.say("thickness-missing", model.Warns, "plate and kerf have not both been read: read each at three places with the micrometer")
		}
		if bare, err := stacking.BareOf(j.profile.Saw.Flange, b, j.profile.Instruments.Micrometer.Length, stacking.UnreadRunout(j.profile)); err == nil {
			j.bare[b.ID] = bare
			f.reasons = append(f.reasons, bare.Reasons...)
		}
		switch k, there := j.knifeBehind(b); {
		case there && f.known:
			fit, _, _ := KnifeWindow(j.toothPlate(f), kerf, k.Thickness.Length, j.profile.Margin(), j.words)
			f.barred = fit != model.KnifeFits
		case !there:
			f.barred = len(j.profile.Knives) > 0 // until there are any, none is missed
		}
		j.findings = append(j.findings, f)
	}
}

// knifeBehind is the knife that a blade names, where the shop has it.
func (j *judging) knifeBehind(b model.Blade) (model.Knife, bool) {
	k, named := j.profile.KnifeByID(b.Knife)
	return k, named && j.told.Gone[k.ID] == nil
}

// toothPlate is how thick the plate is where the knife follows it.
func (j *judging) toothPlate(f finding) model.Length {
	if beside, err := metrology.Mean(model.Lengths(f.blade.ToothPlate)); err == nil && len(f.blade.ToothPlate) > 0 {
		return max(beside, f.thickness.Plate)
	}
	return f.thickness.Plate
}

// need works out what a blade wants of the kit, from its strips, else from the bench.
func (j *judging) need(f *finding) {
	flange := j.profile.Saw.Flange
	if j.reference == nil || !j.flangeKnown() {
		return
	}
	f.need = stacking.Need{ID: f.blade.ID, Highest: j.highest(*f)}
	if f == j.reference {
		return
	}
	standing, _ := j.profile.StackHeight(j.profile.Standing)
	if c := j.course(f.blade.ID); c != nil && c.Looks > 0 {
		if on, known := j.profile.StackHeight(j.rings[c.Outfit]); known {
			f.offset = stacking.Offset{Basis: model.Measured, Value: c.Value, U: c.U, Uncertainty: c.Uncertainty, Parts: []metrology.Contribution{{Standard: c.Uncertainty.Standard, Freedom: max(c.Uncertainty.Freedom, 1)}}}
			f.compared, f.on = true, j.rings[c.Outfit]
			f.need.Height = stacking.Want(flange, on, c.Value) - standing
			gap, proud := j.knifeStands(f.blade.Knife)
			j.accept(f, gap, proud)
			return
		}
		f.say("ring-gone", model.Warns, "a ring of its last strips is no longer in the kit: the prediction stands in; compare it again")
	}
	reference, known := j.bare[j.datum]
	bare, also := j.bare[f.blade.ID]
	if !known || !also {
		return
	}
	o, err := stacking.Predict(reference, bare)
	if err != nil {
		return
	}
	if j.taught != nil {
		if e, ok := j.taught.Expect(f.blade.ID, nil, j.datum, nil); ok {
			part := metrology.Contribution{Standard: e.Deviation, Freedom: o.Uncertainty.Freedom}
			u, err := metrology.Combine(metrology.Coverage, part)
			if err == nil {
				o.Value, o.U, o.Uncertainty, o.Parts = metrology.Rounded(-e.Mean), metrology.Rounded(u.Expanded), u, []metrology.Contribution{part}
			}
		}
	}
	if felt, ok := j.byFeel(f); ok && j.course(f.blade.ID) == nil {
		o = felt
	}
	f.offset, f.compared = o, true
	f.need.Height = stacking.Want(flange, 0, o.Value)
	gap, proud := j.knifeStands(f.blade.Knife)
	j.accept(f, gap, proud)
}

// highest is what thread and plain part allow behind a blade; without figures, anything.
func (j *judging) highest(f finding) model.Length {
	if limit, known := StackLimit(j.profile.Saw, f.thickness.Plate); known {
		return limit
	}
	return model.MaxLength
}

// accept sets where a blade's cut face may lie, by the tolerance and by where its knife
// stands. A knife that does not fit, or none, limits nothing: that blade does not run.
func (j *judging) accept(f *finding, gap, proud model.Length) {
	limit := stacking.Zone{Toward: model.MaxLength, Away: mostProud}
	if knife, there := j.knifeBehind(f.blade); there && f.known && !f.barred {
		limit = KnifeLimit(f.thickness.Kerf-knife.Thickness.Length, gap, proud)
	}
	tolerance := j.profile.Tolerance
	within := max(tolerance.Length-f.offset.U, 0)
	f.need.Zone = stacking.Zone{Toward: min(within, limit.Toward), Away: max(min(within, limit.Away), 0)}
	if tolerance.Unit == model.NoUnit {
		return
	}
	f.need.Doubt = &stacking.Doubt{Offset: f.offset, Tolerance: tolerance.Length, Limit: limit}
	if f.offset.Basis == model.Measured {
		f.need.Doubt.Judged = append([]string{}, f.on...)
	}
}
