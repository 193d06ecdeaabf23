package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"
	"unicode"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

// read reads a profile by its name in the folder or by its path.
func (s *settings) read(nameOrPath string) (profiles.File, error) {
	path, err := profiles.Resolve(nameOrPath, profiles.Dir(s.dir))
	if err != nil {
		return profiles.File{}, err
	}
	f, err := profiles.Read(path)
	var disk *profiles.DiskError
	if path != nameOrPath && errors.Is(err, fs.ErrNotExist) && errors.As(err, &disk) {
		err = &profiles.DiskError{Path: disk.Path, Err: disk.Err, Cure: "sawdatum shop lists the saws on file; a file elsewhere is named by its path, such as ./" + filepath.Base(path)}
	}
	return f, err
}

// work reads a profile that is to be worked on.
func (s *settings) work(nameOrPath string) (profiles.File, error) {
	f, err := s.read(nameOrPath)
	return inStep(f, err)
}

// inStep refuses a profile with records dated well after now: what is recorded next
// would be dated after them.
func inStep(f profiles.File, err error) (profiles.File, error) {
	if err != nil {
		return f, err
	}
	if ahead := f.Ahead(time.Now()); len(ahead) > 0 {
		return f, ahead
	}
	return f, nil
}

// openOrBegin opens a profile, or begins a new saw where there is none.
func (s *settings) openOrBegin(nameOrPath string) (wizard.Store, error) {
	f, err := s.work(nameOrPath)
	if !errors.Is(err, fs.ErrNotExist) {
		return storeOf(f), err
	}
	path, err := profiles.Resolve(nameOrPath, profiles.Dir(s.dir))
	if err != nil {
		return wizard.Store{}, err
	}
	name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	if err := profiles.CheckName(name); err != nil {
		return wizard.Store{}, err
	}
	return s.begin(path, model.Profile{Version: model.FormatVersion, Name: name}), nil
}

// storeOf is a profile that is there: each save goes on from the one before.
func storeOf(f profiles.File) wizard.Store {
	kept := ""
	return wizard.Store{Path: f.Path, Profile: f.Profile, Export: exporting(&f, f.Path), Stale: ageing(&f, f.Path), Kept: func() string { return kept }, Save: func(p model.Profile) (model.Profile, error) {
		return saved(&f, &kept, p)
	}}
}

// exporting writes exports beside f, or beside path where nothing could be saved yet.
func exporting(f *profiles.File, path string) func(procedure.Export, string, model.Profile) (string, error) {
	return func(e procedure.Export, over string, p model.Profile) (string, error) {
		now := time.Now()
		return export.WriteBeside(cmp.Or(f.Path, path), over, e.As, p, planned(p, now), exportOptions(e.As, cmp.Or(f.Path, path), p, export.Options{BothUnits: e.BothUnits, Now: now}))
	}
}

// exportOptions adds what a handover tells besides.
func exportOptions(as, path string, p model.Profile, opt export.Options) export.Options {
	if as == "handover" {
		opt.Before = solver.Judge(model.Before(p), opt.Now)
		opt.Papers = export.Stale(path, p, solver.Judge(p, opt.Now))
	}
	return opt
}

// ageing lists the papers beside f, or beside path where nothing was saved yet, that no
// longer tell what a profile tells.
func ageing(f *profiles.File, path string) func(model.Profile) []wizard.Paper {
	return func(p model.Profile) []wizard.Paper {
		return papers(export.Stale(cmp.Or(f.Path, path), p, solver.Judge(p, time.Now())))
	}
}

func papers(stale []export.Paper) (out []wizard.Paper) {
	for _, s := range stale {
		out = append(out, wizard.Paper{Path: s.Path, Export: procedure.Export{As: s.As, BothUnits: s.BothUnits}, Date: s.Date, State: s.State, Now: s.Now})
	}
	return out
}

// saved saves and gives back what the file holds now: p, or, where another shift saved
// meanwhile, both. kept becomes the name of the file in its older format, where there was
// one.
func saved(f *profiles.File, kept *string, p model.Profile) (model.Profile, error) {
	own := f.Path
	next, report, err := f.Save(p)
	*f, *kept = next, cmp.Or(report.Kept, *kept)
	var beside *profiles.BesideError
	if errors.As(err, &beside) {
		return p, keptAside(own, beside)
	}
	if err == nil && (report.NewHead || len(f.Profile.Records) != len(p.Records)) {
		return f.Profile, nil
	}
	return p, err
}

