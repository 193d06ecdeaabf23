package stages

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/wizard/stages/shop"

	"example.com/sawdatum/model"
)

// TestOfEqualsTheCommonKnife: where two blades reach as far, within what the micrometer tells,
// the one that runs with the knife of most blades is offered, and the other is named.
func TestOfEqualsTheCommonKnife(t *testing.T) {
	w := to(t, "datum")
	alike := func(apart model.Length, knife string) context {
		return w.Now().WithHead(func(p *model.Profile) {
			p.Knives = append(slices.Clone(p.Knives), model.Knife{ID: "k26", Thickness: model.Measure{Length: mm * 26 / 10, Unit: model.MM}})
			p.Blades = slices.Clone(p.Blades)
			p.Blades[0].Knife = knife // the 48-tooth general, the reference by the figures
			p.Blades[1].Plate, p.Blades[1].Kerf = slices.Clone(p.Blades[0].Plate), slices.Clone(p.Blades[0].Kerf)
			for i := range p.Blades[1].Kerf {
				p.Blades[1].Kerf[i].Length -= 2 * apart
			}
		})
	}
	for _, c := range []struct {
		apart model.Length
		knife string
		want  string
	}{{500, "k26", "24-tooth-rip"}, {500, "k25", "48-tooth-general"}, {0, "k26", "24-tooth-rip"}, {3000, "k26", "48-tooth-general"}} {
		now := alike(c.apart, c.knife)
		if got := shop.OfferedDatum(now).Plan.Reference; got != c.want {
			t.Errorf("%s apart, knife %s: %s is offered, not %s", c.apart.Of(model.MM), c.knife, got, c.want)
		}
		said := strings.Contains(fmt.Sprint(shop.DatumWords(now, answers{"reference": "48-tooth general", "standing": "none"})), "equal within what is known")
		if said != (c.apart <= 1000) {
			t.Errorf("%s apart: said to be equal: %v", c.apart.Of(model.MM), said)
		}
	}
}

// TestEqualsAreNamedInTheOrder: where another blade would do as well an order says so.
func TestEqualsAreNamedInTheOrder(t *testing.T) {
	for twins, says := range map[int]string{0: "Take the 48-tooth general, no rings behind it, as the reference.", 1: "would do as well: the 24-tooth rip.", 2: "would do as well: the 24-tooth rip, 1 more."} {
		h := fresh(t, func(p *model.Profile) {
			p.Blades = slices.Clone(p.Blades)
			for i := range twins {
				p.Blades[1+i].Plate, p.Blades[1+i].Kerf = p.Blades[0].Plate, p.Blades[0].Kerf
			}
		}).upTo("datum")
		if do := strings.Join(h.p.View().Do, " "); !strings.HasSuffix(do, says) {
			t.Errorf("%d as good: %s", twins, do)
		}
	}
}

// TestNoReferenceWithoutAKnife: where no blade has a knife that fits it none is offered, and none is
// taken; the way out is said, and not another blade.
func TestNoReferenceWithoutAKnife(t *testing.T) {
	for _, c := range []struct {
		knifeless int // so many of the five blades
		orders    string
		wrong     string
	}{{5, "none can be the reference", "say which knife runs with each"}, {1, "Take the 96-tooth laminate", "choose another"}} {
		p := to(t, "datum").Profile()
		p.Blades = slices.Clone(p.Blades)
		for i := range c.knifeless {
			p.Blades[i].Knife = ""
		}
		w := begin(t, p)
		for w.View().Place.Step != "datum" {
			typed := map[string][]string{"rack": {"more", "whole"}, "rings": {"add", "whole"}}
			if err := w.try(answered(w.View(), typed[w.View().Place.Step]...)); err != nil {
				t.Fatal(w.View().Place, err)
			}
		}
		if orders := strings.Join(w.View().Do, " "); !strings.Contains(orders, c.orders) || strings.Contains(orders, "Take the 48-tooth general") {
			t.Errorf("%d without a knife: %s", c.knifeless, orders)
		}
		w.refused("reference", c.wrong, "reference", "48-tooth general", "standing", "none")
	}
}
