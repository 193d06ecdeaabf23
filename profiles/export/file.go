package export

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/profiles/text"
)

// WriteFile is Write to a file, which is written whole or not at all; links are
// followed. It takes the place of an earlier export only: anything else could be lost.
func WriteFile(path, as string, p model.Profile, plan model.Plan, opt Options) error {
	var out bytes.Buffer
	if err := Write(&out, as, p, plan, opt); err != nil {
		return err
	}
	target := path
	if t, err := filepath.EvalSymlinks(path); err == nil {
		target = t
	}
	info, err := os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return profiles.ReplaceFile(target, out.Bytes(), 0)
	case err != nil:
		return profiles.Explain(path, err)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s: is no plain file: name another, or leave -o out for standard output", text.Show(path))
	case as == "yaml":
		return fmt.Errorf("%s: is there already: choose another name, or bring the two together with import", text.Show(path))
	}
	if err := replaceable(path, info); err != nil {
		return err
	}
	return profiles.ReplaceFile(target, out.Bytes(), info.Mode().Perm())
}

// WriteBeside is Write to a file beside the profile at path: NAME-card.txt,
// NAME.html and so on; a copy of the profile itself is NAME-copy.yaml, or has a number
// where there is one. It gives the file's full name. Another file of that name is
// replaced only where it is over; else the error is fs.ErrExist, and nothing is
// written until somebody has said that it may go.
func WriteBeside(path, over, as string, p model.Profile, plan model.Plan, opt Options) (string, error) {
	var out bytes.Buffer
	if err := Write(&out, as, p, plan, opt); err != nil {
		return "", err
	}
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	name := beside(path, as)
	for n := 2; ; n++ {
		info, err := os.Lstat(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return name, profiles.ReplaceFile(name, out.Bytes(), 0)
		case err != nil:
			return name, profiles.Explain(name, err)
		case info.Mode().IsRegular() && profiles.Holds(name, out.Bytes()):
			return name, nil
		case as == "yaml":
			name = fmt.Sprintf("%s-copy-%d%s", strings.TrimSuffix(path, filepath.Ext(path)), n, profiles.Extension)
		case !info.Mode().IsRegular():
			return name, fmt.Errorf("%s: is there already and is no plain file: move it away", text.Show(name))
		case name != over:
			return name, fs.ErrExist
		default:
			if err := profiles.Writable(name, info); err != nil {
				return name, err
			}
			return name, profiles.ReplaceFile(name, out.Bytes(), info.Mode().Perm())
		}
	}
}
