package model

import "slices"

// Fold reads the records of a profile in their order. Voided records do not count;
// what hands did all the same stays done: a voided mount leaves it open what is on
// the arbor, a voided knife where it stands, a voided lock where the fence is, and a
// blade whose sharpening or return is voided was off the arbor, or away; a half whose
// readings are voided was ripped. The
// datum is the face that the present reference blade cuts with the
// present standing stack; work on arbor or flange, and sharpening the reference,
// move it, and what was cut before no longer counts.
func Fold(p Profile) State {
	s := State{Blades: make(map[string]BladeState, len(p.Blades)), references: map[string]map[string][]int{}, records: p.Records}
	for _, b := range p.Blades {
		s.Blades[b.ID] = BladeState{Plate: b.Plate, Kerf: b.Kerf, Runout: b.Runout}
	}
	voided := map[string]bool{}
	for i := range p.Records {
		if r := &p.Records[i]; r.Kind == Void {
			voided[r.Of] = true
		}
	}
	f := folder{State: &s, profile: p}
	f.readDatum(voided)
	for i := range p.Records {
		r := &p.Records[i]
		if len(voided) > 0 && r.Kind != Void && voided[r.Ref()] {
			f.passOver(r)
			continue
		}
		if step, ok := folding[r.Kind]; ok {
			step(&f, i, r)
		}
	}
	f.close()
	return s
}

type folder struct {
	*State
	profile Profile
	datum   int                         // index of the last record that moved the datum; -1: none
	knife   int                         // index of the last record that moved or changed the knife; -1: none
	left    map[string]int              // index of each blade's last note that it was left
	all     map[string]map[string][]int // as references, whatever the datum
	gone    map[string]bool             // blades and reference pieces whose last cut was voided: more readings of it go too
}

func (f *folder) readDatum(voided map[string]bool) {
	f.datum, f.knife = -1, -1
	f.left, f.all, f.gone = map[string]int{}, map[string]map[string][]int{}, map[string]bool{}
	for i := range f.profile.Records {
		r := &f.profile.Records[i]
		switch {
		case r.Kind == Arbor && !Dropped("arbor-moves-datum"),
			(r.Kind == Sharpened && !voided[r.Ref()] || r.Kind == Returned) && r.Blade == f.profile.Reference && !Dropped("sharpened-moves-datum"):
			f.datum = i
		case (r.Kind == KnifeSet || r.Kind == Mount && r.Knife != "") && !Dropped("knife-voids-proofs"):
			f.knife = i
		}
	}
}

// passOver keeps of a voided record what hands did all the same.
func (f *folder) passOver(r *Record) {
	if Dropped("void-leaves-open-" + string(r.Kind)) {
		return
	}
	switch r.Kind {
	case Arbor:
		f.Mounted = nil
		f.outdateAll()
	case Mount:
		f.Mounted = nil
		f.fit(r)
	case KnifeSet:
		f.Mounted, f.Knife = nil, nil
		f.fit(r)
	case Sharpened:
		f.takeOff(r.Blade)
	case Returned:
		f.renew(r.Blade)
	case FenceLock, Scale:
		f.unlock()
	case BladeCut, ReferenceCut:
		if !r.More {
			f.gone[r.piece()] = true
		}
		if r.Kind == BladeCut && !r.More && f.compares(r) && !Dropped("void-keeps-half") {
			b := f.Blades[r.Blade]
			b.Half = b.ripped(r)
			b.Half.Unsure = true
			f.Blades[r.Blade] = b
		}
	case Note:
		if b, ok := f.Blades[r.Blade]; ok && r.About == AboutWritten {
			b.Written, b.boxOpen = r, true
			f.Blades[r.Blade] = b
		}
	}
}

// piece names what a cut's readings were taken on.
func (r *Record) piece() string {
	if r.Kind == ReferenceCut {
		return r.Lock + " " + r.Piece
	}
	return r.Blade
}

// orphaned reports whether a cut holds more readings of one that was voided.
func (f *folder) orphaned(r *Record) bool {
	if !r.More {
		delete(f.gone, r.piece())
	}
	return f.gone[r.piece()]
}

// present reports whether record i was made with the blade and the rings that
// define the present datum, and after the datum last moved.
func (f *folder) present(i int, r *Record) bool {
	return i > f.datum && (r.Blade == f.profile.Reference || Dropped("datum-reference")) && (slices.Equal(r.Rings, f.profile.Standing) || Dropped("datum-standing"))
}

