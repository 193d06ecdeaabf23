package solver

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/drift"
	"example.com/sawdatum/solver/evidence"
	"example.com/sawdatum/solver/metrology"
)

// BladeWatch is the chart of one blade's proofs: with its present stack, since it was last
// sharpened and its knife last squared, under the present datum.
type BladeWatch struct {
	Blade   string
	Proofs  []drift.Dated // oldest first
	Missing *drift.TooFew // what the chart still wants; nil: Watch tells
	Watch   drift.Watch
	Reasons []model.Reason
}

// segment is what one chart goes over. A new fence lock does not begin another, since it
// finds the same datum again.
type segment struct {
	evidence.Outfit
	carrier evidence.Outfit // where its own offset is not known; else nothing
	squared int             // times that the blade's knife had been squared
}

// WatchRack charts the proofs of every blade of a profile that has two or more, the
// strips of one mounting under one lock each.
func WatchRack(p model.Profile) []BladeWatch {
	j := judgingOf(p, time.Time{})
	proofs, newest := j.proofs()
	least := j.leastDeviation()
	var baselines [][]float64
	for _, s := range slices.SortedFunc(maps.Keys(proofs), func(a, b segment) int { return cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)) }) {
		var values []float64
		for _, d := range proofs[s] {
			values = append(values, d.Residual)
		}
		baselines = append(baselines, values)
	}
	repeats := drift.RepeatabilityOf(baselines, least)
	var out []BladeWatch
	for _, f := range j.findings {
		s, any := newest[f.blade.ID]
		if !any || len(proofs[s]) < 2 || s.Life != j.lives[f.blade.ID] || s.carrier != (evidence.Outfit{}) {
			continue
		}
		w := BladeWatch{Blade: f.blade.ID, Proofs: proofs[s]}
		watch, err := drift.WatchOf(w.Proofs, repeats, p.Tolerance.Length, p.Instruments.Caliper.Length)
		if errors.As(err, &w.Missing) {
			w.Reasons = model.Because("watch-begins", model.Explains, "%v", err)
		} else {
			w.Watch = watch
			w.Reasons = j.watchWords(w)
		}
		out = append(out, w)
	}
	return out
}

// proofs lists what every mounting said, by segment, and the newest segment of each blade.
func (j *judging) proofs() (map[segment][]drift.Dated, map[string]segment) {
	squared := map[string][]int{}
	for i, r := range j.profile.Records {
		if r.Kind == model.KnifeSet && !j.voided(r) {
			squared[r.Knife] = append(squared[r.Knife], i)
		}
	}
	var all []evidence.Seating
	for _, page := range j.ledger.Pages {
		for _, s := range page.Seatings() {
			if s.SeatKey.Lock == "" { // closing strips are of the reference
				all = append(all, s)
			}
		}
	}
	slices.SortFunc(all, func(a, b evidence.Seating) int { return cmp.Compare(a.Index, b.Index) })
	out, newest := map[segment][]drift.Dated{}, map[string]segment{}
	for _, s := range all {
		blade, _ := j.profile.BladeByID(s.Blade)
		key := segment{Outfit: s.Outfit}
		key.squared, _ = slices.BinarySearch(squared[blade.Knife], s.Index)
		offset, known := j.ledger.Offset(s.Carrier)
		if !known {
			key.carrier = s.Carrier
		}
		out[key] = append(out[key], drift.Dated{At: j.recordAt(s.Index).At, Residual: -(s.Value + float64(offset.Value))})
		newest[s.Blade] = key
	}
	return out, newest
}

// leastDeviation is what strips and caliper alone give a proof of one strip against three.
func (j *judging) leastDeviation() float64 {
	q := float64(j.profile.Instruments.Caliper.Length)
	return math.Sqrt(j.ledger.Spread().Variance*(1+1./evidence.EnoughDatumStrips) + q*q/6)
}

// watchWords says what a chart tells: that the cut moved, since when, by how much; that it
// drifts, and when it leaves the tolerance.
func (j *judging) watchWords(b BladeWatch) []model.Reason {
	w, watch := j.words, b.Watch
	date := func(t time.Time) string { return t.Format("2006-01-02") }
	way := func(nm float64) string { return model.Toward(metrology.Rounded(nm)) }
	var out []model.Reason
	if watch.Moved {
		out = append(out, model.Because("watch-moved", model.Warns, "its cut has moved since about %s, by %s %s (%s): find out what changed then: flange, rings, knife, a knock", date(b.Proofs[watch.Since].At), w.Result(metrology.Rounded(math.Abs(watch.By))), way(watch.By), times(len(b.Proofs)-watch.Since, "proof", "proofs"))...)
	}
	if t := watch.Trend; t.Rate != 0 {
		text := fmt.Sprintf("its cut drifts %s by %s in four weeks", way(t.Rate), w.Result(metrology.Rounded(math.Abs(t.Rate)*28)))
		switch {
		case t.Earliest.IsZero():
			text += ", and does not leave the tolerance within ten years so"
		case t.Likeliest.IsZero():
			text += fmt.Sprintf(", and leaves the tolerance on %s at the earliest", date(t.Earliest))
		default:
			text += fmt.Sprintf(", and leaves the tolerance about %s, on %s at the earliest", date(t.Likeliest), date(t.Earliest))
		}
		out = append(out, model.Because("watch-drifts", model.Warns, "%s", text)...)
	}
	if len(out) == 0 {
		out = model.Because("watch-steady", model.Explains, "%s lie within %s of their centre at %s: steady; a move of less than %s cannot be seen in reasonable time", times(len(b.Proofs), "proof", "proofs"), w.Result(metrology.Rounded(watch.Limit)), side(-metrology.Rounded(watch.Centre), w), w.Result(metrology.Rounded(watch.Deviation)))
	}
	return out
}

// Kerfs lists the mean kerf of a blade, in the life that began when it last came to
// the rack: on the bench, then after each sharpening that was not voided.
func Kerfs(p model.Profile, blade string) []model.Length {
	j := judging{voids: voidsOf(p)}
	var out []model.Length
	add := func(readings []model.Measure) {
		if mean, err := metrology.Mean(model.Lengths(readings)); err == nil {
			out = append(out, mean)
		}
	}
	b, _ := p.BladeByID(blade)
	add(b.Kerf)
	for _, r := range p.Records {
		switch {
		case r.Blade != blade || j.voided(r):
		case r.Back:
			out = nil
			add(r.Kerf)
		case r.Kind == model.Sharpened:
			add(r.Kerf)
		}
	}
	return out
}
