package text

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/testdata/sample"
)

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
				if !sample.Harmless(line) || strings.Contains(line, "\n") || len(line) > 1500 {
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
