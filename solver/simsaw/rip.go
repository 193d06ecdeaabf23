package simsaw

import (
	"fmt"
	"math"

	"example.com/sawdatum/model"
)

// Habits are how a shop's rips depart from each other. The zero value is a saw that
// cuts every strip alike.
type Habits struct {
	Rip      model.Length // standard deviation of the strip width from rip to rip, nothing touched
	Mounting model.Length // and of where a blade seats from one mounting to the next
	Quiet    float64      // the reference's rips scatter by so much of the blades'; 0: as they do
	BadDays  int          // one day in so many repeats twice as badly; 0: none
	Burrs    int          // one strip in so many has a burr at one end; 0: none
	Burr     model.Length // which stands so far out
	Edge     model.Length // the width runs over so much along a strip, on this saw alike in each
}

// Usual is how a shop's rips depart that works with care (common practice).
var Usual = Habits{Rip: 5_000, Mounting: 3_000, Burrs: 60, Burr: 80_000, Edge: 10_000}

// Behaving is the saw with habits; quiet names the blade that Habits.Quiet is about.
func (s Saw) Behaving(h Habits, quiet string) Saw {
	s.habits, s.quiet = h, quiet
	return s
}

// OnDay is the same saw on another day, which may be one that repeats worse. The same
// seed has the same days.
func (s Saw) OnDay(day int) Saw {
	s.worse = s.habits.BadDays > 0 && chance(s.seed, fmt.Sprintf("day %d", day)).IntN(s.habits.BadDays) == 0
	return s
}

// WorseToday reports whether rips repeat twice as badly as usual.
func (s Saw) WorseToday() bool { return s.worse }

// Strip is a strip that was ripped: its true width, and what is not even about it.
type Strip struct {
	width model.Length // away from burrs, in the middle
	burr  model.Length
	snipe int // the marked place that the burr stands at
}

// Width is the true width of a strip in its middle.
func (p Strip) Width() model.Length { return p.width }

// RipStrip rips a new strip off a blank. One mounting, by its name, seats a blade
// always at one place.
func (s Saw) RipStrip(on Setup, f Fence) Strip {
	h, scatter := s.habits, s.habits.Rip
	if h.Quiet > 0 && on.Blade == s.quiet {
		scatter = model.Length(math.Round(h.Quiet * float64(scatter)))
	}
	if s.worse {
		scatter *= 2
	}
	strip := Strip{width: f.at - s.cutFace(on) - s.seat(on) + s.departs(scatter)}
	if h.Burrs > 0 && s.random.IntN(h.Burrs) == 0 {
		strip.burr, strip.snipe = h.Burr, 2*s.random.IntN(2)
	}
	return strip
}

// departs draws nothing where nothing scatters, so that a saw without habits answers
// as it always did.
func (s Saw) departs(scatter model.Length) model.Length {
	if scatter == 0 {
		return 0
	}
	return bell(s.random, scatter)
}

// seat is how far from its usual place, toward the fence, a blade sits in a mounting.
func (s Saw) seat(on Setup) model.Length {
	if s.habits.Mounting == 0 {
		return 0
	}
	return bell(chance(s.seed, "mounting "+on.Blade+" "+on.Mounting), s.habits.Mounting)
}

// places are the marked places of a strip as parts of its length, in the order in
// which they are read: near the start, the middle, near the end, then between.
var places = [...]float64{0.1, 0.5, 0.9, 0.3, 0.7}

// at is the true width of a strip at a marked place.
func (s Saw) at(p Strip, place int) model.Length {
	width, part := p.width, places[place%len(places)]
	if run := s.habits.Edge; run > 0 {
		r, off := chance(s.seed, "edge"), part-0.5
		taper, bow := r.Float64()*2-1, r.Float64()*2-1
		width += model.Length(math.Round(float64(run) / 2 * (taper*off + bow*4*off*off)))
	}
	if p.burr > 0 && place%len(places) == p.snipe {
		width += p.burr
	}
	return width
}

// ReadStrip is caliper readings of a strip: so many from a marked place on, counted
// from 0. Three places are read first; two more where those scatter.
func (s Saw) ReadStrip(p Strip, from, n int) []model.Length {
	out := make([]model.Length, n)
	for j := range out {
		out[j] = s.read(s.caliper, s.at(p, from+j))
	}
	return out
}
