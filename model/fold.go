package model

import "slices"

// Fold reads the records of a profile in their order, corrected ones as they
// were corrected last. Voided records do not count; what hands did all the same stays
// done: a voided mount leaves open what is on the arbor, a voided knife where it
// stands, a voided lock where the fence is, a voided box what is written on it.
func Fold(p Profile) State {
	f := folder{profile: p, found: map[string]string{}, left: map[string]int{}, set: map[string]int{}, stripAt: map[int]int{}, ground: map[string][]int{}}
	f.Locks, f.Gone, f.Arbor = map[string]LockSpell{}, map[string]*Record{}, -1
	f.Knives = make(map[string]KnifeState, len(p.Knives))
	f.forgetKnives()
	f.Blades = make(map[string]BladeState, len(p.Blades))
	for _, b := range p.Blades {
		f.Blades[b.ID] = BladeState{Plate: b.Plate, Kerf: b.Kerf, ToothPlate: b.ToothPlate, Runout: b.Runout, Life: -1}
	}
	f.records, f.voided = counting(p.Records)
	f.readAhead()
	for i, r := range f.records {
		if i == f.Datum {
			f.forgetKnives()
		}
		if r == nil {
			continue
		}
		tells := telling
		if f.voided[i] {
			tells = leavesOpen
		}
		if take, ok := tells[r.Kind]; ok {
			take(&f, i, r)
		}
	}
	f.closeStrips()
	f.closeKnives()
	return f.State
}

type folder struct {
	State
	profile Profile
	records []*Record // as they were corrected; nil: a void or a correction
	voided  []bool
	stays   int               // index of the first record since Datum by which the reference was sharpened and the datum stayed; -1: none
	found   map[string]string // what lay there, by mounting
	ground  map[string][]int  // indexes of the records with which the later lives of each blade began
	stripAt map[int]int       // where in Strips the strip of a record stands
	left    map[string]int    // index of each blade's last note that it was left
	set     map[string]int    // index of the last record by which a knife was set, voided or not
}

// readAhead finds what moved the datum, and what was found in each mounting. A
// reference that was away moved the datum whatever became of the record.
func (f *folder) readAhead() {
	f.Datum, f.stays = -1, -1
	for i, r := range f.records {
		switch {
		case r == nil:
		case r.Back && r.Blade == f.profile.Reference:
			f.Datum, f.stays = i, -1
		case f.voided[i]:
		case r.Kind == Sharpened && r.Blade == f.profile.Reference && r.Datum != DatumStays:
			f.Datum, f.stays = i, -1
		case r.Kind == Sharpened && r.Blade == f.profile.Reference && f.stays < 0:
			f.stays = i
		case r.Kind == Found:
			if what, ok := f.found[r.Mounting]; !ok || what == NothingFound {
				f.found[r.Mounting] = r.Text
			}
		}
	}
}

// present reports whether record i was made with the blade and the rings that define
// the present datum, after it last moved.
func (f *folder) present(i int, blade string, rings []string) bool {
	return i > f.Datum && blade == f.profile.Reference && slices.Equal(rings, f.profile.Standing)
}

// forgetKnives takes note that nobody knows how any knife stands to the datum.
func (f *folder) forgetKnives() {
	for _, k := range f.profile.Knives {
		f.Knives[k.ID] = KnifeState{Unknown: true}
	}
}

// unknown takes note that a knife was moved or taken out.
func (f *folder) unknown(knife string) {
	if k, ok := f.Knives[knife]; ok {
		k.Unknown = true
		f.Knives[knife] = k
	}
}

// knifeIs takes note which knife is in the saw. Where the records had another, that one
// came out: where a knife stands is known only while it stays in.
func (f *folder) knifeIs(knife string) {
	if knife == f.On.Knife {
		return
	}
	f.unknown(f.On.Knife)
	f.On.Knife = knife
}

// comesOut takes note that a knife is not in the saw, if it ever was.
func (f *folder) comesOut(knife string) {
	if f.On.Knife == knife {
		f.On.Knife = ""
	}
	f.unknown(knife)
}

