package stages

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

var whyAgain = procedure.Fact{Name: "why again", Lasts: true} // one blade: why it is run again

const (
	forSharpened = "sharpened"
	forCheck     = "check"
	forKnife     = "knife"
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
		Says: func(c context) []string {
			out := []string{"Back from sharpening, or plate and kerf on file are not those of this blade: type sharpened.", "A check cut failed, or it is to be proved again: type check."}
			if row, _ := c.Plan.Row(c.Options.Blade); row.KnifeOnly {
				return append(out, "Only its knife is to be checked, without a strip: type knife.")
			}
			return out
		},
		Accept: func(t *taking) {
			t.Keep(whyAgain, t.Choice("why"))
			if t.Choice("why") == forSharpened {
				t.Begin(&shop.GrinderRow, t.Options.Blade)
			}
		},
	},
	Why: form.Lines("Sharpening takes kerf off, and the first stack is worked out from plate and kerf."),
	Fields: func(c context) []field {
		ways := []string{forSharpened, forCheck}
		if row, _ := c.Plan.Row(c.Options.Blade); row.KnifeOnly {
			ways = append(ways, forKnife)
		}
		return []field{form.Choice("why", "This blade is here for", "", ways...)}
	},
}

var uncarriedSeen = procedure.Fact{Name: "uncarried seen", Lasts: true}

// uncarriedRow says that no strip would count, and what to do, before anything is done at the
// saw for one.
var uncarriedRow = row{
	Name: "uncarried", Stage: 10, Title: form.Said("Nothing carries the datum"),
	When: uncounted,
	Done: func(c context) bool { return !uncounted(c) || c.Fact(uncarriedSeen) != "" },
	Act: procedure.Paper{
		Says:   nothingCarries,
		Accept: func(t *taking) { t.Keep(uncarriedSeen, "seen") },
	},
	Why:    form.Lines("With another reference the datum moves, and every blade is compared anew."),
	Fields: form.Fields(form.Word("seen", "Read it", "seen")),
}

// nothingCarries says why no strip would count, and what to do.
func nothingCarries(c context) []string {
	what, way := "was sharpened", "Under other work: another reference, or sharpened with the datum moved."
	if knifeGone(c, c.Profile.Reference) {
		what, way = "has no knife", "Under other work: a knife for it, or another reference."
	}
	return []string{
		fmt.Sprintf("The %s %s; no ready blade stands in for it.", c.Name(c.Profile.Reference), what),
		"No strip would count, and none is ripped. Type seen to end.", way,
	}
}

// uncounted reports whether no strip of this run would count.
func uncounted(c context) bool {
	if c.Options.Mode == procedure.OneBlade {
		return uncarried(c)
	}
	return unpaired(c)
}

// forItsKnife is the one blade of this run, where only its knife is to be checked.
func forItsKnife(c context) []string {
	if c.Fact(whyAgain) != forKnife {
		return nil
	}
	return wantedBlade(c)
}

// checked are the blades of the pair, where the one blade of this run is to be proved.
func checked(c context) []string {
	if c.Fact(whyAgain) != forCheck || len(wantedBlade(c)) == 0 || uncarried(c) {
		return nil
	}
	return pair(c)
}

// stackOf is what goes on with a blade: the standing stack behind the reference, else the
// stack on record. Sharpened, the reference may have come in with other rings.
func stackOf(c context, blade string) []string {
	if blade == c.Profile.Reference && !carried(c) {
		return c.Profile.Standing
	}
	row, _ := c.Plan.Row(blade)
	return row.Stack
}

// swapBlocks are the daily change of blade. A proof of it rips its first strips before the
// blade that is on comes off, and all of them where that is the blade that is wanted. Only a
// blade that may be used stays on.
func swapBlocks() []procedure.Block {
	told := []row{provedRow, boxAnew()}
	return []procedure.Block{
		{Rows: []row{whoRow, offerRow}},
		{Each: wantedBlade, Rows: []row{proving(feelRow), outOffRow, barredRow}},
		{Rows: []row{proving(uncarriedRow), proving(pairLockRow())}},
		{Each: beforeSwap, Rows: []row{knifeSeenFor(proofRow), proofRow, apartRow}},
		{Each: wantedWhere(wantedFirst), Rows: told},
		{Each: wantedBlade, Rows: []row{knifeSeenRow, swappedRow}},
		{Each: wantedWhere(func(c context) bool { return !wantedFirst(c) }), Rows: append([]row{proofRow, apartRow}, told...)},
	}
}

// proves reports whether a proof is made of this swap.
func proves(c context) bool { return c.Options.Proves || c.Fact(withProof) == forProof }

// proving is a row of a swap as a proof alone.
func proving(r row) row {
	when := r.When
	r.When = func(c context) bool { return proves(c) && (when == nil || when(c)) }
	return r
}

// wantedWhere is the blade that is wanted, where a proof is made and something is so.
func wantedWhere(so func(context) bool) func(context) []string {
	return func(c context) []string {
		if proves(c) && so(c) {
			return wantedBlade(c)
		}
		return nil
	}
}

