package profiles

import "os"

// posix: files have modes, anybody may make a link, and names take any character.
const (
	posix    = false
	evilName = "evil\u202e"
)

// mkfifo makes a folder: there are no pipes among the files here, and it is no plain
// file either.
func mkfifo(path string) error { return os.Mkdir(path, 0o700) }
