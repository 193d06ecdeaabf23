package wizard

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver/simsaw"
)

// practiceSaw is the simulated saw with what was done to it: it follows the answers,
// so that its readings are those of the blade, the rings and the fence at hand.
type practiceSaw struct {
	saw    simsaw.Saw
	fence  simsaw.Fence
	set    bool                    // the fence was set in this run
	pieces map[string]model.Length // true width of the reference half of a blade's piece, this fence lock
	halves map[string]model.Length // true width of the half that a blade cut last, this fence lock
}

func newPracticeSaw(p model.Profile, seed uint64) *practiceSaw {
	return &practiceSaw{saw: simsaw.New(p, seed), pieces: map[string]model.Length{}, halves: map[string]model.Length{}}
}

// moment is one question to the simulated saw.
type moment struct {
	*practiceSaw
	procedure procedure.Procedure
	view      procedure.View
	field     procedure.Field
	answers   map[string]string // of the place, so far
}

// read is what an instrument shows at a field, as it would be typed; false where the
// simulated saw has nothing to say.
func (s *practiceSaw) read(p procedure.Procedure, v procedure.View, f procedure.Field, answers map[string]string) (string, bool) {
	take, ok := instruments[v.Place.Step+" "+f.Key]
	if !ok {
		return "", false
	}
	text := take(moment{s, p, v, f, answers})
	return text, text != ""
}

// instruments says for each measuring field how it is read at the simulated saw.
var instruments = map[string]func(moment) string{
	"stop run_down":      func(m moment) string { return strconv.FormatFloat(m.saw.RunDown().Seconds(), 'f', 1, 64) },
	"thickness plate":    func(m moment) string { return m.micrometer(m.saw.Plate(m.blade(), 3)) },
	"thickness kerf":     func(m moment) string { return m.micrometer(m.saw.Kerf(m.blade(), 3)) },
	"sharpened plate":    moment.sharpened,
	"sharpened kerf":     func(m moment) string { return m.micrometer(m.saw.Kerf(m.blade(), 3)) },
	"returned plate":     func(m moment) string { return m.micrometer(m.saw.Plate(m.blade(), 3)) },
	"returned kerf":      func(m moment) string { return m.micrometer(m.saw.Kerf(m.blade(), 3)) },
	"arbor spare_thread": func(m moment) string { return m.caliper(m.saw.Thread()) },
	"arbor dial":         func(m moment) string { return m.micrometer(m.saw.FlangeDial(8)) },
	"rim dial":           func(m moment) string { return m.micrometer(m.saw.RimDial(m.setup(), 8)) },
	"rim dial_turned":    moment.turned,
	"align slot_front":   func(m moment) string { return m.heelToe(0) },
	"align slot_rear":    func(m moment) string { return m.heelToe(1) },
	"align fence_front":  func(m moment) string { return m.heelToe(2) },
	"align fence_rear":   func(m moment) string { return m.heelToe(3) },
	"align span":         func(m moment) string { return m.heelToe(4) },
	"boards length":      func(m moment) string { return m.tape(m.saw.BoardLength()) },
	"boards lead":        func(m moment) string { m.setFence(); lead, _ := m.ends(); return m.caliper(lead) },
	"boards tail":        func(m moment) string { _, tail := m.ends(); return m.caliper(tail) },
	"knife gaps":         moment.knifeGaps,
	"knife tip_gap":      func(m moment) string { return m.caliper(m.saw.TipGap(m.setup().Blade)) },
	"scale pairs":        moment.pairs,
	"scale final":        func(m moment) string { m.nudge(); return m.caliper(m.saw.Widths(m.rip(0), 1)...) },
	"reference readings": moment.reference,
	"cut readings":       moment.cut,
	"reread readings":    func(m moment) string { return m.half(3, m.differences()) },
	"more readings":      moment.more,
	"more half":          moment.moreHalf,
}

func (m moment) setup() simsaw.Setup {
	on := m.procedure.State().Mounted
	if on == nil {
		return simsaw.Setup{Blade: m.procedure.Profile().Reference, Rings: m.procedure.Profile().Standing}
	}
	return simsaw.Setup{Blade: on.Blade, Rings: on.Rings}
}

// blade is the blade that the place is about, or that was named in it.
func (m moment) blade() string {
	if m.view.Place.Blade != "" {
		return m.view.Place.Blade
	}
	return scene{m.procedure, m.view, m.answers}.chosen("blade")
}

func (m moment) caliper(ls ...model.Length) string {
	return m.typed(ls, m.procedure.Profile().Instruments.Caliper.Length)
}

// tape is a length as it reads on a tape: nobody holds a caliper to a board's length.
func (m moment) tape(l model.Length) string {
	number, _, _ := strings.Cut(l.Tape(m.field.Unit), " mm")
	return number
}

func (m moment) micrometer(ls []model.Length) string {
	return m.typed(ls, m.procedure.Profile().Instruments.Micrometer.Length)
}

// typed is lengths as somebody at the saw would type them: bare, in the unit of the
// field, with the digits of the instrument.
func (m moment) typed(ls []model.Length, resolution model.Length) string {
	words := make([]string, len(ls))
	for i, l := range ls {
		words[i], _, _ = strings.Cut(l.Show(m.field.Unit, resolution), " ")
	}
	return strings.Join(words, " ")
}

