package profiles

import (
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

func TestDemo(t *testing.T) {
	p, findings := text.Parse("demo.yaml", demo)
	if faults := findings.Faults(); len(faults) > 0 {
		t.Fatal(faults)
	}
	rings := 0
	for _, r := range p.Rings {
		rings += r.Count
	}
	if len(p.Blades) != 5 || rings != 8 || p.Saw.Flange != model.Far || p.Saw.Tilt != model.TiltLeft || len(p.Records) != 0 {
		t.Errorf("the invented shop: %d blades, %d rings, %s flange, %s tilt, %d records", len(p.Blades), rings, p.Saw.Flange, p.Saw.Tilt, len(p.Records))
	}
	knife, _ := p.KnifeByID("k25")
	for _, b := range p.Blades {
		tooThin := b.Kerf[0].Length <= knife.Thickness.Length
		if tooThin != (b.ID == "thin-40") {
			t.Errorf("%s: kerf %s against a knife of %s", b.ID, b.Kerf[0], knife.Thickness)
		}
	}
	if p.Reference != "" || p.Standing != nil {
		t.Error("reference and standing stack are for the wizard to choose")
	}
	again, findings := text.Parse("again", []byte(text.Format(p)))
	if faults := findings.Faults(); len(faults) > 0 || text.Format(again) != text.Format(p) {
		t.Errorf("what is written does not read the same: %v", faults)
	}
}
