// Package invented draws whole shops: what they hold by their own records, and the saw as it
// truly is. Tests and the programs that measure try the solver on them.
package invented

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
)

// sorts are the blades that a cabinet shop may keep, each with the usual plate and
// kerf (common practice).
var sorts = []struct {
	name        string
	teeth       int
	plate, kerf model.Length
}{
	{"general", 48, 2_200_000, 3_200_000},
	{"rip", 24, 2_200_000, 3_200_000},
	{"fine crosscut", 80, 2_000_000, 2_800_000},
	{"laminate", 72, 2_400_000, 3_400_000},
	{"thin kerf", 40, 1_600_000, 2_400_000},
	{"combination", 50, 2_100_000, 3_000_000},
	{"plywood", 60, 2_000_000, 3_000_000},
	{"mitre", 96, 2_300_000, 3_100_000},
}

// knives stand behind kerfs of every sort.
var knives = []model.Knife{
	{ID: "k20", Thickness: model.Length(2_000_000).Of(model.MM)},
	{ID: "k25", Thickness: model.Length(2_500_000).Of(model.MM)},
	{ID: "k28", Thickness: model.Length(2_800_000).Of(model.MM)},
}

// kit is what a shop buys: the metric sizes of the trade.
var kit = []model.Length{50_000, 100_000, 150_000, 200_000, 250_000, 300_000, 500_000}

// Shop is the shop of a seed: a saw with the given flange, four to eight blades as read on
// the bench, a kit of rings of which some were measured, and the saw as it truly is. Reference
// and standing stack are not chosen.
func Shop(seed uint64, flange model.Flange) (model.Profile, simsaw.Saw) {
	name := fnv.New64a()
	name.Write([]byte("shop"))
	r := rand.New(rand.NewPCG(seed, name.Sum64()))
	mm := func(l model.Length) model.Measure { return l.Of(model.MM) }
	p := model.Profile{
		Version: model.FormatVersion, Name: fmt.Sprintf("shop-%d", seed), Units: model.MM,
		Tolerance: mm(50_000), Rules: model.RulesEN, WorkingWidth: mm(120 * model.Millimetre), Knives: slices.Clone(knives),
		Instruments: model.Instruments{Caliper: mm(10_000), Micrometer: mm(1_000)},
		Saw: model.Saw{
			Label: "Invented saw", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: flange,
			FlangeDiameter: mm(80 * model.Millimetre), FlangeRelief: mm(50 * model.Millimetre), ArborDiameter: mm(30 * model.Millimetre),
			PlainPart: mm(12 * model.Millimetre), ThreadEnd: mm(between(r, 60, 70) * model.Millimetre / 2), LooseFlange: mm(8 * model.Millimetre), Nut: mm(12 * model.Millimetre), ThreadPitch: mm(2 * model.Millimetre), ThroatLength: mm(360 * model.Millimetre),
		},
	}
	if flange == model.Near {
		p.Saw.Tilt = model.TiltRight
	}
	p.Rings = buy(r)
	truth := map[string]simsaw.Blade{}
	for _, i := range r.Perm(len(sorts))[:4+r.IntN(5)] {
		sort := sorts[i]
		plate := sort.plate + between(r, -60_000, 60_000)
		kerf := max(sort.kerf+between(r, -80_000, 80_000), plate+500_000)
		b := model.Blade{
			ID: fmt.Sprintf("b%d", sort.teeth), Label: fmt.Sprintf("%d-tooth %s", sort.teeth, sort.name), Teeth: sort.teeth,
			Diameter: mm(250 * model.Millimetre), Bore: mm(30 * model.Millimetre), Knife: fitting(plate, kerf),
		}
		truth[b.ID] = simsaw.Blade{Diameter: b.Diameter.Length, Plate: plate, Kerf: kerf, Wobble: cmplx.Rect(float64(between(r, 2_000, 12_000)), r.Float64()*2*math.Pi)}
		b.Plate, b.Kerf = readings(r, plate), readings(r, kerf)
		p.Blades = append(p.Blades, b)
	}
	return p, simsaw.Knowing(p, seed, truth)
}

// buy is a kit: one or two of each of most sizes, half of the sorts measured.
func buy(r *rand.Rand) []model.Ring {
	var out []model.Ring
	for _, size := range kit {
		if r.IntN(8) == 0 {
			continue
		}
		ring := model.Ring{ID: fmt.Sprintf("r%03d", size/10_000), Thickness: size.Of(model.MM), Count: 1 + r.IntN(2), Outer: (78 * model.Millimetre).Of(model.MM)}
		if r.IntN(2) == 0 {
			ring.Measured = micrometer(size + between(r, -15_000, 15_000))
		}
		out = append(out, ring)
	}
	return out
}

// fitting is a knife that a blade may run with; where there is none, the thinnest.
func fitting(plate, kerf model.Length) string {
	for _, k := range knives {
		if k.Thickness.Length >= plate+model.DefaultKnifeMargin+10_000 && k.Thickness.Length < kerf-10_000 {
			return k.ID
		}
	}
	return knives[0].ID
}

// readings are three of a micrometer that scatters by 0.001 mm.
func readings(r *rand.Rand, of model.Length) []model.Measure {
	out := make([]model.Measure, 3)
	for i := range out {
		off := model.Length(-6_000) // the sum of twelve even draws is nearly normal
		for range 12 {
			off += between(r, 0, 1_000)
		}
		out[i] = micrometer(of + off)
	}
	return out
}

// micrometer is a length to the step of a micrometer.
func micrometer(l model.Length) model.Measure {
	return (model.Length(math.Round(float64(l)/1_000)) * 1_000).Of(model.MM)
}

func between(r *rand.Rand, lo, hi model.Length) model.Length {
	return lo + model.Length(r.Int64N(int64(hi-lo)+1))
}
