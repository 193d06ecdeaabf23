//go:build unix

package main

import (
	"fmt"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.com/sawdatum/testdata/terminal"
)

// told sends signals to the program in a terminal, with a pause before each.
func told(t *testing.T, term *terminal.Terminal, signals ...os.Signal) {
	t.Helper()
	for _, s := range signals {
		time.Sleep(200 * time.Millisecond)
		if err := term.Command.Process.Signal(s); err != nil {
			t.Fatal(err)
		}
	}
}

const (
	alternate = "\x1b[?1049h" // another screen: xterm, ctlseqs
	normal    = "\x1b[?1049l"
)

// TestTheTerminalIsTakenAgain: who stops the program from outside has the terminal
// meanwhile. What the program knew of the saw's power is void, and it draws all anew.
func TestTheTerminalIsTakenAgain(t *testing.T) {
	t.Parallel()
	term := start(t, 80, 24, false, "practice", "--seed", "1")
	if err := term.WaitFor("Saw and cuts are simulated", patience); err != nil {
		t.Fatal(err)
	}
	for n := 2; n < 4; n++ {
		told(t, term, syscall.SIGSTOP, syscall.SIGCONT)
		again := func(string) bool { return strings.Count(term.Output(), alternate) == n }
		if err := term.Wait(fmt.Sprint("the terminal taken ", n, " times"), patience, again); err != nil {
			t.Fatalf("%v, but %d times", err, strings.Count(term.Output(), alternate))
		}
		if err := term.WaitFor("Saw and cuts are simulated", patience); err != nil {
			t.Fatal(err)
		}
	}
	if err := term.Type("\r"); err != nil {
		t.Fatal(err)
	}
	if err := term.WaitFor("You have read it", patience); err != nil {
		t.Fatal("it hears no key any more: ", err)
	}
}

// TestEndedFromOutside: the terminal is left as it was, and nothing is said of the
// program's insides.
func TestEndedFromOutside(t *testing.T) {
	t.Parallel()
	for name, end := range map[string]struct {
		signal os.Signal
		says   string
	}{"hung up": {syscall.SIGHUP, "Nothing was written: this was practice."}, "quit": {syscall.SIGQUIT, "ended from outside"}, "interrupted": {syscall.SIGINT, "ended from outside"}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			term := start(t, 80, 24, false, "practice", "--seed", "1")
			if err := term.WaitFor("Saw and cuts are simulated", patience); err != nil {
				t.Fatal(err)
			}
			told(t, term, end.signal)
			status, err := term.Exit(patience)
			_, after, left := strings.Cut(term.Output(), normal)
			if err != nil || status != answerNo || !left || !strings.Contains(after, end.says) || strings.Contains(after, "goroutine") {
				t.Errorf("status %d, %v, the terminal left %v: %q", status, err, left, after)
			}
		})
	}
	t.Run("ctrl+c in plain lines", func(t *testing.T) {
		t.Parallel()
		term := start(t, 80, 24, false, "practice", "--plain", "--seed", "1")
		if err := term.WaitFor("Question 1 of", patience); err != nil {
			t.Fatal(err)
		}
		if err := term.Type("\x03"); err != nil {
			t.Fatal(err)
		}
		if status, err := term.Exit(patience); err != nil || status != answerNo || !strings.Contains(term.Output(), "Nothing was written: this was practice.") {
			t.Errorf("status %d, %v: %q", status, err, term.Output())
		}
	})
	t.Run("quit in plain lines", func(t *testing.T) {
		t.Parallel()
		term := start(t, 80, 24, false, "practice", "--plain", "--seed", "1")
		if err := term.WaitFor("Question 1 of", patience); err != nil {
			t.Fatal(err)
		}
		if err := term.Type("\x1c"); err != nil { // ctrl+\
			t.Fatal(err)
		}
		if status, err := term.Exit(patience); err != nil || status == done || strings.Contains(term.Output(), "goroutine") {
			t.Errorf("status %d, %v: %q", status, err, term.Output())
		}
	})
}
