package wizard

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"example.com/sawdatum/model"
)

// takenAway is a save that goes to a file beside from the third on, and stays there.
func takenAway() func(model.Profile) error {
	n := 0
	values := []Value{{"tolerance", "0.05 mm", "0.08 mm"}}
	for i := range 5 {
		values = append(values, Value{fmt.Sprintf("rings[r%d]", i), "not given", "{id: r}"})
	}
	return func(model.Profile) error {
		if n++; n != 3 {
			return nil
		}
		return &AsideError{Path: "bay-two.mine.yaml", Own: "bay-two.yaml", Why: "somebody else changed the head too", Values: values, Cure: "sawdatum import bay-two.mine.yaml --into bay-two.yaml"}
	}
}

func TestSaveThatWentElsewhereIsToldUntilTheEnd(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, fixture{profile: shop(), save: takenAway()}, 80, 24)
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
		if !d.root().job.finished() && d.root().unsaved != nil {
			t.Error("what is kept elsewhere counts as not saved")
		}
	})
}

// TestSaveThatWentElsewhereUnderWay: it is told too where the next answer came before the
// save was done.
func TestSaveThatWentElsewhereUnderWay(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		calls, away := 0, -1
		d := drive(t, fixture{profile: shop(), save: func(model.Profile) error {
			calls++
			at := calls
			time.Sleep(20 * time.Second)
			if at == away {
				return &AsideError{Path: "bay-two.mine.yaml", Own: "bay-two.yaml", Why: "somebody else changed the head too"}
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
		if !d.says("KEPT ELSEWHERE: somebody else changed the head too") || d.root().job.store.Path != "bay-two.mine.yaml" {
			t.Errorf("%s, and the screen shows:\n%s", d.root().job.store.Path, d.screen())
		}
	})
}

func TestPlainSaveThatWentElsewhere(t *testing.T) {
	p := &person{}
	result, err := practise(p, 5, takenAway())
	if err != nil || result.Unsaved != nil || result.Path != "bay-two.mine.yaml" {
		t.Fatalf("%+v, %v", result.Path, err)
	}
	work, end, found := strings.Cut(p.out.String(), "Everything that was accepted is saved in bay-two.mine.yaml.")
	if !found {
		t.Fatalf("at the end:\n%s", tail(p.out.String()))
	}
	const settle = "To settle it: sawdatum import bay-two.mine.yaml --into bay-two.yaml\n"
	if n := strings.Count(work+end, settle); n != 2 || !strings.HasSuffix(work, settle) || strings.Count(work, "rings[r4]: here not given, there {id: r}.\n") != 2 {
		t.Errorf("once when it happens and once at the end, not %d times:\n%s", n, tail(p.out.String()))
	}
}

func TestAsideErrorShowsNothingHarmful(t *testing.T) {
	e := &AsideError{Path: "a\x1b[2J", Own: "b\x07", Why: "\u202ewhy", Values: []Value{{"p\x1b", "m\n", "t\x00"}}, Cure: "c\x1b\u009b"}
	for _, line := range append(e.sentences(9), e.notice().full, e.notice().short) {
		if strings.ContainsAny(line, "\x1b\x07\u202e\n\x00\u009b") {
			t.Errorf("%q", line)
		}
	}
}

func TestSettleTakesWordsOnly(t *testing.T) {
	var out bytes.Buffer
	values := []Value{{"tolerance", "0.05 mm", "0.08 mm"}, {"saw.label", "a\x1b[2J", "b"}}
	theirs, err := Settle(strings.NewReader("\n1\nt\nTHEIRS\n mine \n"), &out, values)
	if err != nil || fmt.Sprint(theirs) != "[true false]" || strings.Contains(out.String(), "\x1b") {
		t.Errorf("%v, %v\n%s", theirs, err, out.String())
	}
	for in, want := range map[string]string{"mine\nback\ntheirs\n/back\nback\ntheirs\nmine\n": "[true false]", "BACK\nmine\ntheirs\n": "[false true]"} {
		if theirs, err := Settle(strings.NewReader(in), &out, values); err != nil || fmt.Sprint(theirs) != want {
			t.Errorf("%q: %v, %v", in, theirs, err)
		}
	}
	if !strings.Contains(out.String(), "This is the first: type mine or theirs") {
		t.Errorf("%s", out.String())
	}
	for in, want := range map[string]error{"mine\nquit\n": errLeft, "mine\n/QUIT\n": errLeft, "mine\n": errEnded, "mine\nmine": errEnded, "": errEnded} {
		if theirs, err := Settle(strings.NewReader(in), &out, values); err != want || theirs != nil {
			t.Errorf("%q: %v, %v", in, theirs, err)
		}
	}
}
