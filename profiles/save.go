package profiles

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// SaveReport is what a save did besides writing.
type SaveReport struct {
	Merged  int    // records that somebody else had saved meanwhile and that are in now
	NewHead bool   // somebody else had changed the head; their head counts
	Kept    string // where the file is kept as it was, in an older format or with comments that had to go

	added bool // the records are those of the file and more behind them
}

// BesideError says that a profile could not be saved under its own name and where it
// was written instead, so that nothing is lost.
type BesideError struct {
	Path        string
	Beside      string
	Why         string
	Differences []text.Difference // of the heads, where both were changed
}

func (e *BesideError) Error() string {
	why := e.Why
	for i, d := range e.Differences {
		if i == 3 {
			why += fmt.Sprintf("; and %d more", len(e.Differences)-3)
			break
		}
		why += "; " + d.String()
	}
	return fmt.Sprintf("%s: %s: yours is kept in %s; bring the two together with import", text.Show(e.Path), why, text.Show(e.Beside))
}

// Save writes next in the place of the profile that was read. Records are only added
// to: what the file holds and next does not stays. Where somebody else saved
// meanwhile, both sets of records are kept; where both changed the head, the file is
// left as it is, next is written beside it, and the error is a BesideError; the File
// is then the one beside. A caller may go on from the profile that it handed over, or
// from the one in the File. After any other error the File is unchanged, and next is
// the caller's to save elsewhere (Create).
func (f File) Save(next model.Profile) (File, SaveReport, error) {
	target := f.Path
	if t, err := filepath.EvalSymlinks(f.Path); err == nil {
		target = t
	}
	info, err := os.Stat(target)
	if err != nil {
		return f, SaveReport{}, vanished(f.Path, err)
	}
	if err := Writable(f.Path, info); err != nil {
		return f, SaveReport{}, err
	}
	unlock, err := lock(target)
	if err != nil {
		return f, SaveReport{}, err
	}
	defer unlock()
	current, err := ReadFile(target)
	if err != nil {
		return f, SaveReport{}, vanished(f.Path, err)
	}
	theirs := f
	if !bytes.Equal(current, f.doc.Data) {
		if theirs, err = opened(f.Path, current); err != nil {
			first, _, _ := strings.Cut(err.Error(), "\n")
			return f.beside(target, next, BesideError{Why: "somebody changed it so that it cannot be read (" + first + ")"})
		}
	}
	want, report, differ := reconcile(f.base(next), next, theirs.Profile)
	if len(differ) > 0 {
		return f.beside(target, want, BesideError{Why: "somebody else changed the head too", Differences: differ})
	}
	good := 0
	if report.added && text.SameHead(want, theirs.Profile) {
		good = len(theirs.Profile.Records)
	}
	findings := checked(f.Path, want, good)
	if faults := findings.Faults(); len(faults) > 0 {
		return f.beside(target, next, BesideError{Why: "this could not be read again (" + faults[0].Error() + ")"})
	}
	made, err := theirs.doc.Rewrite(want, report.added)
	if err != nil {
		return f, SaveReport{}, err
	}
	out := File{Path: f.Path, Profile: want, Unfinished: findings, doc: made, known: next, refuge: f.refuge}
	if bytes.Equal(made.Data, current) {
		return out, report, nil
	}
	if theirs.doc.Migrated || made.Anew {
		if report.Kept, err = keepOld(target, current); err != nil {
			return f, SaveReport{}, err
		}
	}
	if err := ReplaceFile(target, made.Data, info.Mode().Perm()); err != nil {
		return f, SaveReport{}, err
	}
	return out, report, nil
}

// base is what next was made from: the profile that the caller last handed over, or
// the one in the File, which may hold the head of somebody else since. It is the
// latter where next has all that changed there. Records are those of the File.
func (f File) base(next model.Profile) model.Profile {
	lacks := text.Differences(f.Profile, next)
	for _, d := range text.Differences(f.known, f.Profile) {
		if slices.ContainsFunc(lacks, func(l text.Difference) bool { return l.Path == d.Path }) {
			return withHead(f.known, f.Profile.Records)
		}
	}
	return f.Profile
}

