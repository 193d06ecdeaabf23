package stages

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

// bench is a house of the rows that are answered before anything is mounted, with gates
// that take any answer: what stands behind them is tested elsewhere.
func bench() procedure.House {
	gate := func(name string, act procedure.Act) *row {
		return &row{Name: name, Stage: 1, Gate: true, Title: form.Said(name), Act: act}
	}
	hands := func(event func(interlock.Hands) interlock.Event) procedure.Act {
		return procedure.HandsIn{Says: form.Lined[interlock.Hands]("hands"), Accept: func(t *taking, h interlock.Hands) { t.Does(event(h)) }}
	}
	paper := func(event func() interlock.Event) procedure.Act {
		return procedure.Paper{Says: form.Lines("paper"), Accept: func(t *taking) { t.Does(event()) }}
	}
	h := procedure.House{
		Blocks: append([]procedure.Block{{Rows: append([]row{{
			Name: "who", Stage: 1, Title: form.Said("who"), Done: func(c context) bool { return c.Who != "" },
			Act: procedure.Paper{Says: form.Lines("who"), Accept: func(t *taking) { t.IsAtTheSaw("KB") }},
		}}, shop.SawRows()...)}}, shop.RackBlocks()...),
		Where: &row{Name: "where", Stage: 1, Title: form.Said("where"), Act: procedure.Paper{Says: form.Lines("where"), Accept: func(t *taking) {
			switch t.Text("where") {
			case "paper":
				t.ReadFromPaper()
			case "bench":
				t.Does(interlock.LaidOut(t.Blade, interlock.Fit{}, true))
			default:
				t.Isolate()
			}
		}}, Fields: form.Fields(form.Optional(field{Key: "where", Kind: procedure.FieldText}))},
		Work: shop.HeadWork(),
	}
	gates := map[interlock.Gate]*row{
		interlock.Stop:    gate("stop", paper(func() interlock.Event { return interlock.Stopped(5*time.Second, 10*time.Second) })),
		interlock.Isolate: gate("isolate", paper(interlock.IsolatedNow)),
		interlock.TakeOff: gate("clear", hands(func(h interlock.Hands) interlock.Event { return interlock.Mounted(h, interlock.Fit{}) })),
	}
	other := gate("other", paper(interlock.FenceMoved))
	h.Gate = func(g interlock.Gate, _ context) *row {
		if r := gates[g]; r != nil {
			return r
		}
		return other
	}
	// The last row waits for whatever comes after the rack.
	h.Blocks = append(h.Blocks, procedure.Block{Rows: []row{{Name: "end", Stage: 11, Title: form.Said("end"), Act: procedure.Paper{Says: form.Lines("end"), Accept: func(*taking) {}}}}})
	return h
}

// walk is a procedure that a test answers.
type walk struct {
	*testing.T
	procedure.Procedure
	at time.Time
}

func begin(t *testing.T, p model.Profile) *walk {
	t.Helper()
	h := bench()
	if err := h.Check(); err != nil {
		t.Fatal(err)
	}
	return &walk{t, procedure.New(p, h, solver.Judge, procedure.Options{Seed: 3}), time.Date(2026, 11, 26, 7, 40, 0, 0, time.UTC)}
}

// answered is the row with its defaults, and what is typed over them.
func answered(v procedure.View, typed ...string) answers {
	a := answers{}
	for _, f := range v.Fields {
		if a[f.Key] = f.Value; f.Kind == procedure.FieldWord {
			a[f.Key] = f.Word
		}
	}
	for i := 0; i+1 < len(typed); i += 2 {
		a[typed[i]] = typed[i+1]
	}
	return a
}

func (w *walk) try(a answers) error {
	w.at = w.at.Add(30 * time.Second)
	next, err := w.Apply(procedure.Event{Kind: procedure.Answer, At: w.at, Visit: w.View().Visit, Answers: a})
	w.Procedure = next
	return err
}

func (w *walk) apply(kind procedure.EventKind, place procedure.Place) {
	w.Helper()
	w.at = w.at.Add(time.Second)
	next, err := w.Apply(procedure.Event{Kind: kind, At: w.at, Place: place})
	if err != nil {
		w.Fatal(kind, place, err)
	}
	w.Procedure = next
}

// answer answers the row of a name, gates before it passed.
func (w *walk) answer(name string, typed ...string) {
	w.Helper()
	w.reach(name)
	if err := w.try(answered(w.View(), typed...)); err != nil {
		w.Fatalf("%s %v: %v", name, typed, err)
	}
}

// reach passes the gates before the row of a name.
func (w *walk) reach(name string) {
	w.Helper()
	for range 6 {
		v := w.View()
		if v.Place.Step == name {
			return
		}
		if !v.Gate && v.Place.Step != "where" {
			break
		}
		if err := w.try(answered(v)); err != nil {
			w.Fatal(v.Place, err)
		}
	}
	w.Fatalf("stands at %s, not at %s", w.View().Place, name)
}

