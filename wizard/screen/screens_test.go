package screen

import (
	"errors"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

func (d *driver) values() map[string]string { return d.root().base.(step).typing.values() }

func TestUnsentTextSurvivesEscAndReturn(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("rim")
		d.key(tea.KeyTab)
		d.typing("180")
		d.function(0) // opens the reading of heel and toe
		d.rest()
		if d.place().Step != "heel-toe" || !d.view().Correcting {
			t.Fatalf("esc leads to %s", d.place())
		}
		d.function(4)
		d.rest()
		if d.place().Step != "rim" || d.values()["turned"] != "180" {
			t.Errorf("at %s, with %v", d.place(), d.values())
		}
	})
}

func TestGateIsEmptyAfterReturn(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("isolate")
		d.pass()
		d.walk("arbor") // the arbor, so that there is a reading to open
		d.typing("clean")
		d.enter()
		d.typing("1 2 1 2")
		d.key(tea.KeyCtrlU)
		d.pass()
		d.walk("line")
		d.send(tea.ResumeMsg{})
		d.walk("isolate")
		first := d.view().Fields[2].Word
		d.typing("unplugged")
		d.function(0)
		d.rest()
		if !d.view().Correcting {
			t.Fatalf("esc opened nothing: %s", d.place())
		}
		d.function(4)
		d.rest()
		if d.view().Correcting {
			t.Fatalf("F4 leads to %s", d.place())
		}
		d.walk("isolate")
		for key, text := range d.values() {
			if text != "" {
				t.Errorf("%s of the gate holds %q", key, text)
			}
		}
		if d.view().Fields[2].Word == first {
			t.Errorf("the word is %s again", first)
		}
	})
}

func TestSplitArrowKeyIsNoEsc(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("rim")
		for _, rest := range [][]string{{"[D"}, {"[", "D"}, {"OP"}, {"O", "P"}, {"[1;5C"}, {"[", "1", "5", "~"}} {
			d.key(tea.KeyEsc)
			d.wait(escapeTime / 2)
			for _, s := range rest {
				d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)})
			}
			d.wait(2 * escapeTime)
			if d.place().Step != "rim" || d.values()["dial"] != "" {
				t.Fatalf("%q behind Esc: at %s, typed %v", rest, d.place(), d.values())
			}
		}
		d.typing("1 2")
		if d.values()["dial"] != "1 2" {
			t.Errorf("typing after a split key gives %v", d.values())
		}
		// an Esc and a letter that is no sequence are both meant
		d.key(tea.KeyEsc)
		d.typing("x")
		d.rest()
		if !d.view().Correcting {
			t.Error("Esc before a letter was lost")
		}
	})
}

func TestResizeKeepsTextAndFocus(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 120, 36)
		d.walk("heel-toe")
		d.typing("95.00")
		d.enter()
		d.typing("95.0")
		for _, size := range [][2]int{{60, 20}, {20, 5}, {160, 50}, {59, 19}, {80, 24}} {
			d.size(size[0], size[1])
			d.typing("") // nothing
		}
		d.typing("3")
		if v := d.values(); v["slot_front"] != "95.00" || v["slot_rear"] != "95.03" {
			t.Errorf("after resizing: %v", v)
		}
		d.size(40, 10)
		d.typing("7")
		d.enter()
		if !d.says("needs 60 x 20", "Nothing typed is lost") {
			t.Errorf("a small window says:\n%s", d.screen())
		}
		d.size(80, 24)
		if v := d.values(); v["slot_rear"] != "95.03" {
			t.Errorf("keys into a window too small to read were taken: %v", v)
		}
	})
}

func TestHelpRecordsAndWorkKeepTheStep(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("mount")
		d.typing("2.")
		for n, words := range map[int][]string{1: {"Why: Mount", "at least one pitch", "Keys"}, 2: {"Records", "isolated: unplugged"}, 3: {"Other work", "Another is on the arbor"}} {
			d.function(n)
			if !d.says(words...) || !d.says("POWER", "isolated 07:04 KB") {
				t.Errorf("F%d shows:\n%s", n, d.screen())
			}
			d.typing("8")
			d.function(0)
		}
		if d.values()["knife"] != "2." || d.place().Step != "mount" {
			t.Errorf("after the other screens: %v at %s", d.values(), d.place())
		}
	})
}

