//go:build mutants

package model

import "slices"

// Drop names the guards that are switched off in this test build.
var Drop []string

// Dropped reports whether a guard is switched off.
func Dropped(guard string) bool { return slices.Contains(Drop, guard) }
