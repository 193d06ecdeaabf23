package export

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
)

// TestShopTellsOfEverySaw: every saw and blade once, what fails first, with why; a file
// that cannot be read is told of and hides no other.
func TestShopTellsOfEverySaw(t *testing.T) {
	p, plan := shop()
	p.Records = []model.Record{*plan.Blades[1].Proved}
	states := []model.Readiness{model.StateDue, model.StateReady, model.StateCheck, model.StateNotClosed, model.StateNotReady}
	for i, state := range states {
		plan.Blades[i].State = state
		plan.Blades[i].Reasons = []model.Reason{{Weight: model.Warns, Code: "why", Text: "reason " + plan.Blades[i].ID + "\x1b"}}
	}
	plan.Blades[4].Reasons[0].Code = "knife-too-thick"
	plan.Reasons = []model.Reason{{Code: "reference", Text: "is the reference"}, {Code: "buy", Text: "one more ring of 0.25 mm"}}
	saws := []Judged{
		{Entry: profiles.Entry{Name: "broken", Fault: "broken.yaml:1:1: no profile"}},
		{Entry: profiles.Entry{Name: "bay", Saw: "Bay 2", Last: at(0), By: "KB", Profile: p}, Plan: plan},
	}
	text := ShopText(saws, at(0).Add(40*24*time.Hour))
	at := 0
	for _, want := range []string{"broken: cannot be opened: broken.yaml:1:1: no profile\n", "bay, Bay 2: 1 of 5 blades ready, 1 due, last record 2026-03-02 KB\n",
		"NOT READY", "40-tooth thin kerf", `reason thin-40\x1b`, "CHECK", `reason crosscut-80\x1b`, "IN, NOT CLOSED", `reason laminate-96\x1b`, "DUE", "48-tooth general", "reference", "READY, 40 days", "24-tooth rip",
		"would change most: one more ring of 0.25 mm\n", "would change most: a knife for the 40-tooth thin kerf\n"} {
		n := strings.Index(text[at:], want)
		if n < 0 {
			t.Fatalf("%q is not there, or not in its place:\n%s", want, text)
		}
		at += n + len(want)
	}
	if strings.Contains(text, "reason rip-24") || strings.Contains(text, "is the reference\n") {
		t.Errorf("too much:\n%s", text)
	}
	data, err := json.Marshal(ShopReportOf(saws))
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Saws []struct {
			Name, Error string
			Blades      []struct {
				ID, State, Due string
				ProvedAt       string `json:"proved_at"`
				Reasons        []string
			}
		}
	}
	if err := json.Unmarshal(data, &got); err != nil || len(got.Saws) != 2 || got.Saws[0].Error == "" || got.Saws[0].Blades == nil || got.Saws[1].Error != "" || len(got.Saws[1].Blades) != 5 {
		t.Fatalf("%v: %s", err, data)
	}
	for i, want := range []string{"due", "ready", "check", "not-ready", "not-ready"} {
		b := got.Saws[1].Blades[i]
		if b.ID != p.Blades[i].ID || b.State != want || b.Reasons == nil || (len(b.Reasons) > 0) != (want != "ready") {
			t.Errorf("%+v, want %s", b, want)
		}
	}
	if b := got.Saws[1].Blades[1]; b.Due != "2026-04-01" || b.ProvedAt != "2026-03-02T07:30:00Z" {
		t.Errorf("%+v", got.Saws[1].Blades[1])
	}
	if text := ShopText(nil, time.Time{}); !strings.Contains(text, "sawdatum setup") {
		t.Error(text)
	}
	if data, _ := json.Marshal(ShopReportOf(nil)); string(data) != `{"saws":[]}` {
		t.Error(string(data))
	}
}