// fit takes note that another knife was fitted: it stands anyhow until it is squared.
func (f *folder) fit(r *Record) {
	if r.Knife != "" {
		f.Fitted, f.Aligned = r.Knife, f.Knife != nil && f.Aligned && Dropped("fitted-unaligned")
	}
}

// takeOff takes note that a blade lies on the bench: nobody sharpens one on the arbor.
// A micrometer reads a plate there, so a record of thickness tells nothing of it.
func (f *folder) takeOff(blade string) {
	if f.Mounted != nil && f.Mounted.Blade == blade {
		f.Mounted = nil
	}
}

// renew begins a blade's life anew: it was away, and nothing that was measured of it
// before counts, nor the pieces laid out for it. What stands on its box is still there.
func (f *folder) renew(blade string) {
	f.takeOff(blade)
	if Dropped("returned-voids-cuts") {
		return
	}
	if b, ok := f.Blades[blade]; ok {
		f.Blades[blade] = BladeState{Plate: b.Plate, Kerf: b.Kerf, Written: b.Written, boxOpen: b.boxOpen}
	}
	for _, pieces := range []map[string]map[string][]int{f.references, f.all} {
		for lock := range pieces {
			delete(pieces[lock], blade)
		}
	}
}

// unlock ends the fence lock in force, and with it what hangs on it.
func (f *folder) unlock() {
	f.Lock, f.Width = "", Measure{}
	if !Dropped("unlock-voids-board") {
		f.Boards = nil
	}
}

var folding = map[Kind]func(*folder, int, *Record){
	Arbor: func(f *folder, _ int, r *Record) {
		f.Cleaned = r
		if !Dropped("arbor-takes-blade-off") {
			f.Mounted = nil
		}
		f.outdateAll()
	},
	Mount: func(f *folder, i int, r *Record) {
		f.Mounted = r
		f.fit(r)
		fuller := f.Seated == nil || r.SlotFront.Unit != NoUnit || len(r.Dial) > 0
		if (f.present(i, r) || Dropped("seated-datum")) && fuller {
			f.Seated = r
		}
	},
	FenceLock: func(f *folder, _ int, r *Record) { f.unlock(); f.Lock, f.Width = r.Lock, r.Width },
	FenceMoved: func(f *folder, _ int, _ *Record) {
		if !Dropped("fence-moved-voids-lock") {
			f.unlock()
		}
	},
	Boards: func(f *folder, i int, r *Record) {
		if (f.present(i, r) || Dropped("boards-datum")) && (r.Lock == f.Lock || Dropped("boards-lock")) {
			f.Boards = r
		}
	},
	KnifeSet: func(f *folder, i int, r *Record) {
		f.fit(r)
		f.Knife, f.Aligned = r, f.present(i, r) || Dropped("knife-datum")
	},
	Scale: func(f *folder, i int, r *Record) {
		if !Dropped("scale-voids-lock") {
			f.unlock()
		}
		if on := f.Mounted; on != nil && f.present(i, on) || Dropped("scale-datum") {
			f.Scaled = r
		}
	},
	ReferenceCut: func(f *folder, i int, r *Record) {
		if (r.Lock == "" || r.Lock != f.Lock) && !Dropped("reference-lock") || f.orphaned(r) {
			return
		}
		place(f.all, r, i)
		if f.present(i, r) || Dropped("reference-datum") {
			place(f.references, r, i)
		}
	},
	BladeCut: (*folder).bladeCut,
	Sharpened: func(f *folder, _ int, r *Record) {
		if _, ok := f.Blades[r.Blade]; !ok {
			return
		}
		if !Dropped("sharpened-takes-blade-off") {
			f.takeOff(r.Blade)
		}
		f.outdate(r.Blade)
		b := f.Blades[r.Blade]
		cuts := []Cut(nil)
		if Dropped("sharpened-voids-cuts") {
			cuts = b.Cuts
		}
		f.Blades[r.Blade] = BladeState{Plate: r.Plate, Kerf: r.Kerf, Runout: b.Runout, Cuts: cuts, History: b.History, Half: b.Half, Written: b.Written, boxOpen: b.boxOpen}
	},
	Thickness: func(f *folder, _ int, r *Record) {
		if b, ok := f.Blades[r.Blade]; ok {
			b.Plate, b.Kerf, b.Runout = r.Plate, r.Kerf, r.Runout
			f.Blades[r.Blade] = b
		}
	},
	Returned: func(f *folder, _ int, r *Record) {
		f.renew(r.Blade)
		if b, ok := f.Blades[r.Blade]; ok {
			b.Plate, b.Kerf, b.Runout = r.Plate, r.Kerf, r.Runout
			f.Blades[r.Blade] = b
		}
	},
	Note: func(f *folder, i int, r *Record) {
		b, ok := f.Blades[r.Blade]
		if !ok {
			return
		}
		switch r.About {
		case AboutLeft:
			b.Left, f.left[r.Blade] = r, i
		case AboutWritten:
			b.Written, b.boxOpen = r, false
		}
		f.Blades[r.Blade] = b
	},
}

