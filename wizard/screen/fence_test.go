package screen

import (
	"testing"
	"testing/synctest"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
)

// TestFenceAsItWasSet: where an inch shop set the fence by a fraction, the state of the saw says
// that fraction; where by a decimal, the decimal.
func TestFenceAsItWasSet(t *testing.T) {
	for _, typed := range []string{"5 1/2", "5.5"} {
		synctest.Test(t, func(t *testing.T) {
			d := watched{drive(t, bay.Run{Profile: inInches(bay.Two())}, 80, 24), model.IN, func(*driver) {}}
			d.walk("lock")
			d.says(typed)
			if screen := d.screen(); !contains(screen, "locked "+typed+" ") {
				t.Errorf("the fence was locked at %s:\n%s", typed, screen)
			}
		})
	}
}
