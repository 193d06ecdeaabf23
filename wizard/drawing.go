package wizard

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// sentence is the picture of a place in words; empty where it has none.
func sentence(p procedure.Procedure, v procedure.View, answers map[string]string) string { return "" }

func (s step) picture(w, h int) []string { return nil }

func live(p procedure.Procedure, v procedure.View, answers map[string]string) []model.Reason {
	return nil
}

func (s step) closing(w, h int) []string { return nil }
