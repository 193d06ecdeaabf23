package stages

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver/gauging"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// gaugeBoard is the least length of the gauge board, so that it bears on the table before
// the throat opening and behind: 150 mm at each end (common practice).
func gaugeBoard(c context) model.Length { return c.Profile.Saw.ThroatLength.Length + 300*mm }

// ripCautions stand on the screen of every rip: the stick, the line of the blade, what to
// do when it binds.
var ripCautions = form.Lines("Guard, push stick; not in line with the blade.", "It binds: stop, isolate, find out why.")

var ripHelp = []string{
	"Eyes and ears covered, no gloves while it turns. No measuring, clearing or reaching while it turns.",
	"Push stick for the last {300 mm|12 in}, and wherever the fence is closer than {150 mm|6 in} to the blade; a push block under {50 mm|2 in}.",
	"The offcut stays where it is until standstill. Write on a strip at once: blade, number, fence edge; none of its three places lies within {50 mm|2 in} of an end.",
	"Through cuts only: never pull a board back past a running blade.",
}

// unset is the first knife that is not squared yet; empty: none.
func unset(c context) string {
	for _, k := range knivesToSet(c) {
		if c.State.Knives[k].Set == nil {
			return k
		}
	}
	return ""
}

func boardNeeded(c context) bool { return unset(c) != "" }

// boardFor reports whether there is a gauge board to square a knife to: one that was ripped
// under the lock in force, by the blade to whose cut the knife is squared.
func boardFor(c context, knife string) bool {
	b := c.State.Boards
	return b != nil && b.Lock == c.State.Lock && b.Blade == squaredTo(c, knife)
}

var boardsRow = row{
	Name: "boards", Stage: 6, Title: form.Said("Rip the gauge board"),
	Done: func(c context) bool { return !boardNeeded(c) || boardFor(c, unset(c)) },
	Needs: func(c context) interlock.Need {
		blade := squaredTo(c, unset(c))
		return needing(c, blade, stackOf(c, blade))
	},
	Act: procedure.Spins{
		Says: func(c context, _ interlock.Turning) []string {
			return []string{
				fmt.Sprintf("Rip the gauge board, at least %s long. The fence stays locked.", gaugeBoard(c).Tape(c.Unit())),
				"Push it right through. Stop. Leave board and offcut until standstill.",
			}
		},
		Accept: func(t *taking, p interlock.Turning) {
			r := record{Kind: model.Boards, Lock: t.State.Lock, Blade: t.State.On.Blade, Rings: t.State.On.Rings}
			putBoards(t, &r)
			t.Does(interlock.Ripped(p))
			for _, wrong := range model.BoardTaper(r.Tail.Length-r.Lead.Length, t.Show) {
				t.Question("tail", "%s", wrong.Text)
				t.Say("board-tapers", model.Warns, "The board tapers: fence and blade are not parallel. Heel and toe comes again, and then a new board.")
				t.Keep(tapered, "tapered")
				return
			}
			t.Record(r)
		},
	},
	Why: ripCautions, Help: append([]string{"The board must bear on the table before the throat opening and behind. Sheet stock such as MDF neither swells nor bows with the days."}, ripHelp...),
	Fields: func(c context) []field {
		w := c.Profile.WorkingWidth.Length
		end := func(key, label string) field {
			f := form.Measuring(form.Length(c, key, label, "", model.Measure{}, w/2, 2*w))
			f.Hint = "such as " + model.Like(w, c.Unit(), 12)
			return form.Ruled(f, form.Each(form.RipWidth(c))).Against(func(t *taking) {
				form.Asked(t, key, form.RipWidth(t.Context)(t.Length(key).Length))
			})
		}
		long := form.Measuring(form.Length(c, "length", "Length of the gauge board", c.Pick("900", "36"), model.Measure{}, gaugeBoard(c), 5000*mm))
		long.Hint = "along the cut, such as " + c.Pick("900", "36")
		return []field{long, end("lead", "Width at the leading end"), end("tail", "Width at the trailing end")}
	},
	Reads: &procedure.Reads{
		Kind: model.Boards, Keys: []string{"length", "lead", "tail"},
		Typed: func(c context, r record) map[string]string {
			return map[string]string{"length": form.Typed(r.Length), "lead": form.TypedOne(c, r.Lead), "tail": form.TypedOne(c, r.Tail)}
		},
		Put: putBoards,
	},
	Simulated: map[string]procedure.Simulated{
		"length": func(c context, s procedure.Saw, _ answers) string {
			return practice.At(c, s).BoardLength().Tape(c.Unit())
		},
		"lead": practice.BoardEnd(0), "tail": practice.BoardEnd(1),
	},
	Follows: func(c context, a answers) []reason {
		long, ok := form.Parse(c, a["length"])
		lead, ok2 := form.Parse(c, a["lead"])
		tail, ok3 := form.Parse(c, a["tail"])
		if !ok || !ok2 || !ok3 {
			return nil
		}
		_, reasons, err := gauging.Taper(lead, tail, long, metrology.WordsOf(c.Profile))
		if err != nil {
			return nil
		}
		return reasons
	},
	Picture: func(c context, a answers) procedure.Picture {
		p := picture.Board{Figures: form.Figures(c), FenceSide: c.Profile.Saw.FenceSide}
		p.Long, _ = form.Parse(c, a["length"])
		for key, wide := range map[string]*model.Length{"lead": &p.Lead, "tail": &p.Tail} {
			if l, ok := form.Parse(c, a[key]); ok && l > c.Profile.WorkingWidth.Length/2 { // a reading under way is none yet
				*wide = l
			}
		}
		return p
	},
}

