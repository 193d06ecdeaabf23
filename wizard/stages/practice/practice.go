// Package practice is the saw that is not there, as the rows read it.
package practice

import (
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

// At is the saw of practice at a moment: it has what the profile has come to hold.
func At(c context, s procedure.Saw) *saw {
	here := s.(*saw)
	here.Saw = here.With(c.Profile)
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

// DressedUp is what is on the arbor by the records; the reference, where nothing is.
func DressedUp(c context) simsaw.Setup {
	on := c.State.On
	if on.Blade == "" {
		return simsaw.Setup{Blade: c.Profile.Reference, Rings: c.Profile.Standing}
	}
	return simsaw.Setup{Blade: on.Blade, Rings: on.Rings, Mounting: on.Mounting}
}

// locked is the fence of the lock in force.
func (s *saw) locked(c context) simsaw.Fence {
	if s.Lock != c.State.Lock || s.Lock == "" {
		s.fence, s.Lock = s.SetFence(c.State.Width.Length), c.State.Lock
	}
	return s.fence
}

// StripRead rips a strip and reads it: at three places, at five where those scatter.
func StripRead(c context, s procedure.Saw, _ answers) string {
	here := At(c, s)
	strip := here.RipStrip(DressedUp(c), here.locked(c))
	ls := here.ReadStrip(strip, 0, form.LeastReadings)
	if slices.Max(ls)-slices.Min(ls) > c.Profile.Instruments.Caliper.Length {
		ls = append(ls, here.ReadStrip(strip, form.LeastReadings, 2)...)
	}
	return Caliper(c, ls...)
}

// StripsSimulated reads the strip of a row.
var StripsSimulated = map[string]procedure.Simulated{"readings": StripRead}

// SlotFront, FenceFront and ToothWay are one tooth at the front, and the way that it is turned.
func SlotFront(c context, s procedure.Saw, _ answers) string {
	return Caliper(c, tooth(c, s).SlotFront)
}
func FenceFront(c context, s procedure.Saw, _ answers) string {
	return Caliper(c, tooth(c, s).FenceFront)
}
func ToothWay(c context, s procedure.Saw, _ answers) string { return Caliper(c, tooth(c, s).Span) }

func tooth(c context, s procedure.Saw) simsaw.Tooth {
	here := At(c, s)
	return here.HeelToe(DressedUp(c), here.locked(c))
}

// SlotRear is the tooth at the rear to the slot.
func SlotRear(c context, s procedure.Saw, a answers) string {
	t := tooth(c, s)
	return atRear(c, a["slot_front"], t.SlotFront, t.SlotRear)
}

// FenceRear is the tooth at the rear to the fence. Where the fence was read to close, it was
// turned before it is read again.
func FenceRear(c context, s procedure.Saw, a answers) string {
	here := At(c, s)
	if here.closes {
		here.Saw = here.TurnFence()
	}
	t := tooth(c, s)
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

// BoardEnd is the width of the gauge board at one end.
func BoardEnd(which int) procedure.Simulated {
	return func(c context, s procedure.Saw, _ answers) string {
		here := At(c, s)
		lead, tail := here.Ends(here.Rip(DressedUp(c), here.locked(c)))
		return Caliper(c, [...]model.Length{lead, tail}[which])
	}
}

// TipGap is the gap from the knife to the tips of the blade that is on, as a rule shows it.
func TipGap(c context, s procedure.Saw, _ answers) string {
	on, _ := c.Lock.On()
	return c.Short(At(c, s).TipGap(on.Blade))
}

// Caliper and micrometer are lengths as somebody would type them who reads them there.
func Caliper(c context, ls ...model.Length) string {
	return shown(c, ls, c.Profile.Instruments.Caliper.Length)
}

// Micrometer writes lengths as its micrometer shows them, with a space between.
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
		s.Saw, s.ground[blade] = s.Sharpened(blade), times
	}
}