// TestWordsThatAreNamesOfKeysAreText sends words in one read, as a slow line does.
func TestWordsThatAreNamesOfKeysAreText(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := model.Profile{Version: model.FormatVersion, Name: "new"}
		for _, word := range []string{"left", "right", "up", "down", "home", "end", "enter", "tab", "esc", "delete", "f3", "ctrl+c"} {
			d := drive(t, bay.Run{Profile: p}, 80, 24)
			d.walk("saw")
			d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
			if got := d.root().base.(step).typing.values()["label"]; got != word {
				t.Errorf("the word %s in one read became %q", word, got)
			}
		}
	})
}

func TestOtherWorkByNumber(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("strip")
		tasks := d.root().job.Procedure.Tasks()
		if tasks[0].Place.Step != "fence-moved" {
			t.Fatalf("the first task is %s", tasks[0].Label)
		}
		d.function(3)
		d.typing("99")
		d.enter()
		if d.root().over == nil {
			t.Fatal("a number that is none of them chose something")
		}
		if !d.says("Number or name: 99", "WRONG", "is no work that may begin now") {
			t.Errorf("a wrong number is not told:\n%s", d.screen())
		}
		d.typing("1")
		d.enter()
		d.rest()
		if d.place().Step != "fence-moved" {
			t.Fatalf("the work begins at %s", d.place())
		}
		d.pass()
		if !d.says("FENCE", "not locked") || d.place().Step == "strip" {
			t.Errorf("at %s:\n%s", d.place(), d.screen())
		}
	})
}

func TestSavesEveryAcceptedGate(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var saved []model.Profile
		save := func(p model.Profile) error { saved = append(saved, p); return nil }
		d := drive(t, bay.Run{Profile: bay.Two(), Save: save}, 80, 24)
		d.walk("mount")
		now := d.root().job.Procedure.Profile()
		if len(saved) == 0 || len(saved[len(saved)-1].Records) != len(now.Records) {
			t.Fatalf("%d saves; the last has not the %d records", len(saved), len(now.Records))
		}
		for i := 1; i < len(saved); i++ {
			if len(saved[i].Records) < len(saved[i-1].Records) {
				t.Error("a later save holds less than an earlier one")
			}
		}
		d.key(tea.KeyCtrlC)
		if !d.quit {
			t.Error("ctrl+c does not leave")
		}
	})
}

func TestSlowSavesFollowEachOther(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var saved []int
		under := 0
		save := func(p model.Profile) error {
			if under++; under > 1 {
				t.Error("two saves at once")
			}
			time.Sleep(time.Second)
			under--
			saved = append(saved, len(p.Records))
			return nil
		}
		d := drive(t, bay.Run{Profile: bay.Two(), Save: save}, 80, 24)
		d.walk("mount")
		n := len(d.root().job.Procedure.Profile().Records)
		d.key(tea.KeyCtrlC)
		if d.quit {
			t.Error("it leaves while a save is under way")
		}
		d.wait(5 * time.Second)
		if !d.quit || saved[len(saved)-1] != n {
			t.Errorf("quit %v, saved %v, records %d", d.quit, saved, n)
		}
	})
}