func putBoards(t *taking, r *record) {
	r.Length, r.Lead, r.Tail = t.Length("length"), t.Length("lead"), t.Length("tail")
}

// knivesToSet are the knives that blades of the rack run with, that of the reference last,
// so that it is in when the reference goes on again.
func knivesToSet(c context) (ids []string) {
	last := ""
	for _, k := range c.Profile.Knives {
		for _, b := range c.Profile.Rack() {
			if b.Knife != k.ID || form.KnifeFit(c, b.ID) != model.KnifeFits || leftNow(c, b.ID) {
				continue
			}
			if r, _ := c.Profile.BladeByID(c.Profile.Reference); r.Knife == k.ID {
				last = k.ID
			} else {
				ids = append(ids, k.ID)
			}
			break
		}
	}
	if last != "" {
		ids = append(ids, last)
	}
	return ids
}

// play is what a knife has to spare in the narrowest kerf of the blades that run with it; at
// the most what any feeler gap may be.
func play(c context, knife string) model.Length {
	least := model.MostFeelerGap
	for _, b := range c.Profile.Rack() {
		if row, ok := c.Plan.Row(b.ID); ok && b.Knife == knife && row.Knife == model.KnifeFits {
			least = min(least, row.Play)
		}
	}
	return least
}

// gapLimit is the widest gap that a knife may have at a corner.
func gapLimit(c context, knife string) model.Length { return min(model.MostFeelerGap, play(c, knife)) }

// shownLimit is the limit of a gap as it is told: no more than is taken when it is typed so.
func shownLimit(c context, knife string) model.Length {
	return metrology.WordsOf(c.Profile).Down(gapLimit(c, knife))
}

