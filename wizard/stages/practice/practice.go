// Package practice is the saw that is not there, as the rows read it.
package practice

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// saw is the saw of practice: the simulated one, and what was done to it. Only the rows
// that read it look inside.
type saw struct {
	simsaw.Saw
	fence  simsaw.Fence
	Lock   string         // the fence lock that it stands at
	moved  int            // records of the scale whose cursor was moved
	ground map[string]int // how often a blade has come back from the grinder, by its id
	closes bool           // the fence was last read to close toward the rear
}

// New is the saw that a run of practice is done at. The same profile and seed give
// the same saw.
func New(p model.Profile, seed uint64) procedure.Saw {
	return &saw{Saw: simsaw.New(p, seed).Behaving(simsaw.Usual, p.Reference), ground: map[string]int{}}
}

// At is the saw of practice at a moment, to be read: it has what the profile has come to
// hold. What it shows follows from the seed and the name of the reading alone, so that one
// thing read twice reads the same, and a step more changes nothing of what is read behind it.
func At(c context, s procedure.Saw, reading ...string) *saw {
	here := s.(*saw)
	here.Saw = here.With(c.Profile).Reading(strings.Join(reading, " "))
	scales := 0
	for _, r := range c.Now() {
		if r.Kind == model.Scale {
			if scales++; scales > here.moved {
				here.Saw = here.MoveCursor(r.Cursor.Length)
			}
		}
	}
	here.moved = max(here.moved, scales)
	return here
}

// DressedUp is what is on the arbor by the records; the reference, where nothing is. A
// mounting is named by its number among those of its blade, from 1 on; 0: no record has it mounted.
func DressedUp(c context) simsaw.Setup {
	on := c.State.On
	if on.Blade == "" {
		return simsaw.Setup{Blade: c.Profile.Reference, Rings: c.Profile.Standing}
	}
	behind := slices.IndexFunc(c.All(), func(r model.Record) bool { return r.Ref() == on.Mounting }) + 1
	mounting := count(c.All()[:behind], func(r model.Record) bool { return r.Kind == model.Mount && r.Blade == on.Blade })
	return simsaw.Setup{Blade: on.Blade, Rings: on.Rings, Mounting: mounting}
}

// Times says how many records of a kind there are: an act done again is read anew.
func Times(c context, kind model.Kind) string {
	return count(c.All(), func(r model.Record) bool { return r.Kind == kind })
}

func count(records []model.Record, are func(model.Record) bool) string {
	n := 0
	for _, r := range records {
		if are(r) {
			n++
		}
	}
	return fmt.Sprint(n)
}

// locked is the fence of the lock in force.
func (s *saw) locked(c context) simsaw.Fence {
	if s.Lock != c.State.Lock || s.Lock == "" {
		s.fence, s.Lock = s.Reading("fence "+Times(c, model.FenceLock)).SetFence(c.State.Width.Length), c.State.Lock
	}
	return s.fence
}

// StripRead rips a strip and reads it: at three places, at five where those scatter.
func StripRead(c context, s procedure.Saw, _ answers) string {
	on := DressedUp(c)
	before := count(c.All(), func(r model.Record) bool {
		return r.Kind == model.StripCut && r.Blade == on.Blade && r.Mounting == c.State.On.Mounting
	})
	here := At(c, s, "strip", on.Blade, on.Mounting, before)
	strip := here.RipStrip(on, here.locked(c))
	ls := here.ReadStrip(strip, 0, form.LeastReadings)
	if slices.Max(ls)-slices.Min(ls) > c.Profile.Instruments.Caliper.Length {
		ls = append(ls, here.ReadStrip(strip, form.LeastReadings, 2)...)
	}
	return Caliper(c, ls...)
}

// StripsSimulated reads the strip of a row.
var StripsSimulated = map[string]procedure.Simulated{"readings": StripRead}

