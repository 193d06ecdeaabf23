package stages

import (
	"flag"
	"testing"

	"example.com/sawdatum/wizard/procedure"
)

var _ = flag.Bool("update", false, "no golden files in this package")

func TestHouseIsWhole(t *testing.T) {
	for mode := procedure.Setup; mode <= procedure.IsolateOnly; mode++ {
		if err := House(procedure.Options{Mode: mode}).Check(); err != nil {
			t.Error(err)
		}
	}
}