// feel takes note where a knife was felt behind the blade that is on. Where something was found
// under that it tells no more than the strips of that mounting.
func (f *folder) feel(i int, r *Record) {
	if what, cleaned := f.found[f.On.Mounting]; cleaned && what != NothingFound {
		return
	}
	f.State.Felt = append(f.State.Felt, Feel{Index: i, Record: r, Mounting: f.On.Mounting, Knife: f.Knives[r.Knife]})
}

// noBlade takes note that no blade is on the arbor; told says that the record tells
// so, and does not leave it open.
func (f *folder) noBlade(told bool) { f.On, f.Seen = Fitted{Knife: f.On.Knife}, told }

// offArbor takes note that a blade lies on the bench: nobody sharpens one on the arbor.
func (f *folder) offArbor(blade string) {
	if f.On.Blade == blade {
		f.noBlade(false)
	}
}

// unlock ends the fence lock in force at record i.
func (f *folder) unlock(i int) {
	if spell, ok := f.Locks[f.Lock]; ok {
		spell.Ended = i
		f.Locks[f.Lock] = spell
	}
	f.Lock, f.Width = "", Measure{}
}

// blade changes what is known of a blade of the head.
func (f *folder) blade(id string, change func(b *BladeState)) {
	if b, ok := f.Blades[id]; ok {
		change(&b)
		f.Blades[id] = b
	}
}

// telling is what each kind of record tells.
var telling = map[Kind]func(f *folder, i int, r *Record){
	Isolation: func(f *folder, _ int, r *Record) {
		if r.Answers == "" {
			f.RunDown = max(f.RunDown, r.RunDown)
		}
	},
	TakenOff: func(f *folder, _ int, r *Record) {
		f.knifeIs(r.Left)
		f.noBlade(true)
	},
	Arbor: func(f *folder, i int, r *Record) {
		f.Cleaned, f.Arbor = r, i
		f.noBlade(true)
	},
	Mount: func(f *folder, _ int, r *Record) {
		if r.Knife != "" {
			f.knifeIs(r.Knife)
		}
		f.On, f.Seen = Fitted{Blade: r.Blade, Rings: r.Rings, Knife: f.On.Knife, Mounting: r.Ref()}, true
	},
	Line: func(f *folder, i int, r *Record) {
		f.knifeIs(r.Knife)
		if f.On.Blade != r.Blade {
			f.On, f.Seen = Fitted{Blade: r.Blade, Rings: r.Rings, Knife: r.Knife}, true
		}
		if k, ok := f.Knives[r.Knife]; ok && len(r.Faces) > 0 {
			f.feel(i, r)
			k.Check, k.CheckAt, k.Unknown = r, i, false
			f.Knives[r.Knife] = k
		}
	},
	Felt: func(f *folder, i int, r *Record) {
		f.knifeIs(r.Knife)
		if f.On.Blade != r.Blade {
			f.On, f.Seen = Fitted{Blade: r.Blade, Rings: r.Rings, Knife: r.Knife}, true
		}
		f.feel(i, r)
	},
	HeelToe: func(f *folder, i int, r *Record) {
		if i > f.Datum {
			f.HeelToe = r
		}
	},
	Rim: func(f *folder, i int, r *Record) {
		if i > f.Datum {
			f.Rim = r
		}
	},
	FenceLock: func(f *folder, i int, r *Record) {
		f.unlock(i)
		f.Lock, f.Width, f.Locks[r.Lock] = r.Lock, r.Width, LockSpell{Made: i, Ended: -1}
	},
	FenceMoved: func(f *folder, i int, _ *Record) { f.unlock(i) },
	Boards: func(f *folder, i int, r *Record) {
		by := r.Blade == f.On.Blade && slices.Equal(r.Rings, f.On.Rings) && r.Lock == f.Lock
		if by && i > f.Datum && (r.Blade != f.profile.Reference || f.present(i, r.Blade, r.Rings)) {
			f.Boards = r
		}
	},
	KnifeMoved: func(f *folder, _ int, r *Record) {
		f.knifeIs(r.Knife)
		f.unknown(r.Knife)
	},
	KnifeSet: func(f *folder, i int, r *Record) {
		f.knifeIs(r.Knife)
		f.noBlade(true) // it is squared with the blade off
		f.Knives[r.Knife], f.set[r.Knife] = KnifeState{Set: r, SetAt: i}, i
	},
	KnifeGone: func(f *folder, _ int, r *Record) {
		f.comesOut(r.Knife)
		f.Gone[r.Knife] = r
	},
	KnifeBack: func(f *folder, _ int, r *Record) {
		f.unknown(r.Knife)
		delete(f.Gone, r.Knife)
	},
	Scale: func(f *folder, i int, r *Record) {
		if f.present(i, f.On.Blade, f.On.Rings) {
			f.Scaled = r
		}
	},
	StripCut: (*folder).strip,
	Kept:     (*folder).kept,
	Sharpened: func(f *folder, i int, r *Record) {
		f.offArbor(r.Blade)
		f.ground[r.Blade] = append(f.ground[r.Blade], i)
		f.blade(r.Blade, func(b *BladeState) {
			*b = BladeState{Plate: r.Plate, Kerf: r.Kerf, ToothPlate: b.ToothPlate, Runout: b.Runout, Life: i, Sharpened: r, Box: b.Box,
				DatumStays: r.Blade == f.profile.Reference && r.Datum == DatumStays}
		})
	},
	Remeasured: func(f *folder, i int, r *Record) {
		if r.Back {
			f.back(i, r.Blade)
		}
		f.blade(r.Blade, func(b *BladeState) {
			b.Plate, b.Kerf = r.Plate, r.Kerf
			if len(r.ToothPlate) > 0 {
				b.ToothPlate = r.ToothPlate
			}
			if r.Runout.Unit != NoUnit {
				b.Runout = r.Runout
			}
		})
	},
	Box: func(f *folder, _ int, r *Record) { f.blade(r.Blade, func(b *BladeState) { b.Box = r }) },
	Note: func(f *folder, i int, r *Record) {
		if r.Answers != "" {
			f.RunDown = 0
		}
		if r.About == AboutLeft {
			f.blade(r.Blade, func(b *BladeState) { b.Left = r })
			f.left[r.Blade] = i
		}
	},
}

