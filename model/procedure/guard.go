package procedure

import "example.com/sawdatum/model"

// holds is the condition of a guard; the guard's name is there for the test build
// that drops guards one by one.
func holds(guard string, condition bool) bool { return condition || model.Dropped(guard) }

// dropped reports whether the check of a field is switched off: stop-run_down is that
// of the run-down at the place stop.
func dropped(here Place, f Field) bool { return model.Dropped(here.Step + "-" + f.Key) }
