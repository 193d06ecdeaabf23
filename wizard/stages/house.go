package stages

import (
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
)

// gateRows has a row for each gate of the interlock.
var gateRows = map[interlock.Gate]*row{
	interlock.StillDead: &stillDeadRow, interlock.NobodyThere: &nobodyThereRow, interlock.Fence: &fenceRow,
	interlock.Stop: &stopRow, interlock.Isolate: &isolateRow, interlock.TakeOff: &clearRow, interlock.Sight: &lookRow,
	interlock.PutOn: &mountRow, interlock.Gap: &lineRow, interlock.Line: &lineRow, interlock.Brake: &brakeRow,
	interlock.PowerUp: &powerRow, interlock.FirstStart: &firstRow,
}

// gate is the row for a gate. What is on the arbor need not be looked at first where who
// recorded it stands here and did it today: it comes off now, and its rings are counted.
func gate(g interlock.Gate, c context) *row {
	if g == interlock.Sight && ownToday(c) {
		g = interlock.PutOn
	}
	return gateRows[g]
}

// ownToday reports whether the record of what is on the arbor is of who is at the saw, and
// of today.
func ownToday(c context) bool {
	for i := len(c.All()) - 1; i >= 0; i-- {
		if r := c.All()[i]; r.Kind == model.Mount || r.Kind == model.TakenOff {
			return c.State.Seen && r.By == c.Who && r.At.Local().Format(time.DateOnly) == c.At.Local().Format(time.DateOnly)
		}
	}
	return false
}

// House is the procedure of a run: its rows in their order, the gates, and the other work.
func House(o procedure.Options) procedure.House {
	h := procedure.House{Gate: gate, Where: &whereRow, Work: append(sawWork(), headWork()...)}
	if o.Mode == procedure.IsolateOnly {
		h.Blocks, h.Work = []procedure.Block{{Rows: []row{whoRow, holdRow, closeRow}}}, nil
		return h
	}
	switch o.Mode {
	case procedure.Swap:
		h.Blocks, h.Ends = swapBlocks(o), true
		return h
	case procedure.Prove:
		h.Blocks = proveBlocks()
		return h
	}
	first := []row{layoutRow, whoRow, clearRow}
	if o.Mode == procedure.OneBlade {
		first = []row{whoRow, reasonRow}
	}
	h.Blocks = []procedure.Block{{Rows: append(first, sawRows()...)}}
	h.Blocks = append(h.Blocks, rackBlocks()...)
	h.Blocks = append(h.Blocks,
		procedure.Block{Rows: []row{lockRow, blockRow("block", false), heelToeRow, rimRow, drivenRow, blockRow("block-motor", true), boardsRow}},
		procedure.Block{Each: knivesToSet, Rows: []row{knifeRow}},
		procedure.Block{Rows: []row{pairsRow, scaleLockRow, scaleRow, referenceRow}},
		compareBlock(),
		procedure.Block{Each: checked, Rows: []row{knifeSeenFor(proofRow), proofRow}},
		procedure.Block{Rows: []row{closingRow, emptiedRow, leaveRow, closeRow}},
	)
	return h
}

// measured reports whether all that has to be measured with the saw empty is on file.
func measured(c context) bool {
	p := c.Profile
	return p.Reference != "" && p.Standing != nil
}
