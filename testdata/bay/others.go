package bay

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

// Desk takes exports as a folder does in which there is a card already.
type Desk struct {
	There map[string]bool
	log   []string
}

// Write is the Export of a store.
func (d *Desk) Write(e procedure.Export, over string, p model.Profile) (string, error) {
	d.log = append(d.log, fmt.Sprintf("%s over %q, %d records", e, over, len(p.Records)))
	file := "/bay/bay-two-" + e.As
	switch {
	case e.As == "csv":
		return file, errors.New("/bay/bay-two-csv: read-only file system: the disk is read-only: save elsewhere")
	case d.There[file] && over != file:
		return file, fs.ErrExist
	}
	d.There[file] = true
	return file, nil
}

// ClosingTalk is what is typed at the closing place, and what is said then.
var ClosingTalk = []struct{ Typed, Says string }{
	{"labels", "Written, labels: /bay/bay-two-labels"},
	{"card", "NOT WRITTEN: /bay/bay-two-card is there already. To replace it type card again."},
	{"card both", "NOT WRITTEN: /bay/bay-two-card is there already. To replace it type card both again."},
	{"html", "Written, html: /bay/bay-two-html"},
	{"card both", "NOT WRITTEN: /bay/bay-two-card is there already."},
	{"card both", "Written, card both: /bay/bay-two-card"},
	{"csv", "NOT WRITTEN: /bay/bay-two-csv: read-only file system: the disk is read-only: save elsewhere."},
}

// Heard fails where the desk was not asked for what ClosingTalk types.
func (d *Desk) Heard(t *testing.T) {
	t.Helper()
	var overs []string
	for _, line := range d.log {
		if strings.Contains(line, ", 0 records") {
			t.Error("an export without the records: " + line)
		}
		line, _, _ = strings.Cut(line, ",")
		overs = append(overs, line)
	}
	want := []string{`labels over ""`, `card over ""`, `card both over ""`, `html over ""`, `card both over ""`, `card both over "/bay/bay-two-card"`, `csv over ""`}
	if !slices.Equal(overs, want) {
		t.Errorf("asked for %q", overs)
	}
}

// TakenAway is a save that goes to a file beside from the third on, and stays there.
func TakenAway() func(model.Profile) error {
	n := 0
	values := []wizard.Value{{Path: "tolerance", Mine: "0.05 mm", Theirs: "0.08 mm"}}
	for i := range 5 {
		values = append(values, wizard.Value{Path: fmt.Sprintf("rings[r%d]", i), Mine: "not given", Theirs: "{id: r}"})
	}
	return func(model.Profile) error {
		if n++; n != 3 {
			return nil
		}
		return &wizard.AsideError{Path: "bay-two.mine.yaml", Own: "bay-two.yaml", Why: "somebody else changed the head too", Values: values, Cure: "sawdatum import bay-two.mine.yaml --into bay-two.yaml"}
	}
}

// Slowly gives one line after the other, each after the time it takes to read.
type Slowly struct{ Lines []string }

// Read gives one line.
func (s *Slowly) Read(b []byte) (int, error) {
	if len(s.Lines) == 0 {
		return 0, io.EOF
	}
	time.Sleep(2 * wizard.DeafTime)
	n := copy(b, s.Lines[0]+"\n")
	s.Lines = s.Lines[1:]
	return n, nil
}
