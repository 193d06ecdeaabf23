package profiles

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"example.com/sawdatum/model"
)

// ExportFile is Export to a file, which is written whole or not at all; links are
// followed. An export never takes the place of a profile, since records could be lost.
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
		return fmt.Errorf("%s: is no plain file: name another, or leave -o out for standard output", Show(path))
	case as == "yaml" || isProfile(target):
		return fmt.Errorf("%s: is there already, and an export does not take the place of a profile: choose another name, or bring the two together with import", Show(path))
	}
	if err := unprotected(path, info); err != nil {
		return err
	}
	return replace(target, out.Bytes(), info.Mode().Perm())
}

var versionLine = regexp.MustCompile(`(?m)^["']?` + versionKey + `["']?\s*:`)

// isProfile reports whether a file is a profile, or is meant to be one, whatever it is
// called.
func isProfile(path string) bool {
	if ext := filepath.Ext(path); ext == extension || ext == ".yml" {
		return true
	}
	text, err := load(path)
	return err != nil || versionLine.Match(text)
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
	name := strings.TrimSuffix(path, filepath.Ext(path)) + exports[as].tail
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
			return name, fmt.Errorf("%s: is there already and is no plain file: move it away", Show(name))
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
