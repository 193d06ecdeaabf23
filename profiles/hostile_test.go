package profiles

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"example.com/sawdatum/model"
)

// hostile are texts that would do harm where they are shown as they stand.
var hostile = []string{
	"\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "\x1b]8;;http://evil\x1b\\click\x1b]8;;\x1b\\", "\x1b]52;c;ZWNobw==\x07", "\u009b31m", "\x1bc",
	"abc\u202edcba", "\u2066x\u2069", "zero\u200bwidth", "soft\u00adhyphen", "tab\tline\ncr\rback\b", "bad\xff\xc3", "del\x7f", "\u2028", "\U000e0041", "\ue000", "nul\x00",
	"z\u0301\u0301\u0301\u0301\u0301\u0301\u0301\u0301", "</td><script>alert(1)</script>", "<img src=x onerror=alert(1)>", `"><svg onload=alert(1)>`, "&lt;b&gt;", "{{.Saw}}", "]]>", "=1+1", "../../../etc/passwd", `..\..\con`,
}

func harmlessText(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r != '\n' && !unicode.IsPrint(r) || r == unicode.ReplacementChar })
}

func TestShowLeavesNothingThatActs(t *testing.T) {
	for _, s := range hostile {
		got := Show(s)
		if !harmlessText(got) || strings.Contains(got, "\n") {
			t.Errorf("%q is shown as %q", s, got)
		}
		if Show(got) != got {
			t.Errorf("%q is not shown as it stands", got)
		}
	}
	for _, s := range []string{"plain", "½ Ø12 ∠45° é 日本", "e\u0301", "48-tooth \"general\""} {
		if Show(s) != s {
			t.Errorf("%q is shown as %q", s, Show(s))
		}
	}
	if got := Show("a\x1b[2J\u202e\xff\ufffd"); got != `a\x1b[2J\u202e\xff\ufffd` {
		t.Errorf("%q", got)
	}
	if n := len(Show(strings.Repeat("x", 10<<20))); n > 1000 {
		t.Errorf("%d bytes of a long text", n)
	}
}

// TestHostileTextInExports goes past the reader, which refuses most of it: an export
// must be harmless whoever made the profile.
func TestHostileTextInExports(t *testing.T) {
	clean, plan := shop()
	tags := wellFormed(t, export(t, "html", clean, plan, true))
	for _, s := range hostile {
		p, plan := shop()
		p.Name, p.Saw.Label, p.Knives[0].ID, p.Rings[0].ID, plan.Standing = s, s, s, s, []string{s}
		for i := range p.Blades {
			p.Blades[i].Label, p.Blades[i].Knife = s, s
			plan.Blades[i].Stack = []string{s, "r50"}
			plan.Blades[i].Reasons = []model.Reason{{Weight: model.Danger, Text: s}}
		}
		proof := *plan.Blades[1].Proved
		proof.By = s
		plan.Blades[1].Proved = &proof
		for _, as := range []string{"card", "labels", "html", "csv"} {
			if text := strings.ReplaceAll(export(t, as, p, plan, true), hardSpace, " "); !harmlessText(text) {
				t.Errorf("%s of %q is not harmless", as, s)
			}
		}
		if got := wellFormed(t, export(t, "html", p, plan, true)); strings.Join(got, " ") != strings.Join(tags, " ") {
			t.Errorf("%q adds tags to the page", s)
		}
	}
}

func TestHostileNamesNeverLeaveTheFolder(t *testing.T) {
	for _, s := range append([]string{"", ".", "..", ".hidden", "a/b", `a\b`, "con", "LPT1", "a b", "a:b", "a*", "-x", strings.Repeat("n", 61), "name.yaml\x00"}, hostile...) {
		if CheckName(s) == nil {
			t.Errorf("%q passes as a name", s)
		}
		path, err := Resolve(s, "/shop")
		if err == nil && filepath.Dir(path) == "/shop" && s != "" {
			t.Errorf("%q resolves to %s", s, path)
		}
		p := Demo()
		p.Name = s
		if _, err := Create(filepath.Join(t.TempDir(), "x.yaml"), p); err == nil && model.NameForm.MatchString(s) == false && s != "" {
			t.Errorf("%q is written as a profile's name", s)
		}
	}
	if path, err := Resolve("bay-two", "/shop"); err != nil || path != filepath.Join("/shop", "bay-two.yaml") {
		t.Error(path, err)
	}
	if path, err := Resolve("other/bay.yaml", "/shop"); err != nil || path != "other/bay.yaml" {
		t.Error(path, err)
	}
}

