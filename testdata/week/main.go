// Command week plays a week in one shop: two saws, two people on two shifts with a copy of each
// profile, who exchange them by import; nine swaps, one blade sharpened, one ring lost, one paper
// stale. It drives the built program in a pseudo-terminal, one of the two on the full screen and
// the other in plain lines, at saws that are simulated beside it, and prints what each saw and
// typed, with the keys. At the end the two copies have to be the same, byte for byte. The days are
// told by the script; what is recorded is dated by the machine.
//
//	go run ./testdata/week [-screens] [-keep FOLDER]
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/sawdatum/testdata/terminal"
)

func main() {
	screens := flag.Bool("screens", false, "print whole screens")
	keep := flag.String("keep", "", "keep everything in a new `folder`")
	flag.Parse()
	if err := run(os.Stdout, *screens, *keep); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// run plays the week and tells it; screens: with whole screens. What is kept goes to a new folder.
func run(out io.Writer, screens bool, keep string) error {
	folder := keep
	if keep == "" {
		var err error
		if folder, err = os.MkdirTemp("", "week"); err != nil {
			return err
		}
		defer os.RemoveAll(folder)
	} else if err := os.Mkdir(keep, 0o755); err != nil {
		return err
	}
	binary, err := terminal.Build(folder)
	if err != nil {
		return err
	}
	w := &week{shop: &shop{binary: binary, folder: folder, out: out, screens: screens}}
	return w.play()
}
