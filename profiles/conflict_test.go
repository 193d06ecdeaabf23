package profiles

import (
	"fmt"
	"strings"
	"testing"
)

func TestSaveTakesInWhatSomebodyElseSaved(t *testing.T) {
	f := written(t, chosenDemo())
	other := read(t, f.Path)
	saved(t, other, plus(other.Profile, note(10, "AB", "theirs")))
	mine := plus(f.Profile, note(5, "KB", "mine, before"), note(20, "KB", "mine, after"))
	f, report, err := f.Save(mine)
	if err != nil || report.Merged != 1 {
		t.Fatal(report, err)
	}
	var got []string
	for _, r := range read(t, f.Path).Profile.Records {
		got = append(got, r.Text)
	}
	if s := strings.Join(got, "|"); s != "mine, before|theirs|mine, after" {
		t.Error(s)
	}
	// the next save knows what it merged
	f = saved(t, f, plus(f.Profile, note(30, "KB", "and on")))
	if n := len(read(t, f.Path).Profile.Records); n != 4 {
		t.Errorf("%d records", n)
	}
}

func TestSaveTakesTheHeadThatChanged(t *testing.T) {
	f := written(t, chosenDemo())
	other := read(t, f.Path)
	wider := other.Profile
	wider.Tolerance = mm(80_000)
	saved(t, other, wider)
	f, report, err := f.Save(plus(f.Profile, note(5, "KB", "mine")))
	if back := read(t, f.Path).Profile; err != nil || !report.NewHead || back.Tolerance != mm(80_000) || len(back.Records) != 1 {
		t.Error(report, err)
	}
}

// TestAWizardThatKeepsItsOwnProfileLosesNothing: a caller that never looks at what
// was merged hands over its own head and records again and again.
func TestAWizardThatKeepsItsOwnProfileLosesNothing(t *testing.T) {
	f := written(t, chosenDemo())
	own := f.Profile
	other := read(t, f.Path)
	theirs := plus(other.Profile, note(7, "AB", "theirs"))
	theirs.Tolerance = mm(80_000)
	saved(t, other, theirs)
	for i := range 3 {
		own = plus(own, note(5+i*5, "KB", fmt.Sprint("mine ", i)))
		var report SaveReport
		var err error
		if f, report, err = f.Save(own); err != nil || (report.Merged == 1) != (i == 0) {
			t.Fatal(report, err)
		}
	}
	back := read(t, f.Path).Profile
	if back.Tolerance != mm(80_000) || len(back.Records) != 4 {
		t.Errorf("tolerance %s, %d records", back.Tolerance, len(back.Records))
	}
	// one that goes on from what was merged may change the head
	merged := f.Profile
	merged.WorkingWidth = mm(110_000_000)
	if g, _, err := f.Save(merged); err != nil || g.Profile.Tolerance != mm(80_000) || g.Profile.WorkingWidth != mm(110_000_000) {
		t.Error(err)
	} else {
		merged.WorkingWidth = mm(120_000_000)
		f = saved(t, g, merged)
		own = f.Profile
		own.Tolerance = mm(50_000)
		if f = saved(t, f, own); f.Profile.Tolerance != mm(50_000) {
			t.Error("a head of one's own is not taken back by what was merged long ago")
		}
	}
	again := read(t, f.Path)
	theirs = again.Profile
	theirs.Saw.Label = "Bay 3 saw"
	saved(t, again, theirs)
	own.WorkingWidth = mm(100_000_000)
	if _, _, err := f.Save(own); err == nil || !strings.Contains(err.Error(), "changed the head too") {
		t.Error("both have changed the head:", err)
	}
}

func TestSaveWritesBesideWhereBothChangedTheHead(t *testing.T) {
	f := written(t, chosenDemo())
	other := read(t, f.Path)
	theirs, mine := other.Profile, f.Profile
	theirs.Tolerance, mine.WorkingWidth = mm(80_000), mm(100_000_000)
	saved(t, other, theirs)
	before := bytesOf(t, f.Path)
	beside, _, err := f.Save(plus(mine, note(5, "KB", "mine")))
	conflict, ok := err.(*BesideError)
	if !ok {
		t.Fatal(err)
	}
	if bytesOf(t, f.Path) != before {
		t.Error("the file was written over")
	}
	if len(conflict.Differences) != 2 || !strings.Contains(err.Error(), "tolerance: mine 0.1 mm, theirs 0.08 mm") {
		t.Error(err)
	}
	if back := read(t, conflict.Beside).Profile; len(back.Records) != 1 || back.WorkingWidth != mm(100_000_000) || beside.Path != conflict.Beside {
		t.Errorf("%+v", beside.Path)
	}
	// the way back: take one side
	m := Take(read(t, f.Path).Profile, read(t, conflict.Beside).Profile, Theirs)
	if back := saved(t, read(t, f.Path), m); back.Profile.WorkingWidth != mm(100_000_000) || len(read(t, f.Path).Profile.Records) != 1 {
		t.Error("the two are not brought together")
	}
}