// knifeRow squares a knife to the gauge board.
var knifeRow = row{
	Name: "knife", Stage: 7,
	Title: func(c context) string {
		k, _ := c.Profile.KnifeByID(c.Blade)
		return "Square the knife of " + k.Label()
	},
	When:  func(c context) bool { return boardFor(c, c.Blade) || !boardNeeded(c) },
	Done:  func(c context) bool { return c.State.Knives[c.Blade].Set != nil },
	Needs: func(c context) interlock.Need { return interlock.Need{Bare: true, Lock: c.State.Lock} },
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			k, _ := c.Profile.KnifeByID(c.Blade)
			first := "Hold the gauge board to the fence at both ends."
			if on, _ := c.Lock.On(); on.Knife != k.ID {
				first = fmt.Sprintf("Fit the knife of %s. Hold the gauge board to the fence at both ends.", k.Label())
			}
			return []string{
				first,
				"Set the knife to its cut edge, by the manual.",
				fmt.Sprintf("Gap at each corner: the thickest feeler that goes in; aim at %s.", c.Pick("0.05", ".002")),
			}
		},
		Accept: func(t *taking, h interlock.Hands) {
			r := record{Kind: model.KnifeSet, Knife: t.Blade, Lock: t.State.Lock, Blade: t.State.Boards.Blade, Rings: t.State.Boards.Rings}
			putGaps(t, &r)
			t.Record(r)
			t.Does(interlock.Mounted(h, interlock.Fit{Knife: t.Blade}))
			t.Keep(knifeTyped, t.Blade)
			if t.Typed("others") && t.Choice("others") == "moved" {
				for _, set := range setBefore(t.Context) {
					t.Record(record{Kind: model.Void, Of: set.Ref(), Why: model.Again})
				}
				t.Say("knives-share", model.Warns, "The one before is set again. Where each moves the other, they cannot both be flush by these screws: shim one of them, by the manual.")
			}
		},
	},
	Help: []string{"Flush: stock of every blade glides past it.", "A knife that pushes the board off the fence is proud, and not flush.", "Too thick a knife wedges in the kerf; too thin a one lets the kerf close on the plate.", "Some knives move by screws, some by shims: the saw's manual says which. A gap of 0 is taken; wide blades then rub on it."},
	Fields: func(c context) []field {
		k, _ := c.Profile.KnifeByID(c.Blade)
		out := []field{knifeThickness(c, "Knife that is in, its thickness", k), gapsField(c, c.Blade)}
		if len(setBefore(c)) > 0 {
			out = append(out, form.Seen("others", "Screws of the knife set before", "untouched", "moved"))
		}
		return out
	},
	Reads: &procedure.Reads{
		Kind: model.KnifeSet, Keys: []string{"gaps"}, About: func(r record) string { return r.Knife },
		Typed: func(c context, r record) map[string]string {
			return map[string]string{"gaps": form.TypedAll(c, r.Gaps)}
		},
		Put: putGaps,
	},
	Simulated: map[string]procedure.Simulated{"gaps": func(c context, s procedure.Saw, _ answers) string {
		gaps := practice.At(c, s, "gaps", practice.Times(c, model.KnifeSet)).KnifeGaps()
		return practice.Caliper(c, gaps[:]...)
	}},
	Figure: func(c context, a answers) procedure.Figure {
		f := procedure.Figure{Caption: "worst; limit " + metrology.WordsOf(c.Profile).Set(shownLimit(c, c.Blade))}
		if gaps := form.Readings(c, a["gaps"]); len(gaps) > 0 {
			f.Text = gapsTold(c)(slices.Max(gaps))
		}
		return f
	},
	Picture: func(c context, a answers) procedure.Picture {
		gaps := form.Readings(c, a["gaps"])
		return picture.KnifeGaps{Figures: form.Figures(c), FenceSide: c.Profile.Saw.FenceSide, Limit: shownLimit(c, c.Blade), Gaps: gaps[:min(len(gaps), 4)]}
	},
	Redo: func(t *taking) {
		if set := t.State.Knives[t.Blade].Set; set != nil {
			t.Record(record{Kind: model.Void, Of: set.Ref(), Why: model.Again})
		}
		t.Does(interlock.OtherOn())
	},
}

// setBefore are the records by which other knives were squared under the lock in force: what
// moves this one may have moved them.
func setBefore(c context) (sets []*record) {
	for _, k := range knivesToSet(c) {
		if set := c.State.Knives[k].Set; set != nil && k != c.Blade && set.Lock == c.State.Lock {
			sets = append(sets, set)
		}
	}
	return sets
}

func gapsField(c context, knife string) field {
	f := form.Lengths(c, "gaps", "Four gaps", "front low, high, rear low, high; such as "+c.Pick("0 0.05 0 0.05", "0 .002 0 .002"), nil, 4, 4, 0, 5*mm)
	return form.Ruled(f, func(gaps []model.Length) []reason { return model.FeelerGaps(gaps, play(c, knife), gapsTold(c)) })
}

// gapsTold tells gaps to a hundredth of a millimetre, or a tenth of a thousandth: to thousandths
// a leaf of .004 in would be refused for a limit that reads the same.
func gapsTold(c context) model.Tell {
	step := mm / 100
	if c.Unit() == model.IN {
		step = model.Inch / 10000
	}
	return func(l model.Length) string { return l.Show(c.Unit(), step) }
}

func putGaps(t *taking, r *record) { r.Gaps = t.Lengths("gaps") }
