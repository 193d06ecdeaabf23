package solver

import (
	"fmt"

	"example.com/sawdatum/model"
)

// Proofs lists every cut of a blade that was compared with the reference under its
// own fence lock, oldest first, whatever the datum was then. Cuts that cannot be
// read are left out.
func Proofs(p model.Profile, blade string) []Proof {
	var out []Proof
	for _, c := range model.Fold(p).Blades[blade].History {
		if o, err := offsetOf(c, p.Instruments.Caliper.Length); err == nil {
			out = append(out, Proof{At: c.Record.At, By: c.Record.By, Residual: -o.Value})
		}
	}
	return out
}

// Kerfs lists the mean kerf of a blade: on the bench, or when it came back to the rack,
// then after each sharpening that was not voided.
func Kerfs(p model.Profile, blade string) []model.Length {
	voided := map[string]bool{}
	for _, r := range p.Records {
		if r.Kind == model.Void {
			voided[r.Of] = true
		}
	}
	var out []model.Length
	add := func(readings []model.Measure) {
		if mean, err := Mean(model.Lengths(readings)); err == nil {
			out = append(out, mean)
		}
	}
	b, _ := p.BladeByID(blade)
	add(b.Kerf)
	for _, r := range p.Records {
		if r.Blade != blade || voided[r.Ref()] {
			continue
		}
		switch r.Kind {
		case model.Returned:
			out = nil
			add(r.Kerf)
		case model.Sharpened:
			add(r.Kerf)
		}
	}
	return out
}

// Outlook is what a plan and its history say about the days to come: knives and rings to buy,
// blades that drift, what sharpening takes. It names the blade in each sentence.
func Outlook(p model.Profile, plan model.Plan) []model.Reason {
	out := KnivesToCome(p)
	if a, err := AdviseRack(p); err == nil {
		out = append(out, a.Reasons...)
	}
	w := WordsOf(p)
	for _, row := range plan.Blades {
		var about []model.Reason
		if c, err := Drift(Proofs(p, row.ID), p.Tolerance.Length, w); err == nil && len(c.Beyond) > 0 {
			about = append(about, c.Reasons[0])
		}
		if wear, err := WearOf(p.Saw.Flange, Kerfs(p, row.ID), w); err == nil {
			about = append(about, wear.Reasons...)
		}
		for _, r := range about {
			r.Text = fmt.Sprintf("%s: %s", p.BladeName(row.ID), r.Text)
			out = append(out, r)
		}
	}
	return out
}
