// Package trial rips strips that are not there, by the thousand, and has the solver
// judge them. The program beside it makes tables of it, and a test runs a few.
package trial

import (
	"math"
	"math/rand/v2"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
)

// Cell is a shop: what it holds, what it reads with, and how its rips repeat.
// Deviations are standard deviations in nanometres.
type Cell struct {
	Tolerance, Step model.Length
	Rip, Reading    float64
	History         int     // degrees of freedom of strips cut before, under one lock
	Quiet           float64 // the reference's rips scatter by so much of the blades'; 0: as they do
	Worse           float64 // today's rips scatter by so much of what history says; 0: as they do
	Mounting        float64
	Burrs           float64 // chance that one of three readings stands 0.08 mm out
}

// Policy says when somebody rips another strip.
type Policy func(l *evidence.Ledger, c *evidence.Course) (evidence.Purpose, bool)

// Advised rips what would settle the verdict, as long as something would.
func Advised(l *evidence.Ledger, c *evidence.Course) (evidence.Purpose, bool) {
	further, _ := l.Settle(c)
	if len(further) == 0 {
		return 0, false
	}
	return further[0], true
}

// Stubborn rips as long as strips count.
func Stubborn(_ *evidence.Ledger, c *evidence.Course) (evidence.Purpose, bool) {
	if float64(c.Own) <= c.Datum {
		return evidence.ForBlade, true
	}
	return evidence.ForDatum, true
}

// Outcome counts blades by their verdict, and the strips beyond the first five.
type Outcome struct {
	Blades, In, Out, Doubtful int
	Further                   int
}

// InShare is the share that was called in.
func (o Outcome) InShare() float64 { return float64(o.In) / float64(o.Blades) }

// shop rips.
type shop struct {
	Cell
	random *rand.Rand
	index  int
}

func (s *shop) strip(lock string, o evidence.Outfit, purpose evidence.Purpose, width, scatter float64) evidence.Strip {
	s.index++
	width += scatter * s.random.NormFloat64()
	readings := make([]model.Length, 3)
	burr := -1
	if s.Burrs > 0 && s.random.Float64() < s.Burrs {
		burr = 2 * s.random.IntN(2)
	}
	for i := range readings {
		at := width + s.Reading*s.random.NormFloat64()
		if i == burr {
			at += 80_000
		}
		readings[i] = model.Length(math.Round(at/float64(s.Step))) * s.Step
	}
	return evidence.Strip{Index: s.index, Lock: lock, Mounting: lock + o.Blade, Outfit: o, For: purpose, Widths: readings, Present: true}
}

var (
	reference = evidence.Outfit{Blade: "reference"}
	compared  = evidence.Outfit{Blade: "compared"}
)

// Run judges so many blades that truly stand a residual from the datum, + = toward the
// fence, each against reference strips of its own.
func Run(cell Cell, residual float64, policy Policy, blades int, seed uint64) Outcome {
	s := &shop{Cell: cell, random: rand.New(rand.NewPCG(seed, 7))}
	out := Outcome{Blades: blades}
	for range blades {
		verdict, further := s.judge(residual, policy)
		out.Further += further
		switch verdict {
		case model.In:
			out.In++
		case model.Out:
			out.Out++
		default:
			out.Doubtful++
		}
	}
	return out
}

func (s *shop) judge(residual float64, policy Policy) (model.Verdict, int) {
	s.index = 0
	quiet, worse := s.Quiet, s.Worse
	if quiet == 0 {
		quiet = 1
	}
	if worse == 0 {
		worse = 1
	}
	l := evidence.LedgerOf(nil, reference, s.Tolerance, s.Step)
	if s.History > 0 {
		before := evidence.Outfit{Blade: "before"}
		for range s.History + 1 {
			strip := s.strip("yesterday", before, evidence.ForBlade, 100e6, s.Rip)
			strip.Present = false
			l.Take(strip)
		}
	}
	fence := 120e6 + s.random.Float64()*float64(s.Step)
	datum := fence + s.Mounting*s.random.NormFloat64()
	blade := fence - residual + s.Mounting*s.random.NormFloat64()
	rip := func(purpose evidence.Purpose) {
		if purpose == evidence.ForDatum {
			l.Take(s.strip("today", reference, purpose, datum, s.Rip*quiet*worse))
			return
		}
		l.Take(s.strip("today", compared, purpose, blade, s.Rip*worse))
	}
	for range evidence.EnoughDatumStrips {
		rip(evidence.ForDatum)
	}
	for range evidence.EnoughBladeStrips {
		rip(evidence.ForBlade)
	}
	c, further := l.Course(compared), 0
	for c.Verdict == model.Doubtful && !c.UsedUp() {
		next, more := policy(l, c)
		if !more {
			break
		}
		rip(next)
		further++
	}
	return c.Verdict, further
}
