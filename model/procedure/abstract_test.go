package procedure_test

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"hash/maphash"
	"slices"
	"strings"
	"sync"
	"unsafe"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// abstract is what matters of a state, so that the search ends. Left out: times,
// initials, words of the gates, names of locks, and how often a thing was done.
// Facts of the past stand as they relate to the present: same fence or another, the
// present datum or an older one. What the next event cannot depend on is left out
// too: where the blade stands while the saw is isolated, the dial once heel and toe
// were read.
func abstract(p procedure.Procedure, s *saw, here procedure.Place, spent int) key {
	b := make(key, 0, 200)
	st, known := p.State(), p.Known()
	stopped, live := known.Stopped, known.Power == procedure.Live
	b.add(uint8(p.Options().Mode), uint8(spent), uint8(known.Power))
	b.say(here.Step, here.Blade, known.Again.Step, known.Again.Blade, known.Knife, known.Asked, known.Behind, known.Lies, known.Hands)
	b.is(known.Paper, s.lies)
	b.is(known.Who, known.Fence, stopped, stopped && known.Long && !known.Slow, known.Adding, known.Rack, known.Rim, known.Seen, known.Reason, known.Sharp, known.Held, known.Finished)
	for _, bl := range p.Profile().Rack() {
		if cut, ok := st.Blades[bl.ID].Last(); ok {
			b.is(cut.Record.Ref() == known.Out, cut.Record.Ref() == known.Clean)
		}
	}
	b.say(s.knife, s.said)
	b.is(s.dirty, s.loose, s.out, s.live, s.proved, stopped && s.still, stopped && s.slow, live && s.checked, known.Fence && s.asked, s.mixed)
	b.head(p.Profile())
	b.told(reading{p.Profile(), st, p.Plan(), p.Options(), p.Began()}, s)
	return b
}

// aligned reports whether the reference was read along the slot.
func aligned(st model.State) bool {
	return st.Seated != nil && st.Seated.SlotFront.Unit != model.NoUnit
}

func (b *key) head(profile model.Profile) {
	for _, bl := range profile.Blades {
		b.say(bl.ID, bl.Knife)
		b.is(bl.Teeth > 0, bl.Retired, len(bl.Kerf) > 0)
	}
	b.say(profile.Reference)
	b.say(profile.Standing...)
	b.add(uint8(len(profile.Rings)), uint8(len(profile.Knives)))
	b.is(profile.Rings == nil, profile.Standing == nil, profile.Saw.Tilt != "", profile.Saw.Flange != "", profile.Saw.SpareThread.Unit != 0, profile.Instruments.Caliper.Unit != 0)
}

// reading is what a profile's records say, for a run that began at one of them.
type reading struct {
	profile model.Profile
	model.State
	plan    model.Plan
	options procedure.Options
	began   int
}

