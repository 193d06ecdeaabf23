package wizard

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
)

// The flag is there for go test ./wizard/... -update: nothing is written here.
var _ = flag.Bool("update", false, "no golden files in this package")

func TestIdleTimeHasALimit(t *testing.T) {
	for minutes, want := range map[int]time.Duration{0: model.DefaultIdleMinutes * time.Minute, 5: 5 * time.Minute, 10_000: model.MaxIdleMinutes * time.Minute, -3: model.DefaultIdleMinutes * time.Minute} {
		if got := IdleTime(model.Profile{IdleMinutes: minutes}); got != want {
			t.Errorf("%d minutes: %s, want %s", minutes, got, want)
		}
	}
}

// TestUpdateEverywhere: a package without the flag would fail go test ./wizard/... -update.
func TestUpdateEverywhere(t *testing.T) {
	var tests []string
	for _, pattern := range []string{"*_test.go", "*/*_test.go"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		tests = append(tests, found...)
	}
	takes := map[string]bool{}
	for _, name := range tests {
		source, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		dir := filepath.Dir(name)
		takes[dir] = takes[dir] || strings.Contains(string(source), `flag.Bool("update"`)
	}
	for dir, ok := range takes {
		if !ok {
			t.Errorf("the tests in %s do not take -update", dir)
		}
	}
}