// refused wants an answer refused at a field, with these words in what is said.
func (w *walk) refused(field, words string, typed ...string) {
	w.Helper()
	err := w.try(answered(w.View(), typed...))
	refusal, ok := err.(*procedure.Refusal)
	if !ok {
		w.Fatalf("%s took %v: %v", w.View().Place, typed, err)
	}
	for _, f := range refusal.Faults {
		if f.Field == field && strings.Contains(f.Text, words) {
			return
		}
	}
	w.Fatalf("%s, %v: %v; %q was wanted at %s", w.View().Place, typed, refusal, words, field)
}

// bladeTyped is one blade of the shop as it is typed.
type bladeTyped struct{ name, teeth, plate, kerf string }

// A shop of five blades, in millimetres and in inches: the figures are those of sketches
// and profile, a thin kerf blade among them that no knife of the shop fits.
var (
	metricBlades = []bladeTyped{
		{"48-tooth general", "48", "2.201 2.201 2.201", "3.204 3.204 3.204"},
		{"24-tooth rip", "24", "2.201 2.201 2.201", "3.001 3.001 3.001"},
		{"80-tooth fine crosscut", "80", "2.200 2.200 2.200", "2.801 2.801 2.801"},
		{"96-tooth laminate", "96", "2.201 2.201 2.201", "3.150 3.150 3.150"},
		{"40-tooth thin kerf", "40", "1.600 1.600 1.600", "2.401 2.401 2.401"},
	}
	inchBlades = []bladeTyped{
		{"48-tooth general", "48", "0.0866 0.0866 0.0866", "0.1261 0.1261 0.1261"},
		{"24-tooth rip", "24", "0.0866 0.0866 0.0866", "0.1181 0.1181 0.1181"},
		{"40-tooth thin kerf", "40", "0.063 0.063 0.063", "0.0945 0.0945 0.0945"},
	}
)

// upTo answers everything from the first row to the row of a name, in the unit.
func (w *walk) upTo(name, units string) {
	w.Helper()
	inches, blades, i, ring := units == "in", metricBlades, 0, 0
	pick := func(mm, in string) string {
		if inches {
			return in
		}
		return mm
	}
	if inches {
		blades = inchBlades
	}
	rings := [][2]string{{pick("0.10 mm x3", "0.004 x3"), pick("0.101", "0.004")}, {pick("0.20", "0.008"), ""}, {pick("0.5", "0.020"), ""}, {shop.Whole, ""}}
	for range 60 {
		v := w.View()
		if v.Place.Step == name {
			return
		}
		a := answered(v)
		set := func(typed ...string) {
			for i := 0; i+1 < len(typed); i += 2 {
				a[typed[i]] = typed[i+1]
			}
		}
		switch v.Place.Step {
		case "saw":
			set("label", "Bay 2 saw", "units", units, "rules", pick("en", "us"), "tilt", "left", "fence_side", "right")
		case "manual":
			set("contact_brake", "no", "scoring", "yes", "motor_tilt", "no", "spindle_speed", "4000", "throat_length", pick("360", "14"))
		case "flange":
			set("flange_diameter", pick("80", "3 1/8"), "flange_relief", pick("50", "2"), "arbor_diameter", pick("30", "5/8"), "loose_flange", pick("8", "5/16"), "nut", pick("12", "1/2"))
		case "thread":
			set("plain_part", pick("12", "1/2"), "thread_end", pick("40", "1 5/8"), "thread_pitch", pick("2", "1/16"))
		case "instruments":
			set("caliper", pick("0.01", "0.0005"), "range", pick("150", "6"), "micrometer", pick("0.001", "0.0001"))
		case "knives":
			set("thickness", pick("2.5", "0.098"))
		case "rack":
			if set("more", shop.Whole); i < len(blades) {
				set("more", blades[i].name)
			}
		case "blade":
			if i == 0 {
				set("diameter", pick("250", "10"))
			}
			set("teeth", blades[i].teeth, "marked_speed", "7000")
		case "thickness":
			set("plate", blades[i].plate, "kerf", blades[i].kerf)
			i++
		case "rings":
			if set("add", rings[ring][0]); rings[ring][0] != shop.Whole {
				set("measured", rings[ring][1], "outer", pick("78", "3"))
			}
			ring++
		}
		if err := w.try(a); err != nil {
			w.Fatalf("%s %v: %v", v.Place, a, err)
		}
	}
	w.Fatalf("never came to %s: stands at %s", name, w.View().Place)
}

