package procedure

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// TestFieldChecks: of each kind of field, what it takes, and what it refuses with what would be
// right. Just beside each limit stands what is past it.
func TestFieldChecks(t *testing.T) {
	const mm = model.Millimetre
	length := Field{Kind: FieldLength, Unit: model.MM, Min: mm, Max: 9 * mm, Hint: "such as 2"}
	lengths := Field{Kind: FieldLengths, Unit: model.MM, Min: mm, Max: 9 * mm, AtLeast: 2, AtMost: 3}
	exactly := Field{Kind: FieldLengths, Unit: model.MM, AtLeast: 2, AtMost: 2}
	open := Field{Kind: FieldLengths, Unit: model.MM, AtLeast: 1}
	pairs := Field{Kind: FieldPairs, Unit: model.MM, Min: mm, Max: 9 * mm, AtLeast: 1, AtMost: 2}
	anyPairs := Field{Kind: FieldPairs, Unit: model.MM}
	count := Field{Kind: FieldCount, AtLeast: 1, AtMost: 9}
	anyCount := Field{Kind: FieldCount}
	word := Field{Kind: FieldWord, Word: "seen"}
	export := Field{Kind: FieldExport, Word: "end", Options: []string{"card", "csv"}, Shows: []string{"card"}}
	initials := Field{Kind: FieldInitials, Hint: "such as KB"}
	own := Field{Kind: FieldRings}.With(func(text string) error {
		if text != "0.1" {
			return errors.New("not those rings")
		}
		return nil
	})
	for _, c := range []struct {
		field Field
		text  string
		says  string // empty: it is taken
	}{
		{length, "1", ""}, {length, "9", ""}, {length, " 0.1 in ", ""},
		{length, "0.999", "outside 1 mm to 9 mm"}, {length, "9.001", "outside"}, {length, "x", "x"}, {length, "", "nothing typed: such as 2"}, {length, " \t", "nothing typed"},
		{Field{Kind: FieldLength, Unit: model.MM, Or: "moved"}, " MOVED ", ""}, {Field{Kind: FieldLength, Unit: model.MM, Or: "moved"}, "move", "move"}, {length, "moved", "moved"},
		{Field{Kind: FieldLength, Unit: model.MM}, "-700", ""},
		{Field{Kind: FieldLength, Unit: model.MM, Max: mm}, "-0.001", "outside"}, {Field{Kind: FieldLength, Unit: model.MM, Max: mm}, "0", ""},
		{Field{Kind: FieldLength, Unit: model.MM, Min: -mm}, "0", ""}, {Field{Kind: FieldLength, Unit: model.MM, Min: -mm}, "0.001", "outside"},
		{lengths, "1 9", ""}, {lengths, "1 2 9", ""}, {lengths, "1", "1 typed: at least 2"}, {lengths, "1 2 3 4", "4 typed: at most 3"},
		{lengths, "1 0.999", "reading 2: 0.999 mm is outside"}, {lengths, "1 2 x", "x"},
		{exactly, "1 2", ""}, {exactly, "1", "exactly 2 are wanted"}, {exactly, "1 2 3", "at most 2"}, {open, strings.Repeat("1 ", 12), ""},
		{pairs, "1=9", ""}, {pairs, "1=9 2=3", ""}, {pairs, "1=2 0.9=2", "pair 2: 0.9 mm is outside"}, {pairs, "1=9.1", "pair 1: 9.1 mm is outside"},
		{pairs, "1=2 3=4 5=6", "at most 2"}, {pairs, "1-2", `"1-2" is not a pair: type setting=reading without spaces, such as 60=60.12`}, {Field{Kind: FieldPairs, Unit: model.IN}, "4", "such as 4=4.004"}, {Field{Kind: FieldPairs, Unit: model.IN}, "4=4.1 3 1/2=3.508", "pair 2: write 3 1/2=3.508 as 3-1/2=3.508, with a dash"}, {Field{Kind: FieldPairs, Unit: model.IN}, "3-1/2=3.508 4-1/2=4.5", ""}, {pairs, "x=2", "pair 1"}, {pairs, "2=x", "pair 1"},
		{pairs, strings.Repeat("1=1 ", 600), "too long for a list of pairs"}, {anyPairs, "x=2", `"x"`}, {anyPairs, "2=x", `"x"`},
		{count, "1", ""}, {count, "9", ""}, {count, "0", "0 is outside 1 to 9"}, {count, "10", "outside"}, {count, "1.5", "is not a whole number"}, {count, "0000001", "is not a whole number"}, {count, "-1", "outside"},
		{anyCount, "-7", ""}, {anyCount, "999999", ""},
		{Field{Kind: FieldDegrees}, "90", ""}, {Field{Kind: FieldDegrees}, "359.9 deg", ""}, {Field{Kind: FieldDegrees}, "360", "less than 360"}, {Field{Kind: FieldDegrees}, "0", "not an angle"},
		{Field{Kind: FieldDegrees}, "NaN", "not an angle"}, {Field{Kind: FieldDegrees}, "90.0000000000", "not an angle"}, {Field{Kind: FieldDegrees}, "x", "not an angle"},
		{word, "seen", ""}, {word, "SEEN", ""}, {word, "sen", `"sen" is not the word: type seen`}, {word, "", "nothing typed: type seen"},
		{export, "end", ""}, {export, "END", ""}, {export, "card", ""}, {export, "CSV both", ""}, {export, "Show card", ""}, {export, "show card both", ""}, {export, "show csv", "csv is not for the screen: show card, or type csv"}, {export, "show", "is not one of them"}, {export, "card one", "is not one of them: type end to leave, or card or csv"},
		{export, "page", "is not one of them"}, {export, "card both both", "is not one of them"}, {export, "", "type end to leave, or card or csv"},
		{initials, "KB", ""}, {initials, "kbcd", ""}, {initials, "abcde", "one to four letters"}, {initials, "K1", "are not initials"},
		{Field{Kind: FieldText}, strings.Repeat("x", 200), ""}, {Field{Kind: FieldText}, strings.Repeat("x", 201), "at most 200"}, {Field{Kind: FieldText}, "a\x1b[0m", "plain text"},
		{Field{Kind: FieldText, Optional: true}, "", ""}, {Field{Kind: FieldLength, Optional: true, Unit: model.MM}, " ", ""},
		{Field{Kind: FieldChoice, Options: []string{"near", "far"}}, "", "nothing typed: type near or far"},
		{own, "0.1", ""}, {own, "0.2", "not those rings"}, {Field{Kind: FieldRings}, "whatever", ""},
		{length.With(func(string) error { return errors.New("its own check") }), "x", "x"}, {length.With(func(string) error { return errors.New("its own check") }), "2", "its own check"},
	} {
		err := c.field.Check(c.text)
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s, %.20q: %v; want %q", c.field.Kind, c.text, err, c.says)
		}
		if err != nil && c.field.Kind == FieldLength && strings.Contains(err.Error(), "its own") != (c.says == "its own check") {
			t.Errorf("%.20q: its own check comes before that of its kind", c.text)
		}
	}
}

