package stages

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/shop"
)

// tasks are the names of the other work that may begin, acts that are done again left out.
func (w *walk) tasks() string {
	var out []string
	for _, task := range w.Tasks() {
		if !strings.HasPrefix(task.Label, "Again") {
			out = append(out, task.Place.Step)
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}

func TestWhenOtherWorkMayBegin(t *testing.T) {
	const always, blades, rings, datum = "rename units", "blade-knife knife-bought", "ring-lost ring-measured", "blade-new datum-anew ring-bought"
	sorted := func(parts ...string) string {
		words := strings.Fields(strings.Join(parts, " "))
		slices.Sort(words)
		return strings.Join(words, " ")
	}
	w := begin(t, model.Profile{Version: model.FormatVersion, Name: "bay-two"})
	for _, c := range []struct{ row, may string }{
		{"saw", sorted(always, "note")},                                                                  // who is known, and nothing else
		{"knives", sorted(always, "note void")},                                                          // the arbor was cleaned, on record
		{"blade", sorted(always, "note void", blades, "knife-lost reread retire")},                       // a first blade
		{"datum", sorted(always, "note void", blades, "knife-lost reread retire", rings)},                // a kit
		{"end", sorted(always, "note void", blades, "knife-lost reread retire sharpened", rings, datum)}, // a reference
	} {
		w.upTo(c.row, "mm")
		if got := w.tasks(); got != c.may {
			t.Errorf("at %s:\n%s\nwant\n%s", c.row, got, c.may)
		}
	}
	w.begun("retire", "blade", "5")
	if !strings.HasPrefix(w.tasks(), "back ") {
		t.Error("a blade has left, and cannot come back:", w.tasks())
	}
	if p := begin(t, w.Profile()); p.tasks() != sorted(always, blades, rings, datum) {
		t.Error("nobody signs:", p.tasks())
	}
	only := procedure.New(w.Profile(), bench(), solver.Judge, procedure.Options{Mode: procedure.IsolateOnly})
	if got := only.Tasks(); slices.ContainsFunc(got, func(task procedure.Task) bool { return !strings.HasPrefix(task.Label, "Again") }) {
		t.Error("with the prompts alone:", got)
	}
}

// What is said while a value is typed.
func TestWhatFollows(t *testing.T) {
	for _, c := range []struct {
		row   string
		typed []string
		says  string
		not   string
	}{
		{"flange", []string{"flange", "far"}, "as usual here: rings move the cut toward the fence", "look again"},
		{"flange", []string{"flange", "near"}, "the usual flange here is far: look again", "as usual"},
		{"flange", []string{"flange", "n"}, "near flange rings move the cut away from the fence", ""},
		{"instruments", []string{"working_width", "149.9"}, "push stick is a must", ""},
		{"instruments", []string{"working_width", "150"}, "[]", "push stick"},
		{"blade", []string{"teeth", "48"}, "as many teeth as: 48-tooth general", ""},
		{"blade", []string{"teeth", "49"}, "[]", ""},
		{"thickness", []string{"plate", "2.2 2.2 2.2", "kerf", "2.5 2.5 2.5"}, "too thick", ""},
		{"thickness", []string{"plate", "2.2 2.2 2.2", "kerf", "3.2 3.2 3.2"}, "wants 0.003 mm behind it", ""}, // half of 5.405 - 5.4, to the nanometre 0.0025
		{"rings", []string{"add", "0.10", "outer", "49"}, "drops into", ""},
		{"datum", []string{"reference", "1", "standing", "none"}, "every one of the 5 blades", ""},
		{"datum", []string{"reference", "2", "standing", "none"}, "of the 5 blades cannot", ""},
		{"unfit", nil, "does not go through the 2.40 mm kerf", ""},
		{"knife-bought", []string{"thickness", "2.0"}, "it fits: 40-tooth thin kerf", "general"},
		{"knife-bought", []string{"thickness", "3.3"}, "it fits no blade", ""},
		{"blade-knife", []string{"blade", "5", "knife", "2.5"}, "does not go through", ""},
		{"blade-knife", []string{"blade", "1", "knife", "2.5"}, "fits between", ""},
		{"arbor", []string{"dial", "0 0.01 0 -0.01"}, "good enough", ""},
	} {
		v := to(t, c.row).View()
		if got := fmt.Sprint(v.Follows(answered(v, c.typed...))); !strings.Contains(got, c.says) || c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("%s %v: %s; want %q, not %q", c.row, c.typed, got, c.says, c.not)
		}
	}
	v := to(t, "thread").View()
	if f := v.Figure(answered(v, good["thread"]...)); f.Text != "18.00 mm" { // 40 less 8, 12 and 2
		t.Error(f)
	}
	v = to(t, "datum").View()
	if text := strings.Join(v.Do, " "); !strings.Contains(text, "48-tooth general, no rings behind it") {
		t.Error(text)
	}
}

func TestArborIsCleanedInTheEmptySaw(t *testing.T) {
	w := to(t, "arbor")
	if on, known := w.Now().Lock.On(); !known || on.Blade != "" {
		t.Error("not bare:", on)
	}
	w.answer("arbor", "dial", "0 0.01 0 -0.01")
	if fmt.Sprint(w.Events()) != "[handled]" || len(w.Profile().Records[0].Dial) != 4 {
		t.Error(w.Events(), w.Profile().Records)
	}
	w.apply(procedure.Begin, procedure.Place{Step: "arbor"}) // once more
	if last := w.Profile().Records[1]; last.Kind != model.Void || last.Why != model.Again || last.Of != w.Profile().Records[0].Ref() {
		t.Error(last)
	}
	w.reach("arbor")
}

func TestKnivesThatAreNamedStay(t *testing.T) {
	w := to(t, "knives")
	w.answer("knives", "thickness", "2.5 2.48")
	w.apply(procedure.Back, procedure.Place{})
	w.answer("knives", "thickness", "2.5 2.2")
	if k := fmt.Sprint(w.Profile().Knives); !strings.Contains(k, "k25") || !strings.Contains(k, "k22") || strings.Contains(k, "k248") {
		t.Error(k)
	}
	w.answer("rack", "more", "first")
	w.answer("blade", "teeth", "48", "diameter", "250", "knife", "2.2")
	for range 2 {
		w.apply(procedure.Back, procedure.Place{})
	}
	w.refused("thickness", "names the knife of 2.2", "thickness", "2.5")
	w.answer("knives", "thickness", "2.2 2.6")
}

func TestRingsThatAreNeeded(t *testing.T) {
	p := to(t, "end").Profile()
	at := p.Records[len(p.Records)-1].At.Add(time.Second)
	p.Records = append(slices.Clone(p.Records), record{Kind: model.Mount, At: at, By: "MS", Blade: p.Reference, Rings: []string{"r20"}, Knife: "k25"})
	w := begin(t, p)
	w.answer("who")
	w.apply(procedure.Begin, procedure.Place{Step: "ring-lost"})
	w.refused("ring", "is on the arbor", "ring", "0.20")
	w.answer("ring-lost", "ring", "0.20") // asked, and typed once more
	if r, ok := w.Profile().RingByID("r20"); !ok || r.Count != 0 {
		t.Error("a record names it, and it is gone:", r, ok)
	}
	w.begun("ring-bought", "add", "0.20", "measured", "0.203", "outer", "78")
	if r, _ := w.Profile().RingByID("r20"); r.Count != 1 || r.Measured.String() != "0.203 mm" {
		t.Error(r)
	}
	w.begun("ring-lost", "ring", "0.50")
	if _, ok := w.Profile().RingByID("r50"); ok {
		t.Error("nothing names it, and it is still on the list")
	}
}

// A kit that leaves a blade out is told at once what would bring it in.
func TestRingsNotYetOwned(t *testing.T) {
	p := to(t, "datum").Profile()
	p.Rings = slices.Clone(p.Rings)[:1] // 0.10 three times: 0.70 is out of reach, and so is a knife for that blade
	p.Rings[0].Count = 1
	w := begin(t, p)
	w.answer("who")
	w.answer("rack", "more", shop.Whole)
	w.answer("rings", "add", shop.Whole)
	w.answer("datum", "reference", "1", "standing", "none")
	if told := fmt.Sprint(w.Report()); !strings.Contains(told, "buy") {
		t.Error(told)
	}
}

// The reference is not put aside: another takes its place first.
func TestReferenceIsNotPutAside(t *testing.T) {
	p := to(t, "unfit").Profile()
	p.Reference = "40-tooth-thin-kerf"
	w := begin(t, p)
	w.answer("who")
	w.reach("unfit")
	w.refused("aside", "choose another reference")
}
