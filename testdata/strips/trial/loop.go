package trial

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/solver/stacking"
	"example.com/sawdatum/testdata/invented"
)

// Loop counts what became of the blades of a shop, from the first stack to the last.
type Loop struct {
	Blades, In, Left int
	FalseIn          int // called in, and truly beyond the tolerance
	Changes, Worse   int // stacks put on after another, and those that made the true residual worse
	MostGoes         int
	Again            int // stacks that were found out and offered again
	Endless          int
	Measured         int // blades that asked to measure rings first
	Strips           int
}

func (l *Loop) Add(o Loop) {
	l.Blades, l.In, l.Left, l.FalseIn = l.Blades+o.Blades, l.In+o.In, l.Left+o.Left, l.FalseIn+o.FalseIn
	l.Changes, l.Worse, l.Again, l.Endless = l.Changes+o.Changes, l.Worse+o.Worse, l.Again+o.Again, l.Endless+o.Endless
	l.Measured, l.Strips, l.MostGoes = l.Measured+o.Measured, l.Strips+o.Strips, max(l.MostGoes, o.MostGoes)
}

// bench is a shop that invents itself, with what was read on its bench.
type bench struct {
	profile   model.Profile
	saw       simsaw.Saw
	bare      map[string]stacking.Bare
	reference string
	standing  []string
	ledger    *evidence.Ledger
	fence     simsaw.Fence
	index     int
	strips    int
}

// Compare sets an invented shop up with a tolerance, its rings measured or known by their
// nominal thickness, and goes on with every blade until it is in or nothing is advised.
func Compare(seed uint64, tolerance model.Length, measured bool, h simsaw.Habits) (Loop, error) {
	flange := []model.Flange{model.Far, model.Near}[seed%2]
	p, saw := invented.Shop(seed, flange)
	p.Tolerance = tolerance.Of(model.MM)
	p.Rings = rings(p.Rings, measured, seed)
	b := &bench{profile: p, saw: saw.With(p).Behaving(h, ""), bare: map[string]stacking.Bare{}}
	for _, blade := range p.Blades {
		bare, err := stacking.BareOf(flange, blade, p.Instruments.Micrometer.Length, stacking.UnreadRunout(p))
		if err != nil {
			return Loop{}, err
		}
		b.bare[blade.ID] = bare
		if at := b.bare[b.reference].At; b.reference == "" || flange == model.Far && bare.At > at || flange == model.Near && bare.At < at {
			b.reference = blade.ID
		}
	}
	firsts, err := b.plan()
	if err != nil {
		return Loop{}, err
	}
	b.ledger = evidence.LedgerOf(nil, b.outfit(b.reference, b.standing), tolerance, p.Instruments.Caliper.Length)
	b.fence = b.saw.SetFence(p.WorkingWidth.Length)
	for range evidence.EnoughDatumStrips {
		b.rip(b.reference, b.standing, evidence.ForDatum, 0)
	}
	var out Loop
	for _, blade := range p.Blades {
		if blade.ID == b.reference {
			continue
		}
		one, err := b.blade(blade.ID, firsts[blade.ID])
		if err != nil {
			return Loop{}, err
		}
		out.Add(one)
	}
	out.Strips = b.strips
	return out, nil
}

// rings is a kit as nominal sizes, or with every ring measured and marked.
func rings(kit []model.Ring, measured bool, seed uint64) []model.Ring {
	r := rand.New(rand.NewPCG(seed, 3))
	var out []model.Ring
	for _, ring := range kit {
		ring.Measured = model.Measure{}
		if !measured {
			out = append(out, ring)
			continue
		}
		for k := range ring.Count {
			one := ring
			one.ID, one.Count = fmt.Sprintf("%s-%d", ring.ID, k), 1
			one.Measured = (ring.Thickness.Length + model.Length(r.IntN(41)-20)*1000).Of(model.MM)
			out = append(out, one)
		}
	}
	return out
}

// measure reads one ring of a sort.
func (b *bench) measure(id string) {
	for i := range b.profile.Rings {
		if b.profile.Rings[i].ID == id {
			b.profile.Rings[i].Measured = b.saw.Ring(id).Of(model.MM)
		}
	}
}

