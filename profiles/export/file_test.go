package export

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/testdata/sample"
)

// namesIn lists the files of a folder that are not hidden.
func namesIn(t *testing.T, dir string) []string {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range files {
		if !strings.HasPrefix(f.Name(), ".") {
			out = append(out, f.Name())
		}
	}
	return out
}

func TestExportsLieBesideTheProfile(t *testing.T) {
	p, plan := shop()
	dir := t.TempDir()
	path := filepath.Join(dir, "bay-two.yaml")
	for _, as := range Ways() {
		file, err := WriteBeside(path, "", as, p, plan, Options{Now: at(0)})
		if err != nil || !filepath.IsAbs(file) {
			t.Errorf("%s: %q, %v", as, file, err)
		}
		if got := bytesOf(t, file); got != written(t, as, p, plan, false) || as != "yaml" && !strings.Contains(got, notReadyMark) && !strings.Contains(got, `"ready": false`) {
			t.Errorf("%s: the file holds something else, or does not mark what is not ready:\n%s", as, got)
		}
	}
	if got := namesIn(t, dir); !slices.Equal(got, []string{"bay-two-card.txt", "bay-two-copy.yaml", "bay-two-handover.txt", "bay-two-labels.txt", "bay-two.csv", "bay-two.html", "bay-two.json"}) {
		t.Error(got)
	}
	for _, as := range Ways() {
		_, err := WriteBeside(filepath.Join(dir, "both.yaml"), "", as, p, plan, Options{BothUnits: true, Now: at(0)})
		if alone := as == "yaml" || as == "json"; (err != nil) != alone {
			t.Errorf("%s in both units: %v", as, err)
		}
	}
	t.Chdir(dir)
	if file, err := WriteBeside("sub.yaml", "", "card", p, plan, Options{Now: at(0)}); err != nil || filepath.Base(file) != "sub-card.txt" || !filepath.IsAbs(file) {
		t.Errorf("%q, %v", file, err)
	}
}

