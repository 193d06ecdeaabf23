package plain

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

func TestExportsAtTheEndInPlainLines(t *testing.T) {
	d := &bay.Desk{There: map[string]bool{"/bay/bay-two-card": true}}
	n := 0
	p := &person{}
	p.says = func(place procedure.Place, _ string) (string, bool) {
		if place.Step != "close" || n == len(bay.ClosingTalk) {
			return "", false
		}
		if n++; n > 1 && !strings.Contains(p.out.String(), bay.ClosingTalk[n-2].Says) {
			t.Errorf("%q is not said; so far:\n%s", bay.ClosingTalk[n-2].Says, tail(p.out.String()))
		}
		return bay.ClosingTalk[n-1].Typed, true
	}
	f := bay.Run{Profile: bay.Two(), Practice: true, Save: func(model.Profile) error { return nil }, Export: d.Write}
	o := f.Options()
	o.In, o.Out = p, &p.out
	run := newPlain(wizard.NewJob(o), wizard.NewWatch(nil), o)
	p.plain = &run
	result, err := run.goOn()
	if err != nil || !result.Finished || n != len(bay.ClosingTalk) {
		t.Fatalf("%v, %d exports asked for\n%s", err, n, tail(p.out.String()))
	}
	out := p.out.String()
	if k := strings.Count(out, "Where every blade stands."); k != 1 {
		t.Errorf("the table of blades is read out %d times", k)
	}
	if !strings.Contains(out, "Written for others: /bay/bay-two-html\n") || !strings.Contains(out, "the disk is read-only: save elsewhere.") {
		t.Error(tail(out))
	}
	d.Heard(t)
}

func TestPlainSaveThatWentElsewhere(t *testing.T) {
	p := &person{}
	result, err := practise(p, 5, bay.TakenAway())
	if err != nil || result.Unsaved != nil || result.Path != "bay-two.mine.yaml" {
		t.Fatalf("%+v, %v", result.Path, err)
	}
	work, end, found := strings.Cut(p.out.String(), "Everything that was accepted is saved in bay-two.mine.yaml.")
	if !found {
		t.Fatalf("at the end:\n%s", tail(p.out.String()))
	}
	const settle = "To settle it: sawdatum import bay-two.mine.yaml --into bay-two.yaml\n"
	if n := strings.Count(work+end, settle); n != 2 || !strings.HasSuffix(work, settle) || strings.Count(work, "rings[r4]: here not given, there {id: r}.\n") != 2 {
		t.Errorf("once when it happens and once at the end, not %d times:\n%s", n, tail(p.out.String()))
	}
}

// TestACardIsRead: other work reads a card out, a sentence a blade, and writes nothing for it.
func TestACardIsRead(t *testing.T) {
	n := 0
	p := &person{}
	typed := []string{"/work papers", "show card", "none"}
	p.says = func(place procedure.Place, _ string) (string, bool) {
		if place.Step != "close" && place.Step != "papers" || n == len(typed) {
			return "", false
		}
		n++
		return typed[n-1], true
	}
	f := bay.Run{Profile: bay.Two(), Practice: true, Export: func(e procedure.Export, _ string, _ model.Profile) (string, error) {
		t.Errorf("it writes %v", e)
		return "", nil
	}}
	o := f.Options()
	o.In, o.Out = p, &p.out
	run := newPlain(wizard.NewJob(o), wizard.NewWatch(nil), o)
	p.plain = &run
	if _, err := run.goOn(); err != nil {
		t.Fatal(err)
	}
	_, read, _ := strings.Cut(p.out.String(), "See or write a card")
	for _, want := range []string{"Blade 48-tooth general: READY", "Rings: no rings", "Blade 40-tooth thin kerf: NOT READY"} {
		if !strings.Contains(read, want) {
			t.Errorf("%q is not read:\n%s", want, tail(read))
		}
	}
}