func place(m map[string]map[string][]int, r *Record, i int) {
	if m[r.Lock] == nil {
		m[r.Lock] = map[string][]int{}
	}
	if r.More {
		m[r.Lock][r.Piece] = append(m[r.Lock][r.Piece], i)
		return
	}
	m[r.Lock][r.Piece] = []int{i}
}

// outdate takes note that the next cut face of a blade may lie anywhere to the half that
// it ripped last.
func (f *folder) outdate(blade string) {
	if b, ok := f.Blades[blade]; ok {
		b.Half.Unsure = true
		f.Blades[blade] = b
	}
}

func (f *folder) outdateAll() {
	for id := range f.Blades {
		f.outdate(id)
	}
}

// compares reports whether a cut was made under the fence lock in force, beside a half
// that some reference ripped.
func (f *folder) compares(r *Record) bool {
	_, known := f.Blades[r.Blade]
	return known && (r.Lock != "" && r.Lock == f.Lock || Dropped("cut-lock")) && len(f.all[r.Lock]) > 0
}

// ripped is the half that the blade has once this cut is made.
func (b BladeState) ripped(r *Record) Half {
	piece := Piece(r.Piece)
	return Half{Lock: r.Lock, Rings: r.Rings, Piece: piece, pooled: piece == FreshPiece || b.Half.Lock == r.Lock && b.Half.pooled}
}

func (f *folder) bladeCut(i int, r *Record) {
	if !f.compares(r) || f.orphaned(r) {
		return
	}
	b := f.Blades[r.Blade]
	counts := len(f.references[r.Lock]) > 0 || Dropped("cut-reference")
	cut := Cut{Record: r, Lock: r.Lock, Rings: r.Rings, Piece: Piece(r.Piece), Readings: r.Readings, Differences: r.Differences, Aligned: i > f.knife}
	history := len(b.History)
	if r.More && history > 0 && b.History[history-1].Lock == r.Lock && (slices.Equal(b.History[history-1].Rings, r.Rings) || Dropped("more-rings")) {
		last := b.History[history-1]
		cut.Piece = last.Piece
		cut.Readings = slices.Concat(last.Readings, r.Readings)
		cut.Differences = slices.Concat(last.Differences, r.Differences)
		cut.Aligned, cut.pooled = last.Aligned, last.pooled
		b.History = b.History[: history-1 : history-1]
		if newest, ok := b.Last(); ok && newest.Record == last.Record {
			b.Cuts = b.Cuts[: len(b.Cuts)-1 : len(b.Cuts)-1]
		} else if !Dropped("more-counts") {
			counts = false
		}
	} else {
		b.Half = b.ripped(r)
		cut.pooled = b.Half.pooled
	}
	b.Left = nil
	b.History = append(b.History, cut)
	if counts {
		b.Cuts = append(b.Cuts, cut)
	}
	f.Blades[r.Blade] = b
}

// close fills in what is known only at the end: the reference readings of each
// cut, and what a moved datum or knife has made of the older findings.
func (f *folder) close() {
	for id, b := range f.Blades {
		b.LeftNow = b.Left != nil && f.left[id] > max(f.datum, f.knife)
		for k := range b.History {
			b.History[k].Reference = readings(f.records, f.all[b.History[k].Lock], pieceName(id, b.History[k]))
		}
		for k := range b.Cuts {
			b.Cuts[k].Reference = f.References(b.Cuts[k].Lock, pieceName(id, b.Cuts[k]))
		}
		f.Blades[id] = b
	}
}

func pieceName(blade string, c Cut) string {
	if c.pooled {
		return ""
	}
	return blade
}

func readings(records []Record, pieces map[string][]int, piece string) []Measure {
	return State{references: map[string]map[string][]int{"": pieces}, records: records}.References("", piece)
}
