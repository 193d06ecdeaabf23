package wizard

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
)

// TestMain fixes what depends on the tester's terminal.
func TestMain(m *testing.M) {
	lipgloss.SetColorProfile(termenv.Ascii)
	os.Exit(m.Run())
}

func mm(texts ...string) []model.Measure {
	out := make([]model.Measure, len(texts))
	for i, s := range texts {
		m, err := model.ParseLength(s, model.MM)
		if err != nil {
			panic(err)
		}
		out[i] = m
	}
	return out
}

// shop is an invented far-flange saw: a reference, two blades that rings bring in, and
// a thin one that its knife does not fit.
func shop() model.Profile {
	one := func(s string) model.Measure { return mm(s)[0] }
	blade := func(id, label string, teeth int, plate, kerf string) model.Blade {
		return model.Blade{ID: id, Label: label, Diameter: one("250"), Teeth: teeth, Bore: one("30"), Knife: "k25", Plate: mm(plate, plate, plate), Kerf: mm(kerf, kerf, kerf)}
	}
	ring := func(id, thickness string, count int) model.Ring {
		return model.Ring{ID: id, Thickness: one(thickness), Measured: one(thickness), Count: count, Outer: one("78")}
	}
	return model.Profile{
		Version: 1, Name: "bay-two", Units: model.MM, Tolerance: one("0.05"), WorkingWidth: one("120"),
		Saw: model.Saw{Label: "Bay 2 saw", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: model.Far, FlangeDiameter: one("80"), FlangeRelief: one("50"),
			ArborDiameter: one("30"), SpareThread: one("9"), ThreadPitch: one("2"), ThroatLength: one("360")},
		Knives:      []model.Knife{{ID: "k25", Thickness: one("2.5")}},
		Instruments: model.Instruments{Caliper: one("0.01"), Micrometer: one("0.001")},
		Blades: []model.Blade{
			blade("general-48", "48-tooth general", 48, "2.2", "3.2"), blade("rip-24", "24-tooth rip", 24, "2.2", "3.0"),
			blade("crosscut-80", "80-tooth fine crosscut", 80, "2.2", "2.8"), blade("thin-40", "40-tooth thin kerf", 40, "1.6", "2.4")},
		Rings:     []model.Ring{ring("r10", "0.10", 3), ring("r20", "0.20", 2), ring("r30", "0.30", 1), ring("r50", "0.50", 1)},
		Reference: "general-48", Standing: []string{},
	}
}

// unread is a saw of which nothing is known yet.
func unread() model.Profile { return model.Profile{Version: 1, Name: "bay-new"} }

// fixture is what a run in the tests is made of.
type fixture struct {
	profile  model.Profile
	practice bool
	mode     procedure.Options
	shelf    Shelf
	save     func(model.Profile) error
	join     func(model.Profile) model.Profile // what the file holds after a save
	copy     func(string, model.Profile) error
	export   func(procedure.Export, string, model.Profile) (string, error)
	chars    picture.Charset
}

func (f fixture) options() Options {
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	o := Options{
		Judge: solver.Plan, Practice: f.practice, Seed: 7, Run: f.mode, Shelf: f.shelf, Copy: f.copy,
		Store: Store{Path: "bay-two.yaml", Profile: f.profile},
		Clock: func() time.Time { at = at.Add(time.Minute); return at },
	}
	o.Run.Exports = []string{"yaml", "card", "labels", "html", "csv", "json"}
	o.Store.Export = f.export
	if f.save != nil {
		o.Store.Save = func(p model.Profile) (model.Profile, error) {
			if f.join != nil {
				return f.join(p), f.save(p)
			}
			return p, f.save(p)
		}
	}
	if f.shelf.List != nil {
		o.Store = Store{}
	}
	return o
}

// driver runs the root's Update and View and its commands in the test's goroutine, on
// the fake clock of a synctest bubble: a command that has said nothing once
// everything waits is a timer, and is run when its time comes.
type driver struct {
	t     *testing.T
	model tea.Model
	quit  bool
	w, h  int
	later chan tea.Msg
}

