package stages

import (
	"fmt"

	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
)

// whereRow asks where a part is before it is measured: nothing that is in the saw is
// measured before the saw is isolated. The blade of its moment is the part.
var whereRow = row{
	Name: "where", Stage: 1,
	Title: func(c context) string {
		if c.Blade == "" {
			return "Measured, or read from the manual?"
		}
		return "Where is it?"
	},
	Act: procedure.Paper{
		Says: func(c context) []string {
			if c.Blade == "" {
				return []string{"This is fixed in the saw: it is measured once the saw is isolated and empty.", "The manual or an earlier profile has the values: type paper. To measure: type isolate."}
			}
			return []string{
				fmt.Sprintf("The %s is measured on the bench. It lies there, out of the saw: type bench.", part(c)),
				"It is in the saw: type isolate, and the way there begins.",
			}
		},
		Accept: func(t *taking) {
			switch t.Choice("where") {
			case "paper":
				t.ReadFromPaper()
			case "isolate":
				t.Isolate()
			case "bench":
				on := t.State.On
				laid := interlock.LaidOut(t.Blade, fit(on.Blade, on.Rings, on.Knife), t.State.Seen)
				if _, ok := t.Lock.Apply(laid); !ok {
					t.Fault("where", "by the records it may be in the saw: type isolate; what comes off there is measured on the bench")
					return
				}
				t.Does(laid)
			}
		},
	},
	Why: lines("Hands near the arbor come only after isolation."),
	Fields: func(c context) []field {
		if c.Blade == "" {
			return []field{choice("where", "The values come from", "", "paper", "isolate")}
		}
		return []field{choice("where", "It is", "", "bench", "isolate")}
	},
}

// part names what is measured.
func part(c context) string {
	if _, ok := c.Profile.BladeByID(c.Blade); ok {
		return c.Name(c.Blade)
	}
	return c.Blade
}
