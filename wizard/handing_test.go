package wizard

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// desk takes exports as a folder does in which there is a card already.
type desk struct {
	there map[string]bool
	log   []string
}

func (d *desk) write(e procedure.Export, over string, p model.Profile) (string, error) {
	d.log = append(d.log, fmt.Sprintf("%s over %q, %d records", e, over, len(p.Records)))
	file := "/bay/bay-two-" + e.As
	switch {
	case e.As == "csv":
		return file, errors.New("/bay/bay-two-csv: read-only file system: the disk is read-only: save elsewhere")
	case d.there[file] && over != file:
		return file, fs.ErrExist
	}
	d.there[file] = true
	return file, nil
}

// closingTalk is what is typed at the closing place, and what is said then.
var closingTalk = []struct{ typed, says string }{
	{"labels", "Written, labels: /bay/bay-two-labels"},
	{"card", "NOT WRITTEN: /bay/bay-two-card is there already. To replace it type card again."},
	{"card both", "NOT WRITTEN: /bay/bay-two-card is there already. To replace it type card both again."},
	{"html", "Written, html: /bay/bay-two-html"},
	{"card both", "NOT WRITTEN: /bay/bay-two-card is there already."},
	{"card both", "Written, card both: /bay/bay-two-card"},
	{"csv", "NOT WRITTEN: /bay/bay-two-csv: read-only file system: the disk is read-only: save elsewhere."},
}

func (d *desk) heard(t *testing.T) {
	t.Helper()
	var overs []string
	for _, line := range d.log {
		if strings.Contains(line, ", 0 records") {
			t.Error("an export without the records: " + line)
		}
		line, _, _ = strings.Cut(line, ",")
		overs = append(overs, line)
	}
	want := []string{`labels over ""`, `card over ""`, `card both over ""`, `html over ""`, `card both over ""`, `card both over "/bay/bay-two-card"`, `csv over ""`}
	if !slices.Equal(overs, want) {
		t.Errorf("asked for %q", overs)
	}
}

func TestExportsAtTheEndOnTheFullScreen(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := &desk{there: map[string]bool{"/bay/bay-two-card": true}}
		for _, size := range [][2]int{{80, 24}} {
			s := drive(t, fixture{profile: shop(), save: func(model.Profile) error { return nil }, export: d.write}, size[0], size[1])
			s.walk("close")
			for _, talk := range closingTalk {
				s.typing(talk.typed)
				s.enter()
				s.rest()
				if s.place().Step != "close" || s.quit || s.values()["done"] != "" || !s.says(talk.says) {
					t.Errorf("%q shows:\n%s", talk.typed, s.screen())
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
			farewell(&out, j, j.ended(false))
			if got := out.String(); strings.Count(got, "Written for others: ") != 3 || !strings.Contains(got, "Written for others: /bay/bay-two-card\n") {
				t.Errorf("at the end it says %q", got)
			}
		}
		d.heard(t)
	})
}

func TestExportsAtTheEndInPlainLines(t *testing.T) {
	d := &desk{there: map[string]bool{"/bay/bay-two-card": true}}
	n := 0
	p := &person{}
	p.says = func(place procedure.Place, _ string) (string, bool) {
		if place.Step != "close" || n == len(closingTalk) {
			return "", false
		}
		if n++; n > 1 && !strings.Contains(p.out.String(), closingTalk[n-2].says) {
			t.Errorf("%q is not said; so far:\n%s", closingTalk[n-2].says, tail(p.out.String()))
		}
		return closingTalk[n-1].typed, true
	}
	f := fixture{profile: shop(), practice: true, save: func(model.Profile) error { return nil }, export: d.write}
	o := f.options()
	o.In, o.Out = p, &p.out
	run := newPlain(o)
	p.plain = &run
	result, err := run.goOn()
	if err != nil || !result.Finished || n != len(closingTalk) {
		t.Fatalf("%v, %d exports asked for\n%s", err, n, tail(p.out.String()))
	}
	out := p.out.String()
	if k := strings.Count(out, "Where every blade stands."); k != 1 {
		t.Errorf("the table of blades is read out %d times", k)
	}
	if !strings.Contains(out, "Written for others: /bay/bay-two-html\n") || !strings.Contains(out, "the disk is read-only: save elsewhere.") {
		t.Error(tail(out))
	}
	d.heard(t)
}

// TestPracticeSaysHowToKeep: without a file to keep, nothing is written, and that is said.
func TestPracticeSaysHowToKeep(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := drive(t, fixture{profile: shop(), practice: true}, 80, 24)
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
		f := fixture{profile: shop(), save: func(model.Profile) error { busy("save"); return nil }}
		f.export = func(procedure.Export, string, model.Profile) (string, error) { busy("export"); return "/card", nil }
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
		f := fixture{profile: shop(), save: func(model.Profile) error { return nil }}
		f.export = func(e procedure.Export, _ string, _ model.Profile) (string, error) {
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
		f := fixture{profile: shop(), save: func(p model.Profile) error { slow(); last = len(p.Records); return nil }}
		f.export = func(procedure.Export, string, model.Profile) (string, error) { slow(); return "/card", nil }
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
		if most != 1 || last != len(s.root().job.procedure.Profile().Records) || last == 0 {
			t.Errorf("%d at once, %d records written of %d", most, last, len(s.root().job.procedure.Profile().Records))
		}
	})
}
