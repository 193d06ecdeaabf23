package wizard

import (
	"strings"

	"example.com/sawdatum/model/procedure"
)

// sawState says in words what the program knows of the saw, one fact each: power,
// arbor, fence, knife. Power comes first and is never left out.
func sawState(p procedure.Procedure) []string {
	return []string{"POWER " + powerWords(p), "ARBOR " + arborWords(p), "FENCE " + fenceWords(p), "KNIFE " + knifeWords(p)}
}

func powerWords(p procedure.Procedure) string {
	power, since, by := p.Power()
	if power == procedure.Isolated {
		return strings.TrimSpace("isolated " + since.Format("15:04") + " " + by)
	}
	return power.String()
}

func arborWords(p procedure.Procedure) string {
	m := p.State().Mounted
	if m == nil {
		return "nothing on record"
	}
	return p.Profile().BladeName(m.Blade) + ", " + p.Profile().RingNames(m.Rings)
}

func fenceWords(p procedure.Procedure) string {
	switch s := p.State(); {
	case s.Lock == "":
		return "not locked"
	case !p.FenceKnown():
		return "may have moved"
	default:
		return "locked at " + s.Width.String()
	}
}

func knifeWords(p procedure.Procedure) string {
	s := p.State()
	if s.Fitted == "" {
		return "not set"
	}
	k, _ := p.Profile().KnifeByID(s.Fitted)
	if !s.Aligned {
		return k.Thickness.String() + ", to be set again"
	}
	return k.Thickness.String() + " set"
}
