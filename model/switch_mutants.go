//go:build mutants

package model

// Drop names the guard that is switched off in this test build.
var Drop string

// Dropped reports whether a guard is switched off.
func Dropped(guard string) bool { return guard == Drop }
