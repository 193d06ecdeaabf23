package screen

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/tell"
)

func TestSaveThatWentElsewhereIsToldUntilTheEnd(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two(), Save: bay.TakenAway()}, 80, 24)
		d.walk("power")
		for range 2 {
			if !d.says("KEPT ELSEWHERE: F1 says where, what differs, and how to settle it.") {
				t.Errorf("the screen shows:\n%s", d.screen())
			}
			d.fits()
			d.pass()
		}
		d.function(1)
		for _, want := range []string{"somebody else changed the head too in bay-two.yaml, so yours is kept in bay-two.mine.yaml.", "tolerance: here 0.05 mm, there 0.08 mm.", "rings[r4]: here not given, there {id: r}.", "To settle it: sawdatum import"} {
			if !d.says(want) {
				t.Errorf("F1 does not say %q:\n%s", want, d.screen())
			}
		}
		d.function(0)
		d.size(60, 20)
		if !d.says("KEPT ELSEWHERE: F1 says where, what differs") {
			t.Errorf("the small screen shows:\n%s", d.screen())
		}
		d.rest()
		d.walk("close")
		if !d.root().job.Finished() && d.root().unsaved != nil {
			t.Error("what is kept elsewhere counts as not saved")
		}
	})
}

// TestSaveThatWentElsewhereUnderWay: it is told too where the next answer came before the
// save was done.
func TestSaveThatWentElsewhereUnderWay(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		calls, away := 0, -1
		d := drive(t, bay.Run{Profile: bay.Two(), Save: func(model.Profile) error {
			calls++
			at := calls
			time.Sleep(20 * time.Second)
			if at == away {
				return &wizard.AsideError{Path: "bay-two.mine.yaml", Own: "bay-two.yaml", Why: "somebody else changed the head too"}
			}
			return nil
		}}, 80, 24)
		d.walk("arbor")
		d.wait(time.Minute)
		for away = calls + 1; !d.root().again; {
			d.pass()
		}
		if calls != away {
			t.Fatalf("call %d, not %d", calls, away)
		}
		d.wait(time.Minute)
		if !d.says("KEPT ELSEWHERE: somebody else changed the head too") || d.root().job.Store.Path != "bay-two.mine.yaml" {
			t.Errorf("%s, and the screen shows:\n%s", d.root().job.Store.Path, d.screen())
		}
	})
}

func TestAsideErrorShowsNothingHarmful(t *testing.T) {
	e := &wizard.AsideError{Path: "a\x1b[2J", Own: "b\x07", Why: "\u202ewhy", Values: []wizard.Value{{Path: "p\x1b", Mine: "m\n", Theirs: "t\x00"}}, Cure: "c\x1b\u009b"}
	for _, line := range append(tell.AsideSentences(e, 9), asideNotice(e).full, asideNotice(e).short) {
		if strings.ContainsAny(line, "\x1b\x07\u202e\n\x00\u009b") {
			t.Errorf("%q", line)
		}
	}
}
