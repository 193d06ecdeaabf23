package stages

import (
	"fmt"
	"slices"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

const mm = model.Millimetre

type (
	context = procedure.Context
	taking  = procedure.Taking
	row     = procedure.Row
	field   = procedure.Field
	answers = procedure.Answers
	record  = model.Record
	reason  = model.Reason
)

// gateRows has a row for each gate of the interlock.
var gateRows = map[interlock.Gate]*row{
	interlock.StillDead: &stillDeadRow, interlock.NobodyThere: &nobodyThereRow, interlock.Fence: &fenceRow,
	interlock.Stop: &stopRow, interlock.Isolate: &isolateRow, interlock.TakeOff: &clearRow, interlock.Sight: &lookRow,
	interlock.PutOn: &mountRow, interlock.Gap: &lineRow, interlock.Line: &lineRow, interlock.Brake: &brakeRow,
	interlock.PowerUp: &powerRow, interlock.FirstStart: &firstRow,
}

// gate is the row for a gate. What is on the arbor need not be looked at first where who
// recorded it stands here and did it today, or where it is read off as it comes off: it comes
// off now, and its rings are counted.
func gate(g interlock.Gate, c context) *row {
	if g == interlock.Sight && (ownToday(c) || readOff(c)) {
		g = interlock.PutOn
	}
	return gateRows[g]
}

// ownToday reports whether the record of what is on the arbor is of who is at the saw, and of
// today. What went on before this run, and stays on, is looked at all the same: it is not taken
// off to go on again.
func ownToday(c context) bool {
	for i := len(c.All()) - 1; i >= 0; i-- {
		if r := c.All()[i]; r.Kind == model.Mount || r.Kind == model.TakenOff {
			stays := i < c.Started && form.Fit(c.State.On.Blade, c.State.On.Rings, c.State.On.Knife) == c.Need.On
			return !stays && c.State.Seen && r.By == c.Who && r.At.Local().Format(time.DateOnly) == c.At.Local().Format(time.DateOnly)
		}
	}
	return false
}

// House is the procedure of a run: its rows in their order, the gates, and the other work.
func House(o procedure.Options) procedure.House {
	h := procedure.House{Gate: gate, Where: &whereRow, Work: slices.Concat(sawWork(), shop.HeadWork(), []row{papersRow})}
	if o.Mode == procedure.IsolateOnly {
		h.Blocks, h.Work = []procedure.Block{{Rows: []row{whoRow, holdRow, closeRow}}}, nil
		return h
	}
	switch o.Mode {
	case procedure.Swap:
		h.Blocks, h.Ends = swapBlocks(), true
		return h
	case procedure.Prove:
		h.Blocks = proveBlocks()
		return h
	}
	first := []row{layoutRow, whoRow, clearRow}
	if o.Mode == procedure.OneBlade {
		first = []row{whoRow, reasonRow, uncarriedRow, shop.KnifeWantedRow}
	}
	h.Blocks = []procedure.Block{{Rows: append(first, shop.SawRows()...)}}
	h.Blocks = append(h.Blocks, shop.RackBlocks()...)
	h.Blocks = append(h.Blocks,
		procedure.Block{Rows: []row{lockRow, blockRow("block", false), heelToeRow, rimRow, drivenRow, blockRow("block-motor", true), boardsRow}},
		procedure.Block{Each: knivesToSet, Rows: []row{knifeRow}},
		carrierBlock(carrierRips),
		procedure.Block{Rows: []row{pairsRow, scaleLockRow, scaleRow, referenceRow}},
		datumApartBlock(),
		compareBlock(),
		procedure.Block{Each: forItsKnife, Rows: []row{knifeSeenRow}},
		procedure.Block{Each: checked, Rows: []row{knifeSeenFor(proofRow), proofRow}},
		carrierBlock(closingDue),
		procedure.Block{Rows: []row{closingRow}},
		procedure.Block{Each: comparing, Rows: []row{boxRow}},
		procedure.Block{Rows: []row{emptiedRow, leaveRow, handoverRow, closeRow}},
	)
	return h
}

// measured reports whether all that has to be measured with the saw empty is on file.
func measured(c context) bool {
	p := c.Profile
	return p.Reference != "" && p.Standing != nil
}

// gateWords are plain words of wood and workshop, short, so that they are easy to read and to
// type. One is shown at a gate, another the next time.
var gateWords = [64]string{
	"acorn", "alder", "anvil", "apple", "ash", "aspen", "awl", "balsa",
	"beech", "bench", "birch", "bolt", "bow", "brace", "brush", "burl",
	"cedar", "chalk", "clamp", "cleat", "cork", "dowel", "drill", "ebony",
	"elm", "felt", "file", "fir", "glue", "grain", "hazel", "hinge",
	"holly", "hook", "jig", "knot", "larch", "lathe", "lime", "maple",
	"nail", "oak", "olive", "pear", "pine", "plank", "plum", "rasp",
	"rivet", "rowan", "shelf", "slate", "stool", "teak", "tenon", "thorn",
	"twill", "twine", "vise", "wax", "wedge", "wool", "yew", "yoke",
}

// gateWord is the word of the next gate. It differs from one gate to the next: the stride
// is odd, and so all words come before one comes again.
func gateWord(c context) string {
	seed := c.Options.Seed
	first, stride := seed%64, seed/64%32*2+1
	return gateWords[(first+stride*uint64(c.Gates))%64]
}

// whereRow asks where a part is before it is measured: nothing that is in the saw is
// measured before the saw is isolated. The blade of its moment is the part.
var whereRow = row{
	Name: "where", Stage: 1,
	Title: func(c context) string {
		if c.Blade == "" {
			return "Measured, or read from the manual?"
		}
		return "Where is it?"
	},
	Act: procedure.Paper{
		Says: func(c context) []string {
			if c.Blade == "" {
				return []string{"This is fixed in the saw: it is measured once the saw is isolated and empty.", "The manual or an earlier profile has the values: type paper. To measure: type isolate."}
			}
			return []string{
				fmt.Sprintf("The %s is measured on the bench. It lies there, out of the saw: type bench.", part(c)),
				"It is in the saw: type isolate, and the way there begins.",
			}
		},
		Accept: func(t *taking) {
			switch t.Choice("where") {
			case "paper":
				t.ReadFromPaper()
			case "isolate":
				if t.Who == "" {
					t.Fault("where", "every record is signed: leave this work, and say first who is at the saw")
				}
				t.Isolate()
			case "bench":
				on := t.State.On
				laid := interlock.LaidOut(t.Blade, form.Fit(on.Blade, on.Rings, on.Knife), t.State.Seen)
				if _, ok := t.Lock.Apply(laid); !ok {
					t.Fault("where", "by the records it may be in the saw: type isolate; what comes off there is measured on the bench")
					return
				}
				t.Does(laid)
			}
		},
	},
	Why: form.Lines("Hands near the arbor come only after isolation."),
	Fields: func(c context) []field {
		if c.Blade == "" {
			return []field{form.Choice("where", "The values come from", "", "paper", "isolate")}
		}
		return []field{form.Choice("where", "It is", "", "bench", "isolate")}
	},
}

// part names what is measured.
func part(c context) string {
	if _, ok := c.Profile.BladeByID(c.Blade); ok {
		return c.Name(c.Blade)
	}
	return c.Blade
}
