package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/testdata/walk"
)

// TestExportsAtTheEnd has cards written at the end of a run, in both faces, and looks
// at the files.
func TestExportsAtTheEnd(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	kept := filepath.Join(dir, "shop.yaml")
	if err := os.WriteFile(filepath.Join(dir, "shop-card.txt"), []byte("the lunch list"), 0o600); err != nil {
		t.Fatal(err)
	}
	typed := []string{"card", "card both", "card both", "yaml", "done"}
	term := start(t, 300, 60, false, "practice", "--plain", "--seed", "1", "--keep", kept)
	if err := walk.Lead(&walk.Lines{Terminal: term}, wanting(&typed), walk.Never); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"NOT WRITTEN: " + dir + "/shop-card.txt is there already. To replace it type card again.",
		"Written, card both: " + dir + "/shop-card.txt", "Written, yaml: " + dir + "/shop-copy.yaml",
		"Written for others: " + dir + "/shop-copy.yaml",
	} {
		if !strings.Contains(term.Output(), want) {
			t.Errorf("it does not say %q", want)
		}
	}
	card, profile := read(t, dir, "shop-card.txt"), read(t, dir, "shop.yaml")
	if !strings.Contains(card, " mm / ") || !strings.Contains(card, "NOT READY") {
		t.Errorf("the card has one unit, or does not mark the blade that is not ready:\n%s", card)
	}
	if read(t, dir, "shop-copy.yaml") != profile {
		t.Error("the copy is not the profile")
	}

	// at the real saw everything is done: the closing place comes first but for the
	// initials. A card that tells something else is named, and replaced by its name alone.
	older := regexp.MustCompile("state [0-9a-f]{4}").ReplaceAllString(card, "state ----")
	older = strings.Replace(older, "----", "0bad", 1)
	if err := os.WriteFile(filepath.Join(dir, "shop-card.txt"), []byte(older), 0o600); err != nil {
		t.Fatal(err)
	}
	term = start(t, 100, 60, false, "setup", kept)
	typed = []string{"html", "labels", "csv", "json", "card both", "done"}
	if err := walk.Lead(&walk.Full{Terminal: term}, wanting(&typed), walk.Never); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(term.Output(), "STALE: shop-card.txt is of ") || !strings.Contains(term.Output(), "state 0bad") {
		t.Error("the card that is stale is not named")
	}
	if read(t, dir, "shop-card.txt") != card {
		t.Error("the card is not written anew")
	}
	if status, err := term.Exit(patience); err != nil || status != done {
		t.Errorf("exit status %d, %v", status, err)
	}
	var names []string
	files, err := os.ReadDir(dir)
	for _, f := range files {
		if !strings.HasPrefix(f.Name(), ".") {
			names = append(names, f.Name())
		}
	}
	if want := []string{"shop-card.txt", "shop-copy.yaml", "shop-labels.txt", "shop.csv", "shop.html", "shop.json", "shop.yaml"}; err != nil || !slices.Equal(names, want) {
		t.Errorf("%v, %v", names, err)
	}
	if read(t, dir, "shop.yaml") != profile {
		t.Error("writing for others has changed the profile")
	}
}

// wanting answers as an honest user, and at the closing place with these one after the
// other.
func wanting(typed *[]string) func(walk.Question) string {
	return func(q walk.Question) string {
		if q.Label != "For others, or done" || len(*typed) == 0 {
			return walk.Hand{}.To(q)
		}
		next := (*typed)[0]
		*typed = (*typed)[1:]
		return next
	}
}

func read(t *testing.T, dir, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Error(err)
	}
	return string(text)
}
