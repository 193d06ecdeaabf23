package simsaw_test

import (
	"reflect"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/testdata/invented"
)

// The same seed is the same saw and the same readings, to the nanometre, on every
// platform; another seed is another. The figures hold this from release to release.
func TestSeedDecides(t *testing.T) {
	const width = 120 * model.Millimetre
	p, s := invented.Shop(7, model.Far)
	again, s2 := invented.Shop(7, model.Far)
	if !reflect.DeepEqual(p, again) {
		t.Error("one seed, two profiles")
	}
	on := simsaw.Setup{Blade: p.Blades[0].ID, Rings: []string{p.Rings[0].ID}}
	read := func(s simsaw.Saw) []model.Length { return s.ReadStrip(s.RipStrip(on, s.SetFence(width)), 0, 5) }
	first, second := read(s), read(s2)
	if !reflect.DeepEqual(first, second) || s.CutFace(on.Blade, nil) != s2.CutFace(on.Blade, nil) {
		t.Errorf("one seed, two saws: %v, %v", first, second)
	}
	if want := []model.Length{120_050_000, 120_050_000, 120_050_000, 120_040_000, 120_050_000}; !reflect.DeepEqual(first, want) || on.Blade != "b96" {
		t.Errorf("seed 7 reads %v with %s", first, on.Blade)
	}
	face := s.CutFace(on.Blade, on.Rings)
	if fence := s.Rip(on, s.SetFence(width)) + face; face != 2_745_371 || fence != 122_793_277 {
		t.Errorf("seed 7 cuts at %d, fence at %d", face, fence)
	}
	if other, _ := invented.Shop(8, model.Far); reflect.DeepEqual(p.Blades, other.Blades) {
		t.Error("two seeds, one rack")
	}
}

func TestInventedShopsAreSound(t *testing.T) {
	for seed := range uint64(60) {
		for _, flange := range []model.Flange{model.Far, model.Near} {
			p, s := invented.Shop(seed, flange)
			if p.Saw.Flange != flange || len(p.Blades) < 4 || len(p.Rings) < 3 {
				t.Fatalf("seed %d: %d blades, %d rings", seed, len(p.Blades), len(p.Rings))
			}
			for _, b := range p.Blades {
				knife, ok := p.KnifeByID(b.Knife)
				if !ok || len(b.Plate) != 3 || len(b.Kerf) != 3 || b.Kerf[0].Length <= b.Plate[0].Length {
					t.Errorf("seed %d: %+v", seed, b)
				}
				for _, l := range s.Kerf(b.ID, 3) {
					if l <= knife.Thickness.Length {
						t.Errorf("seed %d: %s does not go over its knife", seed, b.ID)
					}
					if off := (l - b.Kerf[0].Length).Abs(); off > 10_000 {
						t.Errorf("seed %d: %s reads %s beside what was read on the bench", seed, b.ID, off.Of(model.MM))
					}
				}
			}
		}
	}
}
