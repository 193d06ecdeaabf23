package main

import (
	"errors"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/testdata/terminal"
	"example.com/sawdatum/testdata/walk"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"sawdatum": main})
}

// TestScripts runs the scripts of the command line. In them, "exits N COMMAND" runs a
// command and checks its exit status.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("SAWDATUM_DIR", filepath.Join(e.WorkDir, "profiles"))
			e.Setenv("HOME", e.WorkDir)
			return nil
		},
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
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
	path := filepath.Join(dir, "sawdatum")
	if out, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
})

// start runs the built program in a terminal of its own, in a folder of its own.
func start(t *testing.T, width, height int, mute bool, args ...string) *terminal.Terminal {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(path, args...)
	c.Dir = t.TempDir()
	c.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + c.Dir, "SAWDATUM_DIR=" + c.Dir, "TERM=xterm-256color", "LANG=C.UTF-8"}
	term, err := terminal.Start(c, width, height, mute)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(term.Close)
	return term
}

const patience = 30 * time.Second

// TestPracticeOnTheFullScreen walks through a whole practice setup, as a person does,
// and looks at what was kept.
func TestPracticeOnTheFullScreen(t *testing.T) {
	kept := filepath.Join(t.TempDir(), "kept.yaml")
	term := start(t, 80, 24, false, "practice", "--seed", "1", "--keep", kept)
	if err := walk.Screen(term, nil, walk.Never, func(string) {}); err != nil {
		t.Fatal(err)
	}
	status, err := term.Exit(patience)
	if err != nil || status != done {
		t.Fatalf("exit status %d, %v; the screen:\n%s", status, err, term.Screen())
	}
	f, err := profiles.Read(kept)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range solver.Plan(f.Profile).Blades {
		// the thin blade's kerf is thinner than the only knife
		if want := row.ID != "thin-40"; row.Ready != want {
			t.Errorf("%s ready: %v, want %v", row.ID, row.Ready, want)
		}
	}
}
