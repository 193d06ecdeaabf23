package stages

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

// comparing lists the blades that this run compares with the reference: first one that wants
// another strip of the reference, before that comes off again, then those that run with the knife
// that is behind the blade, then those that want another one.
func comparing(c context) []string {
	var first, now, later []string
	if c.Profile.Reference == "" || uncarried(c) {
		return nil
	}
	behind := c.State.On.Knife
	if behind == "" {
		r, _ := c.Profile.BladeByID(c.Profile.Reference)
		behind = r.Knife
	}
	moved := c.Options.Blade == c.Profile.Reference && c.Fact(whyAgain) == forSharpened && !carried(c)
	one := c.Options.Mode != procedure.Setup && !moved
	for _, b := range c.Profile.Rack() {
		switch {
		case b.ID == carrier(c) || b.ID == c.Profile.Reference && !carried(c) || one && b.ID != c.Options.Blade || form.KnifeFit(c, b.ID) != model.KnifeFits:
		case stand(c, b.ID).wants(c) == model.Datum:
			first = append(first, b.ID)
		case b.Knife == behind:
			now = append(now, b.ID)
		default:
			later = append(later, b.ID)
		}
	}
	return slices.Concat(first, now, later)
}

// carried reports whether the reference was sharpened and the datum stayed: it is then
// compared like any other, with what a stand-in rips.
func carried(c context) bool { return c.State.Blades[c.Profile.Reference].DatumStays }

// stands reports whether the reference itself stands for the datum: the shop has its knife, and
// it was not sharpened since, or it is in again.
func stands(c context) bool {
	row, _ := c.Plan.Row(c.Profile.Reference)
	if knifeGone(c, c.Profile.Reference) {
		return false
	}
	return !carried(c) || row.Basis == model.Measured && row.Verdict == model.In
}

// knifeGone reports whether the shop has the knife no more that a blade names.
func knifeGone(c context, blade string) bool {
	row, _ := c.Plan.Row(blade)
	return row.Knife == model.KnifeMissing
}

// uncarried reports whether nothing carries the datum: no strip would count.
func uncarried(c context) bool { return carrier(c) == c.Profile.Reference && !stands(c) }

// carrier is the blade whose strips carry the datum: the reference, or where it was
// sharpened and the datum stayed, and is not in again, a blade that stands in for it. In a run about one
// blade a stand-in that began under this lock goes on: strips of two blades do not add up.
func carrier(c context) string {
	ref := c.Profile.Reference
	if by := c.Plan.Lock.Carrier; c.Options.Mode == procedure.OneBlade && by != c.Options.Blade && slices.Contains(shop.StandIns(c), by) {
		return by
	}
	if stands(c) {
		return ref
	}
	for _, s := range datumOf(c, c.State.Lock) { // one that did under this lock still does, though its knife came out since
		if s.Carried && s.Blade != ref {
			return s.Blade
		}
	}
	return cmp.Or(shop.StandIn(c), ref)
}

// roundOver reports whether no blade of this run wants another strip under any lock.
func roundOver(c context) bool {
	for _, blade := range comparing(c) {
		if !stand(c, blade).over(c) {
			return false
		}
	}
	return true
}

// compareBlock is gone through once for each blade that is compared.
func compareBlock() procedure.Block {
	return procedure.Block{Each: comparing, Rows: []row{apartRow, feelRow, waysRow, cleanRow, furtherDatumRow, knifeSeenFor(stripRow), stripRow, knifeAfterRow, leaveBladeRow}}
}

// stripRow rips a strip of a blade.
var stripRow = row{
	Name: "strip", Stage: 10,
	Title: func(c context) string {
		n := len(stand(c, c.Blade).strips) + 1
		if n > shop.BladeStrips {
			return fmt.Sprintf("%s: strip %d", c.Name(c.Blade), n)
		}
		return fmt.Sprintf("%s: strip %d of %d", c.Name(c.Blade), n, shop.BladeStrips)
	},
	Done:  func(c context) bool { return stand(c, c.Blade).wants(c) != model.ForBlade },
	Needs: func(c context) interlock.Need { return needing(c, c.Blade, stand(c, c.Blade).stack) },
	Act: procedure.Spins{
		Says: func(c context, _ interlock.Turning) []string {
			return ripOrders(c, fmt.Sprintf("strip %d", len(stand(c, c.Blade).strips)+1))
		},
		Accept: func(t *taking, p interlock.Turning) {
			r := record{Kind: model.StripCut, Lock: t.State.Lock, Blade: t.Blade, Rings: t.State.On.Rings, Mounting: t.State.On.Mounting, For: model.ForBlade, Round: severalCompared(t.Context)}
			putStrip(t, &r)
			t.Record(r)
			t.Does(interlock.Ripped(p))
			blade := t.Blade
			t.After(func(c context) []reason { return verdictWords(c, blade) })
		},
	},
	Why: ripCautions,
	Help: append([]string{
		"The step between this strip and the reference strips is how far this blade cuts from the datum.",
		"Differences: zero the caliper on reference strip 1 before the first reading, on strip 2 before the second, and so on, at the same marked place; type + for wider.",
	}, ripHelp...),
	Fields: func(c context) []field {
		f := widthsField(c, fmt.Sprintf("Widths of strip %d", len(stand(c, c.Blade).strips)+1))
		f.Min = -form.Setting(c) / 2 // a difference
		return []field{f}
	},
	Simulated: practice.StripsSimulated,
	Reads:     stripsRead(putStrip, model.ForBlade),
	Follows:   func(c context, a answers) []reason { return stripFollows(c, a) },
	Figure:    stripFigure,
	Picture: func(c context, a answers) procedure.Picture {
		p := stripsPicture(c, a, stand(c, c.Blade).strips)
		p.Guard = guard(c)
		return p
	},
}