func TestFailedSaveIsToldAndOffersACopy(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		full := true
		save := func(model.Profile) error {
			if full {
				return errors.New("bay-two.yaml: no space left: free some, or save elsewhere")
			}
			return nil
		}
		var copies []string
		f := bay.Run{Profile: bay.Two(), Save: save, Copy: func(path string, p model.Profile) error {
			if path == "taken" {
				return errors.New("taken: there already: choose another name")
			}
			copies = append(copies, path)
			if len(p.Records) == 0 {
				t.Error("the copy has no records")
			}
			return nil
		}}
		d := drive(t, f, 80, 24)
		d.walk("arbor")
		if !d.says("NOT SAVED: bay-two.yaml: no space left", "ctrl+s") {
			t.Fatalf("a failed save shows:\n%s", d.screen())
		}
		for _, name := range []string{"taken", "copy.yaml"} {
			d.key(tea.KeyCtrlS)
			d.typing(name)
			d.enter()
			if name == "taken" && !d.says("NO COPY: taken: there already") {
				t.Errorf("a copy that fails shows:\n%s", d.screen())
			}
		}
		if len(copies) != 1 || copies[0] != "copy.yaml" || !d.says("A copy is in copy.yaml") {
			t.Errorf("copies %v:\n%s", copies, d.screen())
		}
		d.key(tea.KeyCtrlC)
		if d.quit || !d.says("NOT SAVED", "once more") {
			t.Errorf("ctrl+c over an unsaved profile: quit %v\n%s", d.quit, d.screen())
		}
		full = false
		d.pass()
		if !d.says("Saved again in bay-two.yaml") {
			t.Errorf("a save that works again shows:\n%s", d.screen())
		}
	})
}

func TestPracticeFillsMeasuringFields(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two(), Practice: true}, 80, 24)
		for range 400 {
			if d.quit {
				break
			}
			if d.root().over != nil {
				if !d.says("Saw and cuts are simulated") {
					t.Fatalf("over the step lies:\n%s", d.screen())
				}
				d.enter()
				d.rest()
			}
			f, typed := d.focused(), d.root().base.(step).typing
			switch {
			case typed.asks(typed.at()):
				d.typing(typed.text(typed.at()))
			case f.Measuring && typed.fault(typed.at()) != "":
				d.key(tea.KeyEnd, tea.KeyCtrlU)
				fallthrough
			case f.Measuring && d.values()[f.Key] == "":
				d.enter() // the first takes a reading
				if !d.says("simulated") && d.values()[f.Key] != "" || d.values()[f.Key] == "" && !f.Optional {
					t.Fatalf("%s: empty at %s takes no reading:\n%s", d.place(), f.Label, d.screen())
				}
				if d.values()[f.Key] == "" { // an optional one that the saw says nothing of
					d.rest()
					continue
				}
			default:
				d.fill(f)
			}
			d.enter()
			d.rest()
		}
		if !d.quit || !d.root().job.Finished() {
			t.Errorf("practice ends at %s:\n%s", d.place(), d.screen())
		}
	})
}

