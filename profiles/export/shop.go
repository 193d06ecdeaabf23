package export

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
)

// Judged is a profile of the folder with its plan.
type Judged struct {
	profiles.Entry
	Plan model.Plan // empty where the entry has a fault
}

// ShopReport is every saw of a folder as other programs read it.
type ShopReport struct {
	Saws []SawReport `json:"saws"`
}

// SawReport is one saw of a ShopReport. A profile that cannot be read has its error and no
// blades.
type SawReport struct {
	Name   string      `json:"name"`
	Error  string      `json:"error"`
	Blades []ShopBlade `json:"blades"`
	Advice []string    `json:"advice"` // which ring or knife would change most
}

// ShopBlade is one blade of a SawReport.
type ShopBlade struct {
	ID       string          `json:"id"`
	State    model.Readiness `json:"state"`     // ready, due, check or not-ready
	ProvedAt string          `json:"proved_at"` // RFC 3339; empty: never
	Due      string          `json:"due"`       // the day from which it is to be proved; empty: never
	Reasons  []string        `json:"reasons"`
}

// ShopReportOf is every saw of a folder as other programs read it.
func ShopReportOf(saws []Judged) ShopReport {
	out := ShopReport{Saws: []SawReport{}}
	for _, s := range saws {
		saw := SawReport{Name: s.Name, Error: s.Fault, Blades: []ShopBlade{}, Advice: append([]string{}, advice(s)...)}
		for _, r := range Rows(s.Profile, s.Plan, Options{}) {
			why := r.Why
			if r.Plan.State == model.StateDue {
				why = whyNot(r.Plan)
			}
			blade := ShopBlade{ID: r.Plan.ID, State: stateOf(r.Plan.State), Due: r.Due, Reasons: texts(why)}
			if r.Plan.Proved != nil {
				blade.ProvedAt = r.Plan.Proved.At.UTC().Format(time.RFC3339)
			}
			saw.Blades = append(saw.Blades, blade)
		}
		out.Saws = append(out.Saws, saw)
	}
	return out
}

// ShopText is every saw of a folder for people to read at a moment, one line a blade, what
// fails first.
func ShopText(saws []Judged, now time.Time) string {
	var b strings.Builder
	line := func(format string, a ...any) { b.WriteString(strings.TrimRight(fmt.Sprintf(format, a...), " ") + "\n") }
	for i, s := range saws {
		if i > 0 {
			b.WriteByte('\n')
		}
		if s.Fault != "" {
			line("%s: cannot be opened: %s", s.Name, s.Fault)
			continue
		}
		rows := FailingFirst(Rows(s.Profile, s.Plan, Options{Now: now}))
		count := map[model.Readiness]int{}
		mark, name, rings := 0, 0, 0
		for i, r := range rows {
			if !r.Usable && !r.Plan.KnifeOnly { // nobody takes a ring for it, as on the start screen
				rows[i].Rings = []string{"-"}
			}
			count[r.Plan.State]++
			mark, name, rings = max(mark, ansi.StringWidth(r.Status())), max(name, ansi.StringWidth(r.Name)), max(rings, ansi.StringWidth(rows[i].Stack()))
		}
		head := fmt.Sprintf("%s: %d of %d blades ready, %d due", sawName(s), count[model.StateReady], len(rows), count[model.StateDue])
		if n := len(s.Profile.Records); n > 0 {
			head += ", last record " + s.Last.UTC().Format(day) + " " + s.By
		}
		line("%s", head)
		for _, r := range rows {
			more := "knife " + r.Knife
			if r.Reference {
				more += ", reference"
			}
			line("  %s  %s  %s  %s", padded(r.Status(), mark), padded(r.Name, name), padded(r.Stack(), rings), more)
			if len(r.Why) > 0 {
				line("      %s", reasonText(r.Why[0]))
			}
		}
		for _, text := range advice(s) {
			line("  would change most: %s", text)
		}
	}
	if len(saws) == 0 {
		line("no saw is set up here yet: sawdatum setup begins one")
	}
	return b.String()
}

func sawName(s Judged) string {
	if s.Saw == "" {
		return s.Name
	}
	return s.Name + ", " + s.Saw
}

// FailingFirst orders rows by how far from use their blades are; within that they stay in
// the order of the rack.
func FailingFirst(rows []Row) []Row {
	var out []Row
	for _, state := range []model.Readiness{model.StateNotReady, model.StateCheck, model.StateNotClosed, model.StateDue, model.StateReady} {
		for _, r := range rows {
			if r.Plan.State == state {
				out = append(out, r)
			}
		}
	}
	return out
}

// advice is which ring or knife would change most.
func advice(s Judged) []string {
	var out []string
	for _, r := range s.Plan.Reasons {
		if r.Code == "buy" || r.Code == "buy-cannot" {
			out = append(out, text.Show(r.Text))
		}
	}
	var barred []string // by their knife
	for _, r := range Rows(s.Profile, s.Plan, Options{}) {
		if slices.ContainsFunc(r.Why, func(why model.Reason) bool { return slices.Contains(knifeWrong, why.Code) }) {
			barred = append(barred, "the "+r.Name)
		}
	}
	if len(barred) > 0 {
		out = append(out, "a knife for "+strings.Join(barred, ", "))
	}
	return out
}

// knifeWrong are the reasons that only another knife takes away.
var knifeWrong = []string{"knife-none", "knife-too-thick", "knife-too-thin", "knife-gone"}
