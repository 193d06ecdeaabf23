package export

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
)

// TestARowSaysItsStateAndAge: what may be used says since when it was proved or how long
// it is due, what may not says why, and no paper calls it ready.
func TestARowSaysItsStateAndAge(t *testing.T) {
	now := at(0).Add(33*24*time.Hour + time.Hour)
	for _, v := range []struct {
		state  model.Readiness
		status string
		usable bool
		json   string
	}{
		{model.StateReady, "READY, 33 days", true, "ready"},
		{model.StateDue, "DUE for 3 days", true, "due"},
		{model.StateNotClosed, "IN, NOT CLOSED", false, "not-ready"},
		{model.StateCheck, "CHECK", false, "check"},
		{model.StateNotReady, "NOT READY", false, "not-ready"},
	} {
		p, plan := shop()
		b := &plan.Blades[1]
		b.State, b.Reasons = v.state, []model.Reason{{Weight: model.Warns, Text: "a reason"}}
		r := Rows(p, plan, Options{Now: now})[1]
		if r.Status() != v.status || r.Usable != v.usable || (len(r.Why) == 0) != v.usable || r.Proved != "2026-03-02 KB" || r.Due != "2026-04-01" {
			t.Errorf("%s: %q, usable %v, proved %s, due %s, why %v", v.state, r.Status(), r.Usable, r.Proved, r.Due, r.Why)
		}
		for _, as := range []string{"card", "labels", "html"} {
			if use := strings.Contains(bladePart(t, written(t, as, p, plan, false), "24-tooth rip"), "DO NOT USE"); use == v.usable {
				t.Errorf("%s of a blade that is %s: do not use it is %v", as, v.state, use)
			}
		}
		var report PlanReport
		if err := json.Unmarshal([]byte(written(t, "json", p, plan, false)), &report); err != nil {
			t.Fatal(err)
		}
		if got := report.Blades[1]; string(got.State) != v.json || got.Ready != (v.state == model.StateReady) || got.Due != "2026-04-01" || got.ProvedAt != "2026-03-02T07:30:00Z" || got.ProvedBy != "KB" {
			t.Errorf("%s: %+v", v.state, got)
		}
		if text := PlanText(p, plan, now); !strings.Contains(text, "24-tooth rip (rip-24): "+v.status+"\n") {
			t.Errorf("%s:\n%s", v.state, text)
		}
	}
}

// TestKnifeCheckAlone: a blade that wants nothing but its knife checked is told so, on papers with the swap that does it
// and no rings to take, and by the same words in the shop; one that wants more is not to be used.
func TestKnifeCheckAlone(t *testing.T) {
	marked := map[string]int{}
	for _, alone := range []bool{false, true} {
		p, plan := shop()
		b := &plan.Blades[1]
		b.State, b.KnifeOnly, b.Reasons = model.StateCheck, alone, []model.Reason{{Weight: model.Warns, Text: "taken out: seen"}}
		none, _ := letters("XXX", false)
		for as, xxx := range map[string]string{"card": none[1], "labels": none[1], "html": "XXX"} {
			text := written(t, as, p, plan, false)
			part := strings.Join(strings.Fields(bladePart(t, text, "24-tooth rip")), " ")
			first := strings.Contains(part, "NOT BEFORE ITS KNIFE CHECK")
			if first != alone || strings.Contains(part, "DO NOT USE") == alone || strings.Contains(part, "READY") || strings.Contains(part, "taken out: seen") == alone || alone && strings.Count(text, xxx) != marked[as] {
				t.Errorf("%s, its knife alone %v:\n%s", as, alone, part)
			}
			marked[as] = strings.Count(text, xxx)
		}
		saw := Judged{Entry: profiles.Entry{Name: p.Name, Profile: p}, Plan: plan}
		if text := ShopText([]Judged{saw}, at(0)); strings.Contains(text, "  KNIFE CHECK  24-tooth rip") != alone {
			t.Errorf("the shop, its knife alone %v:\n%s", alone, text)
		}
	}
}

// bladePart is what stands in a paper from a blade's name to the next one's.
func bladePart(t *testing.T, text, name string) string {
	t.Helper()
	_, rows, isPage := strings.Cut(text, "<tbody>")
	if isPage {
		text = rows
	}
	_, rest, found := strings.Cut(text, name)
	if !found {
		t.Fatalf("no %s in\n%s", name, text)
	}
	for _, b := range chosenDemo().Blades {
		if before, _, next := strings.Cut(rest, b.Label); next {
			rest = before
		}
	}
	return rest
}

// TestResidualIsWideOrNarrow: a cut face toward the fence makes the part narrow, since the
// part lies between the two.
func TestResidualIsWideOrNarrow(t *testing.T) {
	p := chosenDemo()
	for residual, want := range map[model.Length]string{12_000: "0.012 mm narrow +- 0.008 mm", -12_000: "0.012 mm wide +- 0.008 mm", 0: "0.000 mm +- 0.008 mm", -400: "0.000 mm +- 0.008 mm"} {
		if got := residualWords(p, model.BladeRow{Residual: residual, Expanded: 8_000}, false); len(got) != 1 || got[0] != want {
			t.Errorf("%d: %q, want %s", residual, got, want)
		}
	}
	p.Units = model.IN
	want := []string{"0.0005 in wide +- 0.0003 in", "0.012 mm wide +- 0.008 mm"} // 0.012 / 25.4, 0.008 / 25.4 [computed]
	if got := residualWords(p, model.BladeRow{Residual: -12_000, Expanded: 8_000}, true); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// TestSharedRingsAreSaid where the kit has too few for all blades that may be used.
func TestSharedRingsAreSaid(t *testing.T) {
	p, plan := shop()
	p.Rings = []model.Ring{{ID: "a", Thickness: mm(100_000), Count: 2}, {ID: "b", Thickness: mm(250_000), Count: 1}}
	for i, stack := range [][]string{{"a", "b"}, {"b"}, {"a"}, {"a"}, {"b"}} {
		plan.Blades[i].Stack, plan.Blades[i].State = stack, model.StateReady
	}
	plan.Blades[3].State, plan.Blades[4].State = model.StateCheck, model.StateNotReady
	want := [][]string{{"0.25 mm"}, {"0.25 mm"}, nil, nil, nil}
	for i, r := range Rows(p, plan, Options{}) {
		if !slices.Equal(r.Shared, want[i]) {
			t.Errorf("%s shares %v, want %v", r.Name, r.Shared, want[i])
		}
	}
	plan.Blades[3].State = model.StateDue
	if got := Rows(p, plan, Options{})[2].Shared; !slices.Equal(got, []string{"0.10 mm"}) {
		t.Errorf("three of 0.10 mm are wanted and two are there: %v", got)
	}
}
