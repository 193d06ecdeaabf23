package screen

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

func TestExportsAtTheEndOnTheFullScreen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := &bay.Desk{There: map[string]bool{"/bay/bay-two-card": true}}
		for _, size := range [][2]int{{80, 24}} {
			s := drive(t, bay.Run{Profile: bay.Two(), Save: func(model.Profile) error { return nil }, Export: d.Write}, size[0], size[1])
			s.walk("close")
			for _, talk := range bay.ClosingTalk {
				s.typing(talk.Typed)
				s.enter()
				s.rest()
				if s.place().Step != "close" || s.quit || s.values()["done"] != "" || !s.says(talk.Says) {
					t.Errorf("%q shows:\n%s", talk.Typed, s.screen())
				}
				s.fits()
			}
			s.typing("pdf")
			s.enter()
			if !s.says(`"pdf" is not one of them`) {
				t.Errorf("pdf shows:\n%s", s.screen())
			}
			s.key(tea.KeyCtrlU)
			s.typing("done")
			s.enter()
			s.rest()
			if !s.quit {
				t.Error("done does not leave")
			}
			var out strings.Builder
			j := s.root().job
			tell.Farewell(&out, j, j.Ended(false))
			if got := out.String(); strings.Count(got, "Written for others: ") != 3 || !strings.Contains(got, "Written for others: /bay/bay-two-card\n") {
				t.Errorf("at the end it says %q", got)
			}
		}
		d.Heard(t)
	})
}

// TestPracticeSaysHowToKeep: without a file to keep, nothing is written, and that is said.
func TestPracticeSaysHowToKeep(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := drive(t, bay.Run{Profile: bay.Two(), Practice: true}, 80, 24)
		for range 200 {
			if s.root().over == nil && s.place().Step == "close" {
				break
			}
			s.enterOrFill()
		}
		s.typing("card")
		s.enter()
		s.rest()
		if !s.says("NOT WRITTEN: this is practice, which writes nothing", "sawdatum practice --keep FILE") {
			t.Errorf("card in practice shows:\n%s", s.screen())
		}
	})
}

// enterOrFill answers one field in practice, or passes on the tour.
func (d *driver) enterOrFill() {
	if d.root().over == nil {
		d.pass()
		return
	}
	d.enter()
	d.rest()
}

// TestExportWaitsForTheSave: what is being saved comes first, and who leaves waits for
// what is being written.
func TestExportWaitsForTheSave(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var log []string
		busy := func(what string) {
			log = append(log, what+" begins")
			time.Sleep(2 * time.Second)
			log = append(log, what+" ends")
		}
		f := bay.Run{Profile: bay.Two(), Save: func(model.Profile) error { busy("save"); return nil }}
		f.Export = func(procedure.Export, string, model.Profile) (string, error) { busy("export"); return "/card", nil }
		s := drive(t, f, 80, 24)
		s.walk("close")
		log = nil
		if !s.root().saving {
			t.Fatal("nothing is being saved")
		}
		s.typing("card")
		s.enter()
		s.rest()
		s.typing("done")
		s.enter()
		if s.quit {
			t.Error("it leaves over what is being written")
		}
		s.wait(10 * time.Second)
		if got := strings.Join(log, ", "); !s.quit || !strings.HasSuffix(got, "save ends, export begins, export ends") {
			t.Errorf("quit %v, %s", s.quit, got)
		}
	})
}

// TestExportsWaitForEachOther: what is asked for while something is being written is
// written after it, all of it, and one thing at a time.
func TestExportsWaitForEachOther(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var log []string
		f := bay.Run{Profile: bay.Two(), Save: func(model.Profile) error { return nil }}
		f.Export = func(e procedure.Export, _ string, _ model.Profile) (string, error) {
			log = append(log, e.As+" begins")
			time.Sleep(2 * time.Second)
			log = append(log, e.As+" ends")
			return "/" + e.As, nil
		}
		s := drive(t, f, 80, 24)
		s.walk("close")
		s.wait(10 * time.Second)
		for _, typed := range []string{"card", "html", "csv", "done"} {
			s.typing(typed)
			s.enter()
			s.rest()
		}
		if s.quit {
			t.Error("it leaves over what is being written")
		}
		s.wait(10 * time.Second)
		if got := strings.Join(log, ", "); !s.quit || got != "card begins, card ends, html begins, html ends, csv begins, csv ends" {
			t.Errorf("quit %v, %s", s.quit, got)
		}
	})
}

// TestWritesFollowEachOther: at no time is the file written twice at once, however quick
// the answers come.
func TestWritesFollowEachOther(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		writing, most, last := 0, 0, 0
		slow := func() {
			writing++
			most = max(most, writing)
			time.Sleep(2 * time.Second)
			writing--
		}
		f := bay.Run{Profile: bay.Two(), Save: func(p model.Profile) error { slow(); last = len(p.Records); return nil }}
		f.Export = func(procedure.Export, string, model.Profile) (string, error) { slow(); return "/card", nil }
		s := drive(t, f, 80, 24)
		s.walk("close")
		s.wait(10 * time.Second)
		s.typing("card")
		s.enter()
		s.rest()
		s.key(tea.KeyF3) // other work, while the card is being written
		s.enter()
		s.rest()
		for range 4 {
			s.pass()
		}
		s.wait(time.Minute)
		if most != 1 || last != len(s.root().job.Procedure.Profile().Records) || last == 0 {
			t.Errorf("%d at once, %d records written of %d", most, last, len(s.root().job.Procedure.Profile().Records))
		}
	})
}

