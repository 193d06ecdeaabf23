package solver

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

func moves(before, after model.Profile) string { return strings.Join(WhatIf(before, after), "; ") }

// In the invented shop rip and fine want 0.2, thin 0.6; two rings of 0.1, two of 0.2, one
// of 0.5; the knife of 2.5 wedges in the kerf of thin, 2.4.
func TestWhatIf(t *testing.T) {
	p := shop()
	p.Reference, p.Standing = "", nil
	few := p
	few.Rings = p.Rings[1:2]
	few.Rings[0].Count = 1
	for _, c := range []struct {
		name  string
		after model.Profile
		of    model.Profile
		say   string
	}{
		{"a ring too many lost", lostRing(p, "r50"), p, ""},
		{"a ring lost", lostRing(few, "r20"), few, "the rip can't be brought in any more; the fine can't be brought in any more"},
		{"a knife for thin", BoughtKnife(p, "thin", given.Typed(2.1)), p, "the thin can be brought in, with 0.10 mm + 0.50 mm"},
		{"a knife for thin without its ring", BoughtKnife(few, "thin", given.Typed(2.1)), few, ""},
		{"a ring that helps nobody", boughtRing(few, given.Typed(1)), few, ""},
	} {
		if got := moves(c.of, c.after); got != c.say {
			t.Errorf("%s: %q, want %q", c.name, got, c.say)
		}
	}
	if p.Rings[2].Count != 1 || len(p.Knives) != 1 || p.Blades[3].Knife != "k25" {
		t.Error("the shop itself was changed")
	}
}

// With a near flange the blade with the least side clearance is the reference: thin, with
// (2.4 - 1.9)/2 = 0.25 mm, once a knife fits it; until then fine, with 0.3 mm.
func TestAKnifeToComeMovesTheReference(t *testing.T) {
	p := shop()
	p.Saw.Flange, p.Saw.Tilt = model.Near, model.TiltRight
	p.Blades[3].Plate = thrice(1.9)
	p.Reference, p.Standing = "", nil
	if plan := Judge(p, time.Time{}); plan.Reference != "fine" {
		t.Fatalf("reference %s", plan.Reference)
	}
	got := KnivesToCome(p)
	if len(got) != 1 || !given.Has(got, "knife-to-come", "the thin", "from 2.10 mm to under 2.40 mm", "thin becomes the reference in place of the fine", "before anything is cut") {
		t.Errorf("%v", got)
	}
	p.Blades[3].Knife = ""
	if got := KnivesToCome(p); !given.Has(got, "knife-to-come", "thin becomes the reference") {
		t.Errorf("a blade that names no knife: %v", got)
	}
	if got := KnivesToCome((&days{p: p}).do(model.Record{Kind: model.FenceLock, Lock: "l1", Width: given.Typed(120)}).p); len(got) != 0 {
		t.Errorf("once something was cut: %v", got)
	}
	p = BoughtKnife(p, "thin", given.Typed(2.1))
	if got := KnivesToCome(p); len(got) != 0 {
		t.Errorf("every blade has its knife: %v", got)
	}
}

// lostRing is the shop with one ring of a sort less.
func lostRing(p model.Profile, id string) model.Profile {
	p.Rings = slices.Clone(p.Rings)
	for i := range p.Rings {
		if p.Rings[i].ID == id && p.Rings[i].Count > 0 {
			p.Rings[i].Count--
		}
	}
	return p
}

// boughtRing is the shop with a ring more, known by its nominal thickness.
func boughtRing(p model.Profile, thickness model.Measure) model.Profile {
	p.Rings = append(slices.Clone(p.Rings), model.Ring{ID: "bought " + thickness.String(), Thickness: thickness, Count: 1})
	return p
}
