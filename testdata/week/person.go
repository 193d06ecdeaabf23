package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
)

// person is one of the two who share the saws, with a folder of profiles and a face that
// is liked better.
type person struct {
	initials string
	plain    bool
	folder   string
	habits   map[string]string // what is typed at a label where a saw has nothing to read
}

// shop is what the script plays in.
type shop struct {
	binary  string
	folder  string // of everything
	out     io.Writer
	screens bool // print every screen that was looked at
	tallies []tally
}

// tally is what one run of the program asked, and what it cost to answer.
type tally struct {
	who, command, face string
	answers, keys      int
	again, twice       int // answers that were questioned and typed once more, and their keys
	offered, offer     int // answers to the offer of a proof, where a blade is due, and their keys
	proof              bool
}

// environment is that of somebody at a terminal of the shop.
func (s *shop) environment(p person) []string {
	return []string{"PATH=" + os.Getenv("PATH"), "HOME=" + s.folder, "SAWDATUM_DIR=" + p.folder, "TERM=xterm-256color", "LANG=C.UTF-8"}
}

func (s *shop) say(format string, a ...any) { fmt.Fprintf(s.out, format+"\n", a...) }

// at has somebody run a command of the wizard at a saw, in a terminal, and answers there
// as the saw is. own are answers that differ, by label.
func (s *shop) at(p person, saw *saw, status int, own map[string]string, args ...string) (output string, err error) {
	command, face := append([]string{}, args...), "full screen"
	if p.plain {
		command, face = append(command, "--plain"), "plain lines"
	}
	s.say("\n%s  sawdatum %s  (%s)", p.initials, strings.Join(args, " "), face)
	c := exec.Command(s.binary, command...)
	c.Dir, c.Env = p.folder, s.environment(p)
	width, height := 80, 24
	if p.plain {
		width, height = 200, 60
	}
	t, err := terminal.Start(c, width, height, false)
	if err != nil {
		return "", err
	}
	defer t.Close()
	count := tally{who: p.initials, command: strings.Join(args, " "), face: face, proof: slices.Contains(args, "--prove")}
	hand := walk.Hand{Real: true}
	said := map[string]string{} // at this place
	answer := func(q walk.Question) string {
		if q.Opened {
			clear(said)
		}
		text, known := own[q.Label]
		if before, asked := said[q.Label]; asked && strings.Contains(q.Refused, "type the same again") {
			text, known = before, true
			count.again, count.twice = count.again+1, count.twice+utf8.RuneCountInString(text)+1
		}
		if !known {
			text, known = saw.read(q)
		}
		if !known {
			text, known = p.habits[q.Label]
		}
		if !known {
			text = hand.To(q)
		}
		if q.Label == "Your initials" {
			text = p.initials
		}
		if work := own["work"]; work != "" && q.Place == "Where every blade stands" {
			text, own["work"] = workLine+work, ""
		}
		if q.Label == "The blade stands still" {
			time.Sleep(time.Second) // a blade runs down
		}
		said[q.Label] = text
		saw.done(q, text)
		if q.Opened {
			s.say("   %s", q.Place)
			if s.screens && !p.plain {
				s.say("%s", indented(t.Screen()))
			}
		}
		if q.Refused != "" {
			s.say("      refused: %s", strings.TrimSpace(q.Refused))
		}
		keys := utf8.RuneCountInString(text) + 1 // and enter
		count.answers, count.keys = count.answers+1, count.keys+keys
		if q.Label == "With a proof" {
			count.offered, count.offer, count.proof = count.offered+1, count.offer+keys, text == "prove"
		}
		s.say("      %-58s  %-24s %3d", clipped(q.Label+" ("+q.Hint+")", 58), orEnter(text), keys)
		return text
	}
	var at walk.Face = &keyboard{walk.Full{Terminal: t}}
	if p.plain {
		at = &walk.Lines{Terminal: t}
	}
	if err := walk.Lead(at, answer, walk.Never); err != nil {
		return "", err
	}
	got, err := t.Exit(30 * time.Second)
	if err != nil {
		return "", err
	}
	if s.screens && p.plain {
		s.say("%s", indented(t.Output()))
	}
	s.say("   %d answers, %d keys, exit status %d", count.answers, count.keys, got)
	s.tallies = append(s.tallies, count)
	if got != status {
		return t.Output(), fmt.Errorf("exit status %d, want %d; the end:\n%s", got, status, tail(t.Output()))
	}
	return t.Output(), nil
}

// run has somebody run a command that answers and ends.
func (s *shop) run(p person, status int, args ...string) (string, error) {
	s.say("\n%s  sawdatum %s", p.initials, strings.Join(args, " "))
	c := exec.Command(s.binary, args...)
	c.Dir, c.Env = p.folder, s.environment(p)
	out, err := c.CombinedOutput()
	got := c.ProcessState.ExitCode()
	s.say("%s", indented(string(out)))
	if got != status {
		return string(out), fmt.Errorf("sawdatum %s: exit status %d, want %d: %v\n%s", strings.Join(args, " "), got, status, err, out)
	}
	return string(out), nil
}

// keyboard is the full screen, where other work has its key and a list.
type keyboard struct{ walk.Full }

const (
	workLine = "/work " // of the plain face
	workKey  = "\x1bOR" // F3
)

func (k *keyboard) Answer(text string) error {
	work, is := strings.CutPrefix(text, workLine)
	if !is {
		return k.Full.Answer(text)
	}
	if err := k.Terminal.Type(workKey); err != nil {
		return err
	}
	if err := k.Terminal.WaitFor("Number or name:", patience); err != nil {
		return err
	}
	for _, letter := range work {
		if err := k.Terminal.Type(string(letter)); err != nil {
			return err
		}
		time.Sleep(50 * time.Millisecond)
	}
	return k.Terminal.Type("\r")
}

func indented(text string) string {
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	return "      " + strings.Join(lines, "\n      ")
}

func clipped(text string, n int) string {
	if r := []rune(text); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return text
}

func orEnter(text string) string {
	if text == "" {
		return "(enter)"
	}
	return text
}

func tail(text string) string { return text[max(0, len(text)-3000):] }
