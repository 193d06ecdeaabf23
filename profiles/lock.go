package profiles

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"

	"example.com/sawdatum/profiles/text"
)

// lockPatience is how long a save waits for another one, sharePatience how long for the
// account that has just made the lock to let others have it too.
var lockPatience, sharePatience = 10 * time.Second, time.Second

// lock keeps other programs from saving the same profile at the same time. The lock
// is a file beside the profile: the profile itself is another file after each save.
// It is never removed, every account may have it, and the system frees it when its
// holder dies. Without a lock nothing is saved: another's records could be lost.
func lock(path string) (unlock func(), err error) {
	name := filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock")
	l := flock.New(name, flock.SetPermissions(0o666))
	ctx, cancel := context.WithTimeout(context.Background(), lockPatience)
	defer cancel()
	for begun := time.Now(); ; time.Sleep(5 * time.Millisecond) {
		if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
			return nil, &DiskError{Path: name, Err: errors.New("is no plain file, and saves wait for each other by it"), Cure: "move it away, then save again"}
		}
		ok, err := l.TryLockContext(ctx, 5*time.Millisecond)
		switch {
		case ok:
			_ = os.Chmod(name, 0o666) // whatever the mask of the account; it can where it made the file
			return func() { _ = l.Close() }, nil
		case errors.Is(err, context.DeadlineExceeded):
			return nil, fmt.Errorf("%s: another program has been saving it for %s: close that, then save again", text.Show(path), lockPatience)
		case errors.Is(err, fs.ErrNotExist):
			return nil, Explain(path, err)
		case !errors.Is(err, fs.ErrPermission) || time.Since(begun) > sharePatience:
			return nil, unlocked(path, name, err)
		}
	}
}

// unlocked says that there is no lock, and so no save.
func unlocked(path, lock string, err error) error {
	e := Explain(path, err).(*DiskError)
	e.Err = fmt.Errorf("not saved, since %s cannot be locked against other programs: %w", text.Show(filepath.Base(lock)), e.Err)
	if e.Cure == lookAround {
		e.Cure = "save on a drive that has locks"
	}
	return e
}
