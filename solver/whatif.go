package solver

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// BoughtKnife is the shop with a knife more that a blade runs with from then on.
func BoughtKnife(p model.Profile, blade string, thickness model.Measure) model.Profile {
	k := model.Knife{ID: "bought " + thickness.String(), Thickness: thickness}
	p.Knives, p.Blades = append(slices.Clone(p.Knives), k), slices.Clone(p.Blades)
	for i := range p.Blades {
		if p.Blades[i].ID == blade {
			p.Blades[i].Knife = k.ID
		}
	}
	return p
}

// WhatIf says what a change of the shop moves: the reference, the standing stack, and the
// blades that come in or fall out. As long as nothing was cut at this datum, reference and
// standing stack are those that the figures name. No sentence: it moves nothing.
func WhatIf(before, after model.Profile) []string {
	if judgingOf(before, time.Time{}).uncut() {
		for _, p := range []*model.Profile{&before, &after} {
			p.Reference, p.Standing = "", nil
		}
	}
	was, is := Judge(before, time.Time{}), Judge(after, time.Time{})
	var out []string
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	if was.Reference != is.Reference && is.Reference != "" {
		say("the %s becomes the reference in place of the %s", after.BladeName(is.Reference), before.BladeName(was.Reference))
	}
	if !slices.Equal(was.Standing, is.Standing) {
		say("%s goes behind the reference instead of %s", after.RingNames(is.Standing), before.RingNames(was.Standing))
	}
	others := 0
	for _, row := range is.Blades {
		old, _ := was.Row(row.ID)
		goes := func(r model.BladeRow) bool { return r.Knife == model.KnifeFits && r.Verdict != model.Cannot }
		switch {
		case row.ID == is.Reference:
		case goes(row) && !goes(old):
			say("the %s can be brought in, with %s", after.BladeName(row.ID), after.RingNames(row.Stack))
		case goes(old) && !goes(row):
			say("the %s can't be brought in any more", after.BladeName(row.ID))
		case goes(row) && !slices.Equal(old.Stack, row.Stack):
			others++
		}
	}
	if others > 0 {
		say("%d %s other rings", others, metrology.Plural(others, "blade takes", "blades take"))
	}
	return out
}

// KnivesToCome says, before anything is cut, which blades wait for a knife, and what its
// coming would move: a reference that is chosen without such a blade has to be given up
// where the blade reaches beyond it.
func KnivesToCome(p model.Profile) []model.Reason {
	if slices.ContainsFunc(p.Records, func(r model.Record) bool { return r.Kind == model.FenceLock }) {
		return nil // nothing is cut before the fence is locked
	}
	j := judgingOf(p, time.Time{})
	var out []model.Reason
	for _, f := range j.findings {
		_, there := j.knifeBehind(f.blade)
		from, _, any := j.window(f)
		if !f.known || there && !f.barred || !any {
			continue
		}
		moves := WhatIf(p, BoughtKnife(p, f.blade.ID, from.Of(j.words.Unit)))
		text := fmt.Sprintf("no knife of the shop fits the %s: with %s, ", f.blade.Name(), j.knifeWanted(f))
		switch {
		case len(moves) == 0:
			text += "it may run, and nothing else moves"
		case strings.Contains(moves[0], "becomes the reference"):
			text += strings.Join(moves, ", ") + ": get it before anything is cut, or the whole rack is compared again when it comes"
		default:
			text += strings.Join(moves, ", ")
		}
		out = append(out, model.Reason{Code: "knife-to-come", Weight: model.Warns, Text: text})
	}
	return out
}

// window is how thick a knife may be that fits a blade: from least to under most, as the shop
// reads lengths where there is room for that; false where none fits.
func (j *judging) window(f finding) (least, most model.Length, ok bool) {
	least, most = j.toothPlate(f)+j.profile.Margin(), f.thickness.Kerf
	if from, under := j.words.Up(least), j.words.Down(most); from < under {
		return from, under, f.known
	}
	return least, most, f.known && least < most
}

// knifeWanted says which knife would fit a blade.
func (j *judging) knifeWanted(f finding) string {
	from, under, ok := j.window(f)
	if !ok {
		return "another"
	}
	return fmt.Sprintf("one from %s to under %s", j.words.Set(from), j.words.Set(under))
}