func TestWriteBesideReplacesOnlyWhatItIsTold(t *testing.T) {
	p, plan := shop()
	dir := t.TempDir()
	path, card := filepath.Join(dir, "bay.yaml"), filepath.Join(dir, "bay-card.txt")
	write := func(as, over string, day int) (string, error) {
		return WriteBeside(path, over, as, p, plan, Options{Now: at(day * 86400)})
	}
	foreign := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	foreign("bay-card.txt", "the lunch list")
	for _, over := range []string{"", path, card + "x"} {
		if file, err := write("card", over, 0); !errors.Is(err, fs.ErrExist) || file != card || bytesOf(t, card) != "the lunch list" {
			t.Errorf("over %q: %q, %v", over, file, err)
		}
	}
	if _, err := write("card", card, 0); err != nil || !strings.Contains(bytesOf(t, card), "READY") {
		t.Error(err)
	}
	if info, err := os.Stat(card); err != nil || sample.Posix && info.Mode().Perm() != 0o600 {
		t.Error("the file's mode is another", err)
	}
	if _, err := write("card", "", 0); err != nil {
		t.Error("the same card again:", err)
	}
	if _, err := write("card", "", 1); !errors.Is(err, fs.ErrExist) {
		t.Error("a card of another day:", err)
	}
	// a copy of the profile may hold another shift's records: it stays, told or not
	foreign("bay-copy.yaml", "mine")
	for range 2 {
		if file, err := write("yaml", filepath.Join(dir, "bay-copy.yaml"), 0); err != nil || filepath.Base(file) != "bay-copy-2.yaml" {
			t.Errorf("%q, %v", file, err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "bay.html"), 0o700); err != nil {
		t.Fatal(err)
	}
	link := os.Symlink
	if !sample.Posix {
		link = func(_, name string) error { return os.Mkdir(name, 0o700) }
	}
	if err := link(card, filepath.Join(dir, "bay.csv")); err != nil {
		t.Fatal(err)
	}
	for as, name := range map[string]string{"html": "bay.html", "csv": "bay.csv"} {
		if _, err := write(as, filepath.Join(dir, name), 0); err == nil || !strings.Contains(err.Error(), "is no plain file: move it away") {
			t.Errorf("%s: %v", as, err)
		}
	}
	path = filepath.Join(dir, "gone", "bay.yaml")
	if _, err := write("card", "", 0); err == nil || !strings.Contains(err.Error(), "the folder is not there") || strings.Contains(err.Error(), "\n") {
		t.Error(err)
	}
	path = filepath.Join(dir, sample.EvilName+".yaml")
	if file, err := write("card", "", 0); err != nil || filepath.Dir(file) != dir {
		t.Errorf("%q, %v", file, err)
	}
}

// TestWriteFileSpares: an export to a file of one's own naming replaces an earlier one,
// through a link too, and nothing that is a profile, a device or protected.
func TestWriteFileSpares(t *testing.T) {
	p, plan := shop()
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	write := func(name, as string) error { return WriteFile(in(name), as, p, plan, Options{Now: at(0)}) }
	card := written(t, "card", p, plan, false)
	texts := map[string]string{
		"shop.yaml": text.Format(p), "shop.yml": text.Format(p), "shop": text.Format(p), "quoted": "# mine\n'sawdatum' : 1\nname: [\n", "flow.txt": "{sawdatum: 1, name: bay}\n",
		"indented.txt": strings.ReplaceAll("\n"+text.Format(p), "\n", "\n  "), "asked.txt": "? sawdatum\n: 1\n", "utf16.txt": "\xff\xfes\x00a\x00w\x00", "lunch.txt": "the lunch list",
		"wall.txt": strings.Replace(card, "state", "", 1), "other.json": `{"name": "x", "blades": []}`, "other.csv": "blade,label\n",
	}
	for name, text := range texts {
		if err := os.WriteFile(in(name), []byte(text), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	for _, e := range []error{os.WriteFile(in("protected.txt"), []byte(card), 0o444), os.WriteFile(in("list.txt"), []byte(card), 0o640), os.Mkdir(in("folder"), 0o700), sample.Mkfifo(in("pipe"))} {
		if e != nil {
			t.Fatal(e)
		}
	}
	wants := map[string]string{"folder": "is no plain file", "pipe": "is no plain file", "protected.txt": "the file is read-only", "to-shop.txt": "is no card, page or table of this program"}
	if !sample.Posix { // no links
		delete(wants, "to-shop.txt")
	} else if err := cmp.Or(os.Symlink(in("shop"), in("to-shop.txt")), os.Symlink(in("list.txt"), in("to-list.txt"))); err != nil {
		t.Fatal(err)
	}
	for name := range texts {
		wants[name] = "is there already and is no card, page or table of this program, so it stays: choose another name, or move it away"
	}
	for name, want := range wants {
		before, _ := os.Stat(in(name))
		if err := write(name, "card"); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
		if after, err := os.Stat(in(name)); err != nil || !os.SameFile(after, before) {
			t.Errorf("%s is another file", name)
		}
		if text, ok := texts[name]; ok && bytesOf(t, in(name)) != text {
			t.Errorf("%s has changed", name)
		}
	}
	list := "list.txt"
	if sample.Posix {
		list = "to-list.txt"
	}
	for _, as := range []string{"labels", "html", "csv", "json", "card"} { // each takes the place of the one before
		if err := write(list, as); err != nil || bytesOf(t, in("list.txt")) != written(t, as, p, plan, false) {
			t.Error(as, err)
		}
	}
	if info, err := os.Lstat(in(list)); err != nil || sample.Posix && info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link is gone", err)
	}
	if info, err := os.Stat(in("list.txt")); err != nil || sample.Posix && info.Mode().Perm() != 0o640 {
		t.Error("the file's mode is another", err)
	}
	if err := write("list.txt", "yaml"); err == nil {
		t.Error("a copy of the profile replaces a card")
	}
	if err := write("new.txt", "yaml"); err != nil {
		t.Error(err)
	}
}

// TestPapersThatAreStaleAreNamed: those that lie where they are written, and no other
// file. Neither the day nor the units make one stale.
func TestPapersThatAreStaleAreNamed(t *testing.T) {
	p, plan := shop()
	dir := t.TempDir()
	path := filepath.Join(dir, "bay.yaml")
	for _, as := range Ways() {
		if _, err := WriteBeside(path, "", as, p, plan, Options{Now: at(0), BothUnits: as == "card"}); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "wall.txt"), []byte(written(t, "card", p, plan, false)), 0o600); err != nil {
		t.Fatal(err)
	}
	if stale := Stale(path, p, plan); len(stale) > 0 {
		t.Error("nothing has changed:", stale)
	}
	due := plan
	due.Blades = slices.Clone(plan.Blades)
	if due.Blades[1].State = model.StateDue; len(Stale(path, p, due)) > 0 {
		t.Error("a blade has become due, on the day that the papers tell")
	}
	was := sheet{profile: p, plan: plan}.state()
	for name, change := range map[string]func(*model.BladeRow){
		"proof":   func(b *model.BladeRow) { r := *b.Proved; r.At = r.At.AddDate(0, 0, 1); b.Proved = &r },
		"rings":   func(b *model.BladeRow) { b.Stack = []string{"r50", "r15"} },
		"ready":   func(b *model.BladeRow) { b.State = model.StateCheck },
		"cut":     func(b *model.BladeRow) { b.Residual += 1000 },
		"fitting": func(b *model.BladeRow) { b.Knife = model.KnifeTooThin },
	} {
		next := plan
		next.Blades = slices.Clone(plan.Blades)
		change(&next.Blades[1])
		var got []string
		for _, s := range Stale(path, p, next) {
			got = append(got, filepath.Base(s.Path))
			if s.Date != "2026-03-02" || s.State != was || s.Now == was || len(s.Now) != 4 || s.BothUnits != (s.As == "card") {
				t.Errorf("%s: %+v", name, s)
			}
		}
		if !slices.Equal(got, []string{"bay-card.txt", "bay-labels.txt", "bay.html"}) {
			t.Errorf("%s: %v", name, got)
		}
	}
}
