// Package terminal drives a program in a pseudo-terminal, as a person would: it
// looks at the screen and types. The tests and the programs under testdata use it.
package terminal

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// Terminal is a program that runs in a pseudo-terminal of its own.
type Terminal struct {
	Command  *exec.Cmd
	Emulator *vt.SafeEmulator // what a person sees
	tty      *os.File
	done     chan struct{} // closed when the program's last byte was read

	mu     sync.Mutex
	output []byte
	drawn  int            // how often the screen changed
	shown  int            // and how often it had when it was read last
	screen string         // what was read then
	chunks chan time.Time // when output came; dropped when nobody waits
}

// Build builds the program into a folder, as it is built for people, and gives its path.
func Build(dir string) (string, error) {
	path := filepath.Join(dir, "sawdatum")
	if out, err := exec.Command("go", "build", "-o", path, "example.com/sawdatum").CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w: %s", err, out)
	}
	return path, nil
}

// Start runs a command in a terminal of so many columns and rows. The terminal
// answers the questions that programs put to it, unless it is mute.
func Start(c *exec.Cmd, width, height int, mute bool) (*Terminal, error) {
	tty, err := pty.StartWithSize(c, &pty.Winsize{Cols: uint16(width), Rows: uint16(height)})
	if err != nil {
		return nil, err
	}
	t := &Terminal{Command: c, Emulator: vt.NewSafeEmulator(width, height), tty: tty,
		done: make(chan struct{}), chunks: make(chan time.Time, 1)}
	answers := io.Writer(tty)
	if mute {
		answers = io.Discard
	}
	go io.Copy(answers, t.Emulator)
	go t.read()
	return t, nil
}

func (t *Terminal) read() {
	defer close(t.done)
	buffer := make([]byte, 1<<16)
	for {
		n, err := t.tty.Read(buffer)
		if n > 0 {
			at := time.Now()
			t.mu.Lock()
			t.output = append(t.output, buffer[:n]...)
			t.mu.Unlock()
			t.Emulator.Write(buffer[:n])
			t.changed()
			select {
			case t.chunks <- at:
			default:
			}
		}
		if err != nil {
			return // on Linux EIO, when the program is gone
		}
	}
}

func (t *Terminal) changed() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.drawn++
}

// Screen is what stands on the screen, a line for each row, without colours.
func (t *Terminal) Screen() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.drawn > t.shown {
		t.screen, t.shown = text(t.Emulator), t.drawn
	}
	return t.screen
}

func text(screen *vt.SafeEmulator) string {
	var b strings.Builder
	for y := range screen.Height() {
		var row strings.Builder
		for x := 0; x < screen.Width(); {
			c := screen.CellAt(x, y)
			if c == nil || c.Width == 0 {
				row.WriteByte(' ')
				x++
				continue
			}
			row.WriteString(c.Content)
			x += c.Width
		}
		b.WriteString(strings.TrimRight(row.String(), " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// Output is every byte that the program has written.
func (t *Terminal) Output() string { return t.Since(0) }

// Since is what the program has written behind its first so many bytes.
func (t *Terminal) Since(from int) string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return string(t.output[from:])
}

// Wait waits until the screen is as wanted. The error shows the screen.
func (t *Terminal) Wait(what string, limit time.Duration, wanted func(screen string) bool) error {
	end := time.Now().Add(limit)
	for {
		screen := t.Screen()
		if wanted(screen) {
			return nil
		}
		if time.Now().After(end) {
			return fmt.Errorf("no %s within %s; the screen:\n%s", what, limit, screen)
		}
		t.Next(10 * time.Millisecond)
	}
}

// WaitFor waits until a text stands on the screen.
func (t *Terminal) WaitFor(text string, limit time.Duration) error {
	return t.Wait(fmt.Sprintf("%q", text), limit, func(s string) bool { return strings.Contains(s, text) })
}

// Type sends keys.
func (t *Terminal) Type(keys string) error {
	_, err := io.WriteString(t.tty, keys)
	return err
}

// Quiet forgets that output has come, so that Next waits for output after it.
func (t *Terminal) Quiet() {
	select {
	case <-t.chunks:
	default:
	}
}

// Next is when the next output comes; false when none comes within the limit.
func (t *Terminal) Next(limit time.Duration) (time.Time, bool) {
	select {
	case at := <-t.chunks:
		return at, true
	case <-time.After(limit):
		return time.Time{}, false
	}
}

// Resize gives the terminal another size.
func (t *Terminal) Resize(width, height int) error {
	t.Emulator.Resize(width, height)
	t.changed()
	return pty.Setsize(t.tty, &pty.Winsize{Cols: uint16(width), Rows: uint16(height)})
}

// Ended reports whether the program has ended and all its output was read.
func (t *Terminal) Ended() bool {
	select {
	case <-t.done:
		return true
	default:
		return false
	}
}

// Exit waits until the program has ended and all its output was read, and gives its
// exit status. A program that outlives the limit is killed.
func (t *Terminal) Exit(limit time.Duration) (int, error) {
	timer := time.AfterFunc(limit, func() { t.Command.Process.Kill() })
	t.Command.Wait()
	if !timer.Stop() {
		return -1, fmt.Errorf("%s did not end within %s; the screen:\n%s", t.Command.Args, limit, t.Screen())
	}
	<-t.done
	return t.Command.ProcessState.ExitCode(), nil
}

// Close ends the program if it still runs.
func (t *Terminal) Close() {
	t.Command.Process.Kill()
	t.Command.Wait()
	t.tty.Close()
}
