package screen

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages"
)

// watched is a run of which each screen is looked at when it comes up, and again with every
// field of it filled in.
type watched struct {
	*driver
	units model.Unit
	look  func(d *driver)
}

// come looks at the present place; when it is passed, at every field of it.
func (d watched) pass() {
	d.t.Helper()
	d.look(d.driver)
	v := d.view()
	for range 3 * len(v.Fields) {
		d.fill(d.focused())
		d.look(d.driver)
		if d.enter(); d.quit || d.view().Visit != v.Visit {
			d.rest()
			return
		}
		d.look(d.driver)
	}
	d.t.Fatalf("the honest hand does not pass %s:\n%s", v.Place, d.screen())
}

func (d watched) walk(to string) {
	d.t.Helper()
	for n := 0; n < 150 && !d.quit; n++ {
		if d.place().Step == to {
			d.look(d.driver)
			return
		}
		d.pass()
	}
	d.t.Fatalf("%s never came; the work stands at %s", to, d.place())
}

// says types texts into the fields of the present place, and looks at what comes of them.
// What is questioned is so.
func (d watched) says(texts ...string) {
	d.t.Helper()
	v := d.view()
	for _, text := range texts {
		d.key(tea.KeyEnd, tea.KeyCtrlU)
		d.typing(text)
		d.look(d.driver)
		d.enter()
	}
	for n := 0; n < 3 && d.view().Visit == v.Visit; n++ {
		d.look(d.driver)
		d.fill(d.focused())
		d.enter()
	}
	if d.rest(); d.view().Visit == v.Visit {
		d.t.Fatalf("%q is not taken at %s:\n%s", texts, v.Place, d.screen())
	}
	d.look(d.driver)
}

// begin begins other work.
func (d watched) begin(step string) {
	d.t.Helper()
	tasks := d.root().job.Procedure.Tasks()
	i := slices.IndexFunc(tasks, func(t procedure.Task) bool { return t.Place.Step == step })
	d.function(3)
	d.typing(strconv.Itoa(tasks[i].Number))
	d.enter()
	d.rest()
	d.look(d.driver)
}

// strip are three readings of a strip: so many thousandths of a millimetre wider than the
// reference strips, or narrower.
func strip(by int) string {
	text := fmt.Sprintf("%.3fmm ", float64(by)/1000)
	return strings.TrimSpace(strings.Repeat(text, 3))
}

// widths are three readings of a strip that is so much wider than the
// reference strips.
func (d watched) widths(by model.Length) string {
	c := d.view().Context()
	var sum, n model.Length
	for _, s := range c.State.Strips {
		if s.Lock == c.State.Lock && s.For == model.Datum {
			for _, m := range s.Readings {
				sum, n = sum+m.Length, n+1
			}
		}
	}
	text := strings.ReplaceAll((sum/n+by).Show(model.MM, 100), " ", "") + " "
	return strings.TrimSpace(strings.Repeat(text, 3))
}

// doubtful are readings of a strip of the rip that leave it in a doubt which further strips
// settle: found beside the screen.
func (d watched) doubtful() string {
	d.t.Helper()
	for by := model.Length(60_000); by < 110_000; by += 200 {
		p, readings := d.root().job.Procedure, d.widths(by)
		for n := 0; n < 6 && p.View().Place.Step == "strip"; n++ { // what is questioned is so
			p, _ = p.Apply(procedure.Event{Kind: procedure.Answer, Visit: p.View().Visit, Answers: procedure.Answers{"readings": readings}})
		}
		if row, _ := p.Plan().Row("rip-24"); len(row.Further) > 0 {
			return readings
		}
	}
	d.t.Fatal("no readings leave a doubt that strips settle")
	return ""
}

