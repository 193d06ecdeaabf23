package screen

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/plain"
	"example.com/sawdatum/wizard/procedure"
)

// scattered is readings of a strip of which one lies far from the others.
const scattered = "120.00 120.00 121.00"

// TestDoubtedReading: what lies far off is questioned. Only typing it again says that it
// is so, and what is plainly wrong is no question.
func TestDoubtedReading(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("reference")
		at := d.view().Visit
		again := func(text string) {
			d.key(tea.KeyEnd, tea.KeyCtrlU)
			d.typing(text)
			d.enter()
		}
		again(scattered)
		if !d.says("SURE?", "type the same again") {
			t.Fatalf("not questioned:\n%s", d.screen())
		}
		for range 5 {
			d.enter()
		}
		if d.view().Visit != at || !d.says("SURE?") {
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
		again(scattered)
		if d.view().Visit == at {
			t.Errorf("typed again, and not taken:\n%s", d.screen())
		}
	})
}

// TestDoubtedReadingPlain is the same in plain lines, where an empty line otherwise
// keeps what was typed.
func TestDoubtedReadingPlain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("reference")
		for _, typed := range [][]string{{scattered, "", "", "two"}, {scattered, "", "two", scattered}, {scattered, "/back", "/forward", ""}} {
			var out bytes.Buffer
			j := d.root().job
			n := len(j.Procedure.Profile().Records)
			result, _ := plain.GoOn(j, wizard.NewWatch(nil), wizard.Options{In: &bay.Slowly{Lines: typed}, Out: &out})
			if taken := len(result.Profile.Records) > n; taken != (typed[len(typed)-1] == scattered) {
				t.Errorf("%q: taken is %v\n%s", typed, taken, out.String())
			}
		}
	})
}

// TestSaidAtItsField: a kerf under its plate is refused when its own field is left, and one
// that is unlikely is asked there and taken typed again.
func TestSaidAtItsField(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		unread := bay.Two()
		unread.Blades = slices.Clone(unread.Blades)
		unread.Blades[1].Kerf = nil
		d := drive(t, bay.Run{Profile: unread}, 80, 24)
		d.walk("thickness")
		at := d.view().Visit
		again := func(text string) {
			d.key(tea.KeyEnd, tea.KeyCtrlU)
			d.typing(text)
			d.enter()
		}
		again("2.2 2.2 2.2")
		again("2.1 2.1 2.1")
		if !d.says("WRONG", "no wider than the plate") {
			t.Errorf("not refused at its field:\n%s", d.screen())
		}
		again("5.3 5.3 5.3")
		if !d.says("SURE?", "type the same again") {
			t.Errorf("not asked at its field:\n%s", d.screen())
		}
		d.enter()
		if !d.says("SURE?") {
			t.Errorf("enter alone settles it:\n%s", d.screen())
		}
		again("5.3 5.3 5.3")
		d.enter()
		d.enter()
		if d.view().Visit == at {
			t.Errorf("typed again, and not taken:\n%s", d.screen())
		}
	})
}

// TestATableIsGoneThroughByTheArrows: down and up go through the rows of the rack, right to what
// can be read again of one, and enter goes there; letters that are typed instead replace the
// row, and the arrows leave what is typed alone.
func TestATableIsGoneThroughByTheArrows(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := bay.Two()
		p.Reference, p.Standing = "", nil
		d := drive(t, bay.Run{Profile: p}, 80, 24)
		d.walk("rack")
		if !d.says("▲▼ row") {
			t.Errorf("the keys do not tell:\n%s", d.screen())
		}
		for _, step := range []struct {
			key  tea.KeyType
			want string
		}{{tea.KeyRight, "whole"}, {tea.KeyDown, "1"}, {tea.KeyDown, "2"}, {tea.KeyRight, "2 kerf"}, {tea.KeyRight, "2 kerf"}, {tea.KeyUp, "1 kerf"}, {tea.KeyLeft, "1"}, {tea.KeyUp, "whole"}, {tea.KeyUp, strconv.Itoa(len(p.Rack()))}, {tea.KeyDown, "whole"}} {
			if d.key(step.key); d.typedIn("more") != step.want {
				t.Fatalf("%v: %q, want %q", step.key, d.typedIn("more"), step.want)
			}
		}
		d.key(tea.KeyDown)
		if !d.says("> 1 48-tooth") {
			t.Errorf("row 1 is not marked:\n%s", d.screen())
		}
		d.typing("96")
		if d.key(tea.KeyDown); d.typedIn("more") != "96" {
			t.Errorf("the arrow has put %q in place of what was typed", d.typedIn("more"))
		}
		d.key(tea.KeyCtrlU, tea.KeyDown, tea.KeyRight, tea.KeyRight, tea.KeyRight) // once too often
		d.typing("2")
		if d.typedIn("more") != "2" {
			t.Errorf("typing has not replaced the row: %q", d.typedIn("more"))
		}
		d.key(tea.KeyLeft) // in what was typed by hand it moves the cursor
		d.typing("1")
		if d.typedIn("more") != "12" {
			t.Errorf("the cursor was not moved: %q", d.typedIn("more"))
		}
		d.key(tea.KeyEnd, tea.KeyCtrlU, tea.KeyDown, tea.KeyDown, tea.KeyRight)
		d.enter()
		if at := d.place(); at.Step != "thickness" || at.Blade != p.Blades[1].ID {
			t.Errorf("2 kerf leads to %v", at)
		}
	})
}

