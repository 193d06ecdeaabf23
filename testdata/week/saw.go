package main

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/testdata/walk"
)

// saw is one saw of the shop as it truly is: the simulated one, and what hands put on it.
// It knows no file: what is on record of it is what somebody typed.
type saw struct {
	simsaw.Saw
	shop  model.Profile // its rack and kit, for names and units
	on    simsaw.Setup
	knife string // thickness of the knife that is in
	fence simsaw.Fence
	mount int // mountings so far
}

func newSaw(p model.Profile, seed uint64) *saw {
	return &saw{Saw: simsaw.New(p, seed).Behaving(simsaw.Usual, p.Reference), shop: p, knife: p.Knives[0].Thickness.String()}
}

// read is what somebody types who looks at the saw, or puts an instrument to it; false
// where the question is about neither.
func (s *saw) read(q walk.Question) (string, bool) {
	for _, r := range []struct {
		label string
		read  func(walk.Question) string
	}{
		{"Blade that is on", func(walk.Question) string { return s.teeth() }},
		{"Rings behind it", func(walk.Question) string { return s.rings() }},
		{"Knife behind it", func(walk.Question) string { return s.short(s.knife) }},
		{"Teeth and rings that came off", func(walk.Question) string { return s.teeth() + " " + s.rings() }},
		{"Rings that came off", func(walk.Question) string { return fmt.Sprint(len(s.on.Rings)) }},
		{"Knife to the tips, and its thickness", func(walk.Question) string {
			return s.rule(s.TipGap(s.on.Blade)) + " " + s.short(s.knife)
		}},
		{"Knife, seen in line, to the tips", func(walk.Question) string { return s.rule(s.TipGap(s.on.Blade)) }},
		{"Teeth, the top ones", func(q walk.Question) string { // the hint says them
			words := strings.Fields(walk.Hand{Real: true}.To(q))
			for i := range words {
				words[i] = s.short(words[i])
			}
			return strings.Join(words, " ")
		}},
		{"Widths of", func(walk.Question) string { return s.caliper(s.ReadStrip(s.RipStrip(s.on, s.fence), 0, 3)...) }},
		{"Plate", func(q walk.Question) string { return s.micrometer(s.Plate(s.about(q), 3)...) }},
		{"Kerf", func(q walk.Question) string { return s.micrometer(s.Kerf(s.about(q), 3)...) }},
	} {
		if strings.HasPrefix(q.Label, r.label) {
			return r.read(q), true
		}
	}
	return "", false
}

// done takes in what hands did at the saw to answer a question.
func (s *saw) done(q walk.Question, typed string) {
	switch {
	case strings.HasPrefix(q.Label, "Teeth, "):
		_, behind, _ := strings.Cut(typed, " ")
		rings, err := s.shop.ParseStack(behind)
		if err != nil {
			panic(err) // the hint says them
		}
		s.mount++
		s.on = simsaw.Setup{Blade: s.about(q), Rings: rings, Mounting: fmt.Sprint(s.mount)}
	case q.Label == "Nothing is left on the arbor":
		s.on = simsaw.Setup{}
	case q.Label == "Locked: the scale reads":
		m, err := model.ParseLength(typed, s.shop.Units)
		if err != nil {
			panic(err)
		}
		s.fence = s.SetFence(m.Length)
	}
}

// about is the blade that a place is about, by the name in its title.
func (s *saw) about(q walk.Question) string {
	for _, b := range s.shop.Blades {
		if strings.Contains(q.Place, b.Name()) {
			return b.ID
		}
	}
	return ""
}

// rings are those behind the blade as they are read off them, flange first.
func (s *saw) rings() string {
	if len(s.on.Rings) == 0 {
		return "0"
	}
	var out []string
	for _, id := range s.on.Rings {
		r, _ := s.shop.RingByID(id)
		out = append(out, s.short(r.Thickness.String()))
	}
	return strings.Join(out, " ")
}

// rule is what a rule shows: no noughts at its end, and 64ths of an inch.
func (s *saw) rule(l model.Length) string {
	if s.shop.Units == model.IN {
		const tick = model.Inch / 64
		return bare(model.Measure{Length: (l + tick/2) / tick * tick, Unit: model.Fraction}.String())
	}
	return strings.TrimRight(strings.TrimRight(s.caliper(l), "0"), ".")
}

func (s *saw) teeth() string {
	b, _ := s.shop.BladeByID(s.on.Blade)
	return fmt.Sprint(b.Teeth)
}

func (s *saw) caliper(ls ...model.Length) string {
	return s.shown(s.shop.Instruments.Caliper.Length, ls)
}

func (s *saw) micrometer(ls ...model.Length) string {
	return s.shown(s.shop.Instruments.Micrometer.Length, ls)
}

func (s *saw) shown(step model.Length, ls []model.Length) string {
	var out []string
	for _, l := range ls {
		out = append(out, bare(l.Show(s.shop.Units, step)))
	}
	return strings.Join(out, " ")
}

// bare is a length without its unit, as it is typed.
func bare(length string) string {
	number, _, _ := strings.Cut(length, " ")
	return number
}

// short is that as the shop types it: in inches without the nought before its point.
func (s *saw) short(length string) string {
	number := bare(length)
	if s.shop.Units == model.IN && strings.HasPrefix(number, "0.") {
		return number[1:]
	}
	return number
}