// TestChoice: an option by what it is called, by itself, by the beginning of its name or of a word of it, or by
// its number where numbers are shown; a knife by its thickness and by no number, and what was seen only in full.
func TestChoice(t *testing.T) {
	plain := Field{Options: []string{"near", "far", "fair"}}
	called := Field{Options: []string{"n", "f"}, Called: []string{"The near one", "The far one"}, Numbered: true}
	knives := Field{Options: []string{"k25", "k1"}, Called: []string{"2.5 mm", "1 mm"}, Unit: model.MM}
	whole := Field{Options: []string{"near", "far"}, Whole: true}
	long := Field{Options: []string{"a", "b"}, Called: []string{"24-tooth rip", "48-tooth general"}, Whole: true, Numbered: true}
	seen := Field{Options: []string{"n", "f"}, Called: []string{"near", "far"}, Whole: true}
	odd := Field{Options: []string{"strange", "none"}, Called: []string{"the odd one", "0 mm"}, Unit: model.MM}
	twins := Field{Options: []string{"r10", "s10", "r20"}, Called: []string{"0.10 mm", "0.10 mm", "0.20 mm"}, Unit: model.MM}
	bare := Field{Options: []string{"two"}, Called: []string{"2 mm"}}
	for _, c := range []struct {
		field      Field
		text, want string // empty: none
	}{
		{plain, "NEAR", "near"}, {plain, " far ", "far"}, {plain, "2", ""}, {plain, "n", "near"}, {plain, "fai", "fair"}, {plain, "fa", ""}, {plain, "4", ""}, {plain, "0", ""}, {plain, "02", ""}, {plain, "", ""},
		{called, "the far one", "f"}, {called, "F", "f"}, {called, "2", "f"}, {called, "the n", "n"}, {called, "far", "f"}, {called, "o", ""}, {called, "fa", "f"}, {called, "3", ""},
		{twins, "0.1", ""}, {twins, "s10", "s10"}, {twins, "0.2", "r20"},
		{knives, "2.5", "k25"}, {knives, "2.50mm", "k25"}, {knives, "1", "k1"}, {knives, "K25", "k25"}, {knives, "2", ""}, {knives, "2.5 m", ""}, {knives, "x", ""},
		{knives, " 2.5 ", "k25"}, {knives, " k1 ", "k1"}, {whole, " far ", "far"}, {seen, "Far", "f"}, {odd, "x", ""}, {odd, "0", "none"}, {odd, "the odd one", "strange"}, {bare, "2.0 mm", ""}, {bare, "2 mm", "two"},
		{whole, "far", "far"}, {whole, "f", ""}, {whole, "2", ""}, {long, "rip", "a"}, {long, "ri", ""}, {long, "24-tooth rip", "a"}, {long, "tooth", ""}, {long, "24", ""}, {long, "1", ""},
	} {
		got, err := c.field.Choice(c.text)
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%v: %q is %q, %v; want %q", c.field.Options, c.text, got, err, c.want)
		}
	}
	if got := called.Name("2"); got != "The far one" {
		t.Errorf("the second is called %q", got)
	}
	if got := called.Name("zz"); got != "zz" {
		t.Errorf("what names none is called %q", got)
	}
	if _, err := twins.Choice("0.1"); err == nil || !strings.Contains(err.Error(), "type r10 or s10") {
		t.Errorf("two of one size: %v", err)
	}
	if _, err := knives.Choice("9"); err == nil || !strings.Contains(err.Error(), "type 2.5 mm or 1 mm") {
		t.Errorf("%v", err)
	}
}

