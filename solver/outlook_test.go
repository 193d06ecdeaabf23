package solver

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// What moved and what sharpening takes is told of the blade by its name; what is steady is not.
func TestOutlook(t *testing.T) {
	d := year(26, -0.05)
	d.do(model.Record{Kind: model.Sharpened, Blade: "fine", Plate: thrice(2.2), Kerf: thrice(2.76)})
	var texts []string
	for _, r := range Outlook(d.p) {
		texts = append(texts, r.Code+" "+r.Text)
	}
	all := strings.Join(texts, "\n")
	for _, want := range []string{"watch-moved rip: its cut has moved since about 2024-07-22", "kerf-lost fine: a sharpening takes 0.040 mm", "a stack 0.020 mm higher"} {
		if !strings.Contains(all, want) {
			t.Errorf("the outlook lacks %q:\n%s", want, all)
		}
	}
	if strings.Contains(all, "watch-steady") || strings.Contains(all, "wide:") {
		t.Errorf("the outlook tells of what is steady:\n%s", all)
	}
}
