package stages

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/shop"
)

// wrong is an answer that is right but for what is typed, and the field that says so.
type wrong struct {
	row   string
	typed []string
	field string
	says  string
}

// good is what the shop of the tests types at a row, where the defaults are not it.
var good = map[string][]string{
	"saw":         {"label", "Bay 2 saw", "rules", "en", "tilt", "left", "fence_side", "right"},
	"manual":      {"contact_brake", "no", "scoring", "no", "motor_tilt", "no", "throat_length", "360"},
	"flange":      {"flange_diameter", "80", "flange_relief", "50", "arbor_diameter", "30", "loose_flange", "8", "nut", "12"},
	"thread":      {"plain_part", "12", "thread_end", "40", "thread_pitch", "2"},
	"instruments": {"caliper", "0.01", "range", "150", "micrometer", "0.001"},
	"knives":      {"thickness", "2.5"},
	"rack":        {"more", "another"},
	"blade":       {"label", "crosscut", "teeth", "60", "diameter", "250"},
	"thickness":   {"plate", "2.2 2.2 2.2", "kerf", "3.2 3.2 3.2"},
	"rings":       {"add", "0.10", "outer", "78"},

	"grinder": {"plate", "2.201 2.201 2.201", "kerf", "3.18 3.18 3.18"}, "returned": {"plate", "1.6 1.6 1.6", "kerf", "2.4 2.4 2.4"},
	"blade-new": {"label", "another"}, "retire": {"blade", "2"}, "reread": {"blade", "1", "what", "markings"}, "sharpened": {"blade", "1"}, "back": {"blade", "1"},
	"ring-bought": {"add", "0.30", "outer", "78"}, "ring-lost": {"ring", "0.10"}, "ring-measured": {"ring", "0.10", "measured", "0.101"}, "ring-mend": {"measured", "0.102"},
	"knife-lost": {"knife", "2.5"}, "knife-goes": {"became", "lost"}, "knife-back": {"knife", "2.5"},
	"knife-bought": {"thickness", "2.2"}, "blade-knife": {"blade", "2", "knife", "2.5"}, "void": {"number", "1", "why", "misread"}, "note": {"text", "hello"}, "rename": {"label", "Bay 3"},
}

