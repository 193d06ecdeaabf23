package sample

import "os"

// Posix: files have modes, anybody may make a link, and names take any character.
const (
	Posix    = false
	EvilName = "evil\u202e"
)

// Mkfifo makes a folder: there are no pipes among the files here, and it is no plain
// file either.
func Mkfifo(path string) error { return os.Mkdir(path, 0o700) }
