package profiles

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/adrg/xdg"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/testdata/sample"
)

func TestDirIsTheOptionElseTheEnvironmentElseThePlatforms(t *testing.T) {
	t.Setenv("SAWDATUM_DIR", "/from/environment")
	if d := Dir("/from/option"); d != "/from/option" {
		t.Error(d)
	}
	if d := Dir(""); d != "/from/environment" {
		t.Error(d)
	}
	t.Setenv("SAWDATUM_DIR", "")
	t.Setenv("XDG_DATA_HOME", filepath.Join(t.TempDir(), "data"))
	xdg.Reload()
	defer xdg.Reload()
	if d := Dir(""); d != filepath.Join(os.Getenv("XDG_DATA_HOME"), "sawdatum") {
		t.Error(d)
	}
}

func TestPrepareMakesTheFolderAndPutsTheSchemaThere(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b")
	for range 2 {
		if err := Prepare(dir); err != nil {
			t.Fatal(err)
		}
		if have, err := os.ReadFile(filepath.Join(dir, text.SchemaName)); err != nil || !bytes.Equal(have, text.Schema) {
			t.Error("the schema is not there", err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, text.SchemaName), []byte("{}"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Prepare(dir); err != nil || bytesOf(t, filepath.Join(dir, text.SchemaName)) != string(text.Schema) {
		t.Error("an older schema stays", err)
	}
}

// TestAFailedCreateIsNoFile: what is not written is not saved to the next time either,
// but created again. The name is too long for what is written beside it first.
func TestAFailedCreateIsNoFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), strings.Repeat("x", 242)+Extension)
	if f, err := Create(path, Demo()); err == nil || f.Path != "" {
		t.Errorf("%q, %v", f.Path, err)
	}
}

func TestCreateWritesOverNothing(t *testing.T) {
	f := written(t, Demo())
	before := bytesOf(t, f.Path)
	if _, err := Create(f.Path, chosenDemo()); err == nil || bytesOf(t, f.Path) != before {
		t.Error(err)
	}
}

func TestHostileNamesNeverLeaveTheFolder(t *testing.T) {
	for _, s := range append([]string{"", ".", "..", ".hidden", "a/b", `a\b`, "con", "LPT1", "a b", "a:b", "a*", "-x", strings.Repeat("n", 61), "name.yaml\x00"}, sample.Hostile...) {
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

func TestListShowsBrokenAndHostileFilesHarmless(t *testing.T) {
	dir := t.TempDir()
	good := chosenDemo()
	good.Records = everyKind()
	if _, err := Create(filepath.Join(dir, "bay-two.yaml"), good); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"bad.yaml": "sawdatum: 1\nname: \"\\e[31m\"\ntolerance: 3\n", sample.EvilName + ".yaml": "x", ".hidden.yaml": "x", "notes.txt": "x"} {
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
		if !sample.Harmless(e.Name + e.Saw + e.By + e.Fault) {
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

func TestTwoProfilesOfOneNameAreToldApart(t *testing.T) {
	dir := t.TempDir()
	p := chosenDemo()
	for _, name := range []string{p.Name, p.Name + "-copy"} {
		if _, err := Create(filepath.Join(dir, name+".yaml"), p); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := List(dir)
	if err != nil || len(entries) != 2 || entries[0].Name != p.Name+" ("+p.Name+"-copy.yaml)" || entries[1].Name != p.Name {
		t.Errorf("%v %v", entries, err)
	}
}
