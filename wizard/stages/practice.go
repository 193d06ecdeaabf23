package stages

import (
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/wizard/procedure"
)

// saw is the saw of practice: the simulated one, and what was done to it. Only the rows
// that read it look inside.
type saw struct {
	simsaw.Saw
	fence  simsaw.Fence
	lock   string         // the fence lock that it stands at
	moved  int            // records of the scale whose cursor was moved
	ground map[string]int // how often a blade has come back from the grinder, by its id
	closes bool           // the fence was last read to close toward the rear
}

// Practice is the saw that a run of practice is done at. The same profile and seed give
// the same saw.
func Practice(p model.Profile, seed uint64) procedure.Saw {
	return &saw{Saw: simsaw.New(p, seed).Behaving(simsaw.Usual, p.Reference), ground: map[string]int{}}
}

// at is the saw of practice at a moment: it has what the profile has come to hold.
func at(c context, s procedure.Saw) *saw {
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

// dressedUp is what is on the arbor by the records; the reference, where nothing is.
func dressedUp(c context) simsaw.Setup {
	on := c.State.On
	if on.Blade == "" {
		return simsaw.Setup{Blade: c.Profile.Reference, Rings: c.Profile.Standing}
	}
	return simsaw.Setup{Blade: on.Blade, Rings: on.Rings, Mounting: on.Mounting}
}

// locked is the fence of the lock in force.
func (s *saw) locked(c context) simsaw.Fence {
	if s.lock != c.State.Lock || s.lock == "" {
		s.fence, s.lock = s.SetFence(c.State.Width.Length), c.State.Lock
	}
	return s.fence
}

// stripRead rips a strip and reads it: at three places, at five where those scatter.
func stripRead(c context, s procedure.Saw, _ answers) string {
	here := at(c, s)
	strip := here.RipStrip(dressedUp(c), here.locked(c))
	ls := here.ReadStrip(strip, 0, leastReadings)
	if slices.Max(ls)-slices.Min(ls) > c.Profile.Instruments.Caliper.Length {
		ls = append(ls, here.ReadStrip(strip, leastReadings, 2)...)
	}
	return caliper(c, ls...)
}

// stripsSimulated reads the strip of a row.
var stripsSimulated = map[string]procedure.Simulated{"readings": stripRead}

// distance is one of those of a tooth, in the order in which they are asked.
func distance(which int) procedure.Simulated {
	return func(c context, s procedure.Saw, _ answers) string {
		here := at(c, s)
		t := here.HeelToe(dressedUp(c), here.locked(c))
		return caliper(c, [...]model.Length{t.SlotFront, t.SlotRear, t.FenceFront, t.FenceRear, t.Span}[which])
	}
}

// fenceRear is the distance at the rear to the fence. Where it was read to close, the fence
// was turned before it is read again.
func fenceRear(c context, s procedure.Saw, a answers) string {
	here := at(c, s)
	if here.closes {
		here.Saw = here.TurnFence()
	}
	read := here.HeelToe(dressedUp(c), here.locked(c)).FenceRear
	front, ok := parse(c, a["fence_front"])
	here.closes = ok && read < front
	return caliper(c, read)
}

// boardEnd is the width of the gauge board at one end.
func boardEnd(which int) procedure.Simulated {
	return func(c context, s procedure.Saw, _ answers) string {
		here := at(c, s)
		lead, tail := here.Ends(here.Rip(dressedUp(c), here.locked(c), 0))
		return caliper(c, [...]model.Length{lead, tail}[which])
	}
}

// tipGap is the gap from the knife to the tips of the blade that is on, as a rule shows it.
func tipGap(c context, s procedure.Saw, _ answers) string {
	on, _ := c.Lock.On()
	return c.Short(at(c, s).TipGap(on.Blade))
}

// caliper and micrometer are lengths as somebody would type them who reads them there.
func caliper(c context, ls ...model.Length) string {
	return shown(c, ls, c.Profile.Instruments.Caliper.Length)
}

func micrometer(c context, ls []model.Length) string {
	return shown(c, ls, c.Profile.Instruments.Micrometer.Length)
}

func shown(c context, ls []model.Length, resolution model.Length) string {
	words := make([]string, len(ls))
	for i, l := range ls {
		words[i] = bare(l.Show(c.Unit(), resolution))
	}
	return strings.Join(words, " ")
}

// bare is a figure without its unit.
func bare(figure string) string {
	number, _, _ := strings.Cut(figure, " ")
	return number
}

// grind takes a blade to the grinder, once for each time that it is back from there.
func (s *saw) grind(c context, blade string) {
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
