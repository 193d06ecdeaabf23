package profiles

import (
	"bytes"
	"os"
	"path/filepath"

	"example.com/sawdatum/profiles/text"
)

// Adopt writes the text of another copy in the place of this one where both say the same and
// nobody has touched the text of this one: what people have written beside the values there,
// comments and layout, comes along, and the two are the same file. False: nothing was to do.
func (f File) Adopt(theirs File) (bool, error) {
	same := text.SameHead(f.Profile, theirs.Profile) && len(f.Profile.Records) == len(theirs.Profile.Records) && continues(f.Profile.Records, theirs.Profile.Records)
	if !same || theirs.doc.Migrated || bytes.Equal(f.doc.Data, theirs.doc.Data) || text.Format(f.Profile) != string(f.doc.Data) {
		return false, nil
	}
	target := f.Path
	if t, err := filepath.EvalSymlinks(f.Path); err == nil {
		target = t
	}
	info, err := os.Stat(target)
	if err != nil {
		return false, vanished(f.Path, err)
	}
	unlock, err := lock(target)
	if err != nil {
		return false, err
	}
	defer unlock()
	if current, err := ReadFile(target); err != nil || !bytes.Equal(current, f.doc.Data) {
		return false, err // somebody saved meanwhile: it stays as it is
	}
	return true, ReplaceFile(target, theirs.doc.Data, info.Mode().Perm())
}