func TestStartScreen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var opened, created string
		shelf := wizard.Shelf{
			List: func() ([]wizard.Found, error) {
				return []wizard.Found{{Path: "bay-two.yaml", Name: "bay-two", Blades: []wizard.FoundBlade{
					{ID: "rip-24", Name: "24-tooth rip", State: "DUE for 3 days", Usable: true, Proves: true}, {ID: "crosscut-80", Name: "80-tooth fine crosscut", Barred: "is out"},
					{ID: "general-48", Name: "48-tooth general", State: "CHECK", Barred: "is to be checked", Check: "the flange was worked on"},
				}}}, nil
			},
			Open: func(path string) (wizard.Store, error) {
				opened = path
				return wizard.Store{Path: path, Profile: bay.Two()}, nil
			},
			Practice: func() (wizard.Store, error) { return wizard.Store{Profile: bay.Two()}, nil },
			Create: func(name string) (wizard.Store, error) {
				if name == "bad" {
					return wizard.Store{}, errors.New("there is a profile bad already: choose another name")
				}
				created = name
				return wizard.Store{Path: name + ".yaml", Profile: bay.New()}, nil
			},
		}
		for _, entry := range []struct {
			number, step, blade string
			mode                procedure.Mode
			proves              bool
		}{
			{"1", "who", "rip-24", procedure.Swap, true}, {"2", "who", "rip-24", procedure.Swap, false}, {"rip", "who", "rip-24", procedure.Swap, false}, {"24", "who", "rip-24", procedure.Swap, false},
			{"3", "who", "general-48", procedure.Swap, true}, {"general", "who", "general-48", procedure.Swap, true}, {"prove 48", "who", "general-48", procedure.Prove, false}, {"again 48", "who", "general-48", procedure.OneBlade, false},
			{"4", "layout", "", procedure.Setup, false}, {"5", "who", "", procedure.IsolateOnly, false}, {"prove 24", "who", "rip-24", procedure.Prove, false},
			{"again 24", "who", "rip-24", procedure.OneBlade, false}, {"crosscut", "who", "crosscut-80", procedure.OneBlade, false},
		} {
			d := drive(t, bay.Run{Shelf: shelf}, 80, 24)
			d.enter()
			if !d.says("1 Swap to the 24-tooth rip, with a proof: DUE for 3 days", "2 Swap to the 24-tooth rip", "3 Swap to the 48-tooth general, with a proof: CHECK: the flange was worked on", "4 The setup", "One blade again: 24-tooth rip") || d.says("Swap to the 80-tooth") {
				t.Errorf("a saw that is set up opens with:\n%s", d.screen())
			}
			d.typing(entry.number)
			d.enter()
			d.rest()
			if got := d.root().job.Procedure.Options(); opened != "bay-two.yaml" || d.place().Step != entry.step || got.Blade != entry.blade || got.Mode != entry.mode || got.Proves != entry.proves {
				t.Errorf("entry %s opened %q for %+v, at %s", entry.number, opened, got, d.where())
			}
		}

		d := drive(t, bay.Run{Shelf: shelf}, 80, 24)
		d.typing("2")
		d.enter()
		d.typing("bad")
		d.enter()
		if !d.says("there is a profile bad already") {
			t.Errorf("a name that is taken shows:\n%s", d.screen())
		}
		for range 3 {
			d.key(tea.KeyBackspace)
		}
		d.typing("bay-new")
		d.enter()
		d.rest()
		if created != "bay-new" || d.place().Step != "layout" {
			t.Errorf("created %q, at %s\n%s", created, d.where(), d.screen())
		}

		d = drive(t, bay.Run{Shelf: shelf}, 80, 24)
		d.typing("3")
		d.enter()
		if !d.says("Saw and cuts are simulated") {
			t.Errorf("practice shows:\n%s", d.screen())
		}
	})
}

// TestSwapFromTheStartScreen: a saw and a blade in one line begin the swap; a blade that is not
// to be swapped to says why, and nothing opens.
func TestSwapFromTheStartScreen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		opened := ""
		blades := []wizard.FoundBlade{
			{ID: "thin-40", Name: "40-tooth thin kerf", State: "NOT READY", Barred: "is not ready: no knife fits it"},
			{ID: "rip-24", Name: "24-tooth rip", Rings: "0.10 mm", Knife: "2.5 mm", State: "READY", Usable: true},
			{ID: "crosscut-80", Name: "80-tooth fine crosscut", Rings: "0.20 mm", Knife: "2.5 mm", State: "DUE for 3 days", Usable: true, Proves: true},
			{ID: "general-48", Name: "48-tooth general", Rings: "no rings", Knife: "2.5 mm", State: "CHECK", Barred: "is to be checked", Check: "arbor was worked on"},
		}
		shelf := wizard.Shelf{
			List: func() ([]wizard.Found, error) {
				return []wizard.Found{{Path: "door.yaml", Name: "door"}, {Path: "bay-two.yaml", Name: "bay-two", All: 3, Ready: 2, Blades: blades}}, nil
			},
			Open: func(path string) (wizard.Store, error) {
				opened = path
				return wizard.Store{Path: path, Profile: bay.Two()}, nil
			},
		}
		for typed, why := range map[string]string{"2 thin": "the 40-tooth thin kerf is not ready: no knife fits it", "2 table": "is not one of them", "1 cross": "is not one of them"} {
			d := drive(t, bay.Run{Shelf: shelf}, 80, 24)
			d.typing(typed)
			d.enter()
			if opened != "" || !d.says("WRONG") || !d.says(why) {
				t.Errorf("%s opened %q:\n%s", typed, opened, d.screen())
			}
		}
		for typed, blade := range map[string]string{"2 cross": "crosscut-80", "bay-two 2": "rip-24", "2 24-tooth rip": "rip-24", "two general": "general-48"} {
			d := drive(t, bay.Run{Shelf: shelf}, 80, 24)
			d.typing(typed)
			if offered := blade != "rip-24"; !d.says("a swap to the ") || d.says("a proof is offered first") != offered || d.says("to be checked: arbor was worked on") != (blade == "general-48") {
				t.Errorf("%s does not say what follows:\n%s", typed, d.screen())
			}
			d.enter()
			d.rest()
			if o := d.root().job.Procedure.Options(); opened != "bay-two.yaml" || o.Mode != procedure.Swap || o.Blade != blade || !o.Offers || o.Proves {
				t.Errorf("%s opened %q, %+v", typed, opened, o)
			}
		}
	})
}

