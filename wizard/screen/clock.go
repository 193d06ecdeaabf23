package screen

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

// tickTime is how often the root looks at the clock. A gap of more than gapTime between two
// looks means that the machine slept or the program was stopped.
const (
	tickTime = 5 * time.Second
	gapTime  = 90 * time.Second
)

type tickMsg struct{}

// goesOn tells that the program was stopped and goes on.
type goesOn struct{}

func ticking() tea.Cmd { return tea.Tick(tickTime, func(time.Time) tea.Msg { return tickMsg{} }) }

// glance tells the procedure that no key came for a long time, or that time passed while the
// program stood still.
func (r *root) glance() tea.Cmd {
	now := time.Now()
	gap := r.watch.TooLong(r.tick, gapTime)
	r.tick = now
	switch {
	case r.watch.Stopped():
		return r.lapse(procedure.Suspend)
	case gap, !r.idle && r.watch.TooLong(r.lastKey, wizard.IdleTime(r.job.Procedure.Profile())):
		r.idle = true
		return r.lapse(procedure.Idle)
	}
	return nil
}

// lapse makes the procedure forget what it knew of power and fence. What was typed
// and not sent stays, but for gates.
func (r *root) lapse(kind procedure.EventKind) tea.Cmd {
	if !r.working {
		return nil
	}
	s := r.base.(step)
	r.job = r.job.Keep(s.place.Place, s.typing.values())
	r.job, _ = r.job.Lead(kind, procedure.Place{})
	over := r.over
	cmd := r.visit()
	if over != nil {
		r.over = over
	}
	return cmd
}
