// Package tell has what both faces say, sentence by sentence: what is known of the saw, of
// the readings in a field, of the blades, and where the work is kept.
package tell

import (
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
)

// Fact is one thing that the program knows of the saw, under its head: a name, which may be
// cut where there is little room, and what is never cut.
type Fact struct{ Head, Name, Value string }

// Words are name and value in one.
func (f Fact) Words() string { return strings.TrimSpace(f.Name + f.Value) }

// Saw is what the program knows of the saw: power, arbor, fence, knife. Power comes
// first and is never left out.
func Saw(p procedure.Procedure) []Fact {
	name, rings := arborWords(p)
	return []Fact{{"POWER", "", PowerWords(p)}, {"ON THE ARBOR", name, rings}, {"FENCE", "", fenceWords(p)}, {"KNIFE", "", knifeWords(p)}}
}

// PowerNow is what is known of the power: nothing, while nobody vouches that it is still
// isolated.
func PowerNow(p procedure.Procedure) (interlock.Power, procedure.PowerSince) {
	power, since := p.Power()
	if power == interlock.Isolated && p.Now().Lock.Hands() == (interlock.Hands{}) {
		return interlock.Unknown, since
	}
	return power, since
}

// PowerWords say what is known of the power; what is not known counts as live.
func PowerWords(p procedure.Procedure) string {
	power, since := PowerNow(p)
	switch power {
	case interlock.Isolated:
		return strings.TrimSpace("isolated " + since.Since.Format("15:04") + " " + since.By)
	case interlock.Live:
		return " LIVE "
	}
	return "unknown: treat as live"
}

// arborWords name the blade on the arbor, and the rings behind it in the shop's unit.
func arborWords(p procedure.Procedure) (name, rings string) {
	on, known := p.Now().Lock.On()
	switch {
	case !known && p.State().Seen && p.State().On.Blade != "":
		return p.Profile().BladeName(p.State().On.Blade), ", by the records"
	case !known:
		return "", "not known"
	case on.Blade == "":
		return "", "bare"
	}
	b, ok := p.Profile().BladeByID(on.Blade)
	if !ok {
		return "", "another blade"
	}
	ids := strings.Fields(on.Rings)
	if len(ids) == 0 {
		return b.Name(), ", no rings"
	}
	for i, id := range ids {
		r, _ := p.Profile().RingByID(id)
		ids[i], _, _ = strings.Cut(r.Label(), " ")
	}
	return b.Name(), " " + strings.Join(ids, "+")
}

func fenceWords(p procedure.Procedure) string {
	switch s := p.State(); {
	case s.Lock == "":
		return "not locked"
	case p.Now().Lock.Next(interlock.Need{Lock: s.Lock}) != interlock.Open:
		return "not known"
	case s.Width.Unit == model.Fraction && p.Now().Unit() == model.IN: // as it was set: 5 1/2, and not 5.5
		return "locked " + strings.TrimSuffix(s.Width.String(), " in")
	default:
		return "locked " + p.Now().Short(s.Width.Length)
	}
}

func knifeWords(p procedure.Procedure) string {
	on, known := p.Now().Lock.On()
	id := on.Knife
	if !known {
		id = p.State().On.Knife
	}
	k, ok := p.Profile().KnifeByID(id)
	size := strings.TrimPrefix(p.Now().Size(k.Thickness.Length), "0") // .098 in an inch shop
	switch {
	case !ok && known && on.Knife != "":
		return "in, unknown" // it stayed in a saw of which nothing is on file yet
	case !ok && known:
		return "out"
	case !ok:
		return "not known"
	case p.State().Knives[id].Unknown:
		return size + " not set"
	}
	return size + " set"
}
