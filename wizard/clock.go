package wizard

import (
	"os"
	"time"

	"example.com/sawdatum/model"
)

// practiceClock starts at a fixed time and moves on with every answer, so that a
// practice run can be repeated to the last byte.
func practiceClock() func() time.Time {
	now := time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC)
	return func() time.Time {
		now = now.Add(6 * time.Second)
		return now
	}
}

// DeafTime is how long a gate takes no keys after it came up: those keys were typed before
// it could be read.
const DeafTime = 300 * time.Millisecond

// IdleTime is how long a saw stays known as isolated without a key.
func IdleTime(p model.Profile) time.Duration {
	minutes := p.IdleMinutes
	if minutes <= 0 {
		minutes = model.DefaultIdleMinutes
	}
	return time.Duration(min(minutes, model.MaxIdleMinutes)) * time.Minute
}

// Watch notices that the program was stopped and goes on, or that time passed without it: the machine slept, or its clock was set.
type Watch struct {
	continued <-chan os.Signal
	Wall      func() time.Time // the clock on the wall, without the monotonic reading
}

// NewWatch watches the clock on the wall, and a channel that tells of each time that the
// stopped program goes on (Continued).
func NewWatch(continued <-chan os.Signal) *Watch {
	return &Watch{continued: continued, Wall: func() time.Time { return time.Now().Round(0) }}
}

// Stopped reports once that the program was stopped and goes on.
func (w *Watch) Stopped() bool {
	select {
	case <-w.continued:
		return true
	default:
		return false
	}
}

// TooLong reports that more than limit has passed since then, by the monotonic clock or by
// the clock on the wall.
func (w *Watch) TooLong(then time.Time, limit time.Duration) bool {
	return time.Since(then) > limit || w.Wall().Sub(then.Round(0)).Abs() > limit
}