// everyScreen drives runs in which every row comes up, and looks at each screen of them. It
// fails where a row of the house never came up.
func everyScreen(t *testing.T, units model.Unit, w, h int, look func(d *driver)) {
	came := map[string]bool{}
	each := func(d *driver) {
		came[d.place().Step] = true
		look(d)
	}
	shop := func(change ...func(*model.Profile)) bay.Run {
		p := bay.Two()
		if units == model.IN {
			p = inInches(p)
		}
		for _, c := range change {
			c(&p)
		}
		return bay.Run{Profile: p}
	}
	begin := func(f bay.Run) watched { return watched{drive(t, f, w, h), units, each} }
	resumed := func(p model.Profile, o procedure.Options) watched {
		return begin(bay.Run{Profile: p, Mode: o})
	}
	profile := func(d watched) model.Profile { return d.root().job.Procedure.Profile() }

	whole := begin(shop())
	whole.walk("close")
	done := profile(whole)

	head := begin(bay.Run{Profile: bay.New()})
	if units == model.IN {
		head.walk("layout")
		head.says("5", "in")
		head.walk("saw")
		head.says("Bay 2 saw", "us")
	}
	head.walk("rings")
	head.says("0.10mm", "", "78mm")
	head.says("row 1")
	head.pass()
	head.walk("boards")

	// A long run-down; nobody types for long, isolated and live.
	slow := begin(shop())
	slow.walk("stop")
	slow.wait(15 * time.Second)
	slow.says("12")
	slow.walk("arbor")
	slow.wait(model.DefaultIdleMinutes*time.Minute + 2*tickTime)
	slow.walk("boards")
	slow.wait(model.DefaultIdleMinutes*time.Minute + 2*tickTime)
	slow.walk("strip")
	half := profile(slow)

	// Strips that are out; the stack is cleaned, and found out; other rings.
	out := begin(bay.Run{Profile: half})
	out.walk("strip")
	for out.place().Step == "strip" {
		out.says(strip(-200))
	}
	out.walk("ways")
	out.says("clean")
	out.walk("clear")
	taken := out.root().job
	out.says("1", "stays", "empty")
	out.walk("clean")
	out.says("nothing")
	out.walk("ways")
	out.says("later")
	rings := begin(bay.Run{Profile: half})
	rings.walk("strip")
	for rings.place().Step == "strip" {
		rings.says(strip(-130))
	}
	rings.walk("ways")
	rings.says("rings")
	rings.walk("strip")

	// Another shift, that looks first; the knife is taken out with the blade.
	seen := begin(bay.Run{Profile: half})
	seen.says("MS")
	seen.walk("look")
	seen.says("24", "0.10mm", "2.5mm")
	dirty := begin(bay.Run{Profile: taken.Procedure.Profile()})
	dirty.walk("ways")
	dirty.says("clean")
	dirty.walk("clear")
	dirty.says("1", "out", "empty")
	dirty.says("dust")
	dirty.walk("knife-seen")

	// Strips that leave the knife outside its kerf.
	off := begin(bay.Run{Profile: half})
	off.walk("strip")
	for off.place().Step == "strip" {
		off.says(strip(+400))
	}
	off.walk("feel")
	off.says("-0.4mm -0.35mm")
	off.walk("ways")
	off.says("rings")
	off.walk("strip")
	none := begin(shop(func(p *model.Profile) { p.Rings, p.Blades[1].Kerf = nil, p.Blades[2].Kerf }))
	none.walk("leave")

	// A reference of which the knife, as checked, stands outside its kerf; a proof that shows
	// the same of another blade.
	narrow := begin(shop(func(p *model.Profile) {
		kerf := (2_580_000 * model.Nanometre).Of(model.MM)
		p.Blades = slices.Clone(p.Blades)
		p.Blades[slices.IndexFunc(p.Blades, func(b model.Blade) bool { return b.ID == p.Reference })].Kerf = []model.Measure{kerf, kerf, kerf}
	}))
	narrow.walk("reference")
	narrow.begin("knife-check")
	narrow.walk("knife-check")
	narrow.says("0.05mm 0.1mm", "5mm")
	narrow.walk("knife-out")
	proof := resumed(done, procedure.Options{Mode: procedure.Swap, Blade: "crosscut-80", Proves: true})
	for at := proof.place(); at.Step != "proof" || at.Blade != "crosscut-80"; at = proof.place() {
		proof.pass()
	}
	proof.says(proof.widths(400_000))
	proof.walk("feel")
	proof.says("-0.4mm -0.35mm")
	proof.walk("out-off")

	// A doubt that nothing settles, with the blade still on at the end.
	open := resumed(half, procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24"})
	open.walk("strip")
	for open.place().Step == "strip" || open.place().Step == "further" {
		open.says(open.widths(99_000))
	}
	open.walk("ways")
	open.says("later")
	open.walk("emptied")

	// A strip that stands apart, and a doubt.
	apart := begin(bay.Run{Profile: half})
	apart.walk("strip")
	apart.says(strip(0))
	apart.says(strip(160))
	apart.look(apart.driver)
	if units == model.MM { // half a thousandth of an inch is too coarse for it
		doubt := begin(bay.Run{Profile: half})
		doubt.walk("strip")
		readings := doubt.doubtful()
		for doubt.place().Step == "strip" {
			doubt.says(readings)
		}
		doubt.walk("further")
	}

	// Other work, each where it may begin.
	for _, start := range []model.Profile{half, done} {
		for _, blade := range []string{"rip-24", "general-48"} {
			d := resumed(start, procedure.Options{})
			d.pass()
			begun := map[procedure.Place]bool{}
			for range 60 {
				tasks := d.root().job.Procedure.Tasks()
				i := slices.IndexFunc(tasks, func(t procedure.Task) bool { return !begun[t.Place] })
				if i < 0 {
					break
				}
				begun[tasks[i].Place] = true
				d.begin(tasks[i].Place.Step)
				switch tasks[i].Place.Step {
				case "sharpened":
					d.says(blade)
					d.walk("grinder")
				case "retire":
					d.says("crosscut-80", "gone")
				case "back":
					d.says("crosscut-80")
					d.walk("returned")
				case "knife-back":
					d.says("1")
				case "knife-lost":
					d.says("1")
					d.walk("knife-goes")
					d.says("lost")
				}
				d.function(4)
				d.rest()
			}
		}
	}

	// What asks of a blade that is ready, or may become so, whether it is brought in now or later.
	for asks, typed := range map[string][]string{"ring-goes": {"ring-lost", done.Rings[0].Label(), "3"}, "then": {"knife-bought", "2.0mm", "thin-40"}} {
		p, near := done, done.Rings[0]
		near.ID, near.Thickness, near.Measured = "r12", (120_000 * model.Nanometre).Of(model.MM), model.Measure{}
		p.Rings = append(slices.Clone(p.Rings), near)
		d := resumed(p, procedure.Options{})
		d.pass()
		d.begin(typed[0])
		d.walk(typed[0])
		d.says(typed[1:]...)
		d.walk(asks)
	}

	for _, step := range []string{"empty", "knife-check"} {
		d := resumed(half, procedure.Options{})
		d.pass()
		d.begin(step)
		d.walk(step)
	}

	for _, o := range []procedure.Options{{Mode: procedure.Swap, Blade: "crosscut-80", Proves: true}, {Mode: procedure.Swap, Blade: "rip-24"}, {Mode: procedure.Prove, Blade: "rip-24"},
		{Mode: procedure.OneBlade, Blade: "rip-24"}, {Mode: procedure.IsolateOnly}} {
		d := resumed(done, o)
		for range 60 {
			if d.quit || d.place().Step == "close" {
				break
			}
			d.pass()
		}
	}

	// A blade that is to be checked is not swapped to; one of which something came in comes off.
	worked := done
	worked.Records = append(slices.Clip(done.Records), model.Record{Kind: model.Arbor, By: "KB", At: done.Records[len(done.Records)-1].At.Add(time.Second)})
	check := resumed(worked, procedure.Options{Mode: procedure.Swap, Blade: "rip-24"})
	check.walk("barred")
	offered := resumed(worked, procedure.Options{Mode: procedure.Swap, Blade: "rip-24", Offers: true})
	offered.walk("offer")
	bare := resumed(done, procedure.Options{Mode: procedure.Swap, Blade: "crosscut-80"})
	bare.walk("power")
	bare.begin("void")
	bare.says(strconv.Itoa(stripOf(done, "crosscut-80")), "read the wrong strip")
	bare.walk("out-off")

	// A knife is bought for a blade that none fitted.
	knife := resumed(done, procedure.Options{Mode: procedure.OneBlade, Blade: "thin-40"})
	knife.walk("knife-wanted")
	knife.says("2.0mm")
	knife.walk("fence")
	knife.says("moved")
	knife.walk("strip")
	for knife.place().Step == "strip" {
		knife.says(knife.widths(0))
	}
	knife.walk("knife-after")

	// The other shift proves a blade, and hands over.
	over := resumed(done, procedure.Options{Mode: procedure.Prove, Blade: "rip-24"})
	over.says("MS")
	over.walk("handover")

	// Every blade is back from the grinder at once, and the datum was to stay.
	ground := done
	for i, b := range done.Blades {
		r := model.Record{At: done.Records[len(done.Records)-1].At.Add(time.Duration(i+1) * time.Second), By: "KB", Kind: model.Sharpened, Blade: b.ID, Plate: b.Plate, Kerf: b.Kerf}
		if b.ID == done.Reference {
			r.Datum = model.DatumStays
		}
		ground.Records = append(slices.Clip(ground.Records), r)
	}
	uncarried := resumed(ground, procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24"})
	uncarried.walk("reason")
	uncarried.says("check")
	uncarried.walk("uncarried")

	for _, name := range rowNames() {
		elsewhere := name == "swapped" || units == model.IN && (name == "further" || name == "brake") // as soon as its gates are passed; no limit to a run-down
		if !came[name] && !elsewhere {
			t.Errorf("the screen of %s never came up", name)
		}
	}
}

// stripOf is the number of the last strip of a blade among the records.
func stripOf(p model.Profile, blade string) int {
	n := 0
	for i, r := range p.Records {
		if r.Kind == model.StripCut && r.Blade == blade {
			n = i + 1
		}
	}
	return n
}

// rowNames are the rows of all houses, and those of the gates.
func rowNames() (names []string) {
	add := func(r *procedure.Row) {
		if r != nil && !slices.Contains(names, r.Name) {
			names = append(names, r.Name)
		}
	}
	for _, o := range []procedure.Options{{}, {Mode: procedure.Swap, Proves: true}, {Mode: procedure.Prove}, {Mode: procedure.IsolateOnly}} {
		h := stages.House(o)
		for _, b := range h.Blocks {
			for i := range b.Rows {
				add(&b.Rows[i])
			}
		}
		for i := range h.Work {
			add(&h.Work[i])
		}
		add(h.Where)
		for _, g := range interlock.Gates() {
			add(h.Gate(g, procedure.Context{}))
		}
	}
	return names
}

// inInches is the shop as one that reads in inches has it: the same saw, bought in inches.
func inInches(p model.Profile) model.Profile {
	in := func(text string) model.Measure {
		m, err := model.ParseLength(text, model.IN)
		if err != nil {
			panic(err)
		}
		return m
	}
	p.Units, p.Rules = model.IN, model.RulesUS
	p.Tolerance, p.WorkingWidth = in("0.004"), in("5.5")
	p.Instruments = model.Instruments{Caliper: in("0.0005"), CaliperRange: in("6"), Micrometer: in("0.0001")}
	p.Knives = []model.Knife{{ID: "k25", Thickness: in("0.098")}}
	for i, thickness := range []string{"0.004", "0.008", "0.012", "0.020"} {
		p.Rings[i].Thickness, p.Rings[i].Measured = in(thickness), in(thickness)
	}
	return p
}

// TestEveryScreen holds each screen of every step to its window: nothing is wider or higher
// than it, no order is cut, the regions keep their rows, what a gate wants is in sight. In
// the usual window the plain face is asked to say the same.
func TestEveryScreen(t *testing.T) {
	for _, units := range []model.Unit{model.MM, model.IN} {
		for _, size := range [][2]int{{80, 24}, {60, 20}, {100, 30}, {160, 50}} {
			t.Run(fmt.Sprintf("%s %dx%d", units.Label(), size[0], size[1]), func(t *testing.T) {
				t.Parallel()
				synctest.Test(t, func(t *testing.T) {
					kept, compared := map[visit]string{}, map[string]bool{}
					everyScreen(t, units, size[0], size[1], func(d *driver) {
						screen := d.screen()
						d.whole(screen)
						d.keeps(screen, kept)
						if size == [2]int{frame.UsualWidth, frame.UsualHeight} {
							d.sameInPlain(compared)
						}
					})
				})
			})
		}
	}
}

// told are the faults that were told already: one screen comes up often.
var told sync.Map

func (d *driver) fault(format string, a ...any) {
	d.t.Helper()
	text := fmt.Sprintf("%s at %dx%d: ", d.place().Step, d.w, d.h) + fmt.Sprintf(format, a...)
	if _, before := told.LoadOrStore(text, true); !before {
		d.t.Errorf("%s\n%s", text, d.screen())
	}
}

// whole fails where something that must be seen is not on the screen in full.
func (d *driver) whole(screen string) {
	d.t.Helper()
	s := d.root().base.(step)
	v, r := s.place, s.layout(d.w, d.h)
	orders := s.orders(r.Text())
	if n := len(orders); n > r.Orders {
		d.fault("%d rows of orders have %d", n, r.Orders)
	}
	if most := 5; d.w == frame.UsualWidth && len(orders) > most {
		d.fault("%d rows of orders and cautions in %d columns, at most %d", len(orders), r.Text(), most)
	}
	if d.h >= frame.FullHeight && v.HasPicture() && v.Look != procedure.Result && r.Picture < 6 {
		d.fault("the picture has %d rows", r.Picture)
	}
	if least := 8; r.Rail > 0 && v.HasPicture() && v.Look == procedure.Step && r.Picture < least {
		d.fault("the picture has %d rows in a wide window, at least %d", r.Picture, least)
	}
	if v.HasFigure() && d.w >= frame.UsualWidth && r.Beside == 0 && !r.Alone {
		d.fault("the figure has no room")
	}
	if r.Rail > 0 {
		d.inTheRail(s, r)
	}
	if d.w >= frame.UsualWidth && !strings.Contains(screen, v.Title) {
		d.fault("the title is cut: %s", v.Title)
	}
	if fig := v.Figure(s.typing.values()); r.Beside > 0 && fig.Text != "" && !contains(screen, fig.Caption) {
		d.fault("the caption is cut: %s", fig.Caption)
	}
	if len(v.Fields) == 0 {
		return
	}
	f := d.focused()
	for i, called := range f.Called {
		if number := strconv.Itoa(i + 1); contains(screen, " "+number+" "+called) && f.Name(number) != called {
			d.fault("number %s is not taken for %s", number, called)
		}
	}
	if !contains(screen, f.Label) {
		d.fault("the question is cut: %s", f.Label)
	}
	fault := s.typing.fault(s.typing.at())
	if fault != "" && !shows(screen, fault) {
		d.fault("what is wrong is cut: %s", fault)
	}
	if so := byWeight(s.so); len(so) > 0 && so[0].Weight == model.Danger && fault == "" && s.typed && d.w >= frame.UsualWidth && !shows(screen, model.Sentence(so[0].Text)) { // in a smaller window F1 has the rest
		d.fault("the danger is cut: %s", so[0].Text)
	}
	for _, so := range s.so { // of a blade that is out, a tall window tells beside the way that is typed how to work until then
		if _, text, not := strings.Cut(model.Sentence(so.Text), "NOT READY: "); not && r.Said > frame.SaidRows && v.HasFigure() && fault == "" && f.Kind == procedure.FieldChoice && !shows(screen, text) {
			d.fault("not said: %s", so.Text)
		}
	}
	switch {
	case f.Kind == procedure.FieldWord:
		if !contains(screen, "type "+f.Word) {
			d.fault("the word is not in sight: %s", f.Word)
		}
	case !contains(screen, f.Hint):
		d.fault("the hint is cut: %s (%s)", f.Label, f.Hint)
	}
}

var counted = regexp.MustCompile(`strip (\d) of (\d)`)

// inTheRail fails where another step than the one on the screen stands at the left as the one at
// work: a blade stands there by its name.
func (d *driver) inTheRail(s step, r frame.Regions) {
	d.t.Helper()
	rail := ansi.Strip(strings.Join(s.railLines(r.Rail-2*frame.Margin, d.h), " "))
	named := s.place.Title
	if b, is := s.job.Procedure.Profile().BladeByID(s.place.Place.Blade); is {
		named = b.Name()
	}
	if v := s.place; !contains(rail, "• "+v.Title) && !contains(rail, "• "+named) {
		d.fault("%q is not at work at the left: %q", v.Title, rail)
	}
	for _, of := range counted.FindAllStringSubmatch(rail, -1) {
		if of[1] > of[2] {
			d.fault("more than all at the left: %q", of[0])
		}
	}
	if lines := len(s.railLines(r.Rail-2*frame.Margin, 99)); lines > 36 {
		d.fault("the stages take %d rows", lines)
	}
}

// visit names a visit of one run.
type visit struct {
	*driver
	number uint64
}

// keeps fails where the title, the answers, the field or the keys have left their rows since
// the place came up.
func (d *driver) keeps(screen string, kept map[visit]string) {
	d.t.Helper()
	lines := strings.Split(screen, "\n")
	s := d.root().base.(step)
	r := s.layout(d.w, d.h)
	at := map[string]int{}
	for i, line := range lines {
		switch {
		case strings.Contains(line, "▸ "):
			at["field"] = i
		case strings.Contains(line, "  > "):
			at["typed"] = i
		case strings.Contains(line, "enter accept"):
			at["keys"] = i
		}
	}
	now := fmt.Sprint(at, r.Orders, r.Beside, r.Picture)
	if before, ok := kept[visit{d, s.place.Visit}]; ok && before != now {
		d.fault("the regions were at %s and are at %s", before, now)
	}
	want := map[string]int{"field": d.h - 1 - r.Said - 1 - r.Label, "typed": d.h - 1 - r.Said - 1, "keys": d.h - 1}
	if r.Air > 3 { // an empty row above the keys
		want["field"], want["typed"] = want["field"]-1, want["typed"]-1
	}
	if len(s.place.Fields) > 0 && fmt.Sprint(at) != fmt.Sprint(want) {
		d.fault("field and keys are at %v, and not at %v", at, want)
	}
	kept[visit{d, s.place.Visit}] = now
}
