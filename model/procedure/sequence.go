package procedure

import (
	"slices"

	"example.com/sawdatum/model"
)

// PlaceStatus is one line of the list of places.
type PlaceStatus struct {
	Place   Place
	Number  int
	Title   string
	Done    bool
	Current bool
}

// needs is what a place needs of the saw.
type needs struct {
	power    Power    // Unknown: either will do
	blade    string   // that must be on the arbor; empty: whichever
	rings    []string // with it, flange first
	fence    bool     // locked, and known to be untouched since
	board    bool     // the gauge board was ripped under the lock in force
	datum    bool     // the reference was cut under the lock in force
	measures string   // the part that is measured here; empty: none
}

// Place is where the procedure stands: the next place that is not done, or the
// gate that has to be passed before it.
func (p Procedure) Place() Place { return p.gateBefore(p.target()) }

// target is the place that the work is about, whatever gate stands before it.
func (p Procedure) target() Place {
	if p.run.again != (Place{}) {
		return p.run.again
	}
	places := p.places()
	for _, s := range places {
		if !s.Done {
			return s.Place
		}
	}
	return places[len(places)-1].Place
}

// gateBefore is the gate that the present state of the saw puts before a place, or
// the place itself. The fence is asked first, so that no blade is mounted in vain;
// then the blade; power last.
func (p Procedure) gateBefore(place Place) Place {
	var n needs
	if f := table[place.Step].needs; f != nil {
		n = f(context{p, place.Blade})
	}
	if n.board && !holds("board-ripped", p.state.Boards != nil) {
		return p.gateBefore(Place{Step: "boards"})
	}
	if n.fence {
		if !holds("fence-locked", p.state.Lock != "") {
			return Place{Step: "lock"}
		}
		if !holds("fence-untouched", p.FenceKnown()) {
			return Place{Step: "fence"}
		}
	}
	if n.datum && !holds("reference-before-cut", len(p.state.ReferencePieces(p.state.Lock)) > 0) {
		return p.gateBefore(Place{"reference", place.Blade})
	}
	if n.blade != "" && (!holds("blade-mounted", p.mounted(n.blade, n.rings)) || p.knifeBehind(n.blade) != "") {
		return p.gateBefore(Place{"mount", n.blade})
	}
	if n.measures != "" && !holds("measured-on-bench", p.run.power == Isolated || p.run.lies == n.measures) {
		if p.run.hands == n.measures {
			return p.isolation()
		}
		return Place{"source", place.Blade}
	}
	if n.power == Isolated && !holds("isolated-for-hands", p.run.power == Isolated) {
		return p.isolation()
	}
	if n.power == Live && !holds("checked-for-power", p.run.power == Live && p.knifeIn()) {
		if !holds("power-from-isolated", p.run.power == Isolated) {
			return p.isolation() // the checklist sends hands to the blade
		}
		return Place{Step: "power"}
	}
	return place
}

// isolation is the gate that comes next on the way to an isolated saw.
func (p Procedure) isolation() Place {
	switch {
	case !holds("stopped", p.run.stopped):
		return Place{Step: "stop"}
	case p.run.runDown > longestRunDown && !p.run.slow && !model.Dropped("run-down-slow"):
		return Place{Step: "slow"}
	}
	return Place{Step: "isolate"}
}

// knifeIn reports whether the blade on the arbor may run with the knife that stands behind
// it, as they are on file now.
func (p Procedure) knifeIn() bool {
	c := context{p, ""}
	return c.onArbor() == "" || p.fits(c.onArbor(), c.knifeFitted().ID)
}

// mounted reports whether, by the records, this blade is on the arbor with these
// rings. The power-up checklist has the user count its teeth.
func (p Procedure) mounted(blade string, rings []string) bool {
	m := p.state.Mounted
	return m != nil && holds("mounted-blade", m.Blade == blade) && holds("mounted-rings", slices.Equal(m.Rings, rings))
}

// Places lists the places of this run in their order, for people to see what is
// done and what comes.
func (p Procedure) Places() []PlaceStatus {
	target, out := p.target(), p.places()
	for i := range out {
		out[i].Current = sameLine(out[i].Place, target)
		row := table[out[i].Place.Step]
		out[i].Number, out[i].Title = row.number, row.title(context{p, out[i].Place.Blade})
	}
	return out
}