// barredFromUse reports whether a blade may not be swapped to: it is neither ready nor due, nor
// does it only want the knife check that is part of a swap. Else a blade that is to be checked
// goes on for a proof alone, until that is seen.
func barredFromUse(c context) bool {
	row, _ := c.Plan.Row(c.Blade)
	proof := proves(c) && c.Fact(provedSeen) == "" && (row.State == model.StateCheck || row.State == model.StateNotClosed)
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
			way, told := "One blade again (sawdatum blade) brings it in.", 2
			switch {
			case len(proofStrips(c, c.Blade)) > 0: // what its strips say says all
				told = 1
				way = "One of the pair has moved: a third ready blade, proved next, tells which."
			case row.State == model.StateCheck:
				way = "A pair of strips (sawdatum prove, or swap --prove) makes it ready."
			case row.State == model.StateNotClosed:
				way = "The setup goes on with it (sawdatum setup)."
			}
			for _, r := range row.Against()[:min(len(row.Against()), told)] {
				out = append(out, model.Sentence(r.Text))
			}
			return append(out, "It stays off. "+way+" Type seen to end.")
		},
		Accept: func(t *taking) { t.Finish() },
	},
	Why:    form.Lines("Only a blade that is ready, or due, is put on for work."),
	Fields: form.Fields(form.Word("seen", "Read it", "seen")),
}

func wantedBlade(c context) []string { return []string{c.Options.Blade} }

// swappedRow is the blade on, its knife behind it, the checklist passed, and quiet.
var swappedRow = row{
	Name: "swapped", Stage: 10,
	Title: func(c context) string { return "Swap to the " + c.Name(c.Blade) },
	When:  func(c context) bool { return !barredFromUse(c) && (c.Fact(provedSeen) == "" || wantedFirst(c)) },
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
	When:  knifeToSee,
	Done: func(c context) bool {
		b, _ := c.Profile.BladeByID(c.Blade)
		return !c.State.Knives[b.Knife].Unknown
	},
	Needs: func(c context) interlock.Need {
		return interlock.Need{On: dressed(c, inBlade(c), stackOf(c, inBlade(c)))}
	},
	Act: knifeCheckRow.Act, Why: form.Lines("Moved or taken out since it was squared: checked before more is ripped.", form.SharpStill),
	Fields: knifeCheckRow.Fields, Follows: knifeCheckRow.Follows, Simulated: knifeCheckRow.Simulated, Picture: knifeCheckRow.Picture,
}

// knifeToSee reports whether the knife of the blade at hand was moved, or taken out and put back,
// and a blade is in that it can be checked behind.
func knifeToSee(c context) bool {
	b, _ := c.Profile.BladeByID(c.Blade)
	k := c.State.Knives[b.Knife]
	return k.Set != nil && k.Unknown && c.State.Gone[b.Knife] == nil && inBlade(c) != ""
}

// knifeAfterRow checks, behind a blade that has come in, a knife that was out for another: its
// tips tell where that stands, and without it the blade is not ready.
var knifeAfterRow = row{
	Name: "knife-after", Stage: 10,
	Title: func(c context) string { return "Check the knife behind the " + c.Name(c.Blade) },
	When: func(c context) bool {
		s := stand(c, c.Blade)
		on, known := c.Lock.On()
		return s.judged() && s.Verdict == model.In && known && on.Blade == c.Blade && knifeToSee(c) && inBlade(c) == c.Blade
	},
	Done: knifeSeenRow.Done, Needs: func(c context) interlock.Need {
		return interlock.Need{On: dressed(c, c.Blade, stand(c, c.Blade).stack)}
	},
	Act: knifeCheckRow.Act, Why: knifeCheckRow.Why, Fields: knifeCheckRow.Fields, Follows: knifeCheckRow.Follows, Simulated: knifeCheckRow.Simulated, Picture: knifeCheckRow.Picture,
}

// knifeSeenFor is due only as long as the row behind it is: with two knives in turn each
// comes out for the other, and nobody goes back to one whose strips are ripped.
func knifeSeenFor(next row) row {
	r := knifeSeenRow
	r.When = func(c context) bool { return knifeToSee(c) && !next.Done(c) }
	r.Needs = func(c context) interlock.Need { // the fence is asked before a blade goes on for it
		need := knifeSeenRow.Needs(c)
		need.Lock = c.State.Lock
		return need
	}
	return r
}

// inBlade is a blade that is in and runs with the knife of the blade at hand: that itself,
// the one on the saw, the reference, or another; empty: none is yet. One that strip and knife say
// differently of tells nothing.
func inBlade(c context) string {
	b, _ := c.Profile.BladeByID(c.Blade)
	for _, id := range append([]string{c.Blade, c.State.On.Blade, c.Profile.Reference}, shop.RackBlades(c)...) {
		other, ok := c.Profile.BladeByID(id)
		row, _ := c.Plan.Row(id)
		datum := id == c.Profile.Reference && !carried(c)
		if ok && other.Knife == b.Knife && !row.Feel && (datum || row.Basis == model.Measured && row.Verdict == model.In) {
			return id
		}
	}
	return ""
}
