package wizard

import (
	"os"
	"time"

	"example.com/sawdatum/model"
)

// deafTime is how long keys do not count after a gate came up: they were under way
// before it could be read.
const deafTime = 300 * time.Millisecond

// idleTime is how long a saw stays known as isolated without a key.
func idleTime(p model.Profile) time.Duration {
	minutes := p.IdleMinutes
	if minutes <= 0 {
		minutes = model.DefaultIdleMinutes
	}
	return time.Duration(min(minutes, model.MaxIdleMinutes)) * time.Minute
}

// watch notices that the program was stopped and goes on, or that time went by
// without it: the machine slept, or its clock was set.
type watch struct {
	continued <-chan os.Signal
	wall      func() time.Time // the clock on the wall, without the monotonic reading
}

func newWatch(continued <-chan os.Signal) *watch {
	return &watch{continued: continued, wall: func() time.Time { return time.Now().Round(0) }}
}

// stopped reports once that the program was stopped and goes on.
func (w *watch) stopped() bool {
	select {
	case <-w.continued:
		return true
	default:
		return false
	}
}

// tooLong reports that more than limit went by since then, by the monotonic clock or
// by the wall.
func (w *watch) tooLong(then time.Time, limit time.Duration) bool {
	return time.Since(then) > limit || w.wall().Sub(then.Round(0)).Abs() > limit
}