// leavesOpen is what hands did all the same where a record of the kind was voided.
var leavesOpen = map[Kind]func(f *folder, i int, r *Record){
	TakenOff: func(f *folder, _ int, _ *Record) {
		f.knifeIs("")
		f.noBlade(false)
	},
	Arbor: func(f *folder, i int, _ *Record) {
		f.Cleaned, f.Arbor = nil, i
		f.noBlade(false)
	},
	Mount: func(f *folder, _ int, r *Record) {
		if r.Knife != "" {
			f.knifeIs(r.Knife)
		}
		f.noBlade(false)
	},
	Line: func(f *folder, _ int, r *Record) {
		if len(r.Faces) > 0 { // a knife that was moved in its slot is told by its check alone
			f.unknown(r.Knife)
		}
	},
	KnifeMoved: func(f *folder, _ int, r *Record) { f.unknown(r.Knife) },
	KnifeSet: func(f *folder, i int, r *Record) {
		f.knifeIs(r.Knife)
		f.noBlade(false)
		f.Knives[r.Knife], f.set[r.Knife] = KnifeState{Unknown: true}, i
	},
	KnifeGone: func(f *folder, _ int, r *Record) { f.unknown(r.Knife) }, // it was taken for lost: nobody knows where it stands
	FenceLock: func(f *folder, i int, _ *Record) { f.unlock(i) },
	Scale:     func(f *folder, _ int, _ *Record) { f.Scaled = nil }, // the cursor was moved
	Sharpened: func(f *folder, _ int, r *Record) { f.offArbor(r.Blade) },
	Remeasured: func(f *folder, i int, r *Record) {
		if r.Back {
			f.back(i, r.Blade)
		}
	},
	Box: func(f *folder, _ int, r *Record) { f.blade(r.Blade, func(b *BladeState) { b.Box = nil }) },
}

// back begins a blade's life anew: it was away, and nothing that was read of it before
// counts. What stands on its box is still there.
func (f *folder) back(i int, blade string) {
	f.offArbor(blade)
	f.ground[blade] = append(f.ground[blade], i)
	f.blade(blade, func(b *BladeState) { *b = BladeState{Plate: b.Plate, Kerf: b.Kerf, Life: i, Box: b.Box} })
}
