package model

import (
	"testing"
	"time"
)

// TestCounted: what counts is each record once, as it was corrected last, by whose hand and when
// it was done; nothing that was voided, no void and no correction. A void of a correction is
// none of the record, and a correction of a void is of nothing.
func TestCounted(t *testing.T) {
	at := func(s int) time.Time { return time.Date(2026, 3, 2, 7, 0, s, 0, time.UTC) }
	first := Record{At: at(1), By: "KB", Kind: Note, Text: "first"}
	gone := Record{At: at(2), By: "KB", Kind: Note, Text: "gone"}
	last := Record{At: at(6), By: "KB", Kind: Note, Text: "last"}
	fix := func(s int, of Record, text string) Record {
		return Record{At: at(s), By: "ZZ", Kind: Correction, Of: of.Ref(), Text: text}
	}
	records := []Record{first, gone, fix(3, first, "second"), {At: at(4), By: "ZZ", Kind: Void, Of: gone.Ref()}, fix(4, first, "third"), fix(4, gone, "back again"), last, fix(7, last, "voided"), {At: at(8), By: "ZZ", Kind: Void, Of: fix(7, last, "").Ref()}}
	records = append(records, fix(9, records[8], "of a void"))
	got := Counted(records)
	if len(got) != 2 {
		t.Fatalf("what counts is %+v", got)
	}
	if got[0].Text != "third" || got[0].By != "KB" || !got[0].At.Equal(at(1)) || got[0].Kind != Note || got[0].Of != "" {
		t.Errorf("corrected: %+v", got[0])
	}
	if got[1].Text != "last" {
		t.Errorf("what a voided correction was of: %+v", got[1])
	}
}
