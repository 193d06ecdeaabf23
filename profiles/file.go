// Package profiles keeps shop profiles: it finds, reads, locks and saves their files,
// and merges the copies of two shifts. Nothing that a file holds is lost.
package profiles

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
	"example.com/sawdatum/solver"
)

// File is a profile with the text that it was read from. It is a value: Save gives
// the next one.
type File struct {
	Path       string
	Profile    model.Profile
	Unfinished text.Findings // what has not been filled in yet

	doc    text.Document
	known  model.Profile // as the caller last handed it over, or read it
	refuge string        // where a profile that cannot be read again is kept
}

// Read reads a profile. The error is Findings where its text has faults, all of them at
// once, else a line that says what keeps the file from being read and what to do.
func Read(path string) (File, error) {
	data, err := ReadFile(path)
	if err != nil {
		return File{}, err
	}
	return opened(path, data)
}

func opened(path string, data []byte) (File, error) {
	d := text.Read(path, data)
	if faults := d.Findings.Faults(); len(faults) > 0 {
		return File{}, faults
	}
	return File{Path: path, Profile: d.Profile, Unfinished: d.Findings, doc: d, known: d.Profile}, nil
}

// Doubts are what the limits of the trade say of the file at a moment, with the lines.
func (f File) Doubts(now time.Time) text.Findings {
	return f.doc.Locate(append(f.Profile.Doubts(), datumDoubts(f.Profile, now)...))
}

// datumDoubts are what is doubtful about reference and standing stack, beside those that
// the readings name.
func datumDoubts(p model.Profile, now time.Time) (out []model.Finding) {
	free := p
	free.Reference, free.Standing = "", nil
	reference, standing := solver.CheckDatum(p, solver.Judge(p, now), solver.Lost(solver.Judge(free, now)))
	for _, r := range reference {
		out = append(out, model.Doubt("reference", r))
	}
	for _, r := range standing {
		out = append(out, model.Doubt("standing", r))
	}
	return out
}

// ReadFile reads a plain file. Of one that is larger than text.MaxFile it gives one byte
// more than that, which text.Read refuses. A folder, a pipe or a device is an error.
func ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, Explain(path, err)
	case info.IsDir():
		return nil, fmt.Errorf("%s: this is a folder: name a profile in it", text.Show(path))
	case !info.Mode().IsRegular(): // a pipe would wait for somebody at its other end
		return nil, fmt.Errorf("%s: is no plain file: name a profile", text.Show(path))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, Explain(path, err)
	}
	defer f.Close()
	var data bytes.Buffer
	data.Grow(int(min(info.Size(), text.MaxFile)) + bytes.MinRead)
	if _, err := data.ReadFrom(io.LimitReader(f, text.MaxFile+1)); err != nil {
		return nil, Explain(path, err)
	}
	return data.Bytes(), nil
}

// Holds reports whether there is a plain file at path with just these bytes.
func Holds(path string, data []byte) bool {
	have, err := ReadFile(path)
	return err == nil && bytes.Equal(have, data)
}

// Create writes a new profile. It refuses to write over anything. The error is Findings
// where p could not be read again.
func Create(path string, p model.Profile) (File, error) {
	if faults := checked(path, p, 0).Faults(); len(faults) > 0 {
		return File{}, faults
	}
	f, err := opened(path, []byte(text.Format(p)))
	if err != nil {
		return File{}, err
	}
	unlock, err := lock(path)
	if err != nil {
		return File{}, err
	}
	defer unlock()
	if _, err := os.Lstat(path); !errors.Is(err, fs.ErrNotExist) {
		if err != nil {
			return File{}, Explain(path, err)
		}
		return File{}, fmt.Errorf("%s: is there already: choose another name", text.Show(path))
	}
	if err := ReplaceFile(path, f.doc.Data, 0); err != nil {
		return File{}, err
	}
	return f, nil
}

// checked is what the model finds in a profile that is to be written to path. The
// first so many records are known to be good.
func checked(path string, p model.Profile, first int) text.Findings {
	var out text.Findings
	for _, f := range p.ValidateFrom(first) {
		out = append(out, text.Finding{File: path, Finding: f})
	}
	return out
}

const lookAround = "look at the file and its folder"

// Explain is a DiskError of what the system said about a file: its words, and what to do.
func Explain(path string, err error) error {
	cure := lookAround
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if to, e := os.Readlink(path); e == nil {
			cure = "it is a link to " + text.Show(to) + ", which is not there"
		} else if _, e := os.Stat(filepath.Dir(path)); e != nil {
			cure = "the folder is not there: is the drive connected?"
		} else {
			cure = "look at the name"
		}
	case errors.Is(err, fs.ErrPermission):
		cure = "ask for the right to read and write here, or save elsewhere"
	case isFull(err):
		cure = "make room on the disk, or save elsewhere"
	case isReadOnly(err):
		cure = "the disk is read-only: save elsewhere"
	}
	var pathErr *fs.PathError
	var linkErr *os.LinkError
	if errors.As(err, &pathErr) {
		err = pathErr.Err
	} else if errors.As(err, &linkErr) {
		err = linkErr.Err
	}
	return &DiskError{Path: path, Err: err, Cure: cure}
}

// DiskError is what kept a file from being read or written. What was to be saved is
// still in memory.
type DiskError struct {
	Path string
	Err  error
	Cure string
}

func (e *DiskError) Error() string {
	return strings.Join([]string{text.Show(e.Path), e.Err.Error(), e.Cure}, ": ")
}

func (e *DiskError) Unwrap() error { return e.Err }
