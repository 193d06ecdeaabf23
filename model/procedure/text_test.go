package procedure

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// TestAFieldTakesWhatTheFileTakes: a text that the field takes and the file refuses would
// lose the work that comes after it.
func TestAFieldTakesWhatTheFileTakes(t *testing.T) {
	note, by := Field{Kind: FieldText}, Field{Kind: FieldInitials}
	for _, text := range []string{
		"caliper dropped", "Säge é 48° ½", "e" + strings.Repeat("\u0301", model.MaxMarks), "e" + strings.Repeat("\u0301", model.MaxMarks+1),
		strings.Repeat("x", model.MaxText), strings.Repeat("x", model.MaxText+1), strings.Repeat("é", model.MaxText), "a\u202eb", "a\u200bb", "a\tb", "a\ufffdb", "a\xffb", "KB", "KBCDE", "K1", "Ж",
	} {
		p := model.Profile{Version: 1, Name: "bay", Units: model.MM, Saw: model.Saw{Label: text}}
		refused := false
		for _, f := range p.Validate() {
			refused = refused || f.Path == "saw.label" && !f.Missing
		}
		if err := note.Check(text); (err != nil) != refused {
			t.Errorf("%q: the field says %v; the file refuses it: %v", text, err, refused)
		}
		if err := by.Check(text); (err == nil) != model.InitialsForm.MatchString(text) {
			t.Errorf("initials %q: the field says %v", text, err)
		}
	}
}
