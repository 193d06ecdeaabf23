package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
)

// obeyed runs one command line and gives its status and what it said.
func obeyed(args ...string) (status int, out, errs string) {
	var o, e bytes.Buffer
	status = run(args, strings.NewReader(""), &o, &e)
	return status, o.String(), e.String()
}

// TestShopOfTwoSaws: one that can be read and one that cannot, in words and as JSON; what a
// blade takes along to another saw, and what it cannot go to.
func TestShopOfTwoSaws(t *testing.T) {
	dir := t.TempDir()
	first, second := profiles.Demo(), profiles.Demo()
	first.Name, second.Name = "bay-one", "bay-two"
	second.Blades = slices.DeleteFunc(slices.Clone(second.Blades), func(b model.Blade) bool { return b.ID == "rip-24" })
	for _, p := range []model.Profile{first, second} {
		if _, err := profiles.Create(filepath.Join(dir, p.Name+".yaml"), p); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "broken.yaml"), []byte("no profile\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	status, printed, _ := obeyed("shop", "--dir", dir)
	for _, want := range []string{"bay-one, Practice bay saw: 0 of 5 blades ready, 0 due\n", "bay-two, Practice bay saw: 0 of 4 blades ready", "broken: cannot be opened: ", "NOT READY  24-tooth rip"} {
		if status != done || !strings.Contains(printed, want) {
			t.Errorf("status %d, %q is not in\n%s", status, want, printed)
		}
	}
	_, printed, _ = obeyed("shop", "--json", "--dir", dir)
	var shop struct {
		Saws []struct {
			Name, Error string
			Blades      []struct{ ID, State string }
		}
	}
	if err := json.Unmarshal([]byte(printed), &shop); err != nil || len(shop.Saws) != 3 || len(shop.Saws[0].Blades) != 5 || shop.Saws[0].Blades[1].State != "not-ready" || shop.Saws[2].Error == "" {
		t.Errorf("%v: %s", err, printed)
	}

	one := filepath.Join(dir, "bay-one.yaml")
	if status, out, errs := obeyed("import", one, "--into", "bay-two", "--blade", "24-tooth rip", "--dir", dir); status != done || !strings.Contains(out, "the 24-tooth rip is on the rack, with its figures") {
		t.Errorf("status %d: %s%s", status, out, errs)
	}
	f, err := profiles.Read(filepath.Join(dir, "bay-two.yaml"))
	if b, there := f.Profile.BladeByID("rip-24"); err != nil || !there || !slices.Equal(b.Kerf, first.Blades[1].Kerf) {
		t.Errorf("%v, %+v", err, b)
	}
	for want, c := range map[string]struct {
		status int
		args   []string
	}{
		"already: give one of the two": {answerNo, []string{"import", one, "--into", "bay-two", "--blade", "rip-24"}},
		"--into is missing":            {misused, []string{"import", one, "--blade", "rip-24"}},
		"the rack has no blade":        {misused, []string{"import", one, "--into", "bay-two", "--blade", "rip-25"}},
		"--blade is empty":             {misused, []string{"import", one, "--into", "bay-two", "--blade", ""}},
	} {
		if status, out, errs := obeyed(append(c.args, "--dir", dir)...); status != c.status || !strings.Contains(errs, want) || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: status %d, %q, %q", c.args, status, out, errs)
		}
	}
	if again, err := profiles.Read(f.Path); err != nil || text.Format(again.Profile) != text.Format(f.Profile) {
		t.Errorf("what was refused changed the file: %v", err)
	}
}
