package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/drift"
	"example.com/sawdatum/solver/metrology"
)

// Outlook is what a profile says about the days to come: rings to buy, blades whose cut
// moved or drifts, what sharpening takes. It names the blade in each sentence.
func Outlook(p model.Profile) []model.Reason {
	var out []model.Reason
	if a, err := AdviseRack(p); err == nil {
		out = append(out, a.Reasons...)
	}
	watches := map[string][]model.Reason{}
	for _, w := range WatchRack(p) {
		watches[w.Blade] = w.Reasons
	}
	for _, b := range p.Rack() {
		var about []model.Reason
		for _, r := range watches[b.ID] {
			if r.Weight >= model.Warns {
				about = append(about, r)
			}
		}
		knife, _ := p.KnifeByID(b.Knife)
		if wear, err := drift.WearOf(p.Saw.Flange, Kerfs(p, b.ID), knife.Thickness.Length, metrology.WordsOf(p)); err == nil {
			about = append(about, wear.Reasons...)
		}
		for _, r := range about {
			r.Text = b.Name() + ": " + r.Text
			out = append(out, r)
		}
	}
	return out
}
