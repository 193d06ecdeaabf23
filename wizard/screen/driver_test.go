package screen

import (
	"os"
	"reflect"
	"runtime/debug"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/practice"
)

// TestMain fixes what depends on the tester's terminal. Screens are drawn by the ten thousand
// and dropped at once: rarer collection takes a fifth off the time.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	lipgloss.SetColorProfile(termenv.Ascii)
	os.Exit(m.Run())
}

// driver runs the root's Update and View and its commands in the test's goroutine, on
// the fake clock of a synctest bubble: a command that has said nothing once
// everything waits is a timer, and is run when its time comes.
type driver struct {
	t      *testing.T
	model  tea.Model
	quit   bool
	w, h   int
	later  chan tea.Msg
	fit    map[string]bool // lines that were measured, at this width
	reader procedure.Saw   // the saw of practice that the hand reads, also where the run does not
}

func drive(t *testing.T, f bay.Run, w, h int) *driver {
	d := &driver{t: t, model: newRoot(f.Options(), frame.NewLook(true, f.Chars), wizard.NewWatch(nil)), later: make(chan tea.Msg, 1000), fit: map[string]bool{}, reader: practice.New(f.Profile, 7)}
	// Also behind a failure: a timer that is left over would end the whole package's tests.
	t.Cleanup(func() { time.Sleep(time.Minute) })
	d.run(d.model.Init())
	d.size(w, h)
	d.rest()
	return d
}

func (d *driver) size(w, h int) {
	d.w, d.h = w, h
	clear(d.fit)
	d.send(tea.WindowSizeMsg{Width: w, Height: h})
}

func (d *driver) send(msg tea.Msg) {
	var cmd tea.Cmd
	d.model, cmd = d.model.Update(msg)
	d.run(cmd)
	switch msg.(type) {
	case tea.KeyMsg, tea.WindowSizeMsg, savedMsg, tea.ResumeMsg:
		d.fits()
	}
}

func (d *driver) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	said := make(chan tea.Msg, 1)
	go func() {
		msg := cmd()
		select {
		case said <- msg:
		default:
		}
	}()
	synctest.Wait()
	select {
	case msg := <-said:
		d.take(msg)
	default:
		go func() { d.later <- <-said }()
	}
}

func (d *driver) take(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil:
	case tea.QuitMsg:
		d.quit = true
	case cursor.BlinkMsg: // the cursor stays lit in the tests
	case tea.BatchMsg:
		for _, c := range msg {
			d.run(c)
		}
	default:
		if v := reflect.ValueOf(msg); v.Kind() == reflect.Slice {
			for i := range v.Len() {
				d.run(v.Index(i).Interface().(tea.Cmd))
			}
			return
		}
		d.send(msg)
	}
}

// wait lets time go by, with what its timers bring.
func (d *driver) wait(by time.Duration) {
	end := time.After(by)
	for {
		synctest.Wait()
		select {
		case msg := <-d.later:
			d.take(msg)
			continue
		default:
		}
		select {
		case msg := <-d.later:
			d.take(msg)
		case <-end:
			return
		}
	}
}

// rest is what a person takes to look at a new place: keys count after it.
func (d *driver) rest() { d.wait(wizard.DeafTime + time.Millisecond) }

func (d *driver) key(types ...tea.KeyType) {
	for _, t := range types {
		d.send(tea.KeyMsg{Type: t})
	}
}

// typing types text by hand, rune by rune.
func (d *driver) typing(s string) {
	for _, r := range s {
		if r == ' ' {
			d.send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
			continue
		}
		d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
}

func (d *driver) enter() { d.key(tea.KeyEnter) }

func (d *driver) root() root                { return d.model.(root) }
func (d *driver) place() procedure.Place    { return d.root().job.Procedure.View().Place }
func (d *driver) view() procedure.View      { return d.root().job.Procedure.View() }
func (d *driver) screen() string            { return ansi.Strip(d.model.View()) }
func (d *driver) says(words ...string) bool { return contains(d.screen(), words...) }

// contains reports whether all words are on a screen, whatever lines they are on.
func contains(screen string, words ...string) bool {
	flat := strings.Join(strings.Fields(screen), " ")
	for _, w := range words {
		if !strings.Contains(flat, w) {
			return false
		}
	}
	return true
}

// fits fails where a frame is higher or wider than the window.
func (d *driver) fits() {
	d.t.Helper()
	lines := strings.Split(d.model.View(), "\n")
	if len(lines) > d.h {
		d.t.Errorf("%s at %dx%d: %d lines\n%s", d.where(), d.w, d.h, len(lines), d.screen())
	}
	for _, line := range lines {
		if d.fit[line] {
			continue
		}
		d.fit[line] = true
		if n := ansi.StringWidth(line); n > d.w {
			d.t.Errorf("%s at %dx%d: a line of %d cells: %q", d.where(), d.w, d.h, n, ansi.Strip(line))
		}
	}
}

func (d *driver) where() string {
	if !d.root().working {
		return "start"
	}
	return d.place().String()
}

// answer is what an honest hand types into a field.
func (d *driver) answer(f procedure.Field) string {
	typed := d.root().base.(step).typing
	return hand.Answer(d.view(), f, d.reader, typed.values())
}

// fill types the answer of the focused field, where nothing stands in it yet: what is
// questioned is so, and what is refused is read again.
func (d *driver) fill(f procedure.Field) {
	typed := d.root().base.(step).typing
	switch at := typed.at(); {
	case typed.asks(at):
		d.typing(typed.text(at)) // the first key replaces what stands there
		return
	case typed.fault(at) != "":
		d.key(tea.KeyEnd, tea.KeyCtrlU)
	case typed.text(at) != "":
		return
	}
	d.typing(d.answer(f))
}

// focused is the field that hears the keys.
func (d *driver) focused() procedure.Field {
	return d.view().Fields[d.root().base.(step).typing.at()]
}

// uncover closes the tour, and looks at what was beneath it.
func (d *driver) uncover() {
	if d.root().over != nil {
		d.enter()
		d.rest()
	}
}

// pass answers the present place as an honest user would.
func (d *driver) pass() {
	d.t.Helper()
	d.uncover()
	v := d.view()
	for range 3 * len(v.Fields) {
		d.fill(d.focused())
		if d.enter(); d.quit || d.view().Visit != v.Visit {
			d.rest()
			return
		}
	}
	d.rest()
	if d.place().Step != "close" { // an export leads nowhere
		d.t.Fatalf("the honest hand does not pass %s:\n%s", v.Place, d.screen())
	}
}

// walk passes places until one with this step stands.
func (d *driver) walk(to string) {
	d.t.Helper()
	for n := 0; n < 150 && !d.quit; n++ {
		if d.place().Step == to {
			d.uncover()
			return
		}
		d.pass()
	}
	d.t.Fatalf("%s never came; the work stands at %s", to, d.place())
}

// function presses a function key; 0 is Esc with the time it is held back.
func (d *driver) function(n int) {
	if n == 0 {
		d.key(tea.KeyEsc)
		d.wait(escapeTime + time.Millisecond)
		return
	}
	d.key([]tea.KeyType{0, tea.KeyF1, tea.KeyF2, tea.KeyF3, tea.KeyF4}[n])
}
