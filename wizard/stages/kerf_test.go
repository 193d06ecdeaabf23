package stages

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

// stance is where a knife stands: its fence-side face up to gap behind the datum face, and at
// the most proud in front of it.
type stance struct{ gap, proud model.Length }

// feels takes what was felt at a knife, of which the cut of the blade that it was felt at is
// wide by o (job.md, Knife check with the blade on; 0 at a gauge board).
func (b *trueSaw) feels(text string, d done, o model.Length) {
	ms, err := model.ParseReadings(text, d.Context().Unit())
	if err != nil {
		return
	}
	ls := model.Lengths(ms)
	if b.stands == nil {
		b.stands = map[string]stance{}
	}
	b.stands[b.knife] = stance{max(slices.Max(ls)+o, 0), max(-(slices.Min(ls) + o), 0)}
}

// inKerf is the last clause of R2: no rip is asked for whose cut, wide by o as measured else
// predicted, leaves the knife outside its kerf: o beyond 0.1 mm, or g - o beyond K - T. For the
// gauge board the straightedge stands in for it. What strips come to is worked out simpler here
// than in the program, so that 0.02 mm more is no fault yet.
func (b trueSaw) inKerf(v procedure.View) error {
	d, c := deeds[v.Place.Step], v.Context()
	if !d.spins || v.Correcting || v.Place.Step == "first" || v.Place.Step == "boards" {
		return nil
	}
	knife, _ := c.Profile.KnifeByID(b.knife)
	stands, felt := b.stands[b.knife]
	if !felt {
		stands.gap = mm / 10
	}
	_, kerf := thicknessOf(c.Profile, b.blade)
	const slack = mm / 50
	o, from := offsetOf(c.Profile, b.blade, b.rings)
	if o+stands.proud > mm/10+slack || stands.gap-o > kerf-knife.Thickness.Length+slack {
		return fmt.Errorf("R2: %s rips with the %s: wide by %d nm, %s; its knife stands %+v nm to the datum, with %d nm of play", v.Place, b.blade, o, from, stands, kerf-knife.Thickness.Length)
	}
	return nil
}

// thicknessOf are plate and kerf of a blade as they were read last.
func thicknessOf(p model.Profile, id string) (plate, kerf model.Length) {
	b, _ := p.BladeByID(id)
	plate, kerf = shop.Read(b.Plate), shop.Read(b.Kerf)
	for _, r := range p.Records {
		if r.Blade == id && len(r.Kerf) > 0 {
			plate, kerf = shop.Read(r.Plate), shop.Read(r.Kerf)
		}
	}
	return plate, kerf
}

// offsetOf is how much wider than the reference a blade with rings cuts: by its strips under
// the newest lock that has some of it and of the reference, since either was sharpened; else
// by those that it ripped with other rings, moved by what these are higher; else as job.md's
// table of the geometry has it.
func offsetOf(p model.Profile, blade, rings string) (o model.Length, from string) {
	if blade == p.Reference && rings == strings.Join(p.Standing, " ") {
		return 0, "by its name"
	}
	own, datum := map[string][]model.Length{}, map[string][]model.Length{} // by lock; own by rings too
	lock, other, stands := "", "", ""
	for _, r := range p.Records {
		switch r.Kind {
		case model.FenceLock:
			stands = r.Lock
		case model.FenceMoved:
			stands = ""
		}
		if r.Kind == model.StripCut && r.Lock != stands { // by a slow clock, the other shift's: the fence was moved in between
			continue
		}
		for _, c := range p.Records {
			if c.Kind == model.Correction && c.Of == r.Ref() && r.Kind == model.StripCut {
				r.Readings = c.Readings
			}
		}
		switch {
		case r.Kind == model.Sharpened || r.Kind == model.Remeasured && r.Back:
			if r.Blade == blade || r.Blade == p.Reference {
				clear(own)
				clear(datum)
				lock, other = "", ""
			}
		case r.Kind == model.Felt && r.Blade == blade: // inside the kerf of which strips say otherwise: those tell nothing any more
			_, kerf := thicknessOf(p, blade)
			knife, _ := p.KnifeByID(r.Knife)
			faces := model.Lengths(r.Faces)
			if min(faces[0], faces[1]) >= -mm/10 && max(faces[0], faces[1]) <= kerf-knife.Thickness.Length {
				maps.DeleteFunc(own, func(key string, _ []model.Length) bool { return strings.HasSuffix(key, "/"+strings.Join(r.Rings, " ")) })
				lock, other = "", ""
			}
		case r.Kind == model.StripCut && r.Blade == p.Reference && r.For == model.Datum && slices.Equal(r.Rings, p.Standing):
			datum[r.Lock] = append(datum[r.Lock], shop.Read(r.Readings))
		case r.Kind == model.StripCut && r.Blade == blade && len(r.Readings) > 0:
			key := r.Lock + "/" + strings.Join(r.Rings, " ")
			own[key] = append(own[key], shop.Read(r.Readings))
			other = key
		}
		if len(own[r.Lock+"/"+rings]) > 0 && len(datum[r.Lock]) > 0 {
			lock = r.Lock
		}
	}
	if lock != "" {
		return form.Mean(own[lock+"/"+rings]) - form.Mean(datum[lock]), "by its strips"
	}
	if under, cut, ok := strings.Cut(other, "/"); ok && len(datum[under]) > 0 {
		was, _ := p.StackHeight(strings.Fields(cut))
		now, _ := p.StackHeight(strings.Fields(rings))
		o = form.Mean(own[other]) - form.Mean(datum[under])
		if p.Saw.Flange == model.Near {
			return o + now - was, "by its strips with " + cut
		}
		return o - now + was, "by its strips with " + cut
	}
	face := func(id string, rings []string) model.Length {
		plate, kerf := thicknessOf(p, id)
		height, _ := p.StackHeight(rings)
		if p.Saw.Flange == model.Near {
			return -height + (kerf-plate)/2
		}
		return height + (plate+kerf)/2
	}
	return face(p.Reference, p.Standing) - face(blade, strings.Fields(rings)), "as predicted"
}