// TestATerminalThatDoesNotTellItsSize is drawn for as the usual one.
func TestATerminalThatDoesNotTellItsSize(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		want := d.screen()
		d.model, _ = d.model.Update(tea.WindowSizeMsg{})
		if got := d.screen(); got != want || strings.TrimSpace(got) == "" {
			t.Errorf("the screen is\n%s", got)
		}
	})
}

// TestStalePapersOnTheStartScreen: each is named, and written anew where it is chosen.
func TestStalePapersOnTheStartScreen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var wrote []string
		paper := wizard.Paper{Path: "/bay/bay-two-card.txt", Export: procedure.Export{As: "card", BothUnits: true}, Date: "2026-03-02", State: "4f2c", Now: "81c0"}
		shelf := wizard.Shelf{
			List: func() ([]wizard.Found, error) {
				found := []wizard.Found{{Path: "bay-two.yaml", Name: "bay-two"}, {Path: "door.yaml", Name: "door"}}
				if len(wrote) < 2 {
					found[0].Stale = []wizard.Paper{paper}
				}
				return found, nil
			},
			Open: func(path string) (wizard.Store, error) {
				return wizard.Store{Path: path, Profile: bay.Two(), Export: func(e procedure.Export, over string, _ model.Profile) (string, error) {
					if wrote = append(wrote, path+" "+e.String()+" "+over); len(wrote) == 1 {
						return "", errors.New("disk full: free some")
					}
					return over, nil
				}}, nil
			},
		}
		d := drive(t, bay.Run{Shelf: shelf}, 80, 24)
		if !d.says("STALE: bay-two-card.txt is of 2026-03-02, state 4f2c; the blades are in state 81c0 now. Write card anew") {
			t.Errorf("the start screen shows:\n%s", d.screen())
		}
		for _, want := range []string{"NOT WRITTEN: disk full: free some.", "Written, card both: /bay/bay-two-card.txt; then change the one on the wall."} {
			d.typing("3")
			d.enter()
			if got := wrote[len(wrote)-1]; got != "bay-two.yaml card both /bay/bay-two-card.txt" || !d.says(want) {
				t.Errorf("%q, and the screen shows:\n%s", got, d.screen())
			}
		}
		if d.says("STALE") {
			t.Errorf("what was written is stale:\n%s", d.screen())
		}
	})
}

func TestRunDownTooLongIsAskedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("stop")
		d.wait(15 * time.Second)
		d.typing("12")
		d.enter()
		d.rest()
		if !d.says("DANGER", "took 12 s", "at most 10 s") {
			t.Errorf("12 s are not told:\n%s", d.screen())
		}
		if d.walk("brake"); !d.says("out of use until its brake is mended") {
			t.Errorf("the brake is not asked for:\n%s", d.screen())
		}
	})
}