var wrongs = []wrong{
	{"saw", []string{"label", ""}, "label", "nothing typed"},
	{"saw", []string{"units", "cm"}, "units", "not one of them"},
	{"saw", []string{"rules", "uk"}, "rules", "en or us"},
	{"saw", []string{"tilt", "up"}, "tilt", "left or right"},
	{"saw", []string{"fence_side", "behind"}, "fence_side", "left or right"},
	{"manual", []string{"spacers", "yes"}, "spacers", "type allowed"},
	{"manual", []string{"contact_brake", "perhaps"}, "contact_brake", "yes or no"},
	{"manual", []string{"scoring", ""}, "scoring", "nothing typed"},
	{"manual", []string{"motor_tilt", "both"}, "motor_tilt", "yes or no"},
	{"manual", []string{"spindle_speed", "40"}, "spindle_speed", "500 to 20000"},
	{"manual", []string{"throat_length", "20"}, "throat_length", "50 mm"},
	{"flange", []string{"flange", "left"}, "flange", "far or near"},
	{"flange", []string{"flange_diameter", "5"}, "flange_diameter", "10 mm"},
	{"flange", []string{"flange_relief", "80"}, "flange_relief", "as large as the flange"},
	{"flange", []string{"flange_relief", "76.1"}, "flange_relief", "rim of only 1.9"}, // EN 1870-1: 2 mm at the least
	{"flange", []string{"arbor_diameter", "80"}, "arbor_diameter", "as thick as the flange"},
	{"flange", []string{"loose_flange", "0.5"}, "loose_flange", "1 mm"},
	{"flange", []string{"nut", "60"}, "nut", "50 mm"},
	{"flange", []string{"source", "guessed"}, "source", "measured or paper"},
	{"thread", []string{"source", "guessed"}, "source", "measured or paper"},
	{"thread", []string{"plain_part", "0.5"}, "plain_part", "1 mm"},
	{"thread", []string{"plain_part", "40"}, "thread_end", "before it begins"},
	{"thread", []string{"thread_end", "22.9"}, "thread_end", "leave 0.90 mm"}, // less 8, 12 and a pitch of 2
	{"thread", []string{"thread_pitch", "6"}, "thread_pitch", "5 mm"},
	{"thread", []string{"thread_pitch", "3 tpi"}, "thread_pitch", "5 mm"}, // 8.5 mm
	{"thread", []string{"thread_pitch", "many tpi"}, "thread_pitch", "no threads an inch"},
	{"instruments", []string{"caliper", "2"}, "caliper", "1 mm"},
	{"instruments", []string{"range", "10"}, "range", "20 mm"},
	{"instruments", []string{"micrometer", "0.2"}, "micrometer", "0.1 mm"},
	{"instruments", []string{"tolerance", "2"}, "tolerance", "1 mm"},
	{"instruments", []string{"tolerance", "0.02"}, "tolerance", "can hardly settle"},
	{"instruments", []string{"working_width", "99.9"}, "working_width", "100 mm"},
	{"instruments", []string{"working_width", "145.1"}, "working_width", "145 mm at the most"},
	{"arbor", []string{"clean", "done"}, "clean", "type clean"},
	{"arbor", []string{"dial", "0 0.01 0"}, "dial", "at least 4"},
	{"arbor", []string{"dial", "0 0.04 0 -0.04"}, "dial", "burrs"}, // 0.08 is more than 0.003 in
	{"knives", []string{"thickness", "2.5 2.5"}, "thickness", "each thickness once"},
	{"knives", []string{"thickness", "0.4"}, "thickness", "0.5 mm"},
	{"rack", []string{"more", "whole"}, "more", "one blade has nothing"},
	{"rack", []string{"more", "48-TOOTH general"}, "more", "another blade is called"},
	{"rack", []string{"more", "12"}, "more", "no row 12, it has 1"},
	{"rack", []string{"more", "row 12"}, "more", "no row 12, it has 1"},
	{"rack", []string{"more", "-1"}, "more", "no row -1, it has 1"},
	{"rack", []string{"more", "9 kerf"}, "more", "no row 9, it has 1"},
	{"blade", []string{"teeth", "1"}, "teeth", "2 to 200"},
	{"blade", []string{"diameter", "20"}, "diameter", "50 mm"},
	{"blade", []string{"diameter", "321"}, "diameter", "quarter"}, // EN 1870-1: a flange of 80
	{"blade", []string{"diameter", "149.9"}, "diameter", "60 %"},  // HSE WIS16: of 250
	{"blade", []string{"bore", "29.9"}, "bore", "does not go on"},
	{"blade", []string{"bore", "30.1"}, "bore", "off centre"},
	{"blade", []string{"bore", "100", "diameter", "100"}, "bore", "were the two swapped"},
	{"blade", []string{"marked_speed", "3999"}, "marked_speed", "must not run"}, // EN 1870-1, 6.3: the spindle's 4000
	{"thickness", []string{"plate", "2.2 2.2"}, "plate", "at least 3"},
	{"thickness", []string{"plate", "2.2 2.2 2.203"}, "plate", "read 5 places"},
	{"thickness", []string{"kerf", "2.2 2.2 2.2"}, "kerf", "were the two swapped"},
	{"thickness", []string{"tooth_plate", "2.2 3.2 2.2"}, "tooth_plate", "not over them"},
	{"thickness", []string{"kerf", "3.2 3.2 3.2 3.2 3.5"}, "kerf", "apart"},
	{"thickness", []string{"kerf", "5.3 5.3 5.3"}, "kerf", "stand out by 3.10"},
	{"thickness", []string{"tooth_plate", "two"}, "tooth_plate", "two"},
	{"thickness", []string{"runout", "3"}, "runout", "2 mm"},
	{"rings", []string{"add", "0.10 0.20"}, "add", "one at a time"},
	{"rings", []string{"add", "none"}, "add", "none"},
	{"rings", []string{"add", "0.10 x33"}, "add", "at most 32"},
	{"rings", []string{"measured", "0.16"}, "measured", "0.16 mm measured for a ring of 0.10"},
	{"rings", []string{"outer", ""}, "outer", "measure it"},
	{"rings", []string{"outer", "30"}, "outer", "does not go over the arbor"},
	{"rings", []string{"outer", "50"}, "outer", "drops into"},
	{"rings", []string{"outer", "53.9"}, "outer", "bears on only"}, // EN 1870-1: a land of 2 mm
	{"datum", []string{"reference", "40-tooth thin kerf"}, "reference", "no knife that fits"},
	{"datum", []string{"reference", "table"}, "reference", "not one of them"},
	{"datum", []string{"standing", "0.30"}, "standing", "no ring of 0.3"},
	{"datum", []string{"standing", "0.10 0.10 0.10 0.10"}, "standing", "only 3"},
	{"unfit", []string{"aside", "yes"}, "aside", "type aside"},

	{"grinder", []string{"plate", "2.2"}, "plate", "at least 3"},
	{"grinder", []string{"kerf", "3.21 3.21 3.21"}, "kerf", "wider than before"},
	{"grinder", []string{"kerf", "2.9 2.9 2.9"}, "kerf", "a few hundredths"},
	{"grinder", []string{"datum", "stays"}, "datum", "no other blade is ready"},
	{"returned", []string{"plate", "1.6"}, "plate", "at least 3"},
	{"returned", []string{"kerf", "1.6 1.6 1.6"}, "kerf", "were the two swapped"},
	{"returned", []string{"tooth_plate", "?"}, "tooth_plate", "?"},
	{"returned", []string{"runout", "-1"}, "runout", "0 mm"},
	{"blade-new", []string{"label", "40-tooth thin kerf"}, "label", "another blade is called"},
	{"reread", []string{"blade", "7"}, "blade", "not one of them"},
	{"reread", []string{"what", "all"}, "what", "markings or thickness"},
	{"sharpened", []string{"blade", "saw"}, "blade", "not one of them"},
	{"back", []string{"blade", "1x"}, "blade", "not one of them"},
	{"retire", []string{"blade", "1"}, "blade", "is the reference"},
	{"retire", []string{"gone", "yes"}, "gone", "type gone"},
	{"rings", []string{"bore", "25.4"}, "bore", "does not go over the arbor of 30 mm"},
	{"rings", []string{"bore", "31"}, "bore", "hangs 0.50 mm off centre"}, // over half a millimetre wider, common practice
	{"rings", []string{"bore", "3"}, "bore", "outside"},
	{"ring-bought", []string{"bore", "32"}, "bore", "hangs 1.00 mm off centre"},
	{"ring-bought", []string{"bore", "29.9"}, "bore", "does not go over the arbor"},
	{"ring-mend", []string{"bore", "25"}, "bore", "does not go over the arbor"},
	{"ring-bought", []string{"add", "whole"}, "add", "whole"},
	{"ring-bought", []string{"add", "0.10", "measured", "0.098"}, "measured", "counts as 0.10 mm"},
	{"ring-bought", []string{"outer", "49"}, "outer", "drops into"},
	{"ring-lost", []string{"ring", "0.15"}, "ring", "not one of them"},
	{"ring-lost", []string{"lost", "4"}, "lost", "only 3"},
	{"ring-mend", []string{"printed", "20"}, "printed", "outside"},
	{"ring-mend", []string{"printed", "0.20"}, "printed", "a row of its own"},
	{"ring-mend", []string{"count", "33"}, "count", "outside 0 to 32"},
	{"ring-mend", []string{"count", "32"}, "count", "at most 32"},
	{"ring-mend", []string{"measured", "0.16"}, "measured", "0.16 mm measured for a ring of 0.10"},
	{"ring-mend", []string{"outer", ""}, "outer", "measure it"},
	{"ring-measured", []string{"ring", "r10x"}, "ring", "not one of them"},
	{"ring-measured", []string{"measured", "0.19"}, "measured", "measured for a ring"},
	{"knife-bought", []string{"thickness", "2.5"}, "thickness", "has a knife of 2.5"},
	{"knife-bought", []string{"blade", "zz"}, "blade", "not one of them"},
	{"knife-lost", []string{"knife", "2.4"}, "knife", "not one of them"},
	{"knife-goes", []string{"became", "stolen"}, "became", "lost, broken"},
	{"knife-back", []string{"knife", "3"}, "knife", "not one of them"},
	{"blade-knife", []string{"blade", "6"}, "blade", "not one of them"},
	{"blade-knife", []string{"blade", "5"}, "knife", "does not go through"},
	{"datum-anew", []string{"reference", "5"}, "reference", "no knife that fits"},
	{"datum-anew", []string{"standing", "1"}, "standing", "no ring of 1"},
	{"units", []string{"units", "ft"}, "units", "millimetres or inches"},
	{"rename", []string{"label", "\x1b[2J"}, "label", "U+001B"},
	{"void", []string{"number", "99"}, "number", "outside"},
	{"void", []string{"why", "Again"}, "why", "does not say what is wrong"},
	{"blade-new", []string{"then", "soon"}, "then", "now or later"},
	{"returned", []string{"then", "compare"}, "then", "now or later"},
	{"note", []string{"text", strings.Repeat("x", 201)}, "text", "at most 200"},
}

