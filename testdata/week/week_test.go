package main

import "testing"

// TestWeek plays the week: the two copies of each profile are the same at its end, nine swaps
// were made, and none of those without a proof asked more than 16 answers.
func TestWeek(t *testing.T) {
	if err := run(t.Output(), false, t.TempDir()+"/week"); err != nil {
		t.Error(err)
	}
}
