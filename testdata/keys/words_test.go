package main

import (
	"os/exec"
	"testing"

	"example.com/sawdatum/testdata/terminal"
)

// TestLook: by hand. A text is read once, whatever figures stand in it; what was on the screen before
// does not come anew; what somebody types is not read.
func TestLook(t *testing.T) {
	s := &screens{by: map[string]*text{}}
	s.look("a", "  Rip strip 1 off it.      140.15\n  ▸ Width     such as 140.10\n    > KB  three letters\n")
	s.look("b", "  Rip strip 2 off it.      140.16\n  ▓▓ knife ▓▓ knife ▓\n")
	s.look("c", "  Width │ nothing else\n")
	words, shown := 0, 0
	for _, text := range s.all {
		words += text.words
		shown += text.words * text.shown
	}
	if words != 4+1+2+2+1+2 || shown != words+1 {
		t.Errorf("%d words, %d with those that come again: %+v", words, shown, s.by)
	}
}

// TestPracticeTakesLessThanFifteenMinutes: as its first page says. At the speeds that words.go names;
// nobody was timed.
func TestPracticeTakesLessThanFifteenMinutes(t *testing.T) {
	dir := t.TempDir()
	program, err := terminal.Build(dir)
	if err != nil {
		t.Fatal(err)
	}
	s, err := reading(exec.Command(program, "practice", "--seed", "1", "--light", "--dir", dir), dir)
	if err != nil {
		t.Fatal(err)
	}
	read, typing, waits := s.takes()
	if read < 5 || typing < 2 || waits <= 0 || read+typing+waits >= 15 {
		t.Errorf("%.1f minutes of reading, %.1f of typing, %.1f of waiting", read, typing, waits)
	}
}
