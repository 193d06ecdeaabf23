package picture

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// TestKnifeOutOfItsKerf: wide by more than a tenth the knife stands out by the whole of it,
// whatever its play and the tolerance; narrow by what gap and offset leave of the play.
func TestKnifeOutOfItsKerf(t *testing.T) {
	section := func(kerf, knife, wide, gap model.Length) ArborSection {
		a := ArborSection{Flange: model.Far, FenceSide: model.SideRight, Plate: mm * 2, Kerf: kerf, Knife: knife, Gap: gap, HasDatum: true, Tolerance: mm / 2}
		a.Datum = (a.Plate+a.Kerf)/2 + wide
		a.KnifeFace = a.Datum
		return a
	}
	for _, v := range []struct {
		a    ArborSection
		says string
	}{
		{section(mm*32/10, mm*26/10, mm*45/100, mm/10), "stands 0.45 mm into the part"},
		{section(mm*32/10, mm*26/10, mm/10, mm/10), "stands inside the kerf"},
		{section(mm*32/10, mm*29/10, -mm*345/1000, mm/10), "into the offcut"},
		{section(mm*32/10, mm*29/10, -mm/5, mm/10), "stands inside the kerf"},
		{section(mm*32/10, mm*29/10, -mm/4, mm/10), "stands 0.05 mm into the offcut"},
	} {
		if got := v.a.Sentence(); !strings.Contains(got, v.says) {
			t.Errorf("no %q in %s", v.says, got)
		}
	}
}

// TestThicknessesBesideTheSection: plate and kerf stand there in either unit; where there is no room
// for the unit, without it.
func TestThicknessesBesideTheSection(t *testing.T) {
	a := withRings(thin, mm/10, mm/2)
	for unit, want := range map[model.Unit][]string{model.MM: {"plate 1.800 mm", "teeth 2.400 mm"}, model.IN: {"plate 0.0709", "teeth 0.0945"}} {
		a.Figures = Figures{Unit: unit, Resolution: map[model.Unit]model.Length{model.MM: mm / 1000, model.IN: model.Thou / 10}[unit]}
		text := a.Draw(76, 8, Look{})
		for _, w := range want {
			if !strings.Contains(text, w) {
				t.Errorf("no %q in\n%s", w, text)
			}
		}
	}
}

// TestAstrayRings: rings that do not go on here are never called inside the tolerance.
func TestAstrayRings(t *testing.T) {
	a := withRings(thin, mm/10, mm/2)
	a.Astray = true
	text := a.Draw(110, 30, Look{Charset: ASCII})
	if !strings.Contains(text, "these are not the rings that go on here") || strings.Contains(text, "tolerance") || strings.Contains(text, "at the datum") {
		t.Error(text)
	}
}
