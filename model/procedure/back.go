package procedure

import (
	"slices"

	"example.com/sawdatum/model"
)

func back(p Procedure, _ Event, here Place) (Procedure, error) {
	target := p.target()
	var before Place
	for _, s := range p.places() {
		if sameLine(s.Place, target) {
			break
		}
		if s.Done && !table[s.Place.Step].once {
			before = p.revisit(s.Place)
		}
	}
	if onLine(target) && target.Step != "reread" && p.rereads(target.Blade) {
		before = Place{"reread", target.Blade}
	}
	if before == (Place{}) || before == target {
		return p, &Refusal{Place: here, Unmet: []string{"there is nothing before this to go back to"}}
	}
	if n := len(p.profile.Records); model.Dropped("back-keeps-readings") && n > 0 {
		p.profile.Records = p.profile.Records[:n-1]
	}
	return p.turnTo(before), nil
}

// turnTo turns to another place; zero: to where the work stands. A blade that was
// seen to stand may turn again before the isolator is opened.
func (p Procedure) turnTo(place Place) Procedure {
	p.run.again, p.run.report, p.run.asked = place, nil, ""
	if !model.Dropped("standstill-forgotten") {
		p.run.stopped, p.run.slow = false, false
	}
	p.run.lies, p.run.paper, p.run.hands = "", false, ""
	p.run.gates++
	return p
}

// revisit is the place at which the readings of a done place are typed again.
func (p Procedure) revisit(place Place) Place {
	switch {
	case onLine(place) && p.rereads(place.Blade):
		return Place{"reread", place.Blade}
	case place.Step == "written" || place.Step == "more":
		if row, _ := p.plan.Blade(place.Blade); row.Outside == 0 {
			return Place{"cut", place.Blade}
		}
	}
	return place
}

// onLine reports whether a place is about a blade's comparison: its cut, or what
// follows from that.
func onLine(place Place) bool {
	return slices.Contains([]string{"cut", "reread", "more", "written", "leave", "out", "clean"}, place.Step)
}

// sameLine reports whether two places are one line in the list of places.
func sameLine(a, b Place) bool { return a == b || onLine(a) && onLine(b) && a.Blade == b.Blade }

// rereads reports whether a blade's verdict rests on a half that still shows the cut
// whose readings were typed, so that these can be typed once more. Where one blade is
// run again it is a cut of this run.
func (p Procedure) rereads(blade string) bool {
	b := p.state.Blades[blade]
	last, ok := b.Last()
	return ok && holds("reread-aligned", last.Aligned) && holds("reread-lock", last.Lock == p.state.Lock) && !b.Half.Unsure &&
		last.Record == b.History[len(b.History)-1].Record && (p.options.Mode == Setup || p.inThisRun(last.Record))
}

func forward(p Procedure, _ Event, here Place) (Procedure, error) {
	if p.run.again == (Place{}) && !p.run.adding {
		return p, &Refusal{Place: here, Unmet: []string{"this is where the work stands"}}
	}
	p.run.adding = false
	return p.turnTo(Place{}), nil
}
