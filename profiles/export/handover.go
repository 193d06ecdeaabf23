package export

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// worthTelling are the records that another shift wants to hear of by themselves; the rest
// shows in how the blades stand.
var worthTelling = []model.Kind{model.Sharpened, model.Remeasured, model.Found, model.Note, model.Box, model.KnifeGone, model.KnifeBack, model.Kept}

// handover is what the other shift has to know, in lines of text: what changed since it
// last wrote, what is due, which papers to swap.
func (s sheet) handover() string {
	var b strings.Builder
	line := func(first, format string, a ...any) {
		b.WriteString(hanging(first, fmt.Sprintf(format, a...), s.columns()))
	}
	head := func(text string) { b.WriteString("\n" + text + "\n") }
	shifts := model.ShiftsOf(s.profile.Records)
	b.WriteString(ends("HANDOVER, "+strings.ToUpper(s.saw), s.stamp(), s.columns()) + "\n")
	switch n := len(s.profile.Records) - shifts.First; {
	case shifts.By == "":
		line("", "Nothing is on record yet.")
	case shifts.Other == "":
		line("", "%s by %s; nobody else has written yet.", howMany(n, "record"), text.Show(shifts.By))
	default:
		line("", "%s by %s since %s last wrote on %s UTC.", howMany(n, "record"), text.Show(shifts.By), text.Show(shifts.Other), shifts.Since.UTC().Format(day+" 15:04"))
	}
	line("", "On the saw, by the records: %s. The power is never taken from here: treat it as live.", s.fitted())

	head("CHANGED")
	changes := s.changes()
	for _, text := range changes {
		line("  ", "%s", text)
	}
	for _, r := range model.Counted(s.profile.Records[shifts.First:]) {
		row, _ := s.plan.Row(r.Blade)
		over := r.Kind == model.Found && r.Text == model.NothingFound || r.About == model.AboutLeft && row.Usable() // it was taken up since
		if slices.Contains(worthTelling, r.Kind) && !over {
			line("  ", "%s %s  %s", r.At.UTC().Format(day), text.Show(r.By), text.Show(RecordWords(s.profile, r)))
			changes = append(changes, r.Ref())
		}
	}
	if len(changes) == 0 {
		line("  ", "no blade stands otherwise than before")
	}

	head("DUE, OR NOT TO BE USED")
	none := true
	for _, r := range FailingFirst(s.rows) {
		if r.Plan.State == model.StateReady {
			continue
		}
		text := r.Name + ": " + r.Status()
		if len(r.Why) > 0 {
			text += ": " + r.Why[0].Text
		}
		line("  ", "%s", text)
		none = false
	}
	for _, r := range s.plan.Lock.Reasons {
		if r.Weight > model.Explains {
			line("  ", "fence lock: %s", text.Show(r.Text))
			none = false
		}
	}
	if none {
		line("  ", "every blade is ready")
	}

	head("PAPERS TO SWAP")
	for _, p := range s.opt.Papers {
		line("  ", "%s is of %s, state %s: write it anew with export --as %s and take the old one down", text.Show(p.Path), p.Date, p.State, p.As)
	}
	if len(s.opt.Papers) == 0 {
		line("  ", "none that lies beside the profile")
	}
	return b.String()
}

// fitted is what is on the arbor, by the records.
func (s sheet) fitted() string {
	told := model.Fold(s.profile)
	knife := "no knife"
	if k, ok := s.profile.KnifeByID(told.On.Knife); ok {
		knife = "knife " + inBoth(k.Label(), k.Thickness, s.opt.BothUnits)
	}
	switch {
	case !told.Seen:
		return "nothing is known"
	case told.On.Blade == "":
		return "no blade, " + knife
	}
	return text.Show(s.profile.BladeName(told.On.Blade)) + ", " + s.stack(told.On.Rings) + ", " + knife
}

// stack names rings in one line, flange first.
func (s sheet) stack(ids []string) string {
	var r Row
	for _, id := range ids {
		r.Rings = append(r.Rings, ringWords(s.profile, id, s.opt.BothUnits))
	}
	return r.Stack()
}

// changes tell of each blade what a paper would tell otherwise than before.
func (s sheet) changes() []string {
	before := map[string]Row{}
	for _, r := range Rows(model.Before(s.profile), s.opt.Before, s.opt) {
		before[r.Plan.ID] = r
	}
	var out []string
	for _, r := range s.rows {
		was, known := before[r.Plan.ID]
		if !known {
			out = append(out, r.Name+": new, "+r.Mark)
			continue
		}
		var what []string
		for _, pair := range [][2]string{{was.Mark, r.Mark}, {was.Stack(), r.Stack()}, {"knife " + was.Knife, "knife " + r.Knife}} {
			if pair[0] != pair[1] {
				what = append(what, "was "+pair[0]+", now "+pair[1])
			}
		}
		if was.Proved != r.Proved && r.Proved != "" {
			what = append(what, "proved "+r.Proved)
		}
		if len(what) > 0 {
			out = append(out, r.Name+": "+strings.Join(what, "; "))
		}
	}
	return out
}
