package stages

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver/gauging"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// lockRow sets the fence to the working width and locks it, while the blade stands: before
// heel and toe, and again once the scale was read at other widths.
var lockRow, scaleLockRow = lockingRow("lock", 5, false), lockingRow("lock-again", 8, true)

func lockingRow(name string, stage int, scaled bool) row {
	return row{
		Name: name, Stage: stage, Title: form.Said("Set the fence and lock it"),
		When: func(c context) bool {
			return (c.State.Scaled != nil && c.State.HeelToe != nil && !boardNeeded(c)) == scaled
		},
		Done:  func(c context) bool { return c.State.Lock != "" },
		Needs: func(context) interlock.Need { return interlock.Need{Still: true} },
		Act: procedure.Paper{
			Says: func(c context) []string {
				out := []string{
					fmt.Sprintf("Fence to %s by its scale. Lock it.", c.Size(c.Profile.WorkingWidth.Length)),
					"Clamp a block to the rail, against the fence.",
				}
				if c.Options.Mode != procedure.Setup {
					out = append(out, fmt.Sprintf("Have %d blanks of %s at hand.", blanksOf(c), blankSize(c)))
				}
				return out
			},
			Accept: func(t *taking) { lockFence(t, t.Length("width")) },
		},
		Why: form.Lines("One lock for all strips; move the fence only at standstill."),
		Fields: func(c context) []field {
			w := c.Profile.WorkingWidth.Length
			lo, hi := w-mm, w+mm
			if c.Unit() == model.IN { // the marks of its scale within that
				lo, hi = (lo+model.ScaleMark-1)/model.ScaleMark*model.ScaleMark, hi/model.ScaleMark*model.ScaleMark
			}
			return []field{form.Length(c, "width", "Locked: the scale reads", c.Size(w), model.Measure{}, lo, hi)}
		},
		Figure: func(c context, _ answers) procedure.Figure {
			return procedure.Figure{Text: c.Short(c.Profile.WorkingWidth.Length), Caption: "fence, " + c.Unit().Label(), Order: true}
		},
		Redo: moveFence,
	}
}

// lockFence puts a fence lock on record and knows it untouched.
func lockFence(t *taking, width model.Measure) {
	name := t.At.UTC().Format("20060102-150405") + "-" + t.Who
	for _, r := range t.All() {
		if r.Kind == model.FenceLock && r.Lock == name {
			name = fmt.Sprintf("%s-%d", name, len(t.All()))
		}
	}
	t.Record(record{Kind: model.FenceLock, Lock: name, Width: width})
	t.Does(interlock.FenceLocked(name))
}

// moveFence voids the lock in force. Earlier readings stay as history.
func moveFence(t *taking) {
	if t.State.Lock != "" {
		t.Record(record{Kind: model.FenceMoved, Lock: t.State.Lock})
	}
	t.Does(interlock.FenceMoved())
	t.Say("fence-moved", model.Warns, "The fence lock is void. Earlier readings stay as history; reference strips come before the next comparison.")
}

