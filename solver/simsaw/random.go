package simsaw

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"example.com/sawdatum/model"
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

// Random is a whole shop that a seed invents: a saw with the given flange, four to
// eight blades as read on the bench, a kit of rings of which some were measured, and
// the saw as it truly is. Reference and standing stack are not chosen.
func Random(seed uint64, flange model.Flange) (model.Profile, Saw) {
	r := chance(seed, "shop")
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
	bench := Saw{random: r, micrometer: instrument{step: 1_000, scatter: 1_000}}
	truth := map[string]blade{}
	for _, i := range r.Perm(len(sorts))[:4+r.IntN(5)] {
		sort := sorts[i]
		plate := sort.plate + between(r, -60_000, 60_000)
		kerf := max(sort.kerf+between(r, -80_000, 80_000), plate+500_000)
		b := model.Blade{
			ID: fmt.Sprintf("b%d", sort.teeth), Label: fmt.Sprintf("%d-tooth %s", sort.teeth, sort.name), Teeth: sort.teeth,
			Diameter: mm(250 * model.Millimetre), Bore: mm(30 * model.Millimetre), Knife: fitting(plate, kerf),
		}
		truth[b.ID] = blade{diameter: b.Diameter.Length, plate: plate, kerf: kerf, wobble: turned(float64(between(r, 2_000, 12_000)), r.Float64()*360)}
		b.Plate, b.Kerf = typed(bench.readings(bench.micrometer, plate, 3)), typed(bench.readings(bench.micrometer, kerf, 3))
		p.Blades = append(p.Blades, b)
	}
	s := New(p, seed)
	s.blades, s.anchor = truth, blade{}
	return p, s.anchored(p)
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
			ring.Measured = stepped(size+between(r, -15_000, 15_000), 1_000).Of(model.MM)
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

func typed(ls []model.Length) []model.Measure {
	out := make([]model.Measure, len(ls))
	for i, l := range ls {
		out[i] = l.Of(model.MM)
	}
	return out
}