// begins lists what is answered before a row of other work that another leads to.
var begins = map[string][]string{"grinder": {"sharpened", "blade", "1"}, "returned": {"back", "blade", "1"}, "knife-goes": {"knife-lost", "knife", "2.5"}}

// headRows are the rows of other work that a shop leads to in which nothing was ripped yet; for the
// others see TestNowOrLater.
func headRows() []row {
	return slices.DeleteFunc(shop.HeadWork(), func(r row) bool { return r.Name == "ring-goes" || r.Name == "then" })
}

// to brings a fresh walk to a row.
func to(t *testing.T, name string) *walk {
	w := begin(t, model.Profile{Version: model.FormatVersion, Name: "bay-two"})
	if !slices.ContainsFunc(shop.HeadWork(), func(r row) bool { return r.Name == name }) {
		switch w.upTo(name, "mm"); name {
		case "rack", "blade", "thickness": // as the second blade
			if name == "rack" {
				w.answer("rack", "more", "48-tooth general")
			}
			if name != "thickness" {
				w.upTo("thickness", "mm")
			}
			w.answer("thickness", "plate", "2.201 2.201 2.201", "kerf", "3.204 3.204 3.204")
			w.reach("rack")
			if name != "rack" {
				w.answer("rack", "more", "crosscut")
			}
			if name == "thickness" {
				w.answer("blade", good["blade"]...)
			}
		}
		w.reach(name)
		return w
	}
	if name == "ring-mend" { // a row of the kit leads to it
		w.upTo("rings", "mm")
		w.answer("rings", "add", "0.10 x3", "outer", "78")
		w.answer("rings", "add", "0.20", "outer", "78")
		w.answer("rings", "add", "row 1")
		w.reach(name)
		return w
	}
	w.upTo("end", "mm")
	if name == "knife-back" {
		w.apply(procedure.Begin, procedure.Place{Step: "knife-lost"})
		w.answer("knife-lost", "knife", "2.5")
		w.answer("knife-goes", "became", "broken")
	}
	if name == "back" || name == "returned" {
		w.apply(procedure.Begin, procedure.Place{Step: "retire"})
		w.answer("retire", "blade", "5")
	}
	first := name
	if lead := begins[name]; lead != nil {
		first = lead[0]
		w.apply(procedure.Begin, procedure.Place{Step: first})
		w.answer(first, lead[1:]...)
	} else {
		w.apply(procedure.Begin, procedure.Place{Step: first})
	}
	w.reach(name)
	return w
}

