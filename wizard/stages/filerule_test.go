package stages

import (
	"maps"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/wizard/procedure"
)

// odd is what somebody may type into any field, right or wrong there.
var odd = strings.Split("|0|0.001|-0.1|1|1.5|2|2.2 2.2 2.2|2.5|2.5 2.5|3.2 3.2 3.2|5mm|12|15|30|40|78|79|80|150|250|1000|3999|99999|0.1 x3|0.1 x33|0.1 0.1|1/8 in|3/10 in|3 tpi|18 tpi|none|whole|paper|yes|no|in|left|near|us|moves|row 2|24-tooth rip|48-TOOTH general|=1|a\u0301\u0301\u0301\u0301\u0301|\u3164", "|")

// TestWhatAFieldTakesTheFileTakes types all of that into each field of the steps that say what the
// shop has, the others answered well: whatever is taken, and typed again where it is
// questioned, leaves a profile that can be read again.
func TestWhatAFieldTakesTheFileTakes(t *testing.T) {
	names := []string{"saw", "manual", "flange", "thread", "instruments", "knives", "rack", "blade", "thickness", "rings", "datum"}
	for _, r := range headRows() {
		names = append(names, r.Name)
	}
	taken := 0
	for _, name := range names {
		w := to(t, name)
		v := w.View()
		for _, f := range v.Fields {
			for _, text := range odd {
				a := maps.Clone(answered(v, good[name]...))
				a[f.Key] = text
				p, err := w.Procedure, error(nil)
				for range 3 { // what is questioned is so
					if p, err = p.Apply(procedure.Event{Kind: procedure.Answer, At: w.at.Add(time.Second), Visit: v.Visit, Answers: a}); err == nil {
						break
					}
				}
				if err != nil {
					continue
				}
				taken++
				for _, fault := range p.Profile().Validate() {
					if !fault.Missing && !fault.Doubt {
						t.Errorf("%s takes %q for %s: %s", v.Place, text, f.Label, fault)
					}
				}
			}
		}
	}
	if taken < 200 {
		t.Errorf("only %d answers were taken", taken)
	}
}