// pairsRow reads the fence scale at other widths than the working width, each on a strip of
// its own.
var pairsRow = row{
	Name: "pairs", Stage: 8, Title: form.Said("Read the fence scale"),
	Done:  func(c context) bool { return c.State.Scaled != nil },
	Redo:  func(t *taking) { t.Record(record{Kind: model.Void, Of: t.State.Scaled.Ref(), Why: model.Again}) },
	Needs: referenceOn,
	Act: procedure.Spins{
		Says: func(c context, _ interlock.Turning) []string {
			return []string{
				fmt.Sprintf("Blade still: move the fence to another width, such as %s; lock it.", c.Size(otherWidth(c))),
				"Rip a new strip; at standstill take it, read it. Other widths likewise.",
				"Type setting=reading for each, a space between.",
			}
		},
		Accept: func(t *taking, p interlock.Turning) {
			r := record{Kind: model.Scale}
			putPairs(t, &r)
			if t.State.Lock != "" {
				t.Record(record{Kind: model.FenceMoved, Lock: t.State.Lock})
			}
			t.Record(r)
			t.Does(interlock.Ripped(p))
			t.Does(interlock.FenceMoved())
		},
	},
	Why: ripCautions, Help: append([]string{"The cursor cures an offset, but no slope and no fence that does not repeat. With three widths or more the program tells whether a slope is real.", "A strip that was ripped before proves nothing: a second pass takes something off only where the cut lies nearer the fence."}, ripHelp...),
	Fields: func(c context) []field {
		w := otherWidth(c)
		off := model.Length(10) // hundredths of a millimetre, or thousandths of an inch
		if c.Unit() == model.IN {
			off = 4
		}
		example := fmt.Sprintf("such as %s=%s", strings.ReplaceAll(c.Size(w), " ", "-"), model.Like(w, c.Unit(), off))
		return []field{{Key: "pairs", Label: "Settings and readings", Hint: example, Kind: procedure.FieldPairs, Unit: c.Unit(), AtLeast: 1, AtMost: 30, Min: mm, Max: 3000 * mm, Measuring: true}}
	},
	Simulated: map[string]procedure.Simulated{"pairs": func(c context, s procedure.Saw, _ answers) string {
		here, w := practice.At(c, s, "scale", practice.Times(c, model.Scale)), otherWidth(c)
		here.Lock = ""
		strip := here.RipStrip(practice.DressedUp(c), here.SetFence(w))
		return c.Bare(w) + "=" + practice.Caliper(c, here.ReadStrip(strip, 0, 1)...)
	}},
	Reads:   &procedure.Reads{Kind: model.Scale, Keys: []string{"pairs"}, Typed: typedPairs, Put: putPairs},
	Follows: func(c context, a answers) []reason { return scaleWords(c, a, "pairs") },
	Picture: func(c context, a answers) procedure.Picture { return scalePicture(c, a, "pairs") },
}

// otherWidth is a second width to read the scale at: half as far again as the working
// width, or less where the caliper does not open so far.
func otherWidth(c context) model.Length {
	w, step := c.Profile.WorkingWidth.Length, 5*mm
	if c.Unit() == model.IN {
		step = model.Inch / 4
	}
	other := w * 3 / 2
	if opens := c.Profile.Instruments.CaliperRange.Length; opens > 0 && model.CaliperReaches(other, opens, c.Show) != nil {
		other = w * 3 / 4
	}
	return other / step * step
}

func typedPairs(c context, r record) map[string]string {
	var out []string
	for _, p := range r.Pairs {
		out = append(out, form.TypedOne(c, p.Set)+"="+form.TypedOne(c, p.Read))
	}
	if len(out) == 0 {
		return nil
	}
	return map[string]string{"pairs": strings.Join(out, " ")}
}

func putPairs(t *taking, r *record) {
	pairs, err := procedure.ParsePairs(t.Text("pairs"), t.Unit())
	if err != nil {
		t.Fault("pairs", "%s", err)
		return
	}
	for i, p := range pairs {
		for _, r := range model.RipWidth(p.Read.Length, p.Set.Length, t.Show) {
			r.Text = fmt.Sprintf("pair %d: %s", i+1, r.Text)
			form.Asked(t, "pairs", []reason{r})
		}
	}
	r.Pairs = pairs
}

// scaleRow reads the scale at the working width, under the lock that stays until the last
// comparison. It is taken as it reads: nobody nudges a fence on a strip that is cut.
var scaleRow = row{
	Name: "scale", Stage: 8, Title: form.Said("The scale at the working width"),
	Done:  func(c context) bool { return c.State.Scaled != nil && verified(c) },
	Needs: func(c context) interlock.Need { n := referenceOn(c); n.Lock = c.State.Lock; return n },
	Act: procedure.Spins{
		Says: func(c context, _ interlock.Turning) []string {
			return []string{
				"Rip a new strip. Stop, standstill, take the strip.",
				"Read it at three places. It counts as it reads: no second try.",
				"Then move the scale's cursor; leave the fence locked.",
			}
		},
		Accept: func(t *taking, p interlock.Turning) {
			r := record{Kind: model.Scale}
			if t.State.Scaled != nil {
				r.Pairs = t.State.Scaled.Pairs
			}
			putScale(t, &r)
			t.Record(r)
			t.Does(interlock.Ripped(p))
		},
	},
	Why: ripCautions, Help: ripHelp,
	Fields: func(c context) []field {
		w := c.Profile.WorkingWidth.Length
		read := form.Lengths(c, "read", "Width of the strip", "3 or more, such as "+model.Like(w, c.Unit(), 12, 13, 12), nil, form.LeastReadings, 12, w/2, 2*w)
		read = form.Ruled(read, form.Each(form.RipWidth(c))).Against(func(t *taking) { scatter(t, "read", t.Lengths("read")) })
		return []field{read, form.Optional(field{Key: "cursor", Label: "Cursor moved by", Hint: "+ higher, - lower; empty: not moved", Kind: procedure.FieldLength, Unit: c.Unit(), Min: -50 * mm, Max: 50 * mm}).Against(checkCursor)}
	},
	Simulated: map[string]procedure.Simulated{"read": practice.StripRead},
	Follows:   func(c context, a answers) []reason { return scaleWords(c, a, "read") },
	Picture:   func(c context, a answers) procedure.Picture { return scalePicture(c, a, "read") },
}

