//go:build !mutants

package model

// Dropped reports whether a guard is switched off. It never is: only the test
// build with the tag mutants has switches, to show that each guard is missed.
func Dropped(guard string) bool { return false }
