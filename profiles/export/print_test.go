package export

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// TestPagePrintsOnOnePage prints with a browser and reads the PDF back. It runs where
// SAWDATUM_PRINT is set, as in CI, and fails there if a tool is not installed.
func TestPagePrintsOnOnePage(t *testing.T) {
	if os.Getenv("SAWDATUM_PRINT") == "" {
		t.Skip("SAWDATUM_PRINT is not set")
	}
	for _, paper := range []string{"A4", "letter"} {
		for _, blades := range []int{5, 12} {
			t.Run(fmt.Sprintf("%s, %d blades", paper, blades), func(t *testing.T) {
				pages, printed := printPage(t, pageOf(t, blades, paper))
				if pages != 1 {
					t.Errorf("%d pages", pages)
				}
				for _, want := range []string{"Practice bay saw", "48-tooth general", "standstill", "off: stop, isolate", "2026-03-02", "Initials", "Width read", "Sharpened"} {
					if !strings.Contains(printed, want) {
						t.Errorf("%q is not printed:\n%s", want, printed)
					}
				}
				ready := (blades + 3) / 5 // one of the shop's five, and its copies
				if n := strings.Count(printed, "DO NOT USE, NOT READY"); n != blades-ready || strings.Count(printed, "XXX") != n {
					t.Errorf("%d marks of NOT READY printed", n)
				}
			})
		}
	}
}

// TestPageSaysAllOfAKnifeCheck: what is not to be done is not cut off at the edge of the paper.
func TestPageSaysAllOfAKnifeCheck(t *testing.T) {
	if os.Getenv("SAWDATUM_PRINT") == "" {
		t.Skip("SAWDATUM_PRINT is not set")
	}
	p, plan := shop()
	plan.Blades[2].KnifeOnly = true
	_, printed := printPage(t, written(t, "html", p, plan, false))
	if got := strings.Join(strings.Fields(printed), " "); !strings.Contains(got, knifeCheckOnly) {
		t.Errorf("%q is not printed:\n%s", knifeCheckOnly, printed)
	}
}

// TestALongTableNamesTheSawOnEachPage: pages that hang apart say what they are.
func TestALongTableNamesTheSawOnEachPage(t *testing.T) {
	if os.Getenv("SAWDATUM_PRINT") == "" {
		t.Skip("SAWDATUM_PRINT is not set")
	}
	pages, printed := printPage(t, pageOf(t, 40, "A4"))
	for i, page := range strings.Split(strings.TrimSuffix(printed, "\f"), "\f") {
		if !strings.Contains(page, "Practice bay saw, 2026-03-02 state ") || !strings.Contains(page, "first at the flange") || !strings.Contains(page, notReadyMark) {
			t.Errorf("page %d of %d:\n%s", i+1, pages, page)
		}
	}
	if _, last, _ := strings.Cut(printed, "To change a blade"); pages < 2 || pages > 4 || strings.Contains(strings.TrimSuffix(last, "\f"), "\f") || !strings.Contains(last, "7. ") {
		t.Errorf("%d pages, and the steps to change a blade are not on one:\n%s", pages, last)
	}
}

// pageOf is a page in both units with so many blades of long names and for long reasons
// not ready.
func pageOf(t *testing.T, blades int, paper string) string {
	t.Helper()
	p, plan := shop()
	for i := len(p.Blades); i < blades; i++ {
		b, row := p.Blades[i%5], plan.Blades[i%5]
		b.ID = fmt.Sprintf("more-%d", i)
		b.Label, row.ID = "48-tooth general with a long name", b.ID
		row.Reasons = []model.Reason{{Weight: model.Danger, Text: strings.Repeat("a long reason why it is not ready, ", 8)}}
		p.Blades, plan.Blades = append(p.Blades, b), append(plan.Blades, row)
	}
	return strings.Replace(written(t, "html", p, plan, true), "margin: 10mm;", "margin: 10mm; size: "+paper+";", 1)
}

var pageCount = regexp.MustCompile(`(?m)^Pages:\s+(\d+)$`)

func printPage(t *testing.T, text string) (pages int, printed string) {
	t.Helper()
	dir := t.TempDir()
	html, pdf := filepath.Join(dir, "page.html"), filepath.Join(dir, "page.pdf")
	if err := os.WriteFile(html, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	run(t, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
		"--user-data-dir="+filepath.Join(dir, "browser"), "--print-to-pdf="+pdf, "file://"+html)
	m := pageCount.FindStringSubmatch(run(t, "pdfinfo", pdf))
	if m == nil {
		t.Fatal("pdfinfo counts no pages")
	}
	fmt.Sscan(m[1], &pages)
	return pages, run(t, "pdftotext", "-layout", pdf, "-")
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}
