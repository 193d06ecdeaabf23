package stages

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

var leftInOrders = regexp.MustCompile(`new blank; (\d+) left`)

// TestBlanksCountDown counts by hand what job.md has prepared for a setup (Strips): one a scale
// width, three of the reference and one closing, two a blade, two to spare a blade. The first page
// says so many, and each order to rip says what is left of them. Of the five blades of the
// built-in shop one is the reference, and one turns out to have no knife: its four are left, and
// two to spare of each of the others. One width more of the scale takes one of these.
func TestBlanksCountDown(t *testing.T) {
	for name, v := range map[string]struct {
		own  map[string]string
		left int
	}{
		"nothing to spare is taken": {nil, 4 + 2 + 2 + 2},
		"three widths of the scale": {map[string]string{"pairs pairs": "105=105.1 120=120.1"}, 4 + 2 + 2 + 2 - 1},
	} {
		h := newSetUp(t)
		const prepared = 2 + 3 + 1 + 2*4 + 2*4
		if do := h.p.View().Do[0]; !strings.HasPrefix(do, fmt.Sprintf("Prepare %d blanks", prepared)) {
			t.Errorf("%s: %s; %d were wanted", name, do, prepared)
		}
		pile, ripped := prepared, map[string]int{}
		for !h.p.Finished() {
			v2 := h.p.View()
			if m := leftInOrders.FindStringSubmatch(strings.Join(v2.Do, " ")); m != nil {
				if n, _ := strconv.Atoi(m[1]); n != pile {
					t.Errorf("%s: %d are left by the orders at %s, and %d lie there", name, n, v2.Place, pile)
				}
			}
			switch step := v2.Place.Step; step {
			case "pairs":
				n := 1
				if typed, ok := v.own["pairs pairs"]; ok {
					n = len(strings.Fields(typed))
				}
				pile, ripped[step] = pile-n, ripped[step]+n
			case "scale", "reference", "strip", "closing", "further":
				pile, ripped[step] = pile-1, ripped[step]+1
			}
			h.step(v.own)
		}
		if ripped["reference"] != 3 || ripped["strip"] != 6 || ripped["closing"] != 1 || ripped["scale"] != 1 {
			t.Errorf("%s: ripped were %v", name, ripped)
		}
		if pile != v.left || blanksLeft(h.p.Now()) != v.left {
			t.Errorf("%s: %d are left at the end, by the program %d; want %d", name, pile, blanksLeft(h.p.Now()), v.left)
		}
	}
}

// TestTheGaugeBoardIsAsItWasLaidOut: in practice the gauge board measures what the first page said
// to prepare.
func TestTheGaugeBoardIsAsItWasLaidOut(t *testing.T) {
	for name, change := range map[string]func(*model.Profile){"mm": nil, "in": inches} {
		h := fresh(t, change)
		first := h.p.View().Picture(nil).Sentence()
		h.upTo("boards")
		read, _ := h.p.View().Read(h.saw, "length", nil)
		if !strings.Contains(first, "gauge board "+read+" x ") {
			t.Errorf("%s: the gauge board is %q long, and the first page says: %s", name, read, first)
		}
	}
}

// TestNoBlankIsLeft: where more is ripped than was laid out, the order says that another is cut.
func TestNoBlankIsLeft(t *testing.T) {
	h := newSetUp(t).upTo("strip")
	c := h.p.Now()
	strip := *c.State.Strips[0].Record
	for range 30 {
		c = c.With(strip)
	}
	if do := strings.Join(ripOrders(c, "strip 1"), " "); !strings.Contains(do, "none is left: cut one like the others") {
		t.Error(do)
	}
}