func (m moment) sharpened() string {
	m.saw = m.saw.Sharpened(m.blade())
	m.practiceSaw.saw = m.saw
	return m.micrometer(m.saw.Plate(m.blade(), 3))
}

func (m moment) turned() string {
	degrees, err := strconv.ParseFloat(strings.TrimSpace(m.answers["turned"]), 64)
	first := len(strings.Fields(m.answers["dial"]))
	if err != nil || first == 0 {
		return ""
	}
	on := m.setup()
	on.Clocks = degrees
	return m.micrometer(m.saw.RimDial(on, first))
}

func (m moment) heelToe(which int) string {
	if !m.set {
		m.setFence()
	}
	t := m.saw.HeelToe(m.setup(), m.fence)
	return m.caliper([...]model.Length{t.SlotFront, t.SlotRear, t.FenceFront, t.FenceRear, t.Span}[which])
}

// setFence sets the fence to the working width by its scale.
func (m moment) setFence() {
	m.practiceSaw.fence = m.saw.SetFence(m.procedure.Profile().WorkingWidth.Length)
	m.practiceSaw.set = true
}

// nudge moves the fence until a rip measures the working width.
func (m moment) nudge() {
	m.setFence()
	off := m.saw.Widths(m.rip(0), 1)[0] - m.procedure.Profile().WorkingWidth.Length
	m.practiceSaw.fence = m.fence.Nudged(-off)
}

// rip is the true width of a part cut now.
func (m moment) rip(before model.Length) model.Length { return m.saw.Rip(m.setup(), m.fence, before) }

func (m moment) ends() (lead, tail model.Length) {
	if !m.set {
		m.setFence()
	}
	return m.saw.Ends(m.rip(0))
}

func (m moment) knifeGaps() string {
	saw, gaps := m.saw.SetKnife(m.setup())
	m.practiceSaw.saw = saw
	return m.caliper(gaps[:]...)
}

// pairs reads the scale at half the working width, at it, and half as far again.
func (m moment) pairs() string {
	var words []string
	w := m.procedure.Profile().WorkingWidth.Length
	for _, setting := range []model.Length{w / 2, w, w * 3 / 2} {
		m.practiceSaw.fence, m.practiceSaw.set = m.saw.SetFence(setting), true
		words = append(words, fmt.Sprintf("%s=%s", m.caliper(setting), m.caliper(m.saw.Widths(m.rip(0), 1)...)))
	}
	return strings.Join(words, " ")
}

func (m moment) reference() string {
	if !m.set {
		m.setFence()
	}
	width := m.rip(0)
	m.pieces[m.view.Place.Blade] = width
	return m.caliper(m.saw.Widths(width, 3)...)
}

// cut rips the blade's half: of a fresh piece, or of the one at hand, from which a
// second pass takes something only where the cut face has moved toward the fence.
func (m moment) cut() string {
	if !m.set {
		m.setFence()
	}
	before := m.halves[m.view.Place.Blade]
	for _, f := range m.view.Fields {
		if f.Key == "piece" {
			before = 0
		}
	}
	m.halves[m.view.Place.Blade] = m.rip(before)
	return m.half(3, m.differences())
}

// differences reports whether the caliper is zeroed on the reference half.
func (m moment) differences() bool {
	return scene{m.procedure, m.view, m.answers}.chosen("how") == "differences"
}

func (m moment) more() string {
	row, _ := m.procedure.Plan().Blade(m.view.Place.Blade)
	last, _ := m.procedure.State().Blades[m.view.Place.Blade].Last()
	return m.half(min(max(row.More, 1), 12), len(last.Differences) > 0)
}

func (m moment) moreHalf() string {
	row, _ := m.procedure.Plan().Blade(m.view.Place.Blade)
	return m.caliper(m.saw.Widths(m.referenceHalf(), min(max(row.MoreHalf, 1), 12))...)
}

// referenceHalf is the true width that the reference cut on this blade's piece.
func (m moment) referenceHalf() model.Length {
	if width, ok := m.pieces[m.view.Place.Blade]; ok {
		return width
	}
	p := m.procedure.Profile()
	return m.saw.Rip(simsaw.Setup{Blade: p.Reference, Rings: p.Standing}, m.fence, 0)
}

// half is n readings of the half that the blade cut last.
func (m moment) half(n int, differences bool) string {
	blade := m.view.Place.Blade
	width, ok := m.halves[blade]
	if !ok {
		width = m.rip(0)
		m.halves[blade] = width
	}
	if !differences {
		return m.caliper(m.saw.Widths(width, n)...)
	}
	return m.caliper(m.saw.Differences(width, m.referenceHalf(), n)...)
}

// follow does at the simulated saw what an accepted answer says was done.
func (s *practiceSaw) follow(before, after procedure.Procedure, place procedure.Place, answers map[string]string) {
	s.saw = s.saw.With(after.Profile())
	m := moment{practiceSaw: s, procedure: before, view: before.View(), answers: answers}
	unit := before.Profile().Units
	switch place.Step {
	case "scale":
		if cursor, err := model.ParseLength(answers["cursor"], unit); err == nil {
			s.saw = s.saw.MoveCursor(cursor.Length)
		}
	case "lock":
		if width, err := model.ParseLength(answers["width"], unit); err == nil {
			s.fence, s.set = s.saw.SetFence(width.Length), true
		}
	case "boards":
		if !s.set {
			m.setFence()
		}
	}
	if before.State().Lock != after.State().Lock {
		clear(s.pieces)
		clear(s.halves)
	}
}