func drive(t *testing.T, f fixture, w, h int) *driver {
	d := &driver{t: t, model: newRoot(f.options(), newLook(true, f.chars), newWatch(nil)), later: make(chan tea.Msg, 1000)}
	// Also behind a failure: a timer that is left over would end the whole package's tests.
	t.Cleanup(func() { time.Sleep(time.Minute) })
	d.run(d.model.Init())
	d.size(w, h)
	d.rest()
	return d
}

func (d *driver) size(w, h int) {
	d.w, d.h = w, h
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
func (d *driver) rest() { d.wait(deafTime + time.Millisecond) }

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
func (d *driver) place() procedure.Place    { return d.root().job.procedure.Place() }
func (d *driver) view() procedure.View      { return d.root().job.procedure.View() }
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

// answer is what an honest user at a good saw types into a field.
func answer(p procedure.Procedure, v procedure.View, f procedure.Field) string {
	if text, ok := usual[v.Place.Step+" "+f.Key]; ok {
		return text
	}
	if text, ok := usual[f.Key]; ok {
		return text
	}
	switch {
	case f.Key == "where":
		return f.Options[0]
	case f.Key == "way":
		return f.Options[len(f.Options)-1]
	case f.Key == "teeth" || f.Key == "name":
		id := v.Place.Blade
		if m := p.State().Mounted; v.Place.Step == "power" && m != nil {
			id = m.Blade
		}
		if v.Place.Step == "knife" {
			id = p.Profile().Reference
		}
		b, _ := p.Profile().BladeByID(id)
		if f.Key == "name" {
			return b.Label
		}
		return fmt.Sprint(b.Teeth)
	case f.Key == "rings":
		if len(v.Rings) == 0 {
			return "none"
		}
		return strings.Join(v.Rings, " ")
	case f.Kind == procedure.FieldWord || f.Kind == procedure.FieldExport:
		return f.Word
	case f.Optional:
		return ""
	}
	return f.Value
}

var usual = map[string]string{
	"by": "KB", "run_down": "6", "how": "unplugged", "cut how": "", "spare_thread": "9", "span": "200",
	"slot_front": "95.00", "slot_rear": "95.02", "fence_front": "120.00", "fence_rear": "120.03",
	"length": "900", "lead": "120.02", "tail": "120.03", "gaps": "0 0.05 0 0.05", "tip_gap": "5",
	"pairs": "60=60.12 120=120.11", "final": "120.01", "readings": "120.00 120.01 120.00", "fence": "untouched",
	"power knife": "2.5", "width": "120", "more": "done", "why": "check", "decide": "",
	"saw label": "Bay 2 saw", "units": "mm", "tilt": "left", "fence_side": "right", "flange": "far",
	"flange_diameter": "80", "flange_relief": "50", "arbor_diameter": "30", "thread_pitch": "2", "throat_length": "360",
	"thickness": "2.5", "caliper": "0.01", "micrometer": "0.001", "tolerance": "0.05", "working_width": "120",
	"blade label": "48-tooth general", "blade teeth": "48", "diameter": "250", "bore": "30",
	"plate": "2.201 2.203 2.200", "kerf": "3.204 3.201 3.206", "kit": "0.10x3 0.20x2 0.30", "measured": "", "outer": "78",
}

// fill types the answer of the focused field, where nothing stands in it yet.
func (d *driver) fill(f procedure.Field) {
	typed := d.root().base.(step).typing
	if typed.text(typed.at()) == "" {
		d.typing(answer(d.root().job.procedure, d.view(), f))
	}
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
	before := d.place()
	for _, f := range d.view().Fields {
		d.fill(f)
		if d.enter(); d.quit || d.place() != before {
			break
		}
	}
	d.rest()
	if !d.quit && d.place() == before && d.root().base.(step).unmet == nil {
		typed := d.root().base.(step).typing
		for i := range typed.fields {
			if fault := typed.fault(i); fault != "" {
				d.t.Fatalf("%s, field %d: %s", before, i, fault)
			}
		}
	}
}

// walk passes places until one with this step stands, or the end.
func (d *driver) walk(to string) {
	d.t.Helper()
	for range 120 {
		if d.quit || d.place().Step == to {
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