func (p Procedure) places() []PlaceStatus {
	if p.options.Mode == IsolateOnly {
		return []PlaceStatus{
			{Place: Place{Step: "hold"}, Done: p.run.held},
			{Place: Place{Step: "close"}, Done: p.run.finished},
		}
	}
	out := p.headPlaces()
	add := func(done bool, step, blade string) {
		out = append(out, PlaceStatus{Place: Place{step, blade}, Done: done})
	}
	add(holds("who-first", p.run.who != ""), "who", "")
	switch b, _ := p.profile.BladeByID(p.options.Blade); {
	case b.Retired && p.options.Mode == OneBlade:
		add(false, "returned", b.ID)
	case p.options.Mode == OneBlade:
		add(p.run.reason, "reason", p.options.Blade)
		if p.run.reason && p.run.sharp {
			add(false, "sharpened", p.options.Blade)
		}
	}
	compare := p.toCompare()
	for _, b := range p.profile.Rack() {
		if p.unfit(b.ID) && (p.options.Mode == Setup || b.ID == p.options.Blade || b.ID == p.profile.Reference) {
			add(p.state.Blades[b.ID].Left != nil, "unfit", b.ID)
		}
	}
	next := p.nextKnife()
	aligned := p.state.Aligned && (next == "" || p.state.Knife.Knife == next)
	seated := p.state.Seated
	squared := seated != nil && seated.SlotFront.Unit != model.NoUnit
	add(holds("arbor-first", p.state.Cleaned != nil), "arbor", "")
	add(seated != nil, "mount", p.profile.Reference)
	add(p.run.rim || squared || seated != nil && seated.Dial != nil, "rim", "")
	add(squared, "align", "")
	add(aligned || p.state.Boards != nil, "boards", "")
	pieces := p.state.ReferencePieces(p.state.Lock)
	if !aligned && next != "" && !p.fits(p.profile.Reference, next) {
		for _, id := range compare { // the reference cannot cut them once that knife is set
			if b, _ := p.profile.BladeByID(id); b.Knife == next {
				add(pieces[id], "reference", id)
			}
		}
	}
	add(holds("knife-first", aligned), "knife", "")
	add(p.state.Scaled != nil && (!p.verifying() || p.inThisRun(p.state.Scaled)), "scale", "")
	for _, id := range compare {
		place, done := p.compare(id)
		if place.Step == "cut" || pieces[id] {
			add(done || pieces[id], "reference", id)
		}
	}
	if r, _ := p.profile.BladeByID(p.profile.Reference); !p.state.Blades[r.ID].BoxTells(p.profile.Standing, r.Knife) {
		add(false, "written", r.ID) // it was compared once, or stood with other rings
	}
	for _, id := range compare {
		place, done := p.compare(id)
		out = append(out, PlaceStatus{Place: place, Done: done})
	}
	add(p.run.finished, "close", "")
	return out
}

func (p Procedure) headPlaces() []PlaceStatus {
	var out []PlaceStatus
	add := func(done bool, step, blade string) {
		out = append(out, PlaceStatus{Place: Place{step, blade}, Done: done})
	}
	s, typed := p.profile.Saw, func(m model.Measure) bool { return m.Unit != model.NoUnit }
	add(s.Tilt != "" && s.FenceSide != "" && p.profile.Units != model.NoUnit, "saw", "")
	add(s.Flange != "" && typed(s.FlangeDiameter) && typed(s.FlangeRelief) && typed(s.ArborDiameter), "flange", "")
	add(typed(s.SpareThread) && typed(s.ThreadPitch) && typed(s.ThroatLength), "thread", "")
	add(len(p.profile.Knives) > 0, "knives", "")
	add(typed(p.profile.Instruments.Caliper) && typed(p.profile.Instruments.Micrometer) && typed(p.profile.Tolerance) && p.profile.WorkingWidth.Length >= model.LeastWorkingWidth, "instruments", "")
	whole := len(p.profile.Rack()) >= 2
	for _, b := range p.profile.Rack() {
		named := b.Teeth > 0 && typed(b.Diameter) && typed(b.Bore) && b.Knife != ""
		read := len(b.Plate) > 0 && len(b.Kerf) > 0
		add(named, "blade", b.ID)
		add(read, "thickness", b.ID)
		whole = whole && named && read
	}
	if p.run.adding || len(p.profile.Rack()) == 0 {
		add(false, "blade", "")
	}
	rackDone := whole && (p.profile.Rings != nil || p.run.rack)
	if !rackDone {
		add(false, "rack", "")
	}
	add(p.profile.Rings != nil, "rings", "")
	add(p.profile.Reference != "" && p.profile.Standing != nil, "datum", "")
	return out
}

// verifying reports whether this run is about the reference blade itself: what it
// cuts is held against the fence scale again.
func (p Procedure) verifying() bool {
	return p.options.Mode == OneBlade && p.options.Blade == p.profile.Reference
}

// toCompare lists the blades that this run compares with the reference, those that
// run with the knife that is set before those that have to wait.
func (p Procedure) toCompare() []string {
	one := p.options.Mode == OneBlade && p.options.Blade != p.profile.Reference
	var now, later []string
	if p.profile.Reference == "" {
		return nil
	}
	for _, b := range p.profile.Rack() {
		switch {
		case b.ID == p.profile.Reference || one && b.ID != p.options.Blade || !holds("compare-fits", !p.unfit(b.ID)):
		case p.waits(b):
			later = append(later, b.ID)
		default:
			now = append(now, b.ID)
		}
	}
	return append(now, later...)
}

