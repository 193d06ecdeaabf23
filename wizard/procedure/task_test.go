package procedure

import (
	"strings"
	"testing"
)

// TestFindTask: a line is found by its number, its word or label, the beginning of one, or a part
// that stands in one line only, in that order; what names several says which.
func TestFindTask(t *testing.T) {
	tasks := []Task{
		{Number: 1, Word: "ring", Label: "A ring was bought"},
		{Number: 2, Word: "ringlost", Label: "A ring was lost"},
		{Number: 12, Word: "knife", Label: "Check the knife 1 more time"},
		{Number: 13, Word: "note", Label: "Write a note", Also: "jot/down"},
		{Number: 14, Word: "unsure", Label: "A ring was lost, perhaps"},
		{Number: 15, Word: "reset", Label: "Begin the lot anew"},
		{Number: 21, Stage: 8, Word: "again pairs", Label: "Again: Read it"},
		{Number: 22, Stage: 5, Word: "again toe", Label: "Again: Heel and toe"},
		{Number: 23, Stage: 5, Word: "again lock", Label: "Again: Lock"},
		{Number: 24, Stage: 7, Word: "again set", Label: "Again: Set it"},
		{Number: 25, Word: "lift", Label: "Lift stage 8 rollers"},
	}
	for _, c := range []struct {
		text string
		at   int
		says string // instead, part of the error
	}{
		{" 1 ", 0, ""}, {"12", 2, ""}, {"ring", 0, ""}, {"RING", 0, ""}, {"ringl", 1, ""}, {"a ring was lost", 1, ""}, {"w", 3, ""}, {"Kn", 2, ""},
		{"bought", 0, ""}, {"time", 2, ""}, {"ote", 3, ""}, {"res", 5, ""}, {"eset", 5, ""}, {"perhaps", 4, ""},
		{"ought", 0, ""}, {"more 1", 2, ""}, {"times checks", 2, ""}, {"notes write", 3, ""}, {"down write", 3, ""}, {"lost perh", 4, ""},
		{"s write", 0, "is no work"}, {"write ring", 0, "is no work"}, {"ring lost", 0, "names more than one"},
		{"rin", 0, `"rin" names more than one: type 1 (A ring was bought) or 2 (A ring was lost)`},
		{"was", 0, "names more than one"}, {"t", 0, `"t" names more than one, 10 lines: type the number`},
		{"stage 8", 6, ""}, {" Stage  8", 6, ""}, {"fence scale", 6, ""}, {"stage fence scale", 6, ""}, {"stage knife", 9, ""}, {"knife", 2, ""},
		{"stage 5", 0, `"stage 5" names more than one: type 22 (Again: Heel and toe) or 23 (Again: Lock)`},
		{"stage 6", 0, "nothing of stage 6, gauge board, may be done again now"}, {"gauge board", 0, "nothing of stage 6"},
		{"stage 12", 0, "no work"}, {"stage 0", 0, "no work"}, {"stage", 10, ""}, {"7", 0, "is no work"},
		{"", 0, "nothing typed"}, {"  ", 0, "nothing typed"},
		{"motor", 0, `"motor" is no work that may begin now`},
	} {
		at, err := FindTask(tasks, c.text)
		if c.says == "" && (err != nil || at != c.at) {
			t.Errorf("%q is %d, %v", c.text, at, err)
		}
		if c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%q: %v", c.text, err)
		}
	}
}