// checkCursor asks again where the cursor, moved so, would be off by more than the tolerance:
// the sign is easily lost.
func checkCursor(t *taking) {
	fit, err := fitted(t.Context, answers{"read": t.Text("read")}, "read")
	if err != nil || !t.Typed("cursor") {
		return
	}
	if off := (t.Length("cursor").Length - fit.Cursor).Abs(); off > t.Profile.Tolerance.Length {
		t.Question("cursor", "moved so, the cursor is %s off (%s): look at the sign", t.Show(off), gauging.CursorWords(fit.Cursor, metrology.WordsOf(t.Profile)))
	}
}

// verified reports whether the scale was read at the working width, under some lock.
func verified(c context) bool {
	w := c.Profile.WorkingWidth.Length
	return slices.ContainsFunc(c.State.Scaled.Pairs, func(p model.Pair) bool { return (p.Set.Length - w).Abs() <= mm })
}

func putScale(t *taking, r *record) {
	read := t.Lengths("read")
	mean, err := metrology.Mean(model.Lengths(read))
	if err != nil {
		t.Fault("read", "%s", err)
		return
	}
	r.Pairs = append(slices.Clone(r.Pairs), model.Pair{Set: t.State.Width, Read: mean.Near(read[0].Unit)})
	r.Cursor = t.Length("cursor")
}

// pairsSoFar are the pairs on record and those in a text that is being typed.
func pairsSoFar(c context, a answers, key string) []model.Pair {
	var out []model.Pair
	if c.State.Scaled != nil {
		out = append(out, c.State.Scaled.Pairs...)
	}
	if key == "read" {
		if mean, err := metrology.Mean(form.Readings(c, a[key])); err == nil {
			out = append(out, model.Pair{Set: c.State.Width, Read: mean.Of(c.Unit())})
		}
		return out
	}
	words := strings.Fields(a[key])
	for i, text := range words {
		if i > 0 {
			if _, mixed := model.SplitMixed(words[i-1], text); mixed {
				continue // it is refused
			}
		}
		if pair, err := procedure.ParsePairs(text, c.Unit()); err == nil && pair[0].Read.Length > pair[0].Set.Length/2 { // a reading under way is no point yet
			out = append(out, pair...)
		}
	}
	return out
}

func fitted(c context, a answers, key string) (gauging.ScaleFit, error) {
	pairs := pairsSoFar(c, a, key)
	if len(pairs) < 2 {
		return gauging.ScaleFit{}, errors.New("one width shows no line")
	}
	return gauging.FitScale(pairs, c.Profile.WorkingWidth.Length, metrology.WordsOf(c.Profile))
}

func scaleWords(c context, a answers, key string) []reason {
	fit, err := fitted(c, a, key)
	if err != nil {
		return nil
	}
	if strings.TrimSpace(a["cursor"]) != "" { // it was moved
		return slices.DeleteFunc(fit.Reasons, func(r reason) bool { return r.Code == "cursor" })
	}
	return fit.Reasons
}

func scalePicture(c context, a answers, key string) procedure.Picture {
	pairs := pairsSoFar(c, a, key)
	f := picture.FenceScale{Figures: form.Figures(c), Working: c.Profile.WorkingWidth.Length, Other: otherWidth(c), Tolerance: c.Profile.Tolerance.Length}
	for _, p := range pairs {
		f.Points = append(f.Points, picture.ScalePoint{Set: p.Set.Length, Read: p.Read.Length})
	}
	if fit, err := fitted(c, a, key); err == nil {
		f.Fitted, f.Slope = true, fit.B
		f.Shift, _ = model.FromMillimetres(fit.A / float64(model.Millimetre))
	}
	return f
}
