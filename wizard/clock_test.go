package wizard

import (
	"testing"
	"time"

	"example.com/sawdatum/model"
)

func TestIdleTimeHasALimit(t *testing.T) {
	for minutes, want := range map[int]time.Duration{0: model.DefaultIdleMinutes * time.Minute, 5: 5 * time.Minute, 10_000: model.MaxIdleMinutes * time.Minute, -3: model.DefaultIdleMinutes * time.Minute} {
		if got := IdleTime(model.Profile{IdleMinutes: minutes}); got != want {
			t.Errorf("%d minutes: %s, want %s", minutes, got, want)
		}
	}
}