// plan chooses the standing stack and the first stack of every blade.
func (b *bench) plan() (map[string][]string, error) {
	kit, _ := stacking.KitOf(b.profile)
	var needs []stacking.Need
	var ids []string
	for _, blade := range b.profile.Blades {
		if blade.ID == b.reference {
			continue
		}
		o, err := stacking.Predict(b.bare[b.reference], b.bare[blade.ID])
		if err != nil {
			return nil, err
		}
		ids = append(ids, blade.ID)
		needs = append(needs, stacking.Need{
			ID: blade.ID, Height: stacking.Want(b.profile.Saw.Flange, 0, o.Value),
			Zone: stacking.Both(max(b.profile.Tolerance.Length-o.U, 0)), Highest: 6 * model.Millimetre,
		})
	}
	rack, err := kit.Rack(needs, 3*model.Millimetre, b.profile.Saw.Flange)
	if err != nil {
		return nil, err
	}
	b.standing = rack.Standing.IDs()
	out := map[string][]string{}
	for i, id := range ids {
		out[id] = rack.Blades[i].IDs()
	}
	return out, nil
}

func (b *bench) outfit(blade string, stack []string) evidence.Outfit {
	return evidence.Outfit{Blade: blade, Stack: strings.Join(stack, " ")}
}

func (b *bench) rip(blade string, stack []string, purpose evidence.Purpose, mounting int) {
	b.index++
	b.strips++
	on := simsaw.Setup{Blade: blade, Rings: stack, Mounting: fmt.Sprint(mounting)}
	widths := b.saw.ReadStrip(b.saw.RipStrip(on, b.fence), 0, 3)
	b.ledger.Take(evidence.Strip{Index: b.index, Lock: "l", Mounting: on.Mounting, Outfit: b.outfit(blade, stack), For: purpose, Widths: widths, Present: true})
}

func (b *bench) truth(blade string, stack []string) float64 {
	return float64(b.saw.CutFace(blade, stack) - b.saw.CutFace(b.reference, b.standing))
}

// blade goes on with one blade.
func (b *bench) blade(id string, stack []string) (Loop, error) {
	out := Loop{Blades: 1}
	var cut []evidence.CutStack
	for {
		out.MostGoes++
		if out.MostGoes > 20 {
			out.Endless++
			return out, nil
		}
		for _, c := range cut {
			if strings.Join(c.Rings, " ") == strings.Join(stack, " ") {
				out.Again++
			}
		}
		mounting := len(cut) + 1
		for range evidence.EnoughBladeStrips {
			b.rip(id, stack, evidence.ForBlade, mounting)
		}
		c := b.ledger.Course(b.outfit(id, stack))
		for c.Verdict == model.Doubtful && !c.UsedUp() {
			next, more := Advised(b.ledger, c)
			if !more {
				break
			}
			if next == evidence.ForDatum {
				b.rip(b.reference, b.standing, next, 0)
			} else {
				b.rip(id, stack, next, mounting)
			}
		}
		if c.Verdict == model.In {
			out.In++
			if math.Abs(b.truth(id, stack)) > float64(b.profile.Tolerance.Length) {
				out.FalseIn++
			}
			return out, nil
		}
		cut = append(cut, evidence.CutStack{Rings: stack, Residual: -c.Value})
		next, err := b.another(id, cut)
		if err != nil {
			return out, err
		}
		if !next.Advised && next.Cure == model.WayMeasure {
			out.Measured++
			for _, ring := range append(next.Rings, stack...) {
				b.measure(ring)
			}
			if next, err = b.another(id, cut); err != nil {
				return out, err
			}
		}
		if !next.Advised {
			out.Left++
			return out, nil
		}
		out.Changes++
		if math.Abs(b.truth(id, next.Stack)) > math.Abs(b.truth(id, stack)) {
			out.Worse++
		}
		stack = next.Stack
	}
}

func (b *bench) another(id string, cut []evidence.CutStack) (evidence.Another, error) {
	taught, err := evidence.Teach(b.profile, b.bare, b.ledger.Lessons(func(o evidence.Outfit) (string, bool) { return o.Blade, true }))
	if err != nil {
		return evidence.Another{}, err
	}
	spread, q := b.ledger.Spread(), b.profile.Instruments.Caliper.Length
	return taught.Another(evidence.Asked{
		Blade: id, Reference: b.reference, Standing: b.standing, Tolerance: b.profile.Tolerance.Length,
		Limit: stacking.Zone{Toward: model.Millimetre, Away: model.Millimetre / 10}, Highest: 6 * model.Millimetre,
		U: evidence.TwoStrips(spread, q), Cut: cut, Spread: spread, Step: q,
	}), nil
}
