package procedure_test

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// A try is one way of answering a place. wrong names the field that is not as it
// should be; "all" is an answer with nothing in it.
type try struct {
	label   string
	answers map[string]string
	wrong   string
}

// tries lists how a place is answered: as an honest person would who stands at this
// saw, in each way that is open there, then with each field wrong and each empty.
func (w world) tries(p procedure.Procedure, s *saw, v procedure.View, e events) []try {
	good := w.honest(p, s, v)
	with := func(label string, changed ...string) try {
		t := try{label: label, answers: clone(good)}
		for i := 0; i+1 < len(changed); i += 2 {
			t.answers[changed[i]] = changed[i+1]
		}
		return t
	}
	out := []try{{label: "", answers: good}}
	if step := v.Place.Step; !e.spoiled && slices.Contains([]string{"stop", "boards", "knife", "scale"}, step) || e.back > 0 && !e.whole && slices.Contains([]string{"cut", "reread", "more"}, step) ||
		(e.back > 0 || e.work > 0) && slices.Contains([]string{"out", "clean"}, step) {
		return out
	}
	switch v.Place.Step {
	case "stop":
		out = append(out, with("10 s", "run_down", "10"), with("14 s", "run_down", "14"))
	case "boards":
		out = append(out, with("shortest board, tapered", "length", "660", "tail", "120.12"))
	case "knife":
		out = append(out, with("gaps and tips at their limits", "gaps", "0.1 0.1 0.1 0.1", "tip_gap", "3"), with("tips at the other limit", "tip_gap", "8"))
	case "scale":
		out = append(out, with("last rip at the limit", "final", "120.05"))
	case "fence":
		if s.fence != s.spoken || (w.reads || s.mixed) && s.fence != fenceOf(p, s) {
			out = out[:0]
		}
		out = append(out, with("moved", "fence", "moved"))
	case "reference":
		if e.work > 0 {
			out = append(out, with("scattered", "readings", widths(s.set()-8*hundredth, s.set(), s.set()+8*hundredth)))
		}
	case "fence-moved":
		if p.State().Lock != "" {
			out = append(out, with("but it was not", "truly", "no"))
		}
	case "cut", "reread":
		width, set := w.seen(s, p, v), s.set()
		if v.Place.Step == "reread" {
			set = fenceWidth(s.halves.of(v.Blade).fence)
		}
		out = append(out,
			with("scattered", "readings", widths(width-8*hundredth, width, width+8*hundredth)),
			with("differences", "how", "differences", "readings", strings.Repeat((width-set).Of(model.MM).String()+" ", 3)))
		if e.spoiled {
			t := with("widths called differences", "how", "differences")
			t.wrong = "how"
			out = append(out, t)
		}
	case "more":
		out = append(out, with("leave", "decide", "leave"))
	case "out":
		for _, way := range v.Fields[0].Options {
			if way != good["way"] {
				out = append(out, with(way, "way", way))
			}
		}
	case "source":
		if e.work == 0 && e.back == 0 {
			out = append(out, with("in the saw", "where", "saw"))
		}
	case "clean":
		out = append(out, with("nothing found", "found", "nothing"))
	case "reason":
		out = append(out, with("sharpened", "why", "sharpened"))
	case "thickness":
		if v.Blade == "rip" && len(p.State().Blades["rip"].Plate) > 0 {
			out = append(out, with("one hundredth more", "kerf", thrice(301*hundredth)))
		}
	case "rim":
		out = append(out, with("a dial", "dial", "0 0.02 0 0.02"))
	case "rack":
		out = append(out, with("another", "more", "another"))
	case "sharpened":
		if v.Blade == "" {
			out = out[:0]
			for _, id := range []string{"general", "rip"} {
				plate, kerf := w.blank(id, s.worn.count(id)+1)
				out = append(out, with(id, "blade", id, "plate", thrice(plate), "kerf", thrice(kerf)))
				plate, kerf = w.blank(id, s.worn.count(id))
				out = append(out, with(id+", but it was not", "blade", id, "plate", thrice(plate), "kerf", thrice(kerf), "truly", "no"))
			}
		}
	case "returned":
		if v.Blade == "" {
			plate, kerf := w.blank("rip", s.worn.count("rip")+1)
			out = []try{with("rip", "blade", "rip", "plate", thrice(plate), "kerf", thrice(kerf))}
		}
	case "retire":
		out = []try{with("rip", "blade", "rip"), with("general", "blade", "general")}
	case "rings":
		if p.Profile().Rings != nil {
			out = append(out, with("0.25 lost", "ring r25", "0.25 - 78 0"))
		}
	case "change-knife":
		out = []try{with("k24", "knife", "k24"), with("k20", "knife", "k20"), with("k25", "knife", "k25")}
	case "blade-knife":
		out = []try{with("rip k24", "blade", "rip", "knife", "k24"), with("general k20", "blade", "general", "knife", "k20")}
		if b, ok := p.Profile().BladeByID("thin"); ok && !b.Retired {
			out = append(out, with("thin k20", "blade", "thin", "knife", "k20"))
		}
	case "datum":
		if p.Profile().Reference != "" {
			out = append(out, with("standing 0.10", "reference", "general", "standing", "0.10"), with("reference rip", "reference", "rip", "standing", "none"))
		}
	case "void":
		out = out[:0]
		for _, n := range voidable(p, s) {
			r, which := p.Profile().Records[n-1], "the last "
			if r.More {
				which = "the last more of a "
			}
			out = append(out, with(which+string(r.Kind), "number", strconv.Itoa(n)))
		}
	}
	if !e.spoiled || len(good) == 0 || len(out) == 0 {
		return out
	}
	base := out[0].answers
	for _, f := range v.Fields {
		for _, text := range spoiled(f, v.Place.Step) {
			t := try{label: fmt.Sprintf("%s typed as %q", f.Key, text), answers: clone(base), wrong: f.Key}
			t.answers[f.Key] = text
			if base[f.Key] != text && base[f.Key] != text+" mm" && (f.Kind != procedure.FieldRings || !believed(v, base[f.Key], text)) {
				out = append(out, t)
			}
		}
	}
	return append(out, try{label: "nothing typed", answers: map[string]string{}, wrong: "all"})
}