func TestEveryFieldRefusesWhatIsWrong(t *testing.T) {
	tried := map[string]bool{}
	for _, c := range wrongs {
		w := to(t, c.row)
		w.refused(c.field, c.says, append(slices.Clone(good[c.row]), c.typed...)...)
		tried[c.row+" "+c.field] = true
		if err := w.try(answered(w.View(), good[c.row]...)); err != nil {
			t.Errorf("%s: what is right was refused after %v: %v", c.row, c.typed, err)
		}
	}
	rows := append(shop.SawRows(), headRows()...)
	for _, b := range shop.RackBlocks() {
		rows = append(rows, b.Rows...)
	}
	for _, r := range rows {
		if r.Name == "papers" { // where nothing can be written it does not begin
			continue
		}
		for _, f := range to(t, r.Name).View().Fields {
			if !tried[r.Name+" "+f.Key] {
				t.Errorf("nothing wrong was typed at %s of %s", f.Key, r.Name)
			}
		}
	}
}

// A question is settled by typing the same once more; a fault is not.
func TestWhatIsAskedAgain(t *testing.T) {
	w := to(t, "instruments")
	odd := append(slices.Clone(good["instruments"]), "tolerance", "0.02")
	w.refused("tolerance", "can hardly settle", odd...)
	if err := w.try(answered(w.View(), odd...)); err != nil {
		t.Error("a tolerance that was asked again:", err)
	}
	w = to(t, "blade")
	w.refused("bore", "does not go on", append(slices.Clone(good["blade"]), "bore", "29")...)
	w.refused("bore", "does not go on", append(slices.Clone(good["blade"]), "bore", "29")...)
}