// TestAlone: a text may be the whole answer by itself, where the field takes it.
func TestAlone(t *testing.T) {
	f := Field{Kind: FieldLength, Unit: model.MM, Max: 9 * model.Millimetre}
	last := f.WithAlone(func(text string) bool { return text != "2" })
	for text, want := range map[string]bool{" 3 ": true, "2": false, " 2 ": false, "10": false, "x": false} {
		if got := last.Alone(text); got != want {
			t.Errorf("%q is the whole answer: %v", text, got)
		}
	}
	if f.Instead("") || !(Field{Or: "none"}).Instead(" None ") {
		t.Error("what stands in place of a reading is its word, where it has one")
	}
	if f.Alone("3") {
		t.Error("a field that was not told so ends an answer")
	}
}

// TestTaken: what a row reads of an answer, by the unit of its field.
func TestTaken(t *testing.T) {
	fields := []Field{
		{Key: "length", Unit: model.IN}, {Key: "lengths", Unit: model.MM}, {Key: "empty", Unit: model.MM},
		{Key: "choice", Options: []string{"near", "far"}}, {Key: "count"}, {Key: "turned"}, {Key: "text"},
	}
	taking := &Taking{fields: fields, answers: Answers{"length": " 0.5 ", "lengths": "1 2.5", "choice": "fa", "count": " 12 ", "turned": "45 deg ", "text": " dust ", "empty": "  "}}
	if got := taking.Length("length"); got != (model.Measure{Length: model.Inch / 2, Unit: model.IN}) {
		t.Errorf("a length: %+v", got)
	}
	if got := model.Lengths(taking.Lengths("lengths")); !slices.Equal(got, []model.Length{model.Millimetre, 2_500_000}) {
		t.Errorf("lengths: %v", got)
	}
	if taking.Length("empty") != (model.Measure{}) || taking.Lengths("empty") != nil || taking.Typed("empty") || !taking.Typed("text") {
		t.Error("what was left empty is something")
	}
	for text, want := range map[string]Export{"end": {}, "END": {}, "card": {As: "card"}, " Card  BOTH ": {As: "card", BothUnits: true}, "page": {}, "show": {}, "": {},
		"show card": {As: "card", Shown: true}, "SHOW  card both": {As: "card", BothUnits: true, Shown: true}, "show labels": {}} {
		hand := &Taking{fields: []Field{{Key: "e", Word: "end", Options: []string{"card", "labels"}, Shows: []string{"card"}}}, answers: Answers{"e": text}}
		if got := hand.Export("e"); got != want {
			t.Errorf("%q is the export %+v", text, got)
		}
	}
	if taking.Choice("choice") != "far" || taking.Count("count") != 12 || taking.Degrees("turned") != 45 || taking.Text("text") != "dust" {
		t.Errorf("%q, %d, %v, %q", taking.Choice("choice"), taking.Count("count"), taking.Degrees("turned"), taking.Text("text"))
	}
	if got := taking.Lengths("unheard"); got != nil {
		t.Errorf("a field that is not there: %v", got)
	}
	if taking.Faulty() {
		t.Error("faulty without a fault")
	}
	if taking.Question("text", "is it %d", 5); taking.Faulty() {
		t.Error("a question is a fault")
	}
	if taking.Fault("text", "no %d", 5); !taking.Faulty() || taking.faults[1].Text != "no 5" || taking.faults[0].Text != "is it 5: type the same again if it is so" {
		t.Errorf("%+v", taking.faults)
	}
}