// reconcile is what is to be saved where base was known, mine is wanted and theirs is
// there now. Where base and theirs are the same it is mine, in time order.
func reconcile(base, mine, theirs model.Profile) (want model.Profile, report SaveReport, differ []text.Difference) {
	want = mine
	if report.added = continues(theirs.Records, mine.Records) && inTime(mine.Records, len(theirs.Records)); !report.added {
		ours := union(base.Records, mine.Records)
		want.Records = union(theirs.Records, ours)
		report.Merged = len(want.Records) - len(ours)
		report.added = continues(theirs.Records, want.Records)
	}
	switch {
	case text.SameHead(mine, theirs) || text.SameHead(base, theirs):
		return want, report, nil
	case text.SameHead(base, mine):
		want = named(withHead(theirs, want.Records), mine)
		report.NewHead = true
		return want, report, nil
	}
	return named(want, theirs), report, text.Differences(mine, theirs)
}

func withHead(p model.Profile, records []model.Record) model.Profile {
	p.Records = records
	return p
}

// beside writes p next to the file that could not take it.
func (f File) beside(target string, p model.Profile, e BesideError) (File, SaveReport, error) {
	e.Path = f.Path
	stem := strings.TrimSuffix(target, filepath.Ext(target))
	data := []byte(text.Format(p))
	for n := 1; f.refuge == ""; n++ {
		e.Beside = stem + ".mine.yaml"
		if n > 1 {
			e.Beside = fmt.Sprintf("%s.mine-%d.yaml", stem, n)
		}
		if _, err := os.Lstat(e.Beside); errors.Is(err, fs.ErrNotExist) || Holds(e.Beside, data) {
			break
		}
	}
	if f.refuge != "" {
		e.Beside = f.refuge
	}
	if err := ReplaceFile(e.Beside, data, 0); err != nil {
		return f, SaveReport{}, err
	}
	if o, err := opened(e.Beside, data); err == nil {
		return o, SaveReport{}, &e
	}
	f.refuge = e.Beside
	return f, SaveReport{}, &e
}

// keepOld keeps a file in its older format beside the new one.
func keepOld(target string, data []byte) (string, error) {
	stem := strings.TrimSuffix(target, filepath.Ext(target))
	for n := 1; ; n++ {
		name := stem + ".before.yaml"
		if n > 1 {
			name = fmt.Sprintf("%s.before-%d.yaml", stem, n)
		}
		if Holds(name, data) {
			return name, nil
		}
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name, ReplaceFile(name, data, 0)
		} else if err != nil {
			return "", Explain(name, err)
		}
	}
}

// Writable is a DiskError for a file that somebody has made read-only, since putting another
// in its place would go past that; nil: it may be replaced.
func Writable(path string, info fs.FileInfo) error {
	if info.Mode().Perm()&0o222 == 0 {
		return &DiskError{Path: path, Err: errors.New("the file is read-only"), Cure: "take its protection away, or save elsewhere"}
	}
	return nil
}

// vanished says that a file that was read is not there any more.
func vanished(path string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		e := &DiskError{Path: path, Err: errors.New("the file is not there any more"), Cure: "put it back, or save elsewhere"}
		if _, gone := os.Stat(filepath.Dir(path)); gone != nil {
			e.Err, e.Cure = errors.New("its folder is not there any more"), "connect the drive again, or save elsewhere"
		}
		return e
	}
	if at, e := os.Stat(path); e == nil && !at.Mode().IsRegular() {
		return &DiskError{Path: path, Err: errors.New("something else stands in its place now"), Cure: "move that away, or save elsewhere"}
	}
	return Explain(path, err)
}