var ringIDs = strings.NewReplacer("0.10", "r10", "0.25", "r25")

func clone(m map[string]string) map[string]string {
	out := make(map[string]string, len(m))
	for k, v := range m {
		out[k] = v
	}
	return out
}

// voidable numbers the last record of each kind that still counts, further readings
// apart from the cuts they belong to.
func voidable(p procedure.Procedure, s *saw) []int {
	var out []int
	type sort struct {
		kind  model.Kind
		more  bool
		about model.About
	}
	seen := map[sort]bool{{kind: model.Void}: true, {kind: model.Note}: true, {kind: model.Note, about: model.AboutLeft}: true, {kind: model.Isolation}: true}
	records := p.Profile().Records
	for i := len(records) - 1; i >= 0; i-- {
		if k := (sort{records[i].Kind, records[i].More, records[i].About}); !seen[k] && !s.made[i].voided {
			seen[k] = true
			if k.kind == model.FenceMoved && s.fence != s.made[i].before {
				continue // it was really moved
			}
			if slices.ContainsFunc(s.made[:i], func(f fact) bool { return f.base == i }) {
				continue // a further reading of it stands before it, and nothing tells whose that is
			}
			if k.kind == model.Sharpened && s.made[i].genuine {
				continue // it was sharpened
			}
			out = append(out, i+1)
		}
	}
	slices.Reverse(out)
	return out
}

func widths(ws ...model.Length) string {
	var out []string
	for _, w := range ws {
		out = append(out, w.Show(model.MM, hundredth)[:len(w.Show(model.MM, hundredth))-3])
	}
	return strings.Join(out, " ")
}

func thrice(l model.Length) string { return widths(l, l, l) }

// seen is what the caliper shows on the blade's half once this rip is made, or where
// nothing is ripped.
func (w world) seen(s *saw, p procedure.Procedure, v procedure.View) model.Length {
	if v.Place.Step == "reread" {
		return s.halves.of(v.Blade).width
	}
	after := *s
	answers := map[string]string{}
	for _, f := range v.Fields {
		if f.Key == "piece" {
			answers["piece"] = f.Word
		}
	}
	return w.rip(&after, p.Profile(), v, answers)
}

// fenceOf is where the fence stood when the lock in force was made.
func fenceOf(p procedure.Procedure, s *saw) int {
	return stood(p.Profile().Records, p.State().Lock, s)
}

// stood is where the fence stood when a lock was made; -1: no record tells of it.
func stood(records []model.Record, lock string, s *saw) int {
	for i := len(records) - 1; i >= 0; i-- {
		if records[i].Kind == model.FenceLock && records[i].Lock == lock {
			return s.made[i].fence
		}
	}
	return -1
}

// count is what somebody finds who counts the teeth of a blade.
func count(p model.Profile, blade string) string {
	if b, ok := p.BladeByID(blade); ok && b.Teeth > 0 {
		return strconv.Itoa(b.Teeth)
	}
	return teeth[blade]
}

// teeth of every blade that may lie about.
var teeth = map[string]string{"general": "48", "rip": "24", "thin": "60", "spare-rip": "30", "": "0"}

