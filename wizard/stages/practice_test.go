package stages

import (
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/wizard/procedure"
)

// hand answers at the saw of practice: what an instrument shows, else what the screen says.
type hand struct {
	t                     *testing.T
	p                     procedure.Procedure
	saw                   procedure.Saw
	at                    time.Time
	way                   []string
	words, gates, answers int
}

func (h *hand) step(own map[string]string) {
	h.t.Helper()
	v := h.p.View()
	a := procedure.Answers{}
	for _, f := range v.Fields {
		text, ok := own[v.Place.Step+" "+f.Key]
		if f.Key == "off" && f.Kind == procedure.FieldCount {
			on, _ := before(v.Context())
			text, ok = strconv.Itoa(len(strings.Fields(on.Rings))), true
		}
		if !ok {
			if text, ok = v.Read(h.saw, f.Key, a); !ok {
				text = honest(f)
			}
		}
		a[f.Key] = text
		h.answers++
		if f.Word != "" {
			h.words++
		}
		if v.Gate {
			h.gates++
		}
	}
	h.at = h.at.Add(6 * time.Second)
	for range 2 { // what is questioned is so
		next, err := h.p.Apply(procedure.Event{Kind: procedure.Answer, At: h.at, Visit: v.Visit, Answers: a})
		if err == nil {
			h.way, h.p = append(h.way, v.Place.String()), next
			if os.Getenv("SHOW") != "" {
				h.t.Logf("== %s (%d) %s\n  %s\n -> %v", v.Place, v.Stage, v.Title, strings.Join(v.Do, "\n  "), a)
				for _, r := range next.Report() {
					h.t.Log("  so: " + r.Text)
				}
			}
			return
		}
		if q, ok := err.(*procedure.Refusal); ok && len(q.Faults) > 0 && q.Faults[0].Question {
			h.t.Log(err)
			continue
		}
		h.t.Fatalf("%s: %v: %v\n%s", v.Place, a, err, strings.Join(h.way, "\n"))
	}
	h.t.Fatalf("%s: questioned again", v.Place)
}

func TestAWholeSetup(t *testing.T) {
	p := profiles.Demo()
	o := procedure.Options{Seed: 1}
	h := &hand{t: t, p: procedure.New(p, House(o), Judge, o), saw: Practice(p, 1), at: time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)}
	for range 200 {
		if h.p.Finished() {
			break
		}
		h.step(nil)
	}
	t.Log(strings.Join(h.way, ", "))
	t.Logf("%d answers, %d words, %d at gates", h.answers, h.words, h.gates)
	if !h.p.Finished() {
		t.Errorf("the setup does not end: it stands at %s", h.p.View().Place)
	}
	for _, row := range h.p.Plan().Blades {
		if row.Knife == model.KnifeFits && row.State != model.StateReady && row.Verdict != model.Doubtful {
			t.Errorf("%s is %s: %s", row.ID, row.State, row.Verdict)
		}
	}
}
