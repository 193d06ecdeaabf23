package screen

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
)

// typedIn is what stands in a field.
func (d *driver) typedIn(key string) string { return d.root().base.(step).typing.values()[key] }

// hurry passes the present place, and does not look at the next one before it goes on.
func (d *driver) hurry() {
	v := d.view()
	for range v.Fields {
		d.fill(d.focused())
		d.enter()
	}
	if d.view().Visit == v.Visit {
		d.t.Fatalf("it does not pass %s:\n%s", v.Place, d.screen())
	}
}

// TestAFieldHearsEveryKey: what is typed for a field counts from the first key on, however
// soon it comes behind the answer before.
func TestAFieldHearsEveryKey(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.New()}, 80, 24)
		d.walk("manual")
		d.hurry()
		d.typing("near")
		if d.place().Step != "flange" || d.typedIn("flange") != "near" {
			t.Errorf("near became %q at %s", d.typedIn("flange"), d.place())
		}

		d = drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("block")
		d.hurry()
		d.typing("3.755")
		if d.place().Step != "heel-toe" || d.typedIn("slot_front") != "3.755" {
			t.Errorf("3.755 became %q at %s", d.typedIn("slot_front"), d.place())
		}
	})
}

// TestTheTourHearsForTheFieldBeneath: in practice a page of words comes before the place.
func TestTheTourHearsForTheFieldBeneath(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.New(), Practice: true}, 80, 24)
		if d.root().over == nil {
			t.Fatal("no tour")
		}
		d.typing("12")
		if d.root().over != nil || d.typedIn("blades") != "12" {
			t.Errorf("12 became %q:\n%s", d.typedIn("blades"), d.screen())
		}
	})
}

// TestAGateIsDeafUntilSomebodyCanHaveReadIt: nobody answers a light within 0.2 s (simple
// reaction, from memory), let alone a sentence; and after half a second nobody types in vain.
func TestAGateIsDeafUntilSomebodyCanHaveReadIt(t *testing.T) {
	for pause, heard := range map[time.Duration]bool{200 * time.Millisecond: false, 500 * time.Millisecond: true} {
		synctest.Test(t, func(t *testing.T) {
			d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
			d.walk("stop")
			d.typing("still")
			d.enter()
			d.wait(pause)
			d.typing("locked")
			if got := d.typedIn("how"); d.place().Step != "isolate" || (got == "locked") != heard {
				t.Errorf("after %s at %s the gate has %q", pause, d.place(), got)
			}
		})
	}
}

// TestHalfAnEntryNeverPassesAGate: where the first keys came before a gate could be read,
// the rest of them is no answer, however slowly it comes.
func TestHalfAnEntryNeverPassesAGate(t *testing.T) {
	for _, pause := range []time.Duration{10 * time.Millisecond, wizard.DeafTime - time.Millisecond, 2 * wizard.DeafTime} {
		synctest.Test(t, func(t *testing.T) {
			d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
			d.walk("stop")
			d.hurry() // the next gate comes up: how it was isolated
			if d.place().Step != "isolate" {
				t.Fatalf("at %s", d.place())
			}
			for _, r := range "locked" {
				d.typing(string(r))
				d.wait(pause)
			}
			d.enter()
			d.enter()
			if d.root().base.(step).typing.at() != 0 || d.typedIn("how") != "" || !d.says("type") {
				t.Fatalf("keys %v apart: %q is taken:\n%s", pause, d.typedIn("how"), d.screen())
			}
			d.rest()
			d.typing("locked")
			d.enter()
			if d.root().base.(step).typing.at() != 1 || d.typedIn("how") != "locked" {
				t.Errorf("typed anew, and not taken:\n%s", d.screen())
			}
		})
	}
}

// TestEnterWaitsForDanger: enter alone does not answer a screen of danger before it can
// be read; what is typed there is heard.
func TestEnterWaitsForDanger(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := bay.Two()
		p.Reference = ""
		d := drive(t, bay.Run{Profile: p}, 80, 24)
		d.walk("datum")
		s := newStep(d.root().job, d.root().look, 80, 24)
		s.so = []model.Reason{{Code: "knife-too-thick", Weight: model.Danger, Text: "the knife is thicker than the kerf"}}
		next, _, _ := s.update(tea.KeyMsg{Type: tea.KeyEnter})
		if s = next.(step); s.typing.at() != 0 {
			t.Error("enter alone went on before the danger could be read")
		}
		next, _, _ = s.update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("g")})
		next, _, _ = next.update(tea.KeyMsg{Type: tea.KeyEnter})
		if s = next.(step); s.typing.text(0) == "" {
			t.Error("what was typed is gone")
		}
	})
}

// TestTypedUnseen: keys typed into a window too small to show them are no half of an answer.
func TestTypedUnseen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("heel-toe")
		d.typing("3")
		d.size(40, 10)
		d.typing(".7")
		d.size(80, 24)
		d.typing("55")
		if got := d.typedIn("slot_front"); got != "3" || !d.says("too small to see them") {
			t.Errorf("%q stands there:\n%s", got, d.screen())
		}
		d.enter()
		d.enter()
		if d.root().base.(step).typing.at() != 0 {
			t.Error("half a reading is taken")
		}
		d.typing(".755")
		d.enter()
		if d.root().base.(step).typing.at() != 1 || d.typedIn("slot_front") != "3.755" {
			t.Errorf("%q:\n%s", d.typedIn("slot_front"), d.screen())
		}
	})
}

func TestSignHasRoomOrIsNone(t *testing.T) {
	l := frame.NewLook(true, picture.ASCII)
	for w := range 200 {
		for _, line := range l.Banner("ISOLATED", w, 20, frame.Brush{}) {
			if frame.Cells(line) > w {
				t.Fatalf("%d cells of %d", frame.Cells(line), w)
			}
		}
	}
}

