package procedure

import "example.com/sawdatum/model"

// holds is the condition of a guard; the guard's name is there for the test build
// that drops guards one by one.
func holds(guard string, condition bool) bool { return condition || model.Dropped(guard) }

// dropped reports whether the check of a gate's field is switched off.
func dropped(f Field) bool { return f.guard != "" && model.Dropped(f.guard) }
