package stages

import (
	"testing"

	"example.com/sawdatum/wizard/procedure"
)

func TestHouseIsWhole(t *testing.T) {
	for mode := procedure.Setup; mode <= procedure.IsolateOnly; mode++ {
		if err := House(procedure.Options{Mode: mode}).Check(); err != nil {
			t.Error(err)
		}
	}
}