// waits reports whether another knife is set than the one that a blade runs with.
func (p Procedure) waits(b model.Blade) bool {
	return p.state.Knife != nil && p.state.Aligned && b.Knife != p.state.Knife.Knife
}

// nextKnife is the knife that is squared in place of the one that is set: the one that
// was chosen. In a whole setup it is else, once the fence scale is verified and where no
// blade to compare runs with the knife that is set, the knife of most blades that were
// neither cut nor left. Empty: none.
func (p Procedure) nextKnife() string {
	if p.run.knife != "" || p.options.Mode != Setup || p.state.Scaled == nil {
		return p.run.knife
	}
	next, blades := "", map[string]int{}
	for _, id := range p.toCompare() {
		b, _ := p.profile.BladeByID(id)
		if holds("compare-knife-set", !p.waits(b)) {
			return ""
		}
		if on := p.state.Blades[id]; len(on.History) > 0 || on.Left != nil {
			continue
		}
		if blades[b.Knife]++; blades[b.Knife] > blades[next] {
			next = b.Knife
		}
	}
	return next
}

// unfit reports whether a blade must not run with the knife that it names.
func (p Procedure) unfit(id string) bool {
	row, ok := p.plan.Blade(id)
	return ok && row.Knife != model.KnifeFits
}

// knifeBehind is the knife that has to be fitted with a blade, since by the records
// one is that it must not run with; empty: none. Where its own does not fit either,
// the power-up checklist refuses the blade.
func (p Procedure) knifeBehind(blade string) string {
	b, _ := p.profile.BladeByID(blade)
	if p.state.Fitted == "" || p.state.Fitted == b.Knife || p.fits(blade, p.state.Fitted) || !p.fits(blade, b.Knife) {
		return ""
	}
	return b.Knife
}

// fits reports whether a blade may run with a knife, whichever it names.
func (p Procedure) fits(blade, knife string) bool {
	if b, ok := p.profile.BladeByID(blade); ok && b.Knife == knife && !b.Retired {
		return !p.unfit(blade)
	}
	named := p.profile
	named.Blades = slices.Clone(named.Blades)
	for i := range named.Blades {
		if named.Blades[i].ID == blade {
			named.Blades[i].Knife = knife
		}
	}
	row, ok := p.judge(named).Blade(blade)
	return ok && row.Knife == model.KnifeFits
}

// compare is the place at which the comparison of a blade stands, and whether it
// is done. A blade that was left is taken up again once something can bring it in. No rip
// is asked for that leaves the knife outside its kerf.
func (p Procedure) compare(id string) (Place, bool) {
	place, done, left := p.comparison(id)
	if row, _ := p.plan.Blade(id); place.Step == "cut" && !holds("compare-kerf", row.Outside == 0) {
		return Place{"leave", id}, left
	}
	return place, done
}

// comparison is as compare, wherever the knife stands; left tells that the blade was left.
func (p Procedure) comparison(id string) (place Place, done, left bool) {
	row, _ := p.plan.Blade(id)
	b := p.state.Blades[id]
	blade, _ := p.profile.BladeByID(id)
	last, cut := b.Last()
	anew := p.options.Mode == OneBlade && p.options.Blade == id // only what this run reads of it counts
	fresh := cut && (!anew || p.inThisRun(last.Record))
	left = b.LeftNow && (!anew || p.inThisRun(b.Left))
	switch {
	case !holds("compare-knife-set", !p.waits(blade)):
		return Place{"leave", id}, left, left
	case !fresh || !last.Aligned:
		return Place{"cut", id}, false, left
	case p.run.clean == last.Record.Ref():
		return Place{"clean", id}, false, left
	case row.Basis == model.Measured && (row.Verdict == model.Out || row.Verdict == model.Cannot) && p.run.out != last.Record.Ref() && !left:
		return Place{"out", id}, false, left
	case row.Verdict == model.In && slices.Equal(row.Stack, last.Rings):
		return Place{"written", id}, b.Written != nil && row.Ready, left
	case row.Verdict == model.Doubtful && row.More > 0 && last.Lock == p.state.Lock:
		return Place{"more", id}, left, left
	case (row.Verdict == model.Out || row.Verdict == model.Doubtful) && !slices.Equal(row.Stack, last.Rings):
		return Place{"cut", id}, left && row.Verdict == model.Doubtful, left
	}
	return Place{"leave", id}, left, left
}

func (p Procedure) inThisRun(r *model.Record) bool {
	for i := p.start; i < len(p.profile.Records); i++ {
		if &p.profile.Records[i] == r {
			return true
		}
	}
	return false
}

// ringsFor are the rings that go on with a blade, flange first.
func (p Procedure) ringsFor(id string) []string {
	if id == p.profile.Reference {
		return p.profile.Standing
	}
	row, _ := p.plan.Blade(id)
	return row.Stack
}
