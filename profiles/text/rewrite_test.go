package text

import (
	"os"
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/sample"
)

var at, mm, note, everyKind = sample.At, sample.MM, sample.Note, sample.EveryKind

// shopText is the text of the invented shop.
func shopText() []byte {
	text, err := os.ReadFile("../demo.yaml")
	if err != nil {
		panic(err)
	}
	return text
}

// chosenDemo is the invented shop with its datum chosen.
func chosenDemo() model.Profile {
	p, _ := Parse("demo.yaml", shopText())
	return sample.Chosen(p)
}

func plus(p model.Profile, records ...model.Record) model.Profile {
	p.Records = append(slices.Clip(p.Records), records...)
	return p
}

// TestNothingIsWrittenThatReadsDifferently hands over records in a layout that is not
// the text's: what would be written is read back, and made in another way.
func TestNothingIsWrittenThatReadsDifferently(t *testing.T) {
	for name, wrong := range map[string]layout{
		"no key":         {form: absent},
		"dashes too far": {form: listed, indent: "      ", line: 1},
		"an empty list":  {form: empty, line: 2, value: 1},
	} {
		d := Read("", []byte(Format(plus(chosenDemo(), note(1, "KB", "first")))))
		wrong.items = d.layout.items
		d.layout = wrong
		next := plus(d.Profile, note(2, "KB", "second"))
		out, err := d.Rewrite(next, true)
		if back := Read("", out.Data); err != nil || len(back.Findings) > 0 || !sameProfile(back.Profile, next) || !slices.Equal(out.layout.items, back.layout.items) {
			t.Errorf("%s: %v, %v:\n%s", name, err, back.Findings, out.Data)
		}
	}
}

// TestAnyLengthCanBeWritten: a length that its unit cannot show stands in another, and reads the
// same: three tenths typed as a fraction, a mean and a pitch that inches have no decimal for.
func TestAnyLengthCanBeWritten(t *testing.T) {
	for _, m := range []model.Measure{{Length: 7_620_000, Unit: model.Fraction}, {Length: 139_704_233, Unit: model.IN}, {Length: 1_411_111, Unit: model.Fraction}, {Length: 139_704_233, Unit: model.Mil}} {
		d := Read("", []byte(Format(plus(chosenDemo(), note(1, "KB", "first")))))
		scale := note(2, "KB", "")
		scale.Kind, scale.Pairs = model.Scale, []model.Pair{{Set: m, Read: m}}
		next := plus(d.Profile, scale)
		next.WorkingWidth = m
		out, err := d.Rewrite(next, true)
		if err != nil || len(out.Findings) > 0 || out.Profile.WorkingWidth.Length != m.Length || !sameProfile(Read("", out.Data).Profile, next) {
			t.Errorf("%s: %v, %v", m, err, out.Findings)
		}
		next.WorkingWidth.Length++
		if sameProfile(out.Profile, next) {
			t.Errorf("%s is the same as a nanometre more", m)
		}
	}
}

// TestCommentsAreLostOnce: a text that was made anew is kept where it is added to.
func TestCommentsAreLostOnce(t *testing.T) {
	d := Read("", []byte(Format(chosenDemo())))
	d.Anew = true
	if out, err := d.Rewrite(plus(d.Profile, note(1, "KB", "one more")), true); err != nil || out.Anew {
		t.Errorf("made anew: %v, %v", out.Anew, err)
	}
}
