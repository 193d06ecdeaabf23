package model

import (
	"fmt"
	"slices"
	"strings"
)

// Finding is one thing wrong with a profile.
type Finding struct {
	Path    string // key path: blades[2].kerf[0]
	Fault   string // what is wrong
	Cure    string // what would be right
	Missing bool   // not a fault yet in a profile that is still being filled in
	Doubt   bool   // it can be read, and is hardly so at any saw
}

func (f Finding) Error() string { return f.Path + ": " + f.Fault + ": " + f.Cure }

// Validate reports everything in a profile that cannot be, and, with Missing set,
// what has not been filled in yet, all in one go. Paths are those of the file.
func (p Profile) Validate() []Finding { return p.ValidateFrom(0) }

// ValidateFrom is Validate where the first so many records are known to be good, as
// those of a file that was read: it costs little however many they are.
func (p Profile) ValidateFrom(first int) []Finding {
	v := &validation{profile: p}
	v.head()
	v.saw()
	v.lists()
	v.datum()
	v.records(first)
	return v.findings
}

type validation struct {
	profile  Profile
	findings []Finding
}

func (v *validation) add(path, cure, fault string, a ...any) {
	v.findings = append(v.findings, Finding{Path: path, Fault: fmt.Sprintf(fault, a...), Cure: cure})
}

func (v *validation) missing(path, cure string) {
	v.findings = append(v.findings, Finding{Path: path, Fault: "is missing", Cure: cure, Missing: true})
}

// least is the smallest length that can be.
type least uint8

const (
	anyLength least = iota
	notNegative
	positive
)

func (v *validation) length(path string, m Measure, l least) bool {
	switch {
	case m.Length.Abs() > MaxLength:
		v.add(path, "check the digits and the unit", "%s is larger than anything on a saw", m)
	case l == positive && m.Length <= 0:
		v.add(path, "write a length above zero", "%s cannot be", m)
	case l == notNegative && m.Length < 0:
		v.add(path, "write zero or more", "%s is negative", m)
	default:
		return true
	}
	return false
}

// wanted is a length of the head that a whole profile has.
func (v *validation) wanted(path string, m Measure, l least) bool {
	if m.Unit == NoUnit {
		v.missing(path, "write a length with its unit, such as 0.25 mm")
		return false
	}
	return v.length(path, m, l)
}

// possible is a length of the head that a profile may go without.
func (v *validation) possible(path string, m Measure, l least) {
	if m.Unit != NoUnit {
		v.length(path, m, l)
	}
}

func (v *validation) text(path, s string) {
	if fault := TextFault(s); fault != "" {
		v.add(path, "write at most 200 characters that can be seen", "%s", fault)
	}
}

func oneOf[V ~string](v *validation, path string, value V, options ...V) {
	list := make([]string, len(options))
	for i, o := range options {
		list[i] = string(o)
	}
	switch cure := "write " + strings.Join(list, " or "); {
	case value == "":
		v.missing(path, cure)
	case !slices.Contains(options, value):
		v.add(path, cure, "%q is not one of the words known here", Clip(string(value)))
	}
}

func (v *validation) head() {
	p := v.profile
	switch {
	case p.Name == "":
		v.missing("name", "write a short name, such as bay-two")
	case !NameForm.MatchString(p.Name):
		v.add("name", "use letters, digits, - and _, such as bay-two", "%q cannot be a profile's name", Clip(p.Name))
	}
	if p.Units != MM && p.Units != IN {
		v.missing("units", "write mm or in")
	}
	v.wanted("tolerance", p.Tolerance, positive)
	v.wanted("working_width", p.WorkingWidth, positive)
	v.possible("knife_margin", p.KnifeMargin, notNegative)
	if p.ProveEvery < 0 || p.ProveEvery > MaxProveEvery {
		v.add("prove_every", fmt.Sprintf("write 1 to %d days, or take the key out for never", MaxProveEvery), "%d days cannot be", p.ProveEvery)
	}
	oneOf(v, "rules", p.Rules, RulesEN, RulesUS)
	v.possible("half_runout", p.HalfRunout, notNegative)
	v.possible("ring_half_width", p.RingHalfWidth, notNegative)
	if p.IdleMinutes < 0 || p.IdleMinutes > MaxIdleMinutes {
		v.add("idle_minutes", fmt.Sprintf("write 1 to %d", MaxIdleMinutes), "%d minutes cannot be", p.IdleMinutes)
	}
	v.wanted("instruments.caliper.resolution", p.Instruments.Caliper, positive)
	v.possible("instruments.caliper.range", p.Instruments.CaliperRange, positive)
	v.wanted("instruments.micrometer.resolution", p.Instruments.Micrometer, positive)
}