// putStrip takes widths, or differences from the reference strips: which of them it is
// shows by their size.
func putStrip(t *taking, r *record) {
	ms := t.Lengths("readings")
	w := t.Profile.WorkingWidth.Length
	wide := 0
	for _, m := range ms {
		if m.Length > w/2 {
			wide++
		}
	}
	zeroed := r.Zeroed
	r.Readings, r.Differences, r.Zeroed = nil, nil, nil
	switch {
	case wide == len(ms):
		r.Readings = ms
	case wide == 0:
		datum := datumOf(t.Context, r.Lock)
		r.Differences = ms
		if len(ms) == len(zeroed) { // corrected
			r.Zeroed = zeroed
		} else if len(ms) == len(datum) {
			for _, s := range datum {
				r.Zeroed = append(r.Zeroed, s.Record.Ref())
			}
		} else {
			t.Question("readings", "%d differences and %d reference strips: zeroed anew on each strip there would be one reading for each", len(ms), len(datum))
		}
	default:
		t.Fault("readings", "some are widths near %s, others differences near 0: type one kind", t.Show(w))
		return
	}
	scatter(t, "readings", ms)
}

// furtherDatumRow rips one more strip of the reference, where that settles a doubt.
var furtherDatumRow = row{
	Name: "further", Stage: 10,
	Title: func(c context) string { return "One more reference strip, for the " + c.Name(c.Blade) },
	When:  func(c context) bool { return stand(c, c.Blade).wants(c) == model.Datum },
	Done:  func(c context) bool { return stand(c, c.Blade).wants(c) != model.Datum },
	Needs: referenceRow.Needs, Act: referenceRow.Act, Why: ripCautions, Help: ripHelp, Fields: referenceRow.Fields, Picture: referenceRow.Picture, Simulated: practice.StripsSimulated,
}

// boxRow has the rings written on the box of a blade that is in, once its round is closed.
var boxRow = row{
	Name: "box", Stage: 10, Title: func(c context) string { return "Write it down: " + c.Name(c.Blade) },
	When: func(c context) bool {
		s := stand(c, c.Blade)
		return s.judged() && s.Verdict == model.In && !s.ProvedAt.IsZero()
	},
	Done: func(c context) bool {
		box := c.State.Blades[c.Blade].Box
		b, _ := c.Profile.BladeByID(c.Blade)
		return box != nil && slices.Equal(box.Rings, stand(c, c.Blade).stack) && box.Knife == b.Knife
	},
	Act: procedure.Paper{
		Says: func(c context) []string {
			s := stand(c, c.Blade)
			k, _ := c.Knife(c.Blade)
			return []string{
				fmt.Sprintf("Write on its box, and on the blade once off: %s; knife %s; mark to mark.", c.Rings(s.stack), k.Label()),
			}
		},
		Accept: func(t *taking) {
			b, _ := t.Profile.BladeByID(t.Blade)
			rings, _ := t.Profile.ParseStack(t.Text("written"))
			t.Record(record{Kind: model.Box, Blade: t.Blade, Rings: rings, Knife: b.Knife})
		},
	},
	Help: []string{"The next shift mounts what is written there."},
	Figure: func(c context, _ answers) procedure.Figure {
		stack := stand(c, c.Blade).stack
		if len(stack) == 0 { // as the cards have it
			return procedure.Figure{Text: "0", Caption: "no rings", Order: true}
		}
		return stackFigure(c, stack)
	},
	Follows: func(c context, _ answers) []reason { return verdict(c, c.Blade) },
	Fields: func(c context) []field {
		stack := stand(c, c.Blade).stack
		return []field{field{Key: "written", Label: "Rings as written", Hint: "such as " + c.RingsTyped(stack), Kind: procedure.FieldRings}.With(func(text string) error {
			wrote, err := c.Profile.ParseStack(text)
			if err == nil && !slices.Equal(wrote, stack) {
				return fmt.Errorf("%s is not its stack: write %s", c.Rings(wrote), c.Rings(stack))
			}
			return err
		})}
	},
}

// closingRow rips a strip of the reference at the end of a round: it tells whether the lock
// held.
var closingRow = row{
	Name: "closing", Stage: 10, Title: form.Said("Closing strip: did the lock hold?"),
	When:  func(c context) bool { return closingDue(c) },
	Done:  func(c context) bool { return !closingDue(c) },
	Needs: func(c context) interlock.Need { return needing(c, carrier(c), stackOf(c, carrier(c))) },
	Act: procedure.Spins{
		Says: func(c context, _ interlock.Turning) []string {
			return ripOrders(c, "the closing strip")
		},
		Accept: func(t *taking, p interlock.Turning) {
			r := record{Kind: model.StripCut, Lock: t.State.Lock, Blade: t.State.On.Blade, Rings: t.State.On.Rings, Mounting: t.State.On.Mounting, For: model.Closing}
			putWidths(t, &r)
			t.Record(r)
			t.Does(interlock.Ripped(p))
			t.After(closingWords)
		},
	},
	Why: ripCautions, Help: append([]string{"It is no reference strip: it changes no difference. Within its uncertainty the lock held, and its difference tells what mounting again does."}, ripHelp...),
	Fields:    func(c context) []field { return []field{widthsField(c, "Widths of the closing strip")} },
	Simulated: practice.StripsSimulated, Follows: closingFollows,
	Reads: stripsRead(putWidths, model.Closing),
	Picture: func(c context, a answers) procedure.Picture {
		p := stripsPicture(c, a, nil)
		p.Rows[0].Name = "closing strip"
		return p
	},
}
