// Package year plays years of a shop through the real procedure, beside a saw that knows the
// truth: what hands did at it, what lies under a ring, where the fence and the knife stand.
package year

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/wizard/procedure"
)

const (
	micrometre = 1000 * model.Nanometre
	mm         = model.Millimetre
)

// habits are how rips depart in the shops of these years on most days: those of a careful shop.
var habits = simsaw.Habits{Rip: 5 * micrometre, Mounting: 3 * micrometre, Burrs: 60, Burr: 80 * micrometre, Edge: 10 * micrometre}

// Layers that no profile knows of: what has grown on the flange, and what got between the
// rings. A saw takes them for rings of these thicknesses.
const (
	grime    = "layer on the flange"
	dust     = "dust under the rings"
	dustings = 4
)

// shop is the saw as it truly is. Nothing but deeds and mishaps change it.
type shop struct {
	saw    simsaw.Saw
	random *rand.Rand

	blade, knife string
	rings        []string
	mounting     string
	mountings    int
	dust         string // that lies under this mounting; empty: none
	lay          string // that lay under the one that came off last, until it is wiped
	grimy        bool   // since the flange was last clean
	fence        simsaw.Fence
	lock         string // that the fence still stands at; empty: it was moved
	knifeAt      model.Length
	gap          model.Length      // from the board to the knife, as it was squared last
	knifeSeen    string            // what was wrong when it was checked; empty: nothing
	stripped     bool              // a strip was ripped in this mounting
	spoiled      map[string]string // by lock: what nobody saw while its strips were ripped

	datum     simsaw.Saw // as it was when the datum was defined
	datumKey  string
	reference string
	standing  []string

	bump    model.Length   // waits to happen before a rip under a lock; 0: none
	dirt    int            // waits for a mounting: which, from 1 on; 0: none
	strips  []simsaw.Strip // of this run
	ripped  int
	mounted int
}

// layered is the profile as the true saw is told of it.
func layered(p model.Profile, r *rand.Rand) model.Profile {
	thick := func(least, most int) model.Measure {
		return (model.Length(least+r.IntN(most-least+1)) * micrometre).Of(model.MM)
	}
	layer := func(id string, m model.Measure) {
		p.Rings = append(p.Rings, model.Ring{ID: id, Thickness: m, Measured: m, Count: 1})
	}
	p.Rings = slices.Clone(p.Rings)
	layer(grime, thick(5, 20))
	for n := range dustings {
		layer(fmt.Sprint(dust, n), thick(20, 80))
	}
	return p
}

// under are all layers of a mounting, flange first.
func (s *shop) under(rings []string, dust string) []string {
	var out []string
	if s.grimy {
		out = append(out, grime)
	}
	if dust != "" {
		out = append(out, dust)
	}
	return append(out, rings...)
}

func (s *shop) setup() simsaw.Setup {
	return simsaw.Setup{Blade: s.blade, Rings: s.under(s.rings, s.dust), Mounting: s.mounting}
}

// face is where a setup cuts as it sits, from the flange, + = toward the fence.
func face(saw simsaw.Saw, on simsaw.Setup, mounting model.Length) model.Length {
	still := saw.Behaving(simsaw.Habits{Mounting: mounting}, "")
	return -still.RipStrip(on, simsaw.Fence{}).Width()
}

// datumFace is where the reference cut when it defined the datum, on the flange as it is now.
func (s *shop) datumFace() model.Length {
	return face(s.datum, simsaw.Setup{Blade: s.reference, Rings: s.under(s.standing, "")}, 0)
}

// residual is how far toward the fence of the datum what is on truly cuts, as it sits.
func (s *shop) residual() model.Length {
	return face(s.saw, s.setup(), habits.Mounting) - s.datumFace()
}

// clean is the same of any blade with a stack, mounted without dust, at its usual seat.
func (s *shop) clean(blade string, rings []string) model.Length {
	return face(s.saw, simsaw.Setup{Blade: blade, Rings: s.under(rings, "")}, 0) - s.datumFace()
}

// put is a blade put on.
func (s *shop) put(blade string, rings []string) {
	s.mountings++
	s.mounted++
	s.blade, s.rings, s.mounting = blade, rings, fmt.Sprint(s.mountings)
	s.dust, s.lay, s.stripped = "", "", false
	if s.dirt > 0 {
		s.dust, s.dirt = fmt.Sprint(dust, s.dirt-1), 0
	}
}

func (s *shop) takeOff() {
	if s.blade != "" {
		s.lay = s.dust
	}
	s.blade, s.rings, s.dust = "", nil, ""
}

// knifeIn is another knife put in its slot: it does not come back to the hair.
func (s *shop) knifeIn(knife string) {
	if s.knife == knife {
		return
	}
	s.knife = knife
	s.knifeAt += model.Length(s.random.IntN(61)-30) * micrometre
}

// rip rips a strip with what is on.
func (s *shop) rip() simsaw.Strip {
	if s.bump != 0 && s.ripped > 0 {
		s.fence, s.bump = s.fence.Nudged(s.bump), 0
		s.spoil("the fence bumped between its strips")
	}
	if s.dust != "" {
		s.spoil("dust under one of the blades that were compared")
	}
	if s.saw.WorseToday() && s.spoiled[s.lock] == "" {
		s.spoil("a day that repeats twice as badly")
	}
	s.ripped++
	s.stripped = true
	strip := s.saw.RipStrip(s.setup(), s.fence)
	s.strips = append(s.strips, strip)
	return strip
}

func (s *shop) spoil(how string) {
	if s.spoiled == nil {
		s.spoiled = map[string]string{}
	}
	s.spoiled[s.lock] = how
}

// defines takes note that datum strips are ripped: the first ones define the datum.
func (s *shop) defines(moved int, reference string, standing []string) {
	key := fmt.Sprint(moved, reference, standing)
	if key == s.datumKey {
		return
	}
	s.datum, s.datumKey, s.reference, s.standing = s.saw, key, reference, slices.Clone(standing)
}

// behind is how far behind the tips of what is on the knife stands, to a feeler's leaf.
func (s *shop) behind() model.Length {
	leaf := 10 * micrometre
	return (face(s.saw, s.setup(), habits.Mounting) - s.knifeAt) / leaf * leaf
}

// checked is the same where it is checked: it is set by the manual until a leaf of 0.05 mm does
// not go in.
func (s *shop) checked() model.Length {
	if off := face(s.saw, s.setup(), habits.Mounting) - s.knifeAt; off < 0 || off > 50*micrometre {
		s.knifeAt = face(s.saw, s.setup(), habits.Mounting) - 20*micrometre
	}
	if s.knifeSeen = ""; s.dust != "" {
		s.knifeSeen = "checked behind a blade with dust under it"
	}
	return s.behind()
}

// carried is the row of a blade, after the datum moved to the new teeth of the reference where
// nothing carried it any more.
func (y *year) carried(id string) model.BladeRow {
	if slices.ContainsFunc(y.plan().Reasons, func(r model.Reason) bool { return r.Code == "datum-uncarried" }) {
		ref, _ := y.profile.BladeByID(y.profile.Reference)
		own := map[string]string{"reason why": "check", "sharpened blade": ref.Name(), "grinder datum": string(model.DatumMoves)}
		y.play(procedure.Options{Mode: procedure.OneBlade, Blade: ref.ID}, own, once("sharpened"))
	}
	row, _ := y.plan().Row(id)
	if id == y.profile.Reference && row.State == model.StateCheck && row.Basis == model.Predicted { // it has to rip its strips again
		y.play(procedure.Options{}, nil, nil)
		row, _ = y.plan().Row(id)
	}
	return row
}