// TestACardIsShown: other work shows a card on the screen, read on line by line where it has no
// room, in every size; nothing is written for that, and then it can be.
func TestACardIsShown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		for _, size := range [][2]int{{80, 24}, {60, 20}, {160, 50}} {
			var written []procedure.Export
			write := func(e procedure.Export, _ string, _ model.Profile) (string, error) {
				written = append(written, e)
				return "/bay/bay-two-card.txt", nil
			}
			s := drive(t, bay.Run{Profile: bay.Two(), Save: func(model.Profile) error { return nil }, Export: write}, size[0], size[1])
			s.walk("close")
			s.function(3)
			s.typing("papers")
			s.enter()
			s.rest()
			s.typing("show card")
			s.enter()
			s.rest()
			p, shown := s.root().over.(page)
			if !shown || len(written) > 0 {
				t.Fatalf("%v: it shows %v, and writes %v:\n%s", size, shown, written, s.screen())
			}
			if size[0] >= 80 {
				for _, line := range p.body(size[0] - 4) {
					if w := ansi.StringWidth(line); w > size[0]-4 || strings.HasPrefix(strings.TrimSpace(line), "2026-") {
						t.Errorf("%v: a line of the card is broken: %q", size, line)
					}
				}
			}
			read := ""
			for range 40 {
				s.fits()
				read += s.screen()
				s.key(tea.KeyPgDown)
			}
			wants := []string{"BAY", "TEETH", "48-tooth general", "80-tooth fine crosscut", "One strip at", "Stop, wait for standstill"}
			if size[0] < 80 {
				wants = []string{"Blade 48-tooth general", "Blade 40-tooth thin kerf", "It is not to be used"}
			}
			for _, want := range wants {
				if !strings.Contains(strings.Join(strings.Fields(read), " "), want) {
					t.Errorf("%v: %q is not read:\n%s", size, want, strings.Join(p.body(size[0]-4), "\n"))
				}
			}
			if s.function(0); s.root().over != nil {
				t.Errorf("%v: esc does not leave it", size)
			}
			s.typing("show card")
			s.enter()
			s.rest()
			s.enter()
			if s.root().over != nil || s.place().Step != "papers" {
				t.Errorf("%v: enter leads to %s", size, s.place())
			}
			s.typing("show html")
			s.enter()
			if !s.says("html is not for the screen", "show card") {
				t.Errorf("%v:\n%s", size, s.screen())
			}
			s.key(tea.KeyCtrlU)
			s.typing("card")
			s.enter()
			s.rest()
			if len(written) != 1 || written[0] != (procedure.Export{As: "card"}) {
				t.Errorf("%v: written %v\n%s", size, written, s.screen())
			}
		}
	})
}

// TestOnlyTheWordStandsOut: of what went wrong with a save the word is reversed, and the reason plain.
func TestOnlyTheWordStandsOut(t *testing.T) {
	lipgloss.SetColorProfile(termenv.ANSI)
	defer lipgloss.SetColorProfile(termenv.Ascii)
	l := frame.NewLook(false, picture.Blocks)
	for text, want := range map[string]string{
		"NOT SAVED: saw.yaml: the disk is full.": l.Reversed.Render("NOT SAVED") + ": saw.yaml: the disk is full.",
		"The card was not written.":              "    The card was not written.",
	} {
		if got := (notice{"short", text, true}).rows(l, 76); len(got) != 1 || got[0] != want {
			t.Errorf("%q", got)
		}
	}
	if got := (notice{"SHORT. F1 says why.", strings.Repeat("Long, as a path may be. ", 20), true}).rows(l, 76); len(got) != 1 || got[0] != l.Reversed.Render("SHORT")+". F1 says why." {
		t.Errorf("%q", got)
	}
}

// TestStartListTellsSawsApart: two saws of one name are told apart by their files at 80 columns too, and what is
// due is not marked as done.
func TestStartListTellsSawsApart(t *testing.T) {
	l := frame.NewLook(true, picture.Blocks)
	for name, want := range map[string]string{"practice-bay (bay-two.yaml)": "bay-two.yaml ", "bay-two": "bay-two ", "bay (b.yaml)": "bay (b.yaml) ", "a-very-long-name-of-a-saw": "a-very-long-nam… "} {
		if line := sawLine(wizard.Found{Name: name}, l, arborColumn); !strings.HasPrefix(line, want) {
			t.Errorf("%s reads %q", name, line)
		}
	}
	s := start{choice: choice{look: l}, found: []wizard.Found{{Saw: "Bay", Blades: []wizard.FoundBlade{{Name: "rip", State: "DUE for 3 days", Usable: true}, {Name: "fine", State: "READY, 2 days", Usable: true}}}}}
	if rows := strings.Join(s.blades(76, 4), "\n"); strings.Count(rows, l.Done) != 1 || !strings.Contains(rows, l.Done+"  2  fine") {
		t.Error(rows)
	}
}
