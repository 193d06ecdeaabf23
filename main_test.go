package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	// most tests wait for a program that waits for a person: they do so side by side
	flag.Set("test.parallel", "64")
	testscript.Main(m, map[string]func(){"sawdatum": main})
}

// TestScripts runs the scripts of the command line. In them, "exits N COMMAND" runs a
// command and checks its exit status.
func TestScripts(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("SAWDATUM_DIR", filepath.Join(e.WorkDir, "profiles"))
			e.Setenv("HOME", e.WorkDir)
			return nil
		},
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "walk": walked},
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}

func exits(ts *testscript.TestScript, _ bool, args []string) {
	err := ts.Exec(args[1], args[2:]...)
	status := "0"
	if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
		status = fmt.Sprint(exit.ExitCode())
	} else {
		ts.Check(err)
	}
	if status != args[0] {
		ts.Fatalf("exit status %s, want %s", status, args[0])
	}
}

// binary is the program as it is built for people.
var binary = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "sawdatum")
	if err != nil {
		return "", err
	}
	return terminal.Build(dir)
})

// start runs the built program in a terminal of its own, in a folder of its own.
func start(t *testing.T, width, height int, mute bool, args ...string) *terminal.Terminal {
	t.Helper()
	return startAs(t, "TERM=xterm-256color", width, height, mute, args...)
}

// startAs does so in a terminal that is known by these variables.
func startAs(t *testing.T, known string, width, height int, mute bool, args ...string) *terminal.Terminal {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(path, args...)
	c.Dir = t.TempDir()
	c.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + c.Dir, "SAWDATUM_DIR=" + c.Dir, "LANG=C.UTF-8"}
	c.Env = append(c.Env, strings.Fields(known)...)
	term, err := terminal.Start(c, width, height, mute)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(term.Close)
	return term
}

const patience = 30 * time.Second

// at is where a walk ends: at the question of this label.
func at(label string) func(walk.Question) bool {
	return func(q walk.Question) bool { return q.Label == label }
}

// TestSixteenColours reads what is sent to a terminal in practice until the saw was
// isolated and is live again: colours of the sixteen only, also where the terminal has
// more; attributes only where none are wanted or none are known of it.
func TestSixteenColours(t *testing.T) {
	t.Parallel()
	styles := regexp.MustCompile("\x1b\\[[0-9;:]*m")
	for known, want := range map[string]bool{"TERM=xterm-16color": true, "TERM=xterm-256color COLORTERM=truecolor": true, "TERM=screen": false, "TERM=xterm-256color NO_COLOR=1": false} {
		t.Run(known, func(t *testing.T) {
			t.Parallel()
			term := startAs(t, known, 100, 30, false, "practice", "--seed", "1")
			if err := walk.Screen(term, walk.Hand{}.To, at("Length of the gauge board")); err != walk.ErrStop {
				t.Fatal(err)
			}
			sent := styles.FindAllString(term.Output(), -1)
			slices.Sort(sent)
			sent = slices.Compact(sent)
			coloured, bold, reverse := false, false, false
			for _, style := range sent {
				for _, n := range strings.FieldsFunc(style, func(r rune) bool { return r < '0' || r > '9' }) {
					if n == "38" || n == "48" {
						t.Errorf("%q is not one of sixteen colours", style)
					}
					coloured = coloured || len(n) == 2 && n != "39" && (n[0] == '3' || n[0] == '9')
					bold, reverse = bold || n == "1", reverse || n == "7"
				}
			}
			if coloured != want || !bold || !reverse {
				t.Errorf("coloured %v, bold %v, reverse %v: %q", coloured, bold, reverse, sent)
			}
		})
	}
}

// walked runs a command of the wizard in a terminal and answers as an honest user
// would: "walk N LABEL=ANSWER... sawdatum ..." checks for exit status N.
func walked(ts *testscript.TestScript, _ bool, args []string) {
	hand, rest := walk.Hand{Own: map[string]string{}, Real: !slices.Contains(args, "practice")}, args[1:]
	for ; rest[0] != "sawdatum"; rest = rest[1:] {
		label, answer, _ := strings.Cut(rest[0], "=")
		hand.Own[label] = answer
	}
	path, err := binary()
	ts.Check(err)
	c := exec.Command(path, rest[1:]...)
	c.Dir = ts.MkAbs(".")
	c.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + ts.Getenv("HOME"), "SAWDATUM_DIR=" + ts.Getenv("SAWDATUM_DIR"), "TERM=xterm-256color", "LANG=C.UTF-8"}
	term, err := terminal.Start(c, 1000, 60, false) // no line is folded
	ts.Check(err)
	ts.Defer(term.Close)
	err = walk.Plain(term, hand.InTurn, func(q walk.Question) bool { return hand.Own[q.Label] == "KILL" })
	if errors.Is(err, walk.ErrStop) {
		term.Close()
		return
	}
	ts.Check(err)
	status, err := term.Exit(patience)
	ts.Check(err)
	fmt.Fprint(ts.Stdout(), term.Output())
	if fmt.Sprint(status) != args[0] {
		ts.Fatalf("exit status %d, want %s", status, args[0])
	}
}

