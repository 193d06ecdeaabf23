package profiles

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/adrg/xdg"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// Extension is that of the files of profiles.
const Extension = ".yaml"

// Dir is the profile folder: the option if it is not empty, else $SAWDATUM_DIR, else
// the platform's data folder of the program.
func Dir(option string) string {
	return cmp.Or(option, os.Getenv("SAWDATUM_DIR"), filepath.Join(xdg.DataHome, "sawdatum"))
}

// Prepare makes the profile folder and puts the JSON Schema into it, which the first
// line of every profile names for editors.
func Prepare(dir string) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return Explain(dir, err)
	}
	path := filepath.Join(dir, text.SchemaName)
	if have, err := ReadFile(path); err == nil && bytes.Equal(have, text.Schema) {
		return nil
	}
	return ReplaceFile(path, text.Schema, 0)
}

// CheckName says what is wrong with a name for a new profile; nil: nothing. A name
// becomes a file name, so it cannot be a path.
func CheckName(name string) error {
	if !model.NameForm.MatchString(name) || reserved(name) {
		return fmt.Errorf("%q cannot be a profile's name: use letters, digits, - and _, such as bay-two", text.Show(name))
	}
	return nil
}

// reserved names are devices on Windows, whatever the extension.
func reserved(name string) bool {
	n := strings.ToLower(name)
	if slices.Contains([]string{"con", "prn", "aux", "nul"}, n) {
		return true
	}
	return len(n) == 4 && (strings.HasPrefix(n, "com") || strings.HasPrefix(n, "lpt")) && n[3] >= '0' && n[3] <= '9'
}

// Resolve is the path of a profile that is given by its name in the folder, or by a
// path: that is anything with a separator or with the extension of a profile.
func Resolve(nameOrPath, dir string) (string, error) {
	if strings.ContainsAny(nameOrPath, `/`+string(filepath.Separator)) || strings.HasSuffix(nameOrPath, Extension) || strings.HasSuffix(nameOrPath, ".yml") {
		return nameOrPath, nil
	}
	if err := CheckName(nameOrPath); err != nil {
		return "", err
	}
	return filepath.Join(dir, nameOrPath+Extension), nil
}

// Entry is one profile of a folder, for people to choose from. All texts are
// harmless to show.
type Entry struct {
	Path    string
	Name    string
	Saw     string
	Last    time.Time     // of the last record; zero: none
	By      string        // initials on that record
	Fault   string        // one line: why it cannot be opened; Profile is empty then
	Profile model.Profile // to be judged
}

// List reads all profiles of a folder, by name. Files that cannot be read are listed
// with their fault. A folder that is not there has none.
func List(dir string) ([]Entry, error) {
	files, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, Explain(dir, err)
	}
	var out []Entry
	for _, f := range files {
		if strings.HasPrefix(f.Name(), ".") || filepath.Ext(f.Name()) != Extension || f.IsDir() {
			continue
		}
		out = append(out, entry(filepath.Join(dir, f.Name())))
	}
	nameCopies(out)
	return out, nil
}

// nameCopies tells profiles of one name apart by their files.
func nameCopies(entries []Entry) {
	times := map[string]int{}
	for _, e := range entries {
		times[e.Name]++
	}
	for i, e := range entries {
		if file := filepath.Base(e.Path); times[e.Name] > 1 && file != e.Name+Extension {
			entries[i].Name += " (" + text.Show(file) + ")"
		}
	}
}

func entry(path string) Entry {
	f, err := Read(path)
	if err != nil {
		first, rest, _ := strings.Cut(err.Error(), "\n")
		if n := strings.Count(rest, "\n") + 1; rest != "" {
			first += fmt.Sprintf(" (and %d more)", n)
		}
		return Entry{Path: path, Name: text.Show(strings.TrimSuffix(filepath.Base(path), Extension)), Fault: first}
	}
	p := f.Profile
	e := Entry{Path: path, Name: text.Show(p.Name), Saw: text.Show(p.Saw.Label), Profile: p}
	if n := len(p.Records); n > 0 {
		e.Last, e.By = p.Records[n-1].At, text.Show(p.Records[n-1].By)
	}
	return e
}