// told adds what the records say, and how that lies to the saw.
func (b *key) told(r reading, s *saw) {
	profile, squared, locked := r.profile, aligned(r.State), r.Lock != ""
	b.is(locked, r.Cleaned != nil, r.Boards != nil, r.Aligned, r.Scaled != nil, squared, r.Seated != nil, !squared && r.Seated != nil && len(r.Seated.Dial) > 0)
	if r.Mounted != nil {
		b.say(r.Mounted.Blade)
		b.say(r.Mounted.Rings...)
	}
	if r.Knife != nil {
		b.say(r.Knife.Knife)
	}
	b.add(uint8(s.gap / hundredth))
	b.say("f", r.Fitted)
	if r.options.Mode == procedure.OneBlade { // only what this run reads counts
		blade := r.Blades[r.options.Blade]
		last, _ := blade.Last()
		b.is(r.now(r.Scaled), r.now(last.Record), r.now(blade.Left))
	}
	pieces, datum := r.ReferencePieces(r.Lock), s.datum(profile)
	for _, bl := range profile.Rack() {
		bs := r.Blades[bl.ID]
		row, _ := r.plan.Blade(bl.ID)
		b.say("|", string(row.Verdict), string(row.Knife))
		b.say(row.Stack...)
		b.is(pieces[bl.ID], bs.Left != nil, bs.LeftNow, bs.Written != nil, bs.BoxTells(row.Stack, bl.Knife), row.Ready, row.More > 0, row.More < 0, row.Outside != 0)
		b.say(*s.boxes.of(bl.ID))
		b.add(uint8(min(s.worn.count(bl.ID), 1)))
		if c, ok := bs.Last(); ok {
			f := s.made[index(profile.Records, c.Record)]
			b.add('c', uint8(min(len(c.Readings)+len(c.Differences), 4)))
			b.say(c.Rings...)
			b.is(len(c.Differences) > 0, c.Piece == model.FreshPiece, c.Lock == r.Lock, c.Aligned,
				f.fence == s.fence, f.datum == datum, f.setting == s.setting, f.worn == s.worn.count(bl.ID), f.genuine)
			if c.Lock == r.Lock && !bs.Half.Unsure { // it may be read once more
				h := s.halves.of(bl.ID)
				b.is(c.Record == bs.History[len(bs.History)-1].Record, h.fence == f.fence, h.datum == f.datum, h.setting == f.setting, h.worn == f.worn, h.genuine == f.genuine)
				b.add(uint8((h.width - fenceWidth(h.fence)) / hundredth))
			}
		}
		if locked && bs.Half.Lock == r.Lock {
			b.is(bs.Half.Piece == model.FreshPiece, bs.Half.Unsure)
			b.say(bs.Half.Rings...)
		}
		if h := s.halves.of(bl.ID); bl.ID != profile.Reference && h.cut && h.fence == s.fence {
			b.add('p', uint8((h.width-s.set())/hundredth))
		}
	}
	b.is(s.astray(r.Mounted), r.Aligned && s.squared == datum, r.Boards != nil && s.board.datum == datum, r.Boards != nil && s.board.fence == s.fence, locked && stood(profile.Records, r.Lock, s) == s.fence, locked && s.spoken == s.fence)
}

// now reports whether a record was made in this run.
func (r reading) now(record *model.Record) bool {
	return record != nil && index(r.profile.Records, record) >= r.began
}

// past is what the images of voids are made of, so far as it changes on a way.
type past struct {
	records *model.Record
	blades  *model.Blade
	kit     *model.Ring
	made    *fact
	counts  [3]int // of records, blades and rings
	chosen  string // reference and standing stack
	began   int

	blade, rings, squared                 string
	fence, spoken, setting, arbor, knives int
	board                                 board
	worn                                  wear
	halves                                halves
	boxes                                 boxes
}

// pasts adds what the records would tell after work that may come and that brings back
// what stands in no other part of the key: a void, and the rip as the reference.
func (s *search) pasts(b *key, p procedure.Procedure, at *saw) {
	profile := p.Profile()
	records := profile.Records
	same := past{
		unsafe.SliceData(records), unsafe.SliceData(profile.Blades), unsafe.SliceData(profile.Rings), unsafe.SliceData(at.made),
		[3]int{len(records), len(profile.Blades), len(profile.Rings)}, profile.Reference + " " + strings.Join(profile.Standing, " "), p.Began(),
		at.blade, at.rings, at.squared, at.fence, at.spoken, at.setting, at.arbor, len(profile.Knives), at.board, at.worn, at.halves, at.boxes,
	}
	sum, known := s.images[same]
	if !known {
		var images key
		if _, ok := profile.BladeByID("rip"); ok && s.events.allows("datum") {
			other := profile
			other.Reference, other.Standing = "rip", []string{}
			images.told(reading{other, model.Fold(other), s.judge(other), p.Options(), p.Began()}, at)
		}
		if s.events.allows("void") {
			s.voids(&images, p, at)
		}
		sum = digestOf(images)
		if s.images == nil || len(s.images) > 10000 {
			s.images = map[past]digest{}
		}
		s.images[same] = sum
	}
	*b = binary.BigEndian.AppendUint64(binary.BigEndian.AppendUint64(*b, sum[0]), sum[1])
}

// voids adds what would be left by each void.
func (s *search) voids(b *key, p procedure.Procedure, at *saw) {
	profile := p.Profile()
	records := profile.Records
	profile.Records = append(slices.Clone(records), model.Record{Kind: model.Void, At: noon, By: "KB"})
	last := &profile.Records[len(records)]
	numbers := voidable(p, at)
	slices.SortFunc(numbers, func(i, j int) int { return strings.Compare(sortOf(records[i-1]), sortOf(records[j-1])) })
	for _, n := range numbers {
		last.Of = records[n-1].Ref()
		then := *at
		then.made = append(slices.Clone(at.made), fact{kind: model.Void, base: -1})
		then.undo(profile.Records, last.Of)
		b.say(sortOf(records[n-1]))
		b.told(reading{profile, model.Fold(profile), s.judge(profile), p.Options(), p.Began()}, &then)
	}
}

