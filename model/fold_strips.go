package model

type stripFolder struct {
	StripState
	profile Profile
}

func (f *stripFolder) begin() {
	f.Arbor, f.Datum = -1, -1
	f.Locks = map[string]LockSpell{}
	f.Knives = make(map[string]KnifeState, len(f.profile.Knives))
	for _, k := range f.profile.Knives {
		f.Knives[k.ID] = KnifeState{SetAt: -1, CheckAt: -1, Unknown: true}
	}
	f.Blades = make(map[string]BladeNow, len(f.profile.Blades))
	for _, b := range f.profile.Blades {
		f.Blades[b.ID] = BladeNow{Plate: b.Plate, Kerf: b.Kerf, ToothPlate: b.ToothPlate, Runout: b.Runout, Life: -1}
	}
}