// SlotFront and FenceFront are how far a tooth at the front is from slot and fence, ToothWay how
// far it travels to the rear.
func SlotFront(c context, s procedure.Saw, _ answers) string {
	return Caliper(c, tooth(c, s, "slot front").SlotFront)
}
func FenceFront(c context, s procedure.Saw, _ answers) string {
	return Caliper(c, tooth(c, s, "fence front").FenceFront)
}
func ToothWay(c context, s procedure.Saw, _ answers) string {
	return Caliper(c, tooth(c, s, "way").Span)
}

func tooth(c context, s procedure.Saw, end string) simsaw.Tooth {
	here := At(c, s, "tooth", end, Times(c, model.HeelToe))
	return here.HeelToe(DressedUp(c), here.locked(c))
}

// SlotRear is how far the same tooth at the rear is from the slot.
func SlotRear(c context, s procedure.Saw, a answers) string {
	t := tooth(c, s, "slot rear")
	return atRear(c, a["slot_front"], t.SlotFront, t.SlotRear)
}

// FenceRear is how far the same tooth at the rear is from the fence. Where the fence was read to
// close, it has been turned before it is read again.
func FenceRear(c context, s procedure.Saw, a answers) string {
	here := s.(*saw)
	if here.closes {
		here.Saw = here.TurnFence()
	}
	t := tooth(c, s, "fence rear")
	front, ok := form.Parse(c, a["fence_front"])
	if ok && front == 0 {
		front = t.FenceFront
	}
	here.closes = ok && t.FenceRear < front
	return atRear(c, a["fence_front"], t.FenceFront, t.FenceRear)
}

// atRear is a distance at the rear, or what a dial shows that was zeroed at the front.
func atRear(c context, typed string, front, rear model.Length) string {
	if l, ok := form.Parse(c, typed); ok && l == 0 {
		return Bare((rear - front).Signed(c.Unit(), c.Profile.Instruments.Caliper.Length))
	}
	return Caliper(c, rear)
}

// BoardEnd is the width of the gauge board at one end: 0 the leading one, 1 the trailing one.
func BoardEnd(which int) procedure.Simulated {
	return func(c context, s procedure.Saw, _ answers) string {
		here := At(c, s, "board", fmt.Sprint(which), Times(c, model.Boards))
		lead, tail := here.Ends(here.Rip(DressedUp(c), here.locked(c)))
		return Caliper(c, [...]model.Length{lead, tail}[which])
	}
}

// TipGap is the gap from the knife to the tips of the blade that is on, as a rule shows it.
func TipGap(c context, s procedure.Saw, _ answers) string {
	on, _ := c.Lock.On()
	return c.Short(At(c, s, "tip gap", on.Blade, DressedUp(c).Mounting).TipGap(on.Blade))
}

// Caliper writes lengths as the shop's caliper shows them, with a space between.
func Caliper(c context, ls ...model.Length) string {
	return shown(c, ls, c.Profile.Instruments.Caliper.Length)
}

// Micrometer writes lengths as the shop's micrometer shows them, with a space between.
func Micrometer(c context, ls []model.Length) string {
	return shown(c, ls, c.Profile.Instruments.Micrometer.Length)
}

func shown(c context, ls []model.Length, resolution model.Length) string {
	words := make([]string, len(ls))
	for i, l := range ls {
		words[i] = Bare(l.Show(c.Unit(), resolution))
	}
	return strings.Join(words, " ")
}

// Bare is a figure without its unit.
func Bare(figure string) string {
	number, _, _ := strings.Cut(figure, " ")
	return number
}

// Grind takes a blade to the grinder, once for each time that it is back from there.
func (s *saw) Grind(c context, blade string) {
	times := 1
	for _, r := range c.All() {
		if r.Kind == model.Sharpened && r.Blade == blade {
			times++
		}
	}
	if s.ground[blade] < times {
		s.Saw, s.ground[blade] = s.Reading(fmt.Sprint("grinder ", blade, times)).Sharpened(blade), times
	}
}