func (v *validation) lists() {
	p := v.profile
	ids := map[string]string{} // by their looks
	if len(p.Knives) == 0 {
		v.missing("knives", "write one knife at least: {id: k25, thickness: 2.5 mm}")
	}
	for i, k := range p.Knives {
		at := fmt.Sprintf("knives[%d]", i)
		v.id(at+".id", k.ID, ids)
		v.wanted(at+".thickness", k.Thickness, positive)
	}
	ids = map[string]string{}
	if len(p.Blades) < 2 {
		v.missing("blades", "write two blades at least: one is the reference for the others")
	}
	for i, b := range p.Blades {
		at := fmt.Sprintf("blades[%d]", i)
		v.id(at+".id", b.ID, ids)
		v.blade(at, b)
	}
	v.names()
	ids = map[string]string{}
	pieces := 0
	for i, r := range p.Rings {
		at := fmt.Sprintf("rings[%d]", i)
		v.id(at+".id", r.ID, ids)
		v.wanted(at+".thickness", r.Thickness, positive)
		v.possible(at+".measured", r.Measured, positive)
		v.possible(at+".outer", r.Outer, positive)
		v.possible(at+".half_width", r.HalfWidth, notNegative)
		if r.Outer.Unit != NoUnit && r.Outer.Length > 0 && r.Outer.Length <= p.Saw.ArborDiameter.Length {
			v.add(at+".outer", "write the outer diameter of the ring", "a ring of %s does not go over the arbor of %s", r.Outer, p.Saw.ArborDiameter)
		}
		v.possible(at+".bore", r.Bore, positive)
		if r.Bore.Unit != NoUnit && r.Bore.Length > 0 && r.Bore.Length < p.Saw.ArborDiameter.Length {
			v.add(at+".bore", "measure it again, or take the ring out", "a bore of %s does not go over the arbor of %s", r.Bore, p.Saw.ArborDiameter)
		}
		if r.Bore.Unit != NoUnit && r.Outer.Unit != NoUnit && r.Bore.Length >= r.Outer.Length {
			v.add(at+".bore", "were the two swapped?", "a bore of %s is as large as the ring of %s", r.Bore, r.Outer)
		}
		if r.Count < 0 {
			v.add(at+".count", "write how many there are, 0 for none left", "%d rings cannot be", r.Count)
		}
		pieces += max(r.Count, 0)
	}
	if pieces > MaxRingKit {
		v.add("rings", fmt.Sprintf("keep at most %d", MaxRingKit), "%d rings are more than a stack is searched among", pieces)
	}
}

// names holds the labels of the rack apart from each other, and from the ids.
func (v *validation) names() {
	taken := map[string]Blade{} // by their looks
	for _, b := range v.profile.Rack() {
		taken[look(b.ID)] = b
	}
	for i, b := range v.profile.Blades {
		if b.Retired || b.Label == "" {
			continue
		}
		name := look(b.Label)
		if other, ok := taken[name]; ok && other.ID != b.ID {
			v.add(fmt.Sprintf("blades[%d].label", i), "give each blade of the rack a name of its own", "%q can be taken for the blade %q", Clip(b.Label), Clip(other.ID))
		}
		taken[name] = b
	}
}

func (v *validation) id(path, id string, seen map[string]string) {
	switch {
	case id == "":
		v.add(path, "write a short name of its own", "is missing")
	case !IDForm.MatchString(id):
		v.add(path, "use letters, digits, dots and dashes", "%q cannot be an id", Clip(id))
	case seen[look(id)] == id:
		v.add(path, "give each its own", "%q stands here twice", Clip(id))
	case seen[look(id)] != "":
		v.add(path, "give each one that cannot be taken for another", "%q looks like %q", Clip(id), Clip(seen[look(id)]))
	}
	seen[look(id)] = id
}

