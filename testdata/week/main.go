package main

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
)

func main() {
	screens := flag.Bool("screens", false, "print whole screens")
	keep := flag.String("keep", "", "keep everything in a new `folder`")
	flag.Parse()
	if err := run(*screens, *keep); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(screens bool, keep string) error {
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
	binary := filepath.Join(folder, "sawdatum")
	if out, err := exec.Command("go", "build", "-o", binary, "example.com/sawdatum").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	w := &week{shop: &shop{binary: binary, folder: folder, out: os.Stdout, screens: screens}}
	return w.play()
}
