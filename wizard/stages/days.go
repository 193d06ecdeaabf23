package stages

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
)

var whyAgain = procedure.Fact{Name: "why again", Lasts: true} // one blade: why it is run again

const (
	forSharpened = "sharpened"
	forCheck     = "check"
)

// reasonRow asks why one blade is run again, where it was compared before.
var reasonRow = row{
	Name: "reason", Stage: 10, Title: func(c context) string { return "Why is the " + c.Name(c.Options.Blade) + " run again?" },
	When: func(c context) bool { // it was asked before anything was ripped, or there was no need to
		row, _ := c.Plan.Row(c.Options.Blade)
		return (row.Usable() || row.State == model.StateCheck) && !slices.ContainsFunc(c.Now(), func(r record) bool {
			return (r.Kind == model.StripCut || r.Kind == model.Sharpened) && r.Blade == c.Options.Blade
		})
	},
	Done: func(c context) bool { return c.Fact(whyAgain) != "" },
	Act: procedure.Paper{
		Says: lines("Back from sharpening, or plate and kerf on file are not those of this blade: type sharpened.", "A check cut failed, or it is to be proved again: type check."),
		Accept: func(t *taking) {
			t.Keep(whyAgain, t.Choice("why"))
			if t.Choice("why") == forSharpened {
				t.Begin(&grinderRow, t.Options.Blade)
			}
		},
	},
	Why:    lines("Sharpening takes kerf off, and the first stack is worked out from plate and kerf."),
	Fields: fields(choice("why", "This blade is here for", "", forSharpened, forCheck)),
}

// checked are the blades of the pair, where the one blade of this run is to be proved.
func checked(c context) []string {
	if c.Fact(whyAgain) != forCheck || len(wantedBlade(c)) == 0 {
		return nil
	}
	return pair(c)
}

// stackOf is what goes on with a blade: the standing stack behind the reference, else the
// stack on record.
func stackOf(c context, blade string) []string {
	if blade == c.Profile.Reference {
		return c.Profile.Standing
	}
	row, _ := c.Plan.Row(blade)
	return row.Stack
}

// swapBlocks are the daily change of blade. A proof of it rips its first strips before the
// blade that is on comes off. Only a blade that may be used stays on.
func swapBlocks(o procedure.Options) []procedure.Block {
	blocks := []procedure.Block{{Rows: []row{whoRow}}, {Each: wantedBlade, Rows: []row{outOffRow, barredRow}}}
	if o.Proves {
		blocks = append(blocks, procedure.Block{Rows: []row{pairLockRow()}}, procedure.Block{Each: onFirst, Rows: []row{proofRow}})
	}
	blocks = append(blocks, procedure.Block{Each: wantedBlade, Rows: []row{knifeSeenRow, swappedRow}})
	if o.Proves {
		blocks = append(blocks, procedure.Block{Each: wantedBlade, Rows: []row{proofRow, provedRow}})
	}
	return blocks
}

// barredFromUse reports whether a blade may not be swapped to: it is neither ready nor due, nor
// does it only want the knife check that is part of a swap. Else a blade that is to be checked
// goes on for a proof alone, until that is seen.
func barredFromUse(c context) bool {
	row, _ := c.Plan.Row(c.Blade)
	proof := c.Options.Proves && c.Fact(provedSeen) == "" && (row.State == model.StateCheck || row.State == model.StateNotClosed)
	return !row.Usable() && !row.KnifeOnly && !proof
}

// outOffRow takes off a blade that turned out not to be ready: nobody is to work with it.
var outOffRow = row{
	Name: "out-off", Stage: 11, Title: emptiedRow.Title,
	When: func(c context) bool {
		on, known := c.Lock.On()
		return known && on.Blade == c.Blade && barredFromUse(c)
	},
	Act: clearRow.Act, Why: clearRow.Why, Help: clearRow.Help, Fields: clearRow.Fields,
	Follows: func(c context, _ answers) []reason { row, _ := c.Plan.Row(c.Blade); return row.Reasons },
}

// barredRow ends a swap to a blade that must not be used, with the reason and the way on.
var barredRow = row{
	Name: "barred", Stage: 10, Title: func(c context) string { return "Not to be used: the " + c.Name(c.Blade) },
	When: func(c context) bool { return barredFromUse(c) && c.Fact(provedSeen) == "" },
	Act: procedure.Paper{
		Says: func(c context) []string {
			row, _ := c.Plan.Row(c.Blade)
			var out []string
			for _, r := range row.Reasons {
				if len(out) < 2 && r.Weight != model.Explains {
					out = append(out, model.Sentence(r.Text))
				}
			}
			way := "It stays off. One blade again (sawdatum blade) brings it in. Type seen to end."
			if row.State == model.StateCheck {
				way = "It stays off. A pair of strips (sawdatum prove, or swap --prove) makes it ready. Type seen to end."
			}
			return append(out, way)
		},
		Accept: func(t *taking) { t.Finish() },
	},
	Why:    lines("Only a blade that is ready, or due, is put on for work."),
	Fields: fields(word("seen", "Read it", "seen")),
}

