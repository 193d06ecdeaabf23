package profiles

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/adrg/xdg"
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
		if have, err := os.ReadFile(filepath.Join(dir, SchemaName)); err != nil || !bytes.Equal(have, Schema) {
			t.Error("the schema is not there", err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, SchemaName), []byte("{}"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Prepare(dir); err != nil || bytesOf(t, filepath.Join(dir, SchemaName)) != string(Schema) {
		t.Error("an older schema stays", err)
	}
}

// TestAFailedCreateIsNoFile: what is not written is not saved to the next time either,
// but created again. The name is too long for what is written beside it first.
func TestAFailedCreateIsNoFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), strings.Repeat("x", 242)+extension)
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
