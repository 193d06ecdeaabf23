package main

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/testdata/update"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

func readme(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestReadme holds what the README shows against what the program does: its screens
// against the golden ones, its examples against a run.
func TestReadme(t *testing.T) {
	t.Setenv("SAWDATUM_DIR", t.TempDir())
	text := readme(t)
	screens := regexp.MustCompile("(?s)<!-- screen (\\S+): ([^>]*) -->\n```text\n(.*?)```\n")
	now := screens.ReplaceAllStringFunc(text, func(block string) string {
		m := screens.FindStringSubmatch(block)
		return fmt.Sprintf("<!-- screen %s: %s -->\n```text\n%s```\n", m[1], m[2], golden(t, m[1], m[2]))
	})
	examples := regexp.MustCompile("(?s)```console\n(.*?)```\n")
	now = examples.ReplaceAllStringFunc(now, func(block string) string {
		var out strings.Builder
		for line := range strings.Lines(block) {
			if command, ok := strings.CutPrefix(line, "$ sawdatum "); ok {
				out.WriteString(line)
				run(strings.Fields(command), strings.NewReader(""), &out, &out)
			}
		}
		return "```console\n" + out.String() + "```\n"
	})
	if *update.Goldens {
		if err := os.WriteFile("README.md", []byte(now), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if now != text {
		t.Errorf("the README shows what the program does not: look, then run the test with -update; it would read:\n%s", differing(text, now))
	}
	if len(screens.FindAllString(now, -1)) < 3 || len(examples.FindAllString(now, -1)) < 1 {
		t.Error("the README has to show three screens and an example")
	}
}

// golden is one screen of a golden file, which has several under headings.
func golden(t *testing.T, path, heading string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, after, found := strings.Cut(string(text), "== "+heading+"\n")
	if !found {
		t.Fatalf("%s has no screen %q", path, heading)
	}
	screen, _, _ := strings.Cut(after, "\n== ")
	return strings.TrimRight(screen, "\n") + "\n"
}

// differing is the first line that differs, on both sides.
func differing(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return fmt.Sprintf("line %d: %q\ninstead of %q", i+1, y[i], x[i])
		}
	}
	return "more or fewer lines"
}

// TestReadmeListsEveryRecordKey holds the README's table of records against
// model.KindTable.
func TestReadmeListsEveryRecordKey(t *testing.T) {
	text := readme(t)
	_, table, found := strings.Cut(text, "\n| kind |")
	if !found {
		t.Fatal("the README has no table of records")
	}
	seen := map[model.Kind]bool{}
	for _, row := range regexp.MustCompile("(?m)^\\| `(\\w+)` \\|(.*?)\\|(.*?)\\|").FindAllStringSubmatch(table, -1) {
		kind := model.Kind(row[1])
		seen[kind] = true
		var must, may []string
		for _, use := range model.KindTable[kind] {
			if use.Required {
				must = append(must, "`"+string(use.Key)+"`")
			} else {
				may = append(may, "`"+string(use.Key)+"`")
			}
		}
		if got, want := strings.TrimSpace(row[2]), strings.Join(must, ", "); got != want {
			t.Errorf("%s must have %s; the README says %s", kind, want, got)
		}
		if got, want := strings.TrimSpace(row[3]), strings.Join(may, ", "); got != want {
			t.Errorf("%s may have %s; the README says %s", kind, want, got)
		}
	}
	for kind := range model.KindTable {
		if !seen[kind] {
			t.Errorf("the README does not list %s records", kind)
		}
	}
}

// TestReadmeProfileIsWhole reads the profile of the README, and holds its keys against
// those that a profile can have.
func TestReadmeProfileIsWhole(t *testing.T) {
	_, after, _ := strings.Cut(readme(t), "```yaml\n")
	example, _, _ := strings.Cut(after, "```\n")
	if _, findings := text.Parse("README.md", []byte(example)); len(findings) > 0 {
		t.Error(findings)
	}
	for _, m := range regexp.MustCompile(`"(\w+)": \{`).FindAllSubmatch(schemaHead(t), -1) {
		key := string(m[1])
		if notShown := []string{"retired", "items", "properties"}; !strings.Contains(example, key+":") && !slices.Contains(notShown, key) {
			t.Errorf("the README's profile does not show the key %s", key)
		}
	}
}

// schemaHead is what the schema says of a profile's head: what stands before records.
func schemaHead(t *testing.T) []byte {
	t.Helper()
	head, _, found := bytes.Cut(text.Schema, []byte(`"records": {`))
	if !found {
		t.Fatal("the schema has no records")
	}
	_, keys, found := bytes.Cut(head, []byte(`"properties": {`))
	if !found {
		t.Fatal("the schema has no properties")
	}
	return keys
}

// TestReadmeListsEveryCommand holds the table of commands against the commands.
func TestReadmeListsEveryCommand(t *testing.T) {
	text := readme(t)
	for _, c := range commands(nil).Commands() {
		if !strings.Contains(text, "`sawdatum "+c.Name()) {
			t.Errorf("the README does not list sawdatum %s", c.Name())
		}
	}
}