func wantedBlade(c context) []string { return []string{c.Options.Blade} }

// swappedRow is the blade on, its knife behind it, the checklist passed, and quiet.
var swappedRow = row{
	Name: "swapped", Stage: 10,
	Title: func(c context) string { return "Swap to the " + c.Name(c.Blade) },
	When:  func(c context) bool { return !barredFromUse(c) && c.Fact(provedSeen) == "" },
	Done: func(c context) bool {
		_, known := c.Lock.On()
		return known && c.Lock.Next(running(c)) == interlock.Open
	},
	Needs: running,
	Act:   procedure.Paper{Says: func(context) []string { return nil }, Accept: func(*taking) {}},
}

// running is the blade of the moment on, with its stack and its knife, and powered up.
func running(c context) interlock.Need {
	return interlock.Need{Power: interlock.Live, On: dressed(c, c.Blade, stackOf(c, c.Blade))}
}

// knifeSeenRow checks a knife that was moved, or taken out and put back, with a blade on that
// is in: only its tips tell where the datum lies.
var knifeSeenRow = row{
	Name: "knife-seen", Stage: 7,
	Title: func(c context) string { return "Check the knife behind the " + c.Name(inBlade(c)) },
	When: func(c context) bool {
		b, _ := c.Profile.BladeByID(c.Blade)
		k := c.State.Knives[b.Knife]
		return k.Set != nil && k.Unknown && inBlade(c) != ""
	},
	Done: func(c context) bool {
		b, _ := c.Profile.BladeByID(c.Blade)
		return !c.State.Knives[b.Knife].Unknown
	},
	Needs: func(c context) interlock.Need {
		return interlock.Need{On: dressed(c, inBlade(c), stackOf(c, inBlade(c)))}
	},
	Act: knifeCheckRow.Act, Why: knifeCheckRow.Why, Fields: knifeCheckRow.Fields, Follows: knifeCheckRow.Follows, Simulated: knifeCheckRow.Simulated,
}

// knifeSeenFor is due only as long as the row behind it is: with two knives in turn each
// comes out for the other, and nobody goes back to one whose strips are ripped.
func knifeSeenFor(next row) row {
	r := knifeSeenRow
	r.When = func(c context) bool { return knifeSeenRow.When(c) && !next.Done(c) }
	return r
}

// inBlade is a blade that is in and runs with the knife of the blade at hand: that itself,
// the one on the saw, the reference, or another; empty: none is yet.
func inBlade(c context) string {
	b, _ := c.Profile.BladeByID(c.Blade)
	for _, id := range append([]string{c.Blade, c.State.On.Blade, c.Profile.Reference}, rackBlades(c)...) {
		other, ok := c.Profile.BladeByID(id)
		row, _ := c.Plan.Row(id)
		datum := id == c.Profile.Reference && !carried(c)
		if ok && other.Knife == b.Knife && (datum || row.Basis == model.Measured && row.Verdict == model.In) {
			return id
		}
	}
	return ""
}

// proveBlocks are a pair of strips under one fence lock: of the blade, and of the reference
// or a blade that stands in for it; what is on the saw comes first.
func proveBlocks() []procedure.Block {
	return []procedure.Block{
		{Rows: []row{whoRow, pairLockRow()}},
		{Each: pair, Rows: []row{knifeSeenFor(proofRow), proofRow}},
		{Each: wantedBlade, Rows: []row{provedRow}},
		{Rows: []row{emptiedRow, leaveRow, handoverRow, closeRow}},
	}
}

// pairLockRow locks the fence for a pair: anew, since strips of a round that is closed say
// nothing of this one.
func pairLockRow() row {
	r := lockingRow("lock", 9, true)
	r.When = nil
	r.Done = func(c context) bool {
		spell, locked := c.State.Locks[c.State.Lock]
		return locked && spell.Made >= c.Started
	}
	return r
}

// pair is the blade that is proved and the one that it is held against, that on the saw
// first.
func pair(c context) []string {
	both := []string{partner(c), c.Options.Blade}
	if both[0] == "" {
		return nil
	}
	on, known := c.Lock.On()
	blade := on.Blade
	if !known {
		blade = c.State.On.Blade
	}
	if len(proofStrips(c, both[0])) == 0 && blade == both[1] {
		slices.Reverse(both)
	}
	return both
}

// onFirst is the blade that is on the saw, where it can be held against the one that goes on.
func onFirst(c context) []string {
	if both := pair(c); both != nil && both[0] != c.Options.Blade {
		return both[:1]
	}
	return nil
}