// The limits themselves are right.
func TestAtTheLimits(t *testing.T) {
	for _, c := range []struct {
		row   string
		typed []string
	}{
		{"flange", []string{"flange_relief", "76"}},
		{"thread", []string{"thread_end", "23"}},
		{"instruments", []string{"working_width", "100"}},
		{"instruments", []string{"working_width", "145"}},
		{"instruments", []string{"tolerance", "0.03"}},
		{"blade", []string{"diameter", "320"}},
		{"blade", []string{"diameter", "150"}},
		{"blade", []string{"bore", "30.05"}},
		{"blade", []string{"marked_speed", "4000"}},
		{"thickness", []string{"plate", "2.2 2.2 2.201"}},
		{"thickness", []string{"plate", "2.2 2.2 2.2 2.21 2.2"}},
		{"rings", []string{"outer", "54"}},
		{"rings", []string{"bore", "30.5"}},
		{"rings", []string{"add", "0.10 x32"}},
		{"rings", []string{"measured", "0.15"}},
		{"ring-lost", []string{"lost", "3"}},
	} {
		w := to(t, c.row)
		if err := w.try(answered(w.View(), append(slices.Clone(good[c.row]), c.typed...)...)); err != nil {
			t.Errorf("%s %v: %v", c.row, c.typed, err)
		}
	}
}

// Values of flange and thread may come from the manual with nothing isolated; a blade lies
// on the bench then. Measured instead, they want the saw isolated.
func TestWhereThingsAreMeasured(t *testing.T) {
	w := begin(t, model.Profile{Version: model.FormatVersion, Name: "bay-two"})
	w.upTo("where", "mm")
	if err := w.try(answers{"where": "paper"}); err != nil || w.View().Place.Step != "flange" {
		t.Fatal(w.View().Place, err)
	}
	if do := w.View().Do; !strings.Contains(do[0], "manual") {
		t.Error(do)
	}
	w.answer("flange", good["flange"]...)
	if from := w.Profile().Saw.FromPaper; len(from) != 6 || w.View().Place.Step != "where" {
		t.Error("from paper:", from, w.View().Place)
	}
	if err := w.try(answers{"where": "isolate"}); err != nil {
		t.Fatal(err)
	}
	w.answer("thread", good["thread"]...)
	if power, _ := w.Power(); power != interlock.Isolated || len(w.Profile().Saw.FromPaper) != 6 {
		t.Error(power, w.Profile().Saw.FromPaper)
	}
}

// TestSaidWhereItIsLeft: what is wrong with a field beside those before it is said when it is
// left, with what comes after it not typed yet; what is unlikely is taken typed again.
func TestSaidWhereItIsLeft(t *testing.T) {
	for _, c := range []struct{ row, field, says, text string }{
		{"thickness", "kerf", "no wider than the plate", "2.2 2.2 2.2"},
		{"thickness", "kerf", "teeth stand out by", "5.3 5.3 5.3"},
		{"thickness", "plate", "apart", "2.2 2.5 2.2 2.2 2.2"},
		{"blade", "diameter", "quarter", "330"},
		{"blade", "bore", "does not go on", "29"},
		{"blade", "marked_speed", "spindle", "3000"},
		{"flange", "flange_relief", "as large as the flange", "80"},
		{"flange", "flange_relief", "rim of only", "78"},
		{"flange", "arbor_diameter", "as thick as the flange", "80"},
		{"thread", "thread_end", "before it begins", "12"},
		{"thread", "thread_end", "a nut of 12 mm leave 0.50 mm of 20.5 mm", "20.5"}, // less 8 and 12
		{"instruments", "tolerance", "hardly settle", "0.02"},
		{"rings", "measured", "measured for a ring", "0.3"},
		{"ring-mend", "printed", "a row of its own", "0.20"},
		{"ring-mend", "count", "at most 32", "32"},
		{"retire", "blade", "is the reference", "1"},
		{"datum", "reference", "no knife that fits", "40-tooth thin kerf"},
	} {
		w := to(t, c.row)
		v := w.View()
		at := slices.IndexFunc(v.Fields, func(f field) bool { return f.Key == c.field })
		all, typed := answered(v, good[c.row]...), answers{}
		for _, f := range v.Fields[:at] {
			typed[f.Key] = all[f.Key]
		}
		typed[c.field] = c.text
		leave := func() error {
			next, err := w.Apply(procedure.Event{Kind: procedure.Leave, At: w.at, Visit: v.Visit, Field: c.field, Answers: typed})
			w.Procedure = next
			return err
		}
		var r *procedure.Refusal
		if err := leave(); !errors.As(err, &r) || r.Faults[0].Field != c.field || !strings.Contains(r.Faults[0].Text, c.says) {
			t.Errorf("%s %s %s: %v", c.row, c.field, c.text, err)
			continue
		}
		if err := leave(); (err == nil) != r.Faults[0].Question {
			t.Errorf("%s %s %s, typed again: %v", c.row, c.field, c.text, err)
		}
		all[c.field] = c.text
		if err := w.try(all); (err == nil) != r.Faults[0].Question {
			t.Errorf("%s %s %s, sent: %v", c.row, c.field, c.text, err)
		}
	}
}
