package model

import (
	"strings"
	"testing"
)

func TestChoose(t *testing.T) {
	rack := []string{"48-tooth general", "24-tooth rip", "80-tooth fine crosscut", "40-tooth thin kerf", "Ö-Blatt"}
	for _, c := range []struct {
		text  string
		want  int
		fault string
	}{
		{"48-tooth general", 0, ""}, {"48-TOOTH GENERAL", 0, ""}, {"1", 0, ""}, {"4", 3, ""}, {"24", 1, ""}, {"80-t", 2, ""}, {"  8 ", 2, ""}, {"ö", 4, ""},
		{"4 ", 3, ""}, {"40", 3, ""}, {"", 0, "is not one of them: type 48-tooth general, 24-tooth rip"}, {"0", 0, "is not one of them"}, {"6", 0, "is not one of them"},
		{"04", 0, "is not one of them"}, {"tooth", 0, "is not one of them"}, {"48-tooth generally", 0, "is not one of them"},
	} {
		got, err := Choose(c.text, rack)
		if c.fault != "" && (err == nil || !strings.Contains(err.Error(), c.fault)) || c.fault == "" && (err != nil || got != c.want) {
			t.Errorf("%q: %d %v, want %d %q", c.text, got, err, c.want, c.fault)
		}
	}
	if _, err := Choose("g", []string{"glue line", "general", "rip"}); err == nil || !strings.Contains(err.Error(), `"g" fits more than one: type more of glue line or general`) {
		t.Errorf("two that begin so: %v", err)
	}
	if i, err := Choose("2", []string{"2", "1"}); err != nil || i != 0 {
		t.Errorf("a name that is a number: %d %v", i, err)
	}
}