func TestBadInputIsOneClearLine(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.Two()}, 80, 24)
		d.walk("block")
		d.fill(d.focused())
		d.enter()
		for _, text := range []string{"abc", "-3", "9 kg", "1/128 in", strings.Repeat("9", 40), "9,5", ""} {
			d.typing(text)
			d.enter()
			if !d.says("WRONG") || d.values()["height"] != text || d.place() != (procedure.Place{Step: "block"}) {
				t.Errorf("%q: kept %q, at %s\n%s", text, d.values()["height"], d.place(), d.screen())
			}
			for range len(text) {
				d.key(tea.KeyBackspace)
			}
		}
		page := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("a page of text ", 300)), Paste: true}
		d.send(page)
		if d.values()["height"] != "" || !d.says("too many") {
			t.Errorf("a page pasted: %q\n%s", d.values()["height"], d.screen())
		}
	})
}

// TestNamesOfKeysAreText sends words at once, as a slow line does: those that are the
// name of a key are text too.
func TestNamesOfKeysAreText(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := drive(t, bay.Run{Profile: bay.New()}, 80, 24)
		d.walk("saw")
		for _, word := range []string{"left", "right", "esc", "enter", "f1", "ctrl+c", "tab", "home"} {
			d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(word)})
		}
		d.wait(time.Second)
		if d.quit || d.root().over != nil || d.values()["label"] != "leftrightescenterf1ctrl+ctabhome" {
			t.Errorf("quit %v, typed %v\n%s", d.quit, d.values(), d.screen())
		}
	})
}

// TestAnotherShiftsRecordsComeIn saves while another shift has saved: somebody else is
// at the saw, so isolation is asked anew, and what they recorded counts.
func TestAnotherShiftsRecordsComeIn(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		theirs := model.Record{At: time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC), By: "ZZ", Kind: model.Note, Text: "blade 3 is at the grinder"}
		d := drive(t, bay.Run{Profile: bay.Two(), Save: func(model.Profile) error { return nil }, Join: func(p model.Profile) model.Profile {
			if len(p.Records) > 1 {
				p.Records = append([]model.Record{theirs}, p.Records...)
			}
			return p
		}}, 80, 24)
		d.walk("clear")
		if len(d.root().job.Procedure.Profile().Records) > 1 {
			t.Fatal("the records came in before anything was saved with them")
		}
		d.pass()
		p := d.root().job.Procedure
		if power, _ := p.Power(); power != interlock.Unknown || p.View().Place.Step != "who" {
			t.Errorf("power is %v at %s after another shift's records came in, want unknown at who", power, p.View().Place)
		}
		if records := p.Profile().Records; records[0].By != "ZZ" {
			t.Errorf("their record did not come in: %v", records)
		}
		if !d.says("Another shift") {
			t.Errorf("the screen does not tell:\n%s", d.screen())
		}
	})
}

// TestADangerKeepsItsLastWords: what could hurt somebody stands whole on the screen, also in the
// smallest window.
func TestADangerKeepsItsLastWords(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 36}} {
			d := drive(t, bay.Run{Profile: bay.Two()}, size[0], size[1])
			d.walk("unfit")
			if !shows(d.screen(), "the stock wedges on it; use a knife from 1.80 mm to under 2.40 mm.") {
				t.Errorf("%v:\n%s", size, d.screen())
			}
			for _, line := range d.root().base.(step).place.Do {
				if !shows(d.screen(), line) {
					t.Errorf("%v: no %q in\n%s", size, line, d.screen())
				}
			}
		}
	})
}

// TestRingsAtTheStart: of what is on an arbor the blade's name gives way, never its rings.
func TestRingsAtTheStart(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		found := []wizard.Found{{Path: "bay-two.yaml", Name: "bay-two", Arbor: "60-tooth fine finish", Rings: "0.20 mm + 0.50 mm", All: 5, By: "KB"}}
		shelf := wizard.Shelf{List: func() ([]wizard.Found, error) { return found, nil }}
		for w, want := range map[int]string{80: "60-t…, 0.20 mm + 0.50 mm ", 100: "60-tooth fine finish, 0.20 mm + 0.50 mm "} {
			if d := drive(t, bay.Run{Shelf: shelf}, w, 30); !strings.Contains(d.screen(), want) {
				t.Errorf("at %d columns there is no %q:\n%s", w, want, d.screen())
			}
		}
	})
}
