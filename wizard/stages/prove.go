package stages

import (
	"fmt"
	"slices"
	"strconv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

// proveBlocks are a pair of strips under one fence lock: of the blade, and of the reference
// or a blade that stands in for it; what is on the saw comes first.
func proveBlocks() []procedure.Block {
	return []procedure.Block{
		{Rows: []row{whoRow, uncarriedRow, pairLockRow()}},
		{Each: pair, Rows: []row{knifeSeenFor(proofRow), proofRow, apartRow}},
		{Each: comparedBlade, Rows: []row{feelRow}},
		{Each: wantedBlade, Rows: []row{provedRow, boxAnew()}},
		{Rows: []row{emptiedRow, leaveRow, handoverRow, closeRow}},
	}
}

// boxAnew has the box of a blade written anew, where that is all that keeps it from being ready.
func boxAnew() row {
	r := boxRow
	r.When = func(c context) bool { return stand(c, c.Blade).Owed == "box-differs" }
	return r
}

// pairLockRow locks the fence for a pair: anew, since strips of a round that is closed say
// nothing of this one.
func pairLockRow() row {
	r := lockingRow("lock", 9, true)
	r.When = func(c context) bool { return !unpaired(c) }
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
	if both[0] == "" || unpaired(c) {
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

// beforeSwap are the blades of the pair that rip before the blade that is wanted goes on: the
// other one, where that is on the saw; both, where the wanted one is on already.
func beforeSwap(c context) []string {
	both := pair(c)
	switch {
	case !proves(c) || both == nil || c.Fact(provedSeen) != "":
		return nil
	case wantedFirst(c):
		return both
	case both[0] != c.Options.Blade:
		return both[:1]
	}
	return nil
}

// wantedFirst reports whether the blade that a swap is to was on the saw before it: it rips first,
// the other of the pair after it, and once that is seen it goes on again.
func wantedFirst(c context) bool {
	mine, others := proofStrips(c, c.Options.Blade), proofStrips(c, partner(c))
	switch both := pair(c); {
	case both == nil:
		return false
	case len(mine) == 0 || len(others) == 0:
		return len(others) == 0 && (len(mine) > 0 || both[0] == c.Options.Blade)
	}
	return mine[0].Index < others[0].Index
}

// partner is what a blade is held against: what ripped for the datum in this run already, a stand-in that
// is on the saw and need not come off for the reference first, the reference, or what carries the datum for it.
// For the reference itself it is a blade that may be used: one that ripped its strip, the one
// on the saw, one that is not due; where none may, one that is to be checked itself, since a pair
// that agrees speaks for both; empty: there is none.
func partner(c context) string {
	ref := c.Profile.Reference
	if c.Options.Blade != ref {
		for _, s := range datumOf(c, c.State.Lock) {
			if s.Index >= c.Started && s.Blade != c.Options.Blade {
				return s.Blade
			}
		}
		if on := c.State.On.Blade; on != c.Options.Blade && slices.Contains(shop.StandIns(c), on) {
			return on
		}
		if by := carrier(c); by != c.Options.Blade {
			return by
		}
		if !knifeGone(c, ref) {
			return ref
		}
		for _, by := range shop.StandIns(c) {
			if by != c.Options.Blade {
				return by
			}
		}
		return ""
	}
	best, most := "", 0
	for _, row := range c.Plan.Blades {
		if row.ID == ref {
			continue
		}
		good := 0
		switch {
		case len(proofStrips(c, row.ID)) > 0:
			good = 5
		case (row.Usable() || row.KnifeOnly) && row.ID == c.State.On.Blade:
			good = 4
		case row.Ready():
			good = 3
		case row.Usable() || row.KnifeOnly:
			good = 2
		case row.State == model.StateCheck && row.Basis == model.Measured && row.Verdict == model.In && !shop.Disagreed(row):
			good = 1
		}
		if good > most {
			best, most = row.ID, good
		}
	}
	return best
}

// unpaired reports whether no strip of a pair would count: nothing carries the datum for the
// blade that is proved.
func unpaired(c context) bool {
	return uncarried(c) || c.Options.Blade != c.Profile.Reference && partner(c) == ""
}

// compared is the blade of the pair that is held against the reference: a proof of the
// reference is a pair of that blade, and renews both.
func compared(c context) string {
	if c.Options.Blade == c.Profile.Reference {
		return partner(c)
	}
	return c.Options.Blade
}

func comparedBlade(c context) []string { return []string{compared(c)} }

// mayRip reports whether a blade rips with its knife inside the kerf, as far as is known, or once
// that is checked: a strip may be corrected in the midst of a proof, and the other blade then rips
// none for it.
func mayRip(c context, blade string) bool {
	row, _ := c.Plan.Row(blade)
	return row.Inside || row.Unseen && knifeToSee(c.For(blade))
}

// pairStrips is how many strips each blade of a pair rips.
func pairStrips(c context) int {
	row, _ := c.Plan.Row(compared(c))
	return max(row.Pair, 1)
}

// proofWants is how many strips a blade of a pair rips: as many as the other did, and of the one
// that is on the saw when both have theirs as many more as settle a doubt. What came off for the
// other stays off: mounted again it would begin another proof.
func proofWants(c context, blade string) int {
	row, _ := c.Plan.Row(compared(c))
	other, more := compared(c), row.MoreDatum
	if blade == other {
		other, more = partner(c), row.MoreOwn
		if other == blade {
			other = c.Options.Blade
		}
	}
	mine, others := len(proofStrips(c, blade)), len(proofStrips(c, other))
	switch on, known := c.Lock.On(); {
	case mine == 0 || others == 0 || !known:
		return pairStrips(c)
	case on.Blade != blade:
		return mine
	}
	return max(others, mine+more)
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

// movedBeside is the blade that has moved, by a pair that agrees: it did not agree with a blade of
// that. Empty: none.
func movedBeside(c context, blade string) string {
	for _, b := range c.Plan.Blades {
		if b.Moved && b.ID != blade {
			return b.ID
		}
	}
	return ""
}

// proofRow rips a strip of one blade of the pair.
var proofRow = row{
	Name: "proof", Stage: 10,
	Title: func(c context) string {
		return fmt.Sprintf("Proof: strip %d of %d of the %s", min(len(proofStrips(c, c.Blade))+1, proofWants(c, c.Blade)), proofWants(c, c.Blade), c.Name(c.Blade))
	},
	When: func(c context) bool { // its knife may have been lost in this run
		row, _ := c.Plan.Row(c.Blade)
		return row.Inside && !unpaired(c) && form.KnifeFit(c, c.Blade) == model.KnifeFits && mayRip(c, compared(c))
	},
	Done:  func(c context) bool { return len(proofStrips(c, c.Blade)) >= proofWants(c, c.Blade) },
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
			t.Keep(laidOut, strconv.Itoa(blanksOf(t.Context))) // as many as were there before the strips asked for more
			t.Record(r)
			t.Does(interlock.Ripped(p))
			t.After(func(c context) []reason {
				for _, blade := range []string{c.Options.Blade, partner(c)} { // half a pair says nothing
					if n := len(proofStrips(c, blade)); n == 0 || n < proofWants(c, blade) {
						return openWords(c, t.Blade)
					}
				}
				if !renewed(c) { // its verdict is that of older strips
					return nil
				}
				return withReasons(c, compared(c), pairVerdict(c))
			})
		},
	},
	Why: ripCautions, Help: ripHelp,
	Fields: func(c context) []field {
		return []field{widthsField(c, fmt.Sprintf("Widths of strip %d", len(proofStrips(c, c.Blade))+1))}
	},
	Reads: stripsRead(putWidths, model.Datum, model.ForBlade), Simulated: practice.StripsSimulated,
	Picture: func(c context, a answers) procedure.Picture {
		if c.Blade != compared(c) {
			return ownPicture(c, a, proofStrips(c, c.Blade))
		}
		p := stripsPicture(c, a, proofStrips(c, c.Blade))
		_, p.Guard = pairSays(c)
		return p
	},
}

var provedSeen = procedure.Fact{Name: "proof seen", Lasts: true}

// provedRow tells what the pair says.
var provedRow = row{
	Name: "proved", Stage: 10, Title: func(c context) string { return "What the pair says of the " + c.Name(compared(c)) },
	Done: func(c context) bool { return c.Fact(provedSeen) != "" || c.Fact(uncarriedSeen) != "" },
	Act: procedure.Paper{
		Says: func(c context) []string {
			row, held := c.Plan.Row(compared(c))
			switch {
			case unpaired(c):
				return nothingCarries(c)
			case row.Usable() && renewed(c):
				out := []string{fmt.Sprintf("Still in: the pair proves the %s.", c.Name(row.ID))}
				if moved := movedBeside(c, row.ID); moved != "" {
					out = append(out, fmt.Sprintf("So it is the %s that has moved, of the pair that did not agree.", c.Name(moved)))
				}
				return append(out, "Type seen to end.")
			case row.Usable():
				return []string{"Not settled: it stays as it was, not renewed.", "By this pair " + pairFigures(c) + "; the tolerance is " + c.Show(c.Profile.Tolerance.Length) + ".", "Another pair tells more: prove it again.", "Type seen to end."}
			}
			if !held {
				return []string{"No other blade may be used, so there is none to hold the reference against: compare one first.", "Type seen to end."}
			}
			if row.OutKnife {
				return []string{"The pair does not agree. Type seen to end.", "By its strips " + pairFigures(c) + ": the knife stands outside its kerf.", "A pair with a third ready blade tells which of them has moved."}
			}
			against := row.Against()[:min(len(row.Against()), 2)]
			out := []string{"The pair does not agree. Type seen to end."}
			for _, r := range against {
				out = append(out, model.Sentence(r.Text))
			}
			if !shop.Disagreed(model.BladeRow{Reasons: against}) { // it tells of the third blade itself
				out = append(out, "A third ready blade tells which has moved: prove it against the reference next.")
			}
			return out
		},
		Accept: func(t *taking) { t.Keep(provedSeen, "seen") },
	},
	Help:   []string{"A single strip against the scale is a look, and proves nothing."},
	Fields: form.Fields(form.Word("seen", "Read it", "seen")),
	Follows: func(c context, _ answers) []reason {
		if !renewed(c) { // its verdict is that of older strips
			return nil
		}
		return pairVerdict(c)
	},
	Picture: func(c context, _ answers) procedure.Picture {
		strips := proofStrips(c, compared(c))
		if len(strips) == 0 {
			return nil
		}
		p := stripsLaid(c, c.State.Lock, strips)
		_, p.Guard = pairSays(c)
		return p
	},
	Figure: func(c context, _ answers) procedure.Figure {
		row, held := c.Plan.Row(compared(c))
		offset, expanded := pairSays(c)
		switch {
		case unpaired(c) || !held || expanded == 0:
			return procedure.Figure{}
		case row.Usable() && renewed(c):
			return procedure.Figure{Text: "IN", Caption: c.Side(offset)}
		}
		return offFigure(c, offset, "")
	},
}