// TestWords: lengths, sides and names as the shop reads them.
func TestWords(t *testing.T) {
	p := model.Profile{
		Units: model.MM, Instruments: model.Instruments{Caliper: model.Measure{Length: 10_000, Unit: model.MM}},
		Blades: []model.Blade{{ID: "rip", Label: "24-tooth rip", Knife: "k25"}, {ID: "bare"}}, Knives: []model.Knife{{ID: "k25"}},
		Rings: []model.Ring{{ID: "r10", Thickness: model.Measure{Length: 100_000, Unit: model.MM}}, {ID: "r1", Thickness: model.Measure{Length: model.Millimetre, Unit: model.MM}}},
	}
	mm := Context{Profile: p}
	p.Units, p.Instruments.Caliper = model.IN, model.Measure{Length: model.Inch / 1000, Unit: model.IN}
	in := Context{Profile: p}
	k, known := mm.Knife("rip")
	_, none := mm.Knife("bare")
	lost := mm
	lost.State.Gone = map[string]*model.Record{"k25": {}}
	_, gone := lost.Knife("rip")
	coarse := mm
	coarse.Profile.Instruments.Caliper.Length = model.Millimetre
	for _, c := range [][2]string{
		{mm.Show(1_500_000), "1.50 mm"}, {in.Show(model.Inch / 2), "0.500 in"},
		{mm.Result(12_345), "0.012 mm"}, {in.Result(model.Inch / 2), "0.5000 in"},
		{mm.Side(0), "at the datum"}, {mm.Side(400), "at the datum"}, {mm.Side(-400), "at the datum"}, {mm.Side(12_000), "0.012 mm wide"}, {mm.Side(-12_000), "0.012 mm narrow"},
		{mm.Name(""), "blade"}, {mm.Name("rip"), "24-tooth rip"}, {mm.Name("gone"), "gone"},
		{mm.Pick("a", "b"), "a"}, {in.Pick("a", "b"), "b"},
		{mm.Rings([]string{"r10", "r1"}), "0.10 mm + 1.00 mm"}, {mm.Rings(nil), "no rings"},
		{mm.RingsTyped([]string{"r10", "r1"}), "0.10 1.00"}, {mm.RingsTyped(nil), "none"},
		{mm.Bare(1_500_000), "1.50"}, {mm.Short(1_500_000), "1.5"}, {in.Short(model.Inch), "1"}, {mm.Short(model.Millimetre * 140), "140"}, {coarse.Short(model.Millimetre * 140), "140"},
		{k.ID, "k25"}, {Export{As: "card"}.String(), "card"}, {Export{As: "card", BothUnits: true}.String(), "card both"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
	if !known || none || gone {
		t.Errorf("the rip's knife is known: %v; that of the bare blade: %v; one that is lost: %v", known, none, gone)
	}
	if mm.Unit() != model.MM || in.Unit() != model.IN || (Context{}).Unit() != model.MM {
		t.Error("the unit of the shop")
	}
}

// TestView is what both faces show.
func TestView(t *testing.T) {
	r := begun(t, func(_ *House, p *model.Profile) { p.Units = model.IN }).upTo("size a")
	v := r.View()
	a := Answers{"size": "3"}
	if got := v.Follows(a); len(got) != 1 || got[0].Text != "3" {
		t.Errorf("follows %+v", got)
	}
	if !v.HasFigure() || v.Figure(a).Text != "3" || !v.HasPicture() || v.Picture(a).Sentence() != "a3" {
		t.Errorf("figure %+v, picture %v", v.Figure(a), v.Picture(a))
	}
	saw := map[string]string{"a": "4"}
	if text, ok := v.Read(saw, "size", a); !ok || text != "4" {
		t.Errorf("the saw of practice shows %q", text)
	}
	if _, ok := v.Read(saw, "word", a); ok || v.Simulates("word") || !v.Simulates("size") {
		t.Error("it shows something at a field that it does not know")
	}
	if _, ok := v.Read(map[string]string{}, "size", a); ok {
		t.Error("it shows nothing, and that is taken")
	}
	if !slices.Equal(v.Do, []string{"Measure it."}) || len(v.Why) != 1 || !slices.Equal(v.Help, []string{"A disc of 0.35 in is too wide."}) || v.Gate || v.Look != Step || v.Title != "Size of a" {
		t.Errorf("%+v", v)
	}
	gate := r.upTo("take off a").View()
	if gate.Follows(a) != nil || gate.HasFigure() || gate.HasPicture() || gate.Picture(a) != nil || gate.Figure(a) != (Figure{}) || !gate.Gate || gate.Why != nil {
		t.Errorf("%+v", gate)
	}
	if r.Options().Seed != 1 || r.upTo("end").View().Look != Result {
		t.Errorf("%+v, %v", r.Options(), r.View().Look)
	}
}

// TestBeside: arrows lead through the rows of a table, past the last one to what is offered, and
// along the cells that a row has.
func TestBeside(t *testing.T) {
	table := Field{Table: [][]string{{"row 1"}, {"row 2", "2 kerf"}, {"row 3", "3 kerf"}}}
	for _, c := range []struct {
		text        string
		down, right int
		want        string
		ok          bool
	}{
		{"", 1, 0, "row 1", true}, {"", -1, 0, "row 3", true}, {" ", 1, 0, "row 1", true},
		{"", 0, 1, "", false}, {"", 0, -1, "", false}, {"other", 1, 0, "", false}, {"other", 0, 1, "", false},
		{"row 1", 1, 0, "row 2", true}, {" row 1 ", 1, 0, "row 2", true}, {"row 1", -1, 0, "", true}, {"row 3", 1, 0, "", true}, {"row 3", -1, 0, "row 2", true},
		{"row 2", 0, 1, "2 kerf", true}, {"2 kerf", 0, -1, "row 2", true}, {"2 kerf", 1, 0, "3 kerf", true}, {"3 kerf", -1, 0, "2 kerf", true},
		{"row 1", 0, 1, "", false}, {"2 kerf", 0, 1, "", false}, {"row 2", 0, -1, "", false}, {"2 kerf", -1, 0, "", false}, {"3 kerf", 1, 0, "", true},
	} {
		if got, ok := table.Beside(c.text, c.down, c.right); got != c.want || ok != c.ok {
			t.Errorf("from %q %d down, %d right: %q, %v", c.text, c.down, c.right, got, ok)
		}
	}
	table.Value = "whole"
	for text, want := range map[string]string{"whole": "row 1", "": "row 1", "row 3": "whole", "other": ""} {
		if got, ok := table.Beside(text, 1, 0); got != want || ok != (want != "") {
			t.Errorf("where whole is offered, below %q: %q, %v", text, got, ok)
		}
	}
	if got, ok := table.Beside("whole", 0, 1); ok {
		t.Errorf("right of what is offered: %q", got)
	}
	if got, ok := (Field{}).Beside("", 1, 0); ok {
		t.Errorf("without a table %q", got)
	}
}
