package profiles

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// ExportFile is Export to a file, which is written whole or not at all; links are
// followed. It takes the place of an earlier export only: anything else could be lost.
func ExportFile(path, as string, p model.Profile, plan model.Plan, opt ExportOptions) error {
	var out bytes.Buffer
	if err := Export(&out, as, p, plan, opt); err != nil {
		return err
	}
	target := path
	if t, err := filepath.EvalSymlinks(path); err == nil {
		target = t
	}
	info, err := os.Stat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return replace(target, out.Bytes(), 0)
	case err != nil:
		return plain(path, err)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s: is no plain file: name another, or leave -o out for standard output", text.Show(path))
	case as == "yaml":
		return fmt.Errorf("%s: is there already: choose another name, or bring the two together with import", text.Show(path))
	}
	if err := replaceable(path, info); err != nil {
		return err
	}
	return replace(target, out.Bytes(), info.Mode().Perm())
}

// ExportBeside is Export to a file beside the profile at path: NAME-card.txt,
// NAME.html and so on; a copy of the profile itself is NAME-copy.yaml, or has a number
// where there is one. It gives the file's full name. Another file of that name is
// replaced only where it is over; else the error is fs.ErrExist, and nothing is
// written until somebody has said that it may go.
func ExportBeside(path, over, as string, p model.Profile, plan model.Plan, opt ExportOptions) (string, error) {
	var out bytes.Buffer
	if err := Export(&out, as, p, plan, opt); err != nil {
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
			return name, replace(name, out.Bytes(), 0)
		case err != nil:
			return name, plain(name, err)
		case info.Mode().IsRegular() && same(name, out.Bytes()):
			return name, nil
		case as == "yaml":
			name = fmt.Sprintf("%s-copy-%d%s", strings.TrimSuffix(path, filepath.Ext(path)), n, extension)
		case !info.Mode().IsRegular():
			return name, fmt.Errorf("%s: is there already and is no plain file: move it away", text.Show(name))
		case name != over:
			return name, fs.ErrExist
		default:
			if err := unprotected(name, info); err != nil {
				return name, err
			}
			return name, replace(name, out.Bytes(), info.Mode().Perm())
		}
	}
}

func same(path string, data []byte) bool {
	have, err := load(path)
	return err == nil && bytes.Equal(have, data)
}