// partner is what a blade is held against: the reference, or what carries the datum for it.
// For the reference itself it is a blade that may be used: one that ripped its strip, the one
// on the saw, one that is not due; empty: there is none.
func partner(c context) string {
	ref := c.Profile.Reference
	if c.Options.Blade != ref {
		if by := carrier(c); by != c.Options.Blade {
			return by
		}
		return ref
	}
	best, most := "", 0
	for _, row := range c.Plan.Blades {
		if row.ID == ref {
			continue
		}
		good := 0
		switch {
		case len(proofStrips(c, row.ID)) > 0:
			good = 4
		case (row.Usable() || row.KnifeOnly) && row.ID == c.State.On.Blade:
			good = 3
		case row.Ready():
			good = 2
		case row.Usable() || row.KnifeOnly:
			good = 1
		}
		if good > most {
			best, most = row.ID, good
		}
	}
	return best
}

// compared is the blade of the pair that is held against the reference: a proof of the
// reference is a pair of that blade, and renews both.
func compared(c context) string {
	if c.Options.Blade == c.Profile.Reference {
		return partner(c)
	}
	return c.Options.Blade
}

// proofWants is how many strips each blade of a pair rips.
func proofWants(c context) int {
	row, _ := c.Plan.Row(compared(c))
	return max(row.Pair, 1)
}

// proofStrips are those that a blade ripped under the lock in force in this run.
func proofStrips(c context, blade string) (out []model.Strip) {
	for _, s := range c.State.Strips {
		if s.Blade == blade && s.Lock == c.State.Lock && s.Index >= c.Started && c.State.Lock != "" {
			out = append(out, s)
		}
	}
	return out
}

// proofRow rips a strip of one blade of the pair.
var proofRow = row{
	Name: "proof", Stage: 10,
	Title: func(c context) string {
		return fmt.Sprintf("Proof: strip %d of %d of the %s", len(proofStrips(c, c.Blade))+1, proofWants(c), c.Name(c.Blade))
	},
	When:  func(c context) bool { return !astray(c, c.Blade) },
	Done:  func(c context) bool { return len(proofStrips(c, c.Blade)) >= proofWants(c) },
	Needs: func(c context) interlock.Need { return needing(c, c.Blade, stackOf(c, c.Blade)) },
	Act: procedure.Spins{
		Says: func(c context, _ interlock.Turning) []string {
			return ripOrders(c, fmt.Sprintf("strip %d", len(proofStrips(c, c.Blade))+1))
		},
		Accept: func(t *taking, p interlock.Turning) {
			r := record{Kind: model.StripCut, Lock: t.State.Lock, Blade: t.Blade, Rings: t.State.On.Rings, Mounting: t.State.On.Mounting, For: model.ForBlade}
			if t.Blade != compared(t.Context) {
				r.For = model.Datum
			}
			putWidths(t, &r)
			t.Record(r)
			t.Does(interlock.Ripped(p))
			t.After(func(c context) []reason {
				if len(proofStrips(c, c.Options.Blade)) == 0 || len(proofStrips(c, partner(c))) == 0 {
					return nil
				}
				return verdictWords(c, compared(c))
			})
		},
	},
	Why: ripCautions, Help: ripHelp,
	Fields: func(c context) []field {
		return []field{widthsField(c, fmt.Sprintf("Widths of strip %d", len(proofStrips(c, c.Blade))+1))}
	},
	Reads: stripsRead(putWidths, model.Datum, model.ForBlade), Simulated: stripsSimulated,
	Picture: func(c context, a answers) procedure.Picture {
		return stripsPicture(c, a, proofStrips(c, c.Blade))
	},
}

var provedSeen = procedure.Fact{Name: "proof seen", Lasts: true}

// provedRow tells what the pair says.
var provedRow = row{
	Name: "proved", Stage: 10, Title: func(c context) string { return "What the pair says of the " + c.Name(c.Blade) },
	Done: func(c context) bool { return c.Fact(provedSeen) != "" },
	Act: procedure.Paper{
		Says: func(c context) []string {
			row, held := c.Plan.Row(compared(c))
			switch row.State {
			case model.StateReady:
				return []string{fmt.Sprintf("Still in: the %s cuts %s, plus or minus %s.", c.Name(row.ID), c.Side(row.Offset), c.Result(row.Expanded)), "Type seen to end."}
			case model.StateDue:
				return []string{"It is still due: the strips do not settle it. Another pair, with a strip more, will.", "Type seen to end."}
			}
			if !held {
				return []string{"No other blade may be used, so there is none to hold the reference against: compare one first.", "Type seen to end."}
			}
			out := []string{"The pair does not agree: one of the two has moved."}
			for _, r := range row.Reasons {
				if len(out) < 3 && r.Weight != model.Explains {
					out = append(out, model.Sentence(r.Text))
				}
			}
			return append(out, "A third ready blade tells which: prove it against the reference next. Type seen to end.")
		},
		Accept: func(t *taking) { t.Keep(provedSeen, "seen") },
	},
	Why:    lines("A single strip against the scale is a look, and proves nothing."),
	Fields: fields(word("seen", "Read it", "seen")),
}
