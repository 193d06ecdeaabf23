package profiles

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// ReplaceFile puts data in the place of the file at path: whole or not at all, whenever
// the power fails. A mode of 0 is that of any new file.
func ReplaceFile(path string, data []byte, mode fs.FileMode) (err error) {
	dir, base := filepath.Split(path)
	sweep(dir, base)
	f, temp, err := create(dir, base, mode)
	if err != nil {
		return Explain(path, err)
	}
	defer func() {
		if err != nil {
			_ = f.Close()
			_ = os.Remove(temp)
			err = Explain(path, err)
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if mode != 0 {
		_ = f.Chmod(mode) // not every drive knows modes
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	if err = rename(temp, path); err != nil {
		return err
	}
	syncFolder(dir)
	return nil
}

// create opens a new file in the folder, beside the one that it will replace.
func create(dir, base string, mode fs.FileMode) (*os.File, string, error) {
	if mode == 0 {
		mode = 0o666
	}
	for try := 0; ; try++ {
		temp := filepath.Join(dir, fmt.Sprintf(".%s.%d-%d.tmp", base, os.Getpid(), try))
		f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) || try == 100 {
			return f, temp, err
		}
	}
}

// sweep removes what a killed save has left. The caller holds the lock, so nobody is
// still writing there; a file of the last minute is left alone all the same.
func sweep(dir, base string) {
	left, _ := filepath.Glob(filepath.Join(escapeGlob(dir), "."+escapeGlob(base)+".*-*.tmp"))
	for _, name := range left {
		if info, err := os.Lstat(name); err == nil && time.Since(info.ModTime()) > time.Minute {
			_ = os.Remove(name)
		}
	}
}

func escapeGlob(s string) string {
	var out []rune
	for _, r := range s {
		if r == '*' || r == '?' || r == '[' || r == '\\' {
			out = append(out, '\\')
		}
		out = append(out, r)
	}
	return string(out)
}