// TestADefaultIsReplaced: what the program put into a field gives way to what is typed;
// the screen says so. What was typed, and not sent, is gone on with after a way round.
func TestADefaultIsReplaced(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.New()}, 80, 24)
		d.walk("layout")
		d.typing("5")
		d.enter()
		if !d.says("mm", "enter keeps it, typing replaces it") {
			t.Errorf("the default is not told:\n%s", d.screen())
		}
		d.typing("in")
		if got := d.typedIn("units"); got != "in" {
			t.Errorf("in became %q", got)
		}
		d.function(1)
		d.key(tea.KeyPgDown)
		if !d.says("ctrl+u empties a field, ctrl+w takes off its last word") {
			t.Errorf("F1 does not tell:\n%s", d.screen())
		}
		d.function(0)

		d = drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("heel-toe")
		d.typing("3.")
		d.function(0)
		d.function(4)
		if d.place().Step != "heel-toe" {
			t.Fatalf("at %s", d.place())
		}
		d.typing("755")
		if got := d.typedIn("slot_front"); got != "3.755" {
			t.Errorf("what was typed before became %q", got)
		}
	})
}

// TestAClearedReadingIsReadAgain: enter on an empty field takes a simulated reading, also
// where one was taken and emptied.
func TestAClearedReadingIsReadAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two(), Practice: true}, 80, 24)
		d.walk("heel-toe")
		for range 3 {
			d.enter()
			if d.typedIn("slot_front") == "" || !d.says("simulated, enter takes it") {
				t.Fatalf("no reading:\n%s", d.screen())
			}
			d.key(tea.KeyCtrlU)
		}
		d.typing("96.00")
		if d.says("simulated, enter takes it") {
			t.Errorf("what was typed passes for a reading of the saw:\n%s", d.screen())
		}
	})
}

// TestWhatTheScreenShowsIsTaken: the stack as it is shown, no rings as they are shown, and
// a blade by its number or by the beginning of its name.
func TestWhatTheScreenShowsIsTaken(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := bay.Two()
		p.Rings[0].Thickness, p.Rings[1].Thickness = model.Measure{Length: 2 * model.Thou, Unit: model.IN}, model.Measure{Length: 5 * model.Thou, Unit: model.IN}
		p.Standing = []string{"r10", "r20"}
		taken := func(p model.Profile, stacks ...string) {
			for _, typed := range stacks {
				d := drive(t, bay.Run{Profile: p}, 80, 24)
				d.walk("mount")
				d.fill(d.focused()) // the knife's thickness
				d.enter()
				d.typing("48 " + typed)
				d.enter()
				if d.place().Step == "mount" {
					t.Errorf("%q is not taken:\n%s", typed, d.screen())
				}
			}
		}
		taken(p, "0.002 in + 0.005 in, flange first", "2 thou 5 thou", `.002" .005"`)
		taken(bay.Two(), "no rings", "0", "none")
		undecided := bay.Two()
		undecided.Reference = ""
		for typed, name := range map[string]string{"3": "80-tooth fine crosscut", "80": "80-tooth fine crosscut", "2": "24-tooth rip"} {
			d := drive(t, bay.Run{Profile: undecided}, 80, 24)
			d.walk("datum")
			d.typing(typed)
			if !strings.Contains(d.screen(), "> "+typed+"_\n      "+name+"\n") {
				t.Errorf("%s is not told to be the %s:\n%s", typed, name, d.screen())
			}
			d.enter()
			if d.root().base.(step).typing.at() != 1 {
				t.Errorf("%s is not taken:\n%s", typed, d.screen())
			}
		}
	})
}

// TestAListByName: a list is gone through by the beginning of a name as well, also where
// it comes in one read, or where a number is more than the list has.
func TestAListByName(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, typed := range []string{"a riving knife was b", "A RIVING KNIFE WAS BOUGHT"} {
			d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
			d.walk("strip")
			d.function(3)
			d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(typed)})
			d.enter()
			if d.place().Step != "knife-bought" {
				t.Errorf("%q begins %s:\n%s", typed, d.place(), d.screen())
			}
		}
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("strip")
		d.function(3)
		d.typing("a\u202e")
		if !d.says("WRONG", "U+202E") {
			t.Errorf("a key is dropped without a word:\n%s", d.screen())
		}
		d.typing("a ")
		d.enter()
		if d.root().over == nil || !d.says("WRONG") {
			t.Errorf("what begins several names chose one:\n%s", d.screen())
		}
		d.typing("a blade runs")
		d.enter()
		if d.place().Step != "blade-knife" {
			t.Errorf("typed anew, and it begins %s", d.place())
		}

		found := []wizard.Found{{Path: "bay-two.yaml", Name: "bay-two"}, {Path: "bay-one.yaml", Name: "bay-one"}}
		opened := ""
		d = drive(t, bay.Run{Shelf: wizard.Shelf{List: func() ([]wizard.Found, error) { return found, nil }, Open: func(path string) (wizard.Store, error) {
			opened = path
			return wizard.Store{Path: path, Profile: bay.Two()}, nil
		}}}, 80, 24)
		d.typing("bay-o")
		d.enter()
		if opened != "bay-one.yaml" {
			t.Errorf("opened %q:\n%s", opened, d.screen())
		}
		d.typing("24")
		d.enter()
		if p := d.root().job.Procedure.Options(); p.Blade != "rip-24" {
			t.Errorf("24 opens %q:\n%s", p.Blade, d.screen())
		}
	})
}
