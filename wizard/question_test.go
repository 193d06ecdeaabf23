package wizard

import (
	"bufio"
	"bytes"
	"testing"
	"testing/synctest"

	tea "github.com/charmbracelet/bubbletea"
)

// spread is readings of a half of which one lies far from the others.
const spread = "120.00 120.00 121.00"

// TestDoubtedReading: what lies far off is questioned. Only typing it again says that it
// is so, and what is plainly wrong is no question.
func TestDoubtedReading(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, fixture{profile: shop()}, 80, 24)
		d.walk("reference")
		at := d.place()
		again := func(text string) {
			d.key(tea.KeyEnd, tea.KeyCtrlU)
			d.typing(text)
			d.enter()
		}
		again(spread)
		if !d.says("SURE?", "type the same again") {
			t.Fatalf("not questioned:\n%s", d.screen())
		}
		for range 5 {
			d.enter()
		}
		if d.place() != at || !d.says("SURE?") {
			t.Errorf("enter alone settles it:\n%s", d.screen())
		}
		d.typing("two") // the first key replaces what is to be typed again
		d.enter()
		if got := d.typedIn("readings"); got != "two" {
			t.Errorf("two became %q", got)
		}
		if d.says("SURE?") || !d.says("WRONG") {
			t.Errorf("a fault is put as a question:\n%s", d.screen())
		}
		again(spread)
		if d.place() == at {
			t.Errorf("typed again, and not taken:\n%s", d.screen())
		}
	})
}

// TestDoubtedReadingPlain is the same in plain lines, where an empty line otherwise
// keeps what was typed.
func TestDoubtedReadingPlain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, fixture{profile: shop()}, 80, 24)
		d.walk("reference")
		for _, typed := range [][]string{{spread, "", "", "two"}, {spread, "", "two", spread}, {spread, "/back", "/forward", ""}} {
			var out bytes.Buffer
			p := plain{job: d.root().job, in: bufio.NewReader(&slowly{typed}), watch: newWatch(nil), out: &out, toured: map[int]bool{}}
			at := p.procedure.Place()
			for range 3 {
				_ = p.place()
			}
			if taken := p.procedure.Place() != at; taken != (typed[len(typed)-1] == spread) {
				t.Errorf("%q: taken is %v\n%s", typed, taken, out.String())
			}
		}
	})
}