func TestHostileFilesAreRefusedInOneLineEach(t *testing.T) {
	for name, text := range map[string]string{
		"empty":                    "",
		"blank":                    " \n\n",
		"only a comment":           "# nothing\n",
		"NUL":                      "sawdatum: 1\nname: a\x00b\n",
		"invalid UTF-8":            "sawdatum: 1\nname: a\xffb\n",
		"UTF-16":                   "\xff\xfes\x00a\x00",
		"escape":                   "sawdatum: 1\nname: \x1b[31m\n",
		"C1 control":               "sawdatum: 1\nname: \u009b31m\n",
		"bidi in a comment":        "sawdatum: 1 # \u202e\n",
		"tab":                      "sawdatum: 1\nsaw:\n\ttilt: left\n",
		"second document":          "sawdatum: 1\n---\nsawdatum: 1\n",
		"broken second document":   "sawdatum: 1\n---\n[\n",
		"aliases":                  "sawdatum: 1\na: &a [x, x]\nb: [*a, *a]\n",
		"alias of itself":          "sawdatum: 1\na: &a [*a]\n",
		"merge and a key of lists": "? [1]\n: 2\n<<: {b: 1}\n",
		"a list":                   "- 1\n",
		"a word":                   "sawdatum",
		"brackets":                 strings.Repeat("[", 100_000),
		"deep list":                "sawdatum: 1\na: " + strings.Repeat("[", 20) + strings.Repeat("]", 20) + "\n",
		"deep map":                 "sawdatum: 1\nsaw: " + strings.Repeat("{a: ", 20) + "1" + strings.Repeat("}", 20) + "\n",
		"10 MB scalar":             "sawdatum: 1\nname: " + strings.Repeat("x", 10<<20) + "\n",
		"10 MB key":                "sawdatum: 1\n? " + strings.Repeat("x", 10<<20) + "\n: 1\n",
		"17 MiB":                   "sawdatum: 1\n#" + strings.Repeat("x", 17<<20),
		"too many values":          "sawdatum: 1\nrecords:\n" + strings.Repeat("- \n", 1<<20+1),
		"40,000 keys":              "sawdatum: 1\n" + strings.Repeat("k: 1\n", 40_000),
		"unclosed quote":           "sawdatum: 1\nname: \"bay\n",
		"a name that acts":         "sawdatum: 1\nname: \"\\e]0;x\\a\"\n",
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, findings := Parse("bad\x1b\u202e.yaml", []byte(text))
			if len(findings.Faults()) == 0 {
				t.Fatal("is taken")
			}
			if took := time.Since(start); took > 5*time.Second {
				t.Errorf("took %v", took)
			}
			for _, f := range findings {
				line := f.Error()
				if !harmlessText(line) || strings.Contains(line, "\n") || len(line) > 1500 {
					t.Fatalf("%.300q", line)
				}
				if f.Cure == "" && !f.Missing {
					t.Errorf("no cure: %s", line)
				}
			}
			if len(findings) > maxFindings+1 {
				t.Errorf("%d findings", len(findings))
			}
		})
	}
}

func TestListShowsBrokenAndHostileFilesHarmless(t *testing.T) {
	dir := t.TempDir()
	good := chosenDemo()
	good.Records = everyKind()
	if _, err := Create(filepath.Join(dir, "bay-two.yaml"), good); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"bad.yaml": "sawdatum: 1\nname: \"\\e[31m\"\ntolerance: 3\n", evilName + ".yaml": "x", ".hidden.yaml": "x", "notes.txt": "x"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "folder.yaml"), 0o755); err != nil {
		t.Fatal(err)
	}
	entries, err := List(dir)
	if err != nil || len(entries) != 3 {
		t.Fatalf("%v: %d entries", err, len(entries))
	}
	for _, e := range entries {
		if !harmlessText(e.Name + e.Saw + e.By + e.Fault) {
			t.Errorf("%+v", e)
		}
	}
	if e := entries[1]; e.Name != "practice-bay" || e.Saw != "Practice bay saw" || !e.Last.Equal(good.Records[len(good.Records)-1].At) || e.By != "KB" || e.Fault != "" {
		t.Errorf("%+v", e)
	}
	if e := entries[0]; !strings.Contains(e.Fault, "bad.yaml:2:7: name: U+001B") {
		t.Errorf("%+v", e.Fault)
	}
	if entries, err := List(filepath.Join(dir, "none")); err != nil || len(entries) != 0 {
		t.Error(entries, err)
	}
}