// keptAside says how to bring together what is kept beside with the profile's own file.
func keptAside(own string, e *profiles.BesideError) error {
	out := &wizard.AsideError{Path: e.Beside, Own: own, Why: e.Why, Cure: "sawdatum import " + inShell(e.Beside) + " --into " + inShell(own)}
	for _, d := range e.Differences {
		out.Values = append(out.Values, wizard.Value(d))
	}
	if len(e.Differences) == 0 {
		out.Cure = "see what sawdatum check " + inShell(own) + " says, mend it, then " + out.Cure
	}
	return out
}

// inShell is a path as it is typed on a command line.
func inShell(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	switch {
	case strings.IndexFunc(path, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("'\"$&;|<>()*?[]#`!{}^%", r) }) < 0:
		return path
	case filepath.Separator == '\\':
		return `"` + path + `"`
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}

// begin is a profile whose file comes to be with the first save, so that who leaves
// before it leaves nothing behind.
func (s *settings) begin(path string, p model.Profile) wizard.Store {
	var f profiles.File
	none := ""
	return wizard.Store{Path: path, Profile: p, Export: exporting(&f, path), Stale: ageing(&f, path), Save: func(p model.Profile) (_ model.Profile, err error) {
		if f.Path != "" {
			return saved(&f, &none, p)
		}
		if s.onTheShelf(path) { // else it is the user's own folder: it is there, or the name is wrong
			err = profiles.Prepare(filepath.Dir(path))
		}
		if err == nil {
			f, err = profiles.Create(path, p)
		}
		return p, err
	}}
}

// onTheShelf reports whether a file lies in the profile folder.
func (s *settings) onTheShelf(path string) bool {
	dir, err := filepath.Abs(filepath.Dir(path))
	shelf, err2 := filepath.Abs(profiles.Dir(s.dir))
	return err == nil && err2 == nil && dir == shelf
}

// saws judges every saw of the profile folder at a moment.
func (s *settings) saws(now time.Time) ([]export.Judged, error) {
	entries, err := profiles.List(profiles.Dir(s.dir))
	out := make([]export.Judged, len(entries))
	for i, e := range entries {
		out[i].Entry = e
		if e.Fault == "" {
			out[i].Plan = planned(e.Profile, now)
		}
	}
	return out, err
}

// shelf is what the start screen needs of the profile folder.
func (s *settings) shelf() wizard.Shelf {
	return wizard.Shelf{
		List: func() ([]wizard.Found, error) {
			now := time.Now()
			saws, err := s.saws(now)
			var out []wizard.Found
			for _, e := range saws {
				found := wizard.Found{Path: e.Path, Name: e.Name, Saw: e.Saw, Last: e.Last, By: e.By, Fault: e.Fault}
				if e.Fault == "" {
					found.Stale = papers(export.Stale(e.Path, e.Profile, e.Plan))
				}
				on := model.Fold(e.Profile).On
				if on.Blade != "" {
					found.Arbor, found.Rings = e.Profile.BladeName(on.Blade), e.Profile.RingNames(on.Rings)
				}
				was, _ := e.Plan.Row(on.Blade)
				for _, row := range export.FailingFirst(export.Rows(e.Profile, e.Plan, export.Options{Now: now})) {
					found.Blades = append(found.Blades, wizard.FoundBlade{
						ID: row.Plan.ID, Name: row.Name, Rings: row.Stack(), Knife: row.Knife, State: row.Status(), Usable: row.Usable, Barred: barred(row.Plan, false), Check: toPair(row.Plan),
						Proves: row.Plan.ID != on.Blade && (row.Plan.State == model.StateDue || was.State == model.StateDue),
					})
				}
				for _, row := range e.Plan.Blades {
					found.All++
					switch row.State {
					case model.StateReady:
						found.Ready++
					case model.StateDue:
						found.Due++
					}
				}
				out = append(out, found)
			}
			return out, err
		},
		Open: func(path string) (wizard.Store, error) {
			f, err := inStep(profiles.Read(path))
			return storeOf(f), err
		},
		Create: func(name string) (wizard.Store, error) {
			if err := profiles.CheckName(name); err != nil {
				return wizard.Store{}, err
			}
			if _, err := s.read(name); !errors.Is(err, fs.ErrNotExist) {
				return wizard.Store{}, fmt.Errorf("there is a profile %s already: choose another name, or open it", name)
			}
			return s.openOrBegin(name)
		},
		Practice: func() (wizard.Store, error) { return wizard.Store{Profile: profiles.Demo()}, nil },
	}
}