func sortOf(r model.Record) string {
	return fmt.Sprint(r.Kind, " ", r.About, " ", r.More)
}

// astray reports whether something else is on the arbor than what the records tell:
// whoever looks sees it, whatever it is.
func (s *saw) astray(told *model.Record) bool {
	return told != nil && (s.blade != told.Blade || s.rings != strings.Join(told.Rings, " "))
}

// digest stands for a key: two keys share one by chance as rarely as 128 bits allow.
type digest [2]uint64

func digestOf(b key) digest {
	h := fnv.New128a()
	h.Write(b)
	sum := h.Sum(nil)
	return digest{binary.BigEndian.Uint64(sum), binary.BigEndian.Uint64(sum[8:])}
}

type key []byte

func (k *key) add(bs ...uint8) { *k = append(*k, bs...) }

func (k *key) say(words ...string) {
	for _, w := range words {
		*k = append(append(*k, w...), ' ')
	}
	*k = append(*k, '.')
}

func (k *key) is(bs ...bool) {
	for _, b := range bs {
		if b {
			*k = append(*k, '1')
		} else {
			*k = append(*k, '0')
		}
	}
}

func index(records []model.Record, r *model.Record) int {
	for i := range records {
		if &records[i] == r {
			return i
		}
	}
	panic("a cut that is in no record")
}

// remembered is the real judge, asked once for profiles that differ only in times,
// initials and what it does not read.
func remembered(judge model.Judge) model.Judge {
	seed := maphash.MakeSeed()
	type shelf struct {
		sync.Mutex
		plans map[uint64]model.Plan
	}
	shelves := make([]shelf, 64) // several hands ask at once
	return func(p model.Profile) model.Plan {
		var h maphash.Hash
		h.SetSeed(seed)
		locks := map[string]int{}
		refs := map[string]int{}
		for i, r := range p.Records {
			if r.Kind == model.Void {
				seen := 0 // of those that are read below
				for j := range i {
					refs[p.Records[j].Ref()] = seen
					if k := p.Records[j].Kind; k != model.Isolation {
						seen++
					}
				}
			}
		}
		for _, b := range p.Blades {
			fmt.Fprint(&h, b.ID, b.Teeth, b.Knife, b.Retired, len(b.Plate), len(b.Kerf))
			for _, m := range slices.Concat(b.Plate, b.Kerf) {
				fmt.Fprint(&h, int64(m.Length))
			}
		}
		fmt.Fprint(&h, len(p.Rings), p.Reference, p.Standing == nil, p.Standing, len(p.Knives), int64(p.Tolerance.Length), p.Saw.Flange, int64(p.Saw.SpareThread.Length), int64(p.Instruments.Caliper.Length))
		for i := range p.Records {
			r := &p.Records[i]
			if r.Kind == model.Isolation || r.About != model.AboutWritten && r.Kind == model.Note && len(refs) == 0 {
				continue
			}
			if _, ok := locks[r.Lock]; !ok {
				locks[r.Lock] = len(locks)
			}
			h.WriteString(string(r.Kind))
			h.WriteString(string(r.About))
			h.WriteString(r.Blade)
			h.WriteByte(byte(locks[r.Lock]))
			h.WriteString(r.Piece)
			h.WriteString(r.Knife)
			for _, id := range r.Rings {
				h.WriteString(id)
			}
			for _, ms := range [][]model.Measure{r.Readings, r.Differences, r.Plate, r.Kerf, r.Gaps, {r.TipGap}} {
				h.WriteByte('/')
				for _, m := range ms {
					for k := range 6 {
						h.WriteByte(byte(m.Length >> (8 * k)))
					}
				}
			}
			if r.Kind == model.Void {
				h.WriteByte(byte(refs[r.Of]))
			}
			if r.More {
				h.WriteByte('+')
			}
		}
		sum := h.Sum64()
		on := &shelves[sum%64]
		on.Lock()
		plan, ok := on.plans[sum]
		on.Unlock()
		if ok {
			return plan
		}
		plan = judge(p)
		on.Lock()
		defer on.Unlock()
		if on.plans == nil || len(on.plans) > 1000 {
			on.plans = map[uint64]model.Plan{}
		}
		on.plans[sum] = plan
		return plan
	}
}
