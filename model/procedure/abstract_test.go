package procedure_test

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"hash/maphash"
	"slices"
	"sync"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// abstract is what matters of a state, so that the search ends. Left out: times,
// initials, words of the gates, names of locks, and how often a thing was done.
// Facts of the past stand as they relate to the present: same fence or another, the
// present datum or an older one. What the next event cannot depend on is left out
// too: where the blade stands while the saw is isolated, the dial once heel and toe
// were read.
func abstract(p procedure.Procedure, s *saw, here procedure.Place, spent int) string {
	b := make(key, 0, 200)
	st, profile, known := p.State(), p.Profile(), p.Known()
	squared := st.Seated != nil && st.Seated.SlotFront.Unit != model.NoUnit
	stopped, live, locked := known.Stopped, known.Power == procedure.Live, st.Lock != ""
	b.add(uint8(p.Options().Mode), uint8(spent), uint8(known.Power))
	b.say(here.Step, here.Blade, known.Again.Step, known.Again.Blade, known.Knife, known.Asked)
	b.is(known.Who, known.Fence, stopped, stopped && known.Long && !known.Slow, known.Adding, known.Rack, known.Rim && !squared, known.Seen, known.Reason, known.Sharp, known.Held, known.Finished)
	for _, bl := range profile.Blades {
		b.say(bl.ID, bl.Knife)
		b.is(bl.Teeth > 0, bl.Retired, len(bl.Kerf) > 0)
	}
	b.say(profile.Reference)
	b.say(profile.Standing...)
	b.add(uint8(len(profile.Rings)), uint8(len(profile.Knives)))
	b.is(profile.Rings == nil, profile.Standing == nil, profile.Saw.Tilt != "", profile.Saw.Flange != "", profile.Saw.SpareThread.Unit != 0, profile.Instruments.Caliper.Unit != 0)
	b.is(locked, st.Cleaned != nil, st.Boards != nil, st.Aligned, st.Scaled != nil, squared, st.Seated != nil, !squared && st.Seated != nil && len(st.Seated.Dial) > 0)
	if st.Mounted != nil {
		b.say(st.Mounted.Blade)
		b.say(st.Mounted.Rings...)
	}
	if st.Knife != nil {
		b.say(st.Knife.Knife)
	}
	b.say("f", st.Fitted)
	if p.Options().Mode == procedure.OneBlade { // only what this run reads counts
		blade := st.Blades[p.Options().Blade]
		last, _ := blade.Last()
		b.is(inThisRun(p, st.Scaled), inThisRun(p, last.Record), inThisRun(p, blade.Left))
	}
	pieces, datum := st.ReferencePieces(st.Lock), s.datum(profile)
	for _, bl := range profile.Rack() {
		bs := st.Blades[bl.ID]
		row, _ := p.Plan().Blade(bl.ID)
		b.say("|", string(row.Verdict), string(row.Knife))
		b.say(row.Stack...)
		b.is(pieces[bl.ID], bs.Left != nil, bs.LeftNow, bs.Written != nil, bs.BoxTells(row.Stack, bl.Knife), row.Ready, row.More > 0, row.More < 0)
		b.say(*s.boxes.of(bl.ID))
		b.add(uint8(min(s.worn.count(bl.ID), 1)))
		if c, ok := bs.Last(); ok {
			f := s.made[index(profile.Records, c.Record)]
			b.add('c', uint8(min(len(c.Readings)+len(c.Differences), 4)))
			b.say(c.Rings...)
			b.is(len(c.Differences) > 0, c.Piece == model.FreshPiece, c.Lock == st.Lock, c.Aligned,
				f.fence == s.fence, f.datum == datum, f.setting == s.setting, f.worn == s.worn.count(bl.ID), f.genuine)
		}
		if h := bs.History; len(h) > 0 && locked {
			b.is(h[len(h)-1].Lock == st.Lock, h[len(h)-1].Piece == model.FreshPiece)
			b.say(h[len(h)-1].Rings...)
		}
		if h := s.halves.of(bl.ID); bl.ID != profile.Reference && h.cut && h.fence == s.fence {
			b.add('p', uint8((h.width-s.set())/hundredth))
		}
	}
	b.say(s.blade, s.rings, s.knife, s.said)
	b.is(s.dirty, s.loose, s.out, s.live, s.proved, stopped && s.still, stopped && s.slow, live && s.checked, known.Fence && s.asked, st.Aligned && s.squared == datum,
		st.Boards != nil && s.board.datum == datum, st.Boards != nil && s.board.fence == s.fence, locked && fenceOf(p, s) == s.fence, locked && s.spoken == s.fence, s.mixed)
	return string(b)
}

// digest stands for a key: two keys share one by chance as rarely as 128 bits allow.
type digest [2]uint64

func digestOf(key string) digest {
	h := fnv.New128a()
	h.Write([]byte(key))
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

func inThisRun(p procedure.Procedure, r *model.Record) bool {
	return r != nil && index(p.Profile().Records, r) >= p.Began()
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
			for _, ms := range [][]model.Measure{r.Readings, r.Differences, r.Plate, r.Kerf, {r.TipGap}} {
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
