package stages

import (
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// Another shift put other rings on: the true number is taken, and nothing by name goes on record.
func TestOthersCameOff(t *testing.T) {
	h := fresh(t, nil).upTo("boards")
	h.again(procedure.Options{Seed: 3}) // another day, and nobody looked
	h.upTo("clear")
	f := h.p.View().Fields[0]
	for text, taken := range map[string]bool{"0": true, "3": false, "3 other": true, "x other": false, "300 other": false} {
		if err := f.Check(text); (err == nil) != taken {
			t.Errorf("%q at %q: %v", text, f.Label, err)
		}
	}
	h.step(map[string]string{"clear off": "3 other"})
	all := h.p.Profile().Records
	if last := all[len(all)-1]; last.Kind != model.TakenOff || last.Blade != "" || len(last.Rings) > 0 {
		t.Errorf("nobody knows by name what came off, and on record is %+v", last)
	}
}