// TestKilledWhileComparing kills a real setup in stage 10 and takes it up again: no
// reading is lost, and isolation is asked anew.
func TestKilledWhileComparing(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "shop.yaml")
	term := start(t, 200, 60, false, "practice", "--plain", "--seed", "1", "--keep", path)
	if err := walk.Plain(term, walk.Hand{}.To, at("Widths of strip 2")); err != walk.ErrStop {
		t.Fatal(err)
	}
	term.Close() // kill -9

	real := walk.Hand{Real: true, Own: map[string]string{"Widths of strip 2": "140.13 140.14 140.13"}}
	term = start(t, 80, 24, false, "setup", path)
	var asked []string
	first := []string(nil)
	written := func(q walk.Question) bool {
		if asked = append(asked, q.Label); first == nil {
			first = q.Saw
		}
		return q.Label == "Stop is pressed" && slices.Contains(asked, "Widths of strip 2") // for the next blade
	}
	if err := walk.Screen(term, real.To, written); err != walk.ErrStop {
		t.Fatal(err, asked)
	}
	if !slices.Contains(first, "POWER unknown: treat as live") {
		t.Errorf("the power is not unknown at the start: %q", first)
	}
	for _, label := range []string{"Your initials", "The fence is", "Blade that is on", "Start was pressed, nothing happened", "Guard on"} {
		if !slices.Contains(asked, label) {
			t.Errorf("hands go to the blade and %q was not asked; asked: %q", label, asked)
		}
	}
	time.Sleep(walk.Pause)
	if err := term.Type("0.1"); err != nil {
		t.Fatal(err)
	}
	if err := term.WaitFor("0.1", patience); err != nil {
		t.Fatal(err)
	}
	term.Close()

	f, err := profiles.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	var strips []string
	for _, r := range f.Profile.Records {
		if r.Kind == model.StripCut && r.Blade == "rip-24" {
			strips = append(strips, fmt.Sprint(r.Readings))
		}
	}
	if len(strips) != 2 || strips[1] != "[140.13 mm 140.14 mm 140.13 mm]" {
		t.Errorf("the strips of the rip: %s", strips)
	}
	if r := f.Profile.Records[len(f.Profile.Records)-1]; r.Kind != model.StripCut {
		t.Errorf("what was typed and not accepted is on record: %s", r.Kind)
	}
}

// TestLeftUnsavedOnTheFullScreen: status 1 and the reason, also there.
func TestLeftUnsavedOnTheFullScreen(t *testing.T) {
	t.Parallel()
	term := start(t, 80, 24, false, "practice", "--seed", "1", "--keep", filepath.Join("nowhere", "one.yaml"))
	if err := walk.Screen(term, walk.Hand{}.To, at("Flanges clean, no burrs, arbor marked")); err != walk.ErrStop {
		t.Fatal(err)
	}
	for _, wait := range []string{"NOT SAVED", "the last answers are not saved: "} {
		time.Sleep(walk.Pause)
		if err := term.Type("\x03"); err != nil {
			t.Fatal(err)
		}
		said := func(string) bool { return strings.Contains(term.Output(), wait) }
		if err := term.Wait(wait, patience, said); err != nil {
			t.Fatalf("%v; the screen:\n%s", err, term.Screen())
		}
	}
	if status, err := term.Exit(patience); err != nil || status != answerNo {
		t.Errorf("exit status %d, %v", status, err)
	}
}

// TestNoCommandWaitsForAMuteTerminal runs every command in a terminal that answers no
// question. A question that is waited for takes five seconds.
func TestNoCommandWaitsForAMuteTerminal(t *testing.T) {
	shop, err := filepath.Abs(filepath.Join("profiles", "demo.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{}, {"--version"}, {"--help"}, {"setup", "bay-two"}, {"setup", "bay-two", "--plain"}, {"blade", shop, "rip-24"}, {"swap", shop, "rip-24"}, {"prove", shop, "rip-24"}, {"isolate", shop},
		{"practice"}, {"practice", "--plain"}, {"plan", shop}, {"stack", "--want", "0.1mm", "--ring", "0.1mm"}, {"check", shop, "--json"},
		{"export", shop, "--as", "card"}, {"import", shop}, {"completion", "bash"}, {"man"},
	} {
		term := start(t, 80, 24, true, args...)
		seen := func(screen string) bool { return strings.TrimSpace(screen) != "" }
		if err := term.Wait("text", 4*time.Second, seen); err != nil {
			t.Errorf("sawdatum %s: %v", strings.Join(args, " "), err)
		}
		term.Close()
	}
}

// TestReportsFoldBetweenWords: on a terminal the lines of a report are no wider than it, and nothing is lost of
// them; lines that fit stay as they are.
func TestReportsFoldBetweenWords(t *testing.T) {
	if got := folded("> ", 60); got != "> " {
		t.Errorf("a prompt becomes %q", got)
	}
	report := "24-tooth rip, last record 2026-11-27: READY\n  rings     0.10 mm   knife 2.5\n      careful: the cut face lies 0.123 mm from the datum face, toward the fence\n\nlast\n"
	for width := 30; width < 100; width++ {
		got := folded(report, width)
		if !slices.Equal(strings.Fields(got), strings.Fields(report)) || !strings.HasSuffix(got, "\n\nlast\n") {
			t.Fatalf("at %d: %q", width, got)
		}
		for line := range strings.Lines(got) {
			if width >= narrowest && len(strings.TrimRight(line, "\n")) > width || strings.Contains(line, "knife") && line != "  rings     0.10 mm   knife 2.5\n" {
				t.Errorf("at %d: %q", width, line)
			}
		}
	}
	if got := folded(report, 60); !strings.Contains(got, "from the datum\n        face, toward the fence\n") {
		t.Errorf("what is folded stands below: %q", got)
	}
}
