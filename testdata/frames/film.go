package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"

	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

// film draws every question of practice, as it is asked and as it is answered, into a
// folder: to be looked at, page after page.
func film(c *exec.Cmd, g ground, size [2]int, hand walk.Hand, to string) error {
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	t, err := terminal.Start(c, size[0], size[1], false)
	if err != nil {
		return err
	}
	defer t.Close()
	shots := 0
	shoot := func(name string) error {
		shots++
		file := filepath.Join(to, fmt.Sprintf("%03d-%s", shots, unfit.ReplaceAllString(strings.ToLower(name), "-")))
		return errors.Join(os.WriteFile(file+".svg", []byte(picture(t.Emulator, g)), 0o644), os.WriteFile(file+".txt", []byte(t.Screen()), 0o644))
	}
	full := &walk.Full{Terminal: t}
	watched := &watched{full, shoot, ""}
	full.Typed = func() error { return shoot(watched.at + " typed") }
	full.Tour = func() error { return shoot("tour") }
	err = walk.Lead(watched, hand.InTurn, walk.Never)
	return errors.Join(err, shoot("end"))
}

var unfit = regexp.MustCompile(`[^a-z0-9]+`)

// watched is a face whose questions are looked at.
type watched struct {
	*walk.Full
	shoot func(name string) error
	at    string
}

func (w *watched) Next() (walk.Question, error) {
	q, err := w.Full.Next()
	if err != nil {
		return q, err
	}
	w.at = q.Place + " " + q.Label
	return q, w.shoot(w.at)
}
