package model

import "slices"

// strip takes in a new strip, or further readings of one. Blade and rings are those of
// its mounting, which may have been corrected since. A mounting that was voided, or in
// which something was found, voids its strips.
func (f *folder) strip(i int, r *Record) {
	if r.Of != "" {
		f.further(r)
		return
	}
	s := Strip{Index: i, Record: r, Lock: r.Lock, Blade: r.Blade, Rings: r.Rings, Mounting: r.Mounting, For: r.For, Round: r.Round, Readings: r.Readings, Differences: r.Differences, Zeroed: r.Zeroed}
	what, cleaned := f.found[r.Mounting]
	void := cleaned && what != NothingFound
	for _, m := range named(f.profile.Records, r.Mounting) {
		if mount := f.records[m]; mount != nil {
			s.Blade, s.Rings, void = mount.Blade, mount.Rings, void || f.voided[m]
		}
	}
	f.blade(s.Blade, func(b *BladeState) { b.Left = nil })
	if void {
		return
	}
	s.FoundOut, s.Held = cleaned, r.Lock != "" && r.Lock == f.Lock
	f.stripAt[i] = len(f.Strips)
	f.Strips = append(f.Strips, s)
}

// further joins readings to the strip that they are of. Those of one that was voided
// go with it.
func (f *folder) further(r *Record) {
	for _, first := range named(f.profile.Records, r.Of) {
		if k, ok := f.stripAt[first]; ok {
			s := &f.Strips[k]
			s.Readings = slices.Concat(s.Readings, r.Readings)
			s.Differences = slices.Concat(s.Differences, r.Differences)
			s.Zeroed = slices.Concat(s.Zeroed, r.Zeroed)
			s.Further++
			s.Kept = false
		}
	}
}

// kept takes in that a strip which stood apart was looked at and counts. Readings that came
// or were corrected later, nobody looked at.
func (f *folder) kept(i int, r *Record) {
	for _, first := range named(f.profile.Records, r.Of) {
		later := slices.ContainsFunc(f.profile.Records[i:], func(c Record) bool { return c.Kind == Correction && c.Of == r.Of })
		if k, ok := f.stripAt[first]; ok && !later {
			f.Strips[k].Kept = true
		}
	}
}

// closeStrips fills in what is known only at the end: which strips count under the
// present datum, and which blades are still left.
func (f *folder) closeStrips() {
	f.judgePresent()
	for _, b := range f.profile.Blades {
		f.blade(b.ID, func(now *BladeState) {
			set, ok := f.set[b.Knife]
			now.LeftNow = now.Left != nil && f.left[b.ID] > f.Datum && (!ok || f.left[b.ID] > set)
		})
	}
}

// judgePresent finds the strips that count under the present datum, datum strips first:
// whether a stand-in was compared before hangs on the datum strips of earlier locks.
func (f *folder) judgePresent() {
	datum := map[string][]int{}    // datum strips of each lock that count, by place in Strips
	other := map[string]bool{}     // locks with datum strips
	compared := map[string][]int{} // strips of each blade that was compared, by place in Strips
	// What a blade ripped for the datum before it was sharpened still stands for it under its
	// own lock.
	life := func(s *Strip) int { n, _ := slices.BinarySearch(f.ground[s.Blade], s.Index); return n }
	for k := range f.Strips {
		s := &f.Strips[k]
		if s.For == ForBlade && s.Held {
			compared[s.Blade] = append(compared[s.Blade], k)
		}
		if s.For != Datum || !s.Held {
			continue
		}
		other[s.Lock] = true
		if pure := s.Blade == f.profile.Reference && (f.stays < 0 || s.Index < f.stays); pure {
			s.Present = f.underDatum(s) && slices.Equal(s.Rings, f.profile.Standing)
		} else {
			s.Carried = true
			s.Present = slices.ContainsFunc(compared[s.Blade], func(c int) bool {
				return slices.Equal(f.Strips[c].Rings, s.Rings) && life(&f.Strips[c]) == life(s) && slices.ContainsFunc(datum[f.Strips[c].Lock], func(d int) bool {
					by := f.Strips[d].Blade
					return by != s.Blade && (by == f.profile.Reference || s.Blade == f.profile.Reference)
				})
			})
		}
		if s.Present {
			datum[s.Lock] = append(datum[s.Lock], k)
		}
	}
	for k := range f.Strips {
		s := &f.Strips[k]
		if s.For == Datum {
			continue
		}
		alive := s.Index > f.Blades[s.Blade].Life || s.For == Closing && s.Blade == f.profile.Reference
		s.Present = f.underDatum(s) && alive && (!other[s.Lock] || len(datum[s.Lock]) > 0)
	}
}

// underDatum reports whether a strip was ripped after the datum last moved, while its
// lock was in force.
func (f *folder) underDatum(s *Strip) bool {
	return s.Index > f.Datum && s.Held
}

// closeKnives forgets a knife that was squared to a cut of which nothing tells any more where
// it lies: that of a blade which was the reference, or of another standing stack.
func (f *folder) closeKnives() {
	for id, k := range f.Knives {
		r := k.Set
		if r == nil || f.profile.Reference == "" || r.Blade == f.profile.Reference && slices.Equal(r.Rings, f.profile.Standing) {
			continue
		}
		if !slices.ContainsFunc(f.Strips, func(s Strip) bool {
			return s.Present && s.For == ForBlade && s.Blade == r.Blade && slices.Equal(s.Rings, r.Rings)
		}) {
			f.Knives[id] = KnifeState{Unknown: true}
		}
	}
}