// honest answers a place with what is to be seen at the saw, and does what it says.
func (w world) honest(p procedure.Procedure, s *saw, v procedure.View) map[string]string {
	answers := make(map[string]string, len(v.Fields))
	for _, f := range v.Fields {
		answers[f.Key] = w.sight(p, s, v, f)
	}
	return answers
}

var plain = map[string]string{
	"by": "KB", "run_down": "6", "how": "unplugged", "spare_thread": "9", "span": "200",
	"slot_front": "95.00", "slot_rear": "95.02", "fence_front": "120.00", "fence_rear": "120.03",
	"length": "900", "lead": "120.02", "tail": "120.03", "gaps": "0 0.05 0 0.05", "tip_gap": "5",
	"pairs": "60=60.12 120=120.11", "final": "120.01", "fence": "untouched",
	"width": "120", "more": "done", "decide": "read", "why": "check", "text": "all well", "found": "sawdust under the ring",
	"label": "Test saw", "units": "mm", "tilt": "left", "fence_side": "right", "flange": "far", "flange_diameter": "80",
	"flange_relief": "50", "arbor_diameter": "30", "thread_pitch": "2", "throat_length": "360", "thickness": "2.5 2.4 2",
	"caliper": "0.01", "micrometer": "0.001", "tolerance": "0.05", "working_width": "120", "kit": "0.10x2 0.25", "outer": "78",
	"diameter": "250", "bore": "30",
}

func (w world) sight(p procedure.Procedure, s *saw, v procedure.View, f procedure.Field) string {
	step := v.Place.Step
	switch {
	case f.Kind == procedure.FieldWord:
		return f.Word
	case step == "power" && f.Key == "knife":
		return thickness[s.knife].Of(model.MM).String()
	case step == "power" && f.Key == "teeth":
		return count(p.Profile(), s.blade)
	case step == "power" && f.Key == "name":
		return s.blade
	case f.Key == "name":
		return cmp.Or(v.Blade, p.Profile().Reference)
	case step == "power" && f.Key == "rings":
		return none(s.rings)
	case step == "mount" && f.Key == "knife":
		b, _ := p.Profile().BladeByID(v.Blade)
		return thickness[b.Knife].Of(model.MM).String()
	case step == "mount" && f.Key == "teeth":
		return count(p.Profile(), v.Blade)
	case step == "knife" && f.Key == "teeth":
		return count(p.Profile(), p.Profile().Reference)
	case step == "reference":
		return thrice(s.set())
	case (step == "cut" || step == "reread") && f.Key == "how":
		return "widths"
	case (step == "cut" || step == "reread") && f.Key == "readings":
		return thrice(w.seen(s, p, v))
	case step == "more" && f.Key == "readings":
		at := s.halves.of(v.Blade).width
		return widths(slices.Repeat([]model.Length{at}, 9)...)
	case step == "more" && f.Key == "half":
		return thrice(fenceWidth(s.halves.of(v.Blade).fence))
	case step == "source" && slices.Contains([]string{"sharpened", "returned"}, p.Known().Again.Step):
		return "paper" // the slip that came with it
	case step == "source":
		return f.Options[0]
	case step == "out":
		return f.Options[len(f.Options)-1]
	case step == "void" && f.Key == "why":
		return "mistyped"
	case f.Key == "rings":
		return none(strings.Join(v.Rings, " "))
	case (step == "sharpened" || step == "returned") && (f.Key == "plate" || f.Key == "kerf"):
		plate, kerf := w.blank(v.Blade, s.worn.count(v.Blade)+1)
		return thrice(map[string]model.Length{"plate": plate, "kerf": kerf}[f.Key])
	case step == "thickness" && (f.Key == "plate" || f.Key == "kerf"):
		plate, kerf := w.blank(v.Blade, 0)
		return thrice(map[string]model.Length{"plate": plate, "kerf": kerf}[f.Key])
	case step == "blade" && f.Value == "":
		return w.bench(p, f)
	case f.Optional && f.Value == "":
		return ""
	case f.Value != "":
		return f.Value
	}
	return plain[f.Key]
}

// bench describes the next blade that is taken to the bench.
func (w world) bench(p procedure.Procedure, f procedure.Field) string {
	id := "spare-rip"
	for _, next := range []string{"thin", "rip", "general"} {
		if _, ok := p.Profile().BladeByID(next); !ok {
			id = next
		}
	}
	switch f.Key {
	case "label":
		return id
	case "teeth":
		return teeth[id]
	case "knife":
		return "k25"
	}
	return plain[f.Key]
}

func none(rings string) string {
	if rings == "" {
		return "none"
	}
	return rings
}