// TestBadNewsIsWhole: what follows from a reading that is questioned stands whole, though the
// question takes rows below the field.
func TestBadNewsIsWhole(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, size := range [][2]int{{80, 24}, {60, 20}, {100, 30}} {
			unread := bay.Two()
			unread.Blades = slices.Clone(unread.Blades)
			unread.Blades[1].Kerf = nil
			d := drive(t, bay.Run{Profile: unread}, size[0], size[1])
			d.walk("thickness")
			for _, text := range []string{"2.2 2.2 2.2", "5.3 5.3 5.3"} {
				d.key(tea.KeyEnd, tea.KeyCtrlU)
				d.typing(text)
				d.enter()
			}
			if screen := d.screen(); !d.says("SURE?") || !shows(screen, "again if it is so") || !shows(screen, "1.050 mm goes behind that.") {
				t.Errorf("%v: not said whole:\n%s", size, d.screen())
			}
			if d.says("The 2.50 mm knife") {
				t.Errorf("%v: a sentence that has no room is begun:\n%s", size, d.screen())
			}
		}
	})
}

// TestADangerIsSaidOnce: what was said of a blade with the last answer, by its name, and stands at
// the place that follows, is not said there a second time.
func TestADangerIsSaidOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		unchosen := bay.Two()
		unchosen.Reference, unchosen.Standing = "", nil
		d := drive(t, bay.Run{Profile: unchosen}, 80, 24)
		d.walk("unfit")
		for _, typed := range []string{"", "aside"} {
			d.typing(typed)
			if n := strings.Count(d.screen(), "DANGER"); n != 1 {
				t.Errorf("typed %q, said %d times:\n%s", typed, n, d.screen())
			}
		}
	})
}

// TestWhatIsWrongIsSaidOnce: what a field is refused or questioned for is not said below it once more.
func TestWhatIsWrongIsSaidOnce(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("line")
		d.key(tea.KeyEnd, tea.KeyCtrlU)
		d.typing("20")
		said := d.root().base.(step).so
		d.enter()
		if len(said) == 0 || !d.says("SURE?") && !d.says("WRONG") {
			t.Fatalf("nothing follows, or it was taken: %v\n%s", said, d.screen())
		}
		for _, r := range said {
			if n := strings.Count(strings.ToLower(strings.Join(strings.Fields(d.screen()), " ")), strings.ToLower(r.Text)); n != 1 {
				t.Errorf("%q is said %d times:\n%s", r.Text, n, d.screen())
			}
		}
	})
}

// TestHandsAwayStands: where isolation has lapsed that is said once, in red, and stands until the saw is
// vouched for, whatever is typed.
func TestHandsAwayStands(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, to := range []string{"arbor", "strip"} {
			d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
			d.walk(to)
			d.wait(model.DefaultIdleMinutes*time.Minute + 2*tickTime)
			for _, typed := range []string{"", "mi"} {
				d.typing(typed)
				if n := strings.Count(d.screen(), "Hands away"); n != 1 || strings.Count(d.screen(), "DANGER") != 1 || strings.Contains(d.screen(), "typed for long") {
					t.Errorf("%s, typed %q: said %d times:\n%s", to, typed, n, d.screen())
				}
			}
		}
	})
	lipgloss.SetColorProfile(termenv.ANSI)
	defer lipgloss.SetColorProfile(termenv.Ascii)
	s := step{look: frame.NewLook(false, picture.Blocks), texts: frame.Wording{}}
	for r, want := range map[model.Reason]frame.Brush{procedure.HandsAway: s.look.Live, {Weight: model.Danger, Code: "knife-outside", Text: "it stands outside"}: s.look.Reversed} {
		if row := s.verdict(r, 76)[0]; !strings.HasPrefix(row, want.Render("DANGER")) || s.look.Live == s.look.Reversed {
			t.Errorf("%s reads %q", r.Code, row)
		}
	}
}
