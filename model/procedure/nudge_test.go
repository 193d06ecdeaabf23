package procedure_test

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model/procedure"
)

// TestNudgeGoesTheRightWay: what is measured lies between blade and fence, so that a part
// too wide wants the fence nearer to the blade.
func TestNudgeGoesTheRightWay(t *testing.T) {
	p := procedure.New(shop(), simpleJudge, procedure.Options{Seed: 1})
	for i := range 40 {
		if p.Place().Step == "scale" {
			break
		}
		p = step(t, p, noon.Add(time.Duration(i)*time.Minute))
	}
	for final, want := range map[string]string{"120.40": "0.40 mm toward the blade", "119.70": "0.30 mm away from the blade"} {
		v, answers := p.View(), map[string]string{}
		for _, f := range v.Fields {
			answers[f.Key] = plausible(p, v, f)
		}
		answers["final"] = final
		_, err := p.Apply(procedure.Event{Kind: procedure.Answer, At: noon.Add(time.Hour), Place: v.Place, Answers: answers})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("at %s, %s: %v, want %q", v.Place, final, err, want)
		}
	}
}
