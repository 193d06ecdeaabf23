package procedure

import (
	"strings"

	"example.com/sawdatum/model"
)

// Unit is the unit that this shop reads in: MM or IN.
func (c Context) Unit() model.Unit {
	if c.Profile.Units == model.IN {
		return model.IN
	}
	return model.MM
}

// Pick is one of two texts: for a shop that reads millimetres, or inches.
func (c Context) Pick(mm, in string) string {
	if c.Unit() == model.IN {
		return in
	}
	return mm
}

// Show is a length as this shop reads it.
func (c Context) Show(l model.Length) string { return l.Show(c.Unit(), 0) }

// Result is a computed length: one digit more than the caliper shows.
func (c Context) Result(l model.Length) string {
	return l.Show(c.Unit(), model.Computed(c.Profile.Instruments.Caliper.Length, c.Unit()))
}

// Side says how far and on which side of the datum a blade cuts, from its offset.
func (c Context) Side(offset model.Length) string {
	shown := c.Result(offset.Abs())
	switch {
	case shown == c.Result(0):
		return "at the datum"
	case offset > 0:
		return shown + " wide"
	}
	return shown + " narrow"
}

// Name is a blade as people call it.
func (c Context) Name(id string) string {
	if id == "" {
		return "blade"
	}
	return c.Profile.BladeName(id)
}

// Rings names rings in the order in which they go on.
func (c Context) Rings(ids []string) string { return c.Profile.RingNames(ids) }

// RingsTyped are rings as somebody types them: 0.10 0.25, or none. One that is printed in
// the other unit has that behind it.
func (c Context) RingsTyped(ids []string) string {
	if len(ids) == 0 {
		return "none"
	}
	out := make([]string, len(ids))
	for i, id := range ids {
		r, _ := c.Profile.RingByID(id)
		out[i] = strings.ReplaceAll(strings.TrimSuffix(r.Label(), " "+c.Unit().Label()), " ", "")
	}
	return strings.Join(out, " ")
}

// Knives are the riving knives that the shop has: those that are gone are not among them.
func (c Context) Knives() []model.Knife { return c.State.There(c.Profile.Knives) }

// Knife is the knife that a blade names; false where it names none that the shop has.
func (c Context) Knife(blade string) (model.Knife, bool) {
	b, _ := c.Profile.BladeByID(blade)
	k, named := c.Profile.KnifeByID(b.Knife)
	return k, named && c.State.Gone[k.ID] == nil
}

// Bare is a length as this shop types it, without its unit.
func (c Context) Bare(l model.Length) string {
	number, _, _ := strings.Cut(l.Show(c.Unit(), c.Profile.Instruments.Caliper.Length), " ")
	return number
}

// Size is a knife as it is called and typed, without its unit.
func (c Context) Size(l model.Length) string {
	text := l.Size(c.Unit(), c.Profile.Instruments.Caliper.Length)
	return text[:strings.LastIndex(text, " ")]
}

// Short is a length as people write it down: without its unit, and without noughts at its end.
func (c Context) Short(l model.Length) string {
	text := c.Bare(l)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}