func (v *validation) blade(at string, b Blade) {
	v.text(at+".label", b.Label)
	diameter := v.wanted(at+".diameter", b.Diameter, positive)
	bore := v.wanted(at+".bore", b.Bore, positive)
	if bore && diameter && b.Bore.Length >= b.Diameter.Length {
		v.add(at+".bore", "were the two swapped?", "a bore of %s is as large as the blade of %s", b.Bore, b.Diameter)
	}
	if arbor := v.profile.Saw.ArborDiameter; bore && b.Bore.Length < arbor.Length {
		v.add(at+".bore", "measure it again", "a bore of %s does not go over the arbor of %s", b.Bore, arbor)
	}
	switch {
	case b.Teeth == 0:
		v.missing(at+".teeth", "write how many teeth it has")
	case b.Teeth < 0:
		v.add(at+".teeth", "write how many teeth it has", "%d teeth cannot be", b.Teeth)
	}
	if len(b.Plate) == 0 {
		v.missing(at+".plate", "write the readings of the plate as a list, such as [2.201 mm, 2.203 mm, 2.200 mm]")
	}
	if len(b.Kerf) == 0 {
		v.missing(at+".kerf", "write the readings over the teeth as a list, such as [3.204 mm, 3.201 mm, 3.206 mm]")
	}
	v.plateAndKerf(at, b.Plate, b.Kerf)
	v.toothPlate(at, b.ToothPlate, b.Kerf)
	v.speed(at+".marked_speed", b.MarkedSpeed)
	v.possible(at+".runout", b.Runout, notNegative)
	if _, ok := v.profile.KnifeByID(b.Knife); b.Knife != "" && !ok {
		v.add(at+".knife", "write the id of a knife in knives", "no knife is called %q", Clip(b.Knife))
	}
}

// toothPlate holds the plate beside the teeth below the kerf.
func (v *validation) toothPlate(at string, plate, kerf []Measure) {
	for j, m := range plate {
		path := fmt.Sprintf("%s.tooth_plate[%d]", at, j)
		if !v.length(path, m, positive) {
			continue
		}
		if k := slices.IndexFunc(kerf, func(k Measure) bool { return k.Length <= m.Length }); k >= 0 {
			v.add(path, "read the plate beside the teeth, not over them", "a plate of %s is no thinner than the kerf of %s", m, kerf[k])
		}
	}
}

// plateAndKerf holds every kerf reading above every plate reading.
func (v *validation) plateAndKerf(at string, plate, kerf []Measure) {
	var thickest Measure
	for j, m := range plate {
		if v.length(fmt.Sprintf("%s.plate[%d]", at, j), m, positive) && m.Length > thickest.Length {
			thickest = m
		}
	}
	for j, m := range kerf {
		path := fmt.Sprintf("%s.kerf[%d]", at, j)
		if v.length(path, m, positive) && m.Length <= thickest.Length {
			v.add(path, "teeth stand out on both sides: were plate and kerf swapped?", "a kerf of %s is no wider than the plate of %s", m, thickest)
		}
	}
}

func (v *validation) datum() {
	p := v.profile
	switch b, ok := p.BladeByID(p.Reference); {
	case p.Reference == "":
		v.missing("reference", "write the id of the reference blade; setup finds it")
	case !ok:
		v.add("reference", "write the id of a blade in blades", "no blade is called %q", Clip(p.Reference))
	case b.Retired:
		v.add("reference", "choose a blade that is on the rack", "the reference blade is retired")
	}
	if p.Standing == nil {
		v.missing("standing", "write the rings behind the reference, flange first, or []; setup finds them")
	}
	used := map[string]int{}
	for i, id := range p.Standing {
		r, ok := p.RingByID(id)
		path := fmt.Sprintf("standing[%d]", i)
		if used[id]++; !ok {
			v.add(path, "write the id of a ring in rings", "no ring is called %q", Clip(id))
		} else if used[id] > r.Count {
			v.add(path, "take one away", "there are only %d of ring %s", r.Count, id)
		}
	}
}