func TestThroughTheRack(t *testing.T) {
	w := begin(t, model.Profile{Version: model.FormatVersion, Name: "bay-two"})
	w.upTo("end", "mm")
	p := w.Profile()
	for what, got := range map[string]any{
		"reference": p.Reference, "standing": p.Standing, "spindle": p.Saw.SpindleSpeed, "from paper": p.Saw.FromPaper,
		"tolerance": p.Tolerance.String(), "width": p.WorkingWidth.String(), "range": p.Instruments.CaliperRange.String(),
		"rings": shop.KitNames(w.Now()), "measured": p.Rings[0].Measured.String(), "flange": p.Saw.Flange, "rules": p.Rules,
		"bore of the last": p.Blades[4].Bore.String(), "diameter of the last": p.Blades[4].Diameter.String(), "knife of the last": p.Blades[4].Knife,
		"ids": shop.RackBlades(w.Now()), "left": w.Profile().Records[len(p.Records)-1].Blade,
	} {
		// The reference and the want of 0.70 mm of the thin kerf blade: table of job.md, far flange.
		want := map[string]any{
			"reference": "48-tooth-general", "standing": []string{}, "spindle": 4000, "from paper": []string(nil),
			"tolerance": "0.1 mm", "width": "140 mm", "range": "150 mm",
			"rings": "0.10 mm x3, 0.20 mm, 0.50 mm", "measured": "0.101 mm", "flange": model.Far, "rules": model.RulesEN,
			"bore of the last": "30 mm", "diameter of the last": "250 mm", "knife of the last": "k25",
			"ids": []string{"48-tooth-general", "24-tooth-rip", "80-tooth-fine-crosscut", "96-tooth-laminate", "40-tooth-thin-kerf"}, "left": "40-tooth-thin-kerf",
		}[what]
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	if f := p.Validate(); len(f) > 0 {
		t.Error("what was typed is no whole profile:", f)
	}
	if row, _ := w.Plan().Row("40-tooth-thin-kerf"); row.Knife != model.KnifeTooThick || row.Want != 702_000 {
		t.Error("the thin kerf blade:", row.Knife, row.Want)
	}
}

// Every order, caution, title and field fits its place at 80x24, in both units: five rows of
// orders and cautions, of 47 columns beside a figure, else of 72; field and hint in one row.
func TestWordsFit(t *testing.T) {
	for _, units := range []string{"mm", "in"} {
		w := begin(t, model.Profile{Version: model.FormatVersion, Name: "bay-two"})
		seen := map[string]bool{}
		check := func() {
			v := w.View()
			if v.Gate || seen[v.Place.Step] || slices.Contains([]string{"who", "where", "end"}, v.Place.Step) {
				return
			}
			seen[v.Place.Step] = true
			width := 72
			if v.Figure(answered(v)).Text != "" {
				width = 47
			}
			rows := 0
			for _, s := range slices.Concat(v.Do, v.Why) {
				rows += len(wrapped(s, width))
			}
			if rows > 5 || len(v.Why) > 2 || len(v.Do) == 0 {
				t.Errorf("%s, %s: %d rows of orders and cautions: %q %q", units, v.Place, rows, v.Do, v.Why)
			}
			if len(v.Title) > 46 {
				t.Errorf("%s, %s: %q is too long", units, v.Place, v.Title)
			}
			for _, f := range v.Fields {
				if n := len(f.Label) + 2 + len(f.Hint); n > 74 && f.Called == nil {
					t.Errorf("%s, %s: %d columns: %q %q", units, v.Place, n, f.Label, f.Hint)
				}
				if f.Value == "" && !f.Optional && f.Hint == "" {
					t.Errorf("%s, %s: %s has no hint", units, v.Place, f.Key)
				}
				if units == "in" && strings.Contains(f.Hint, " mm") || units == "mm" && strings.Contains(f.Hint, " in,") {
					t.Errorf("%s, %s: %q", units, v.Place, f.Hint)
				}
			}
			for _, s := range slices.Concat(v.Do, v.Why, v.Help) {
				if !strings.ContainsAny(s[len(s)-1:], ".:?") {
					t.Errorf("%s: %q does not end", v.Place, s)
				}
			}
		}
		for _, name := range []string{"saw", "manual", "flange", "thread", "instruments", "arbor", "knives", "rack", "blade", "thickness", "rings", "datum", "unfit", "end"} {
			w.upTo(name, units)
			check()
			if name == "rack" {
				w.answer("rack", "more", map[string][]bladeTyped{"mm": metricBlades, "in": inchBlades}[units][0].name)
			}
		}
		for _, task := range w.Tasks() {
			if strings.HasPrefix(task.Label, "Again") {
				continue
			}
			w.apply(procedure.Begin, task.Place)
			if v := w.View(); v.Gate || v.Place.Step == "where" {
				continue
			}
			check()
		}
		for _, s := range []struct{ step, leads, blade, what string }{
			{"sharpened", "grinder", "1", ""}, {"sharpened", "grinder", "2", ""}, {"reread", "blade", "1", "markings"}, {"retire", "end", "40-tooth thin kerf", ""}, {"back", "returned", "1", ""},
		} {
			w.apply(procedure.Begin, procedure.Place{Step: s.step})
			check()
			w.answer(s.step, "blade", s.blade, "what", s.what)
			w.reach(s.leads)
			delete(seen, s.leads)
			check()
		}
		if want := 30; len(seen) < want {
			t.Errorf("%s: %d rows were looked at, %d wanted: %v", units, len(seen), want, slices.Sorted(maps.Keys(seen)))
		}
	}
}

// wrapped is a text in rows of a width.
func wrapped(text string, width int) (rows []string) {
	row := ""
	for _, word := range strings.Fields(text) {
		if row != "" && len(row)+1+len(word) > width {
			rows, row = append(rows, row), ""
		}
		row = strings.TrimSpace(row + " " + word)
	}
	return append(rows, row)
}
