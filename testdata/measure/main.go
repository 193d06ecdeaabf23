// Command measure times the program as a person meets it, against an empty program
// of the same library, in one run:
//
//	go run ./testdata/measure
//
// It needs a system with pseudo-terminals. Its figures are medians unless they say
// otherwise, and the two programs take turns, so that both see the same machine.
package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/testdata/terminal"
)

const (
	starts    = 31
	keys      = 200
	patience  = 20 * time.Second
	mostMute  = time.Second // an unanswered question to the terminal takes five
	profile   = "profiles/demo.yaml"
	pause     = 500 * time.Millisecond // a new screen takes no key that was under way
	firstText = "practi"               // on the start screen
)

// measurement is what all parts need: the two built programs, and a folder with a
// profile of the invented shop.
type measurement struct {
	ours, empty, dir, shop string
}

func main() {
	if err := measure(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func measure() error {
	dir, err := os.MkdirTemp("", "measure")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	m := measurement{filepath.Join(dir, "sawdatum"), filepath.Join(dir, "empty"), dir, filepath.Join(dir, "shop.yaml")}
	for out, from := range map[string]string{m.ours: ".", m.empty: "./testdata/measure/empty"} {
		if b, err := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", out, from).CombinedOutput(); err != nil {
			return fmt.Errorf("%w: %s", err, b)
		}
	}
	text, err := os.ReadFile(profile)
	if err != nil {
		return err
	}
	if err := os.WriteFile(m.shop, text, 0o600); err != nil {
		return err
	}
	for _, part := range []func() error{m.plan, m.firstFrame, m.mute, m.keyToFrame} {
		if err := part(); err != nil {
			return err
		}
	}
	return nil
}

func (m measurement) command(program string, args ...string) *exec.Cmd {
	c := exec.Command(program, args...)
	c.Env = []string{"PATH=" + os.Getenv("PATH"), "HOME=" + m.dir, "SAWDATUM_DIR=" + m.dir, "TERM=xterm-256color", "LANG=C.UTF-8"}
	return c
}

// plan is how long the plan of the invented shop takes: the whole process, and what
// of it goes beyond starting the program.
func (m measurement) plan() error {
	var whole, start []time.Duration
	for range starts {
		for _, run := range []struct {
			into *[]time.Duration
			args []string
		}{{&start, []string{"--version"}}, {&whole, []string{"plan", m.shop, "--json"}}} {
			begin := time.Now()
			out, err := m.command(m.ours, run.args...).Output()
			if len(out) == 0 {
				return fmt.Errorf("%v: %w", run.args, err)
			}
			*run.into = append(*run.into, time.Since(begin))
		}
	}
	fmt.Printf("plan of the shop      %6.1f ms for the process, %.1f ms of it to start and end (--version): %.1f ms for the plan; goal under 10\n",
		ms(median(whole)), ms(median(start)), ms(median(whole)-median(start)))
	return nil
}

// firstFrame is the time from starting a process to its first whole frame.
func (m measurement) firstFrame() error {
	var ours, empty []time.Duration
	for range starts {
		for _, run := range []struct {
			into    *[]time.Duration
			program string
			text    string
		}{{&empty, m.empty, "ready 0"}, {&ours, m.ours, firstText}} {
			took, err := m.untilText(m.command(run.program), 80, 24, run.text)
			if err != nil {
				return err
			}
			*run.into = append(*run.into, took)
		}
	}
	fmt.Printf("first frame           %6.1f ms, empty program %.1f ms: ratio %.2f; goal at most 2.5\n",
		ms(median(ours)), ms(median(empty)), float64(median(ours))/float64(median(empty)))
	return nil
}

func (m measurement) untilText(c *exec.Cmd, width, height int, text string) (time.Duration, error) {
	begin := time.Now()
	t, err := terminal.Start(c, width, height, false)
	if err != nil {
		return 0, err
	}
	defer t.Close()
	for !strings.Contains(strings.ToLower(t.Output()), text) {
		at, ok := t.Next(patience)
		if !ok {
			return 0, fmt.Errorf("no %q; the screen:\n%s", text, t.Screen())
		}
		if strings.Contains(strings.ToLower(t.Output()), text) {
			return at.Sub(begin), nil
		}
	}
	return time.Since(begin), nil
}

// mute runs every command in a terminal that answers no question.
func (m measurement) mute() error {
	slowest := time.Duration(0)
	for _, args := range [][]string{
		{"--version"}, {"--help"}, {"plan", m.shop}, {"check", m.shop, "--json"}, {"export", m.shop, "--as", "card"}, {"import", m.shop},
		{"stack", "--want", "0.35mm", "--ring", "0.10mm", "--ring", "0.25mm"}, {"completion", "bash"}, {"man"},
		{}, {"practice"}, {"practice", "--plain"}, {"setup", m.shop}, {"setup", m.shop, "--plain"}, {"blade", m.shop, "rip-24"}, {"isolate", m.shop},
	} {
		begin := time.Now()
		t, err := terminal.Start(m.command(m.ours, args...), 80, 24, true)
		if err != nil {
			return err
		}
		err = t.Wait("text", mostMute, func(screen string) bool { return strings.TrimSpace(screen) != "" })
		slowest = max(slowest, time.Since(begin))
		t.Close()
		if err != nil {
			return fmt.Errorf("sawdatum %s: %w", strings.Join(args, " "), err)
		}
	}
	fmt.Printf("mute terminal         %6.1f ms to the first text of the slowest of all commands; a wait would be 5000\n", ms(slowest))
	return nil
}

// keyToFrame is the time from a key to the output that follows it, in a field with
// a drawing beside it, and the processor time that one key costs.
func (m measurement) keyToFrame() error {
	ours, oursCPU, err := m.typing(m.command(m.ours, "practice", "--seed", "1"), "all of it is laid out", "k", "\x7f")
	if err != nil {
		return err
	}
	empty, emptyCPU, err := m.typing(m.command(m.empty), "ready 0", "a", "b")
	if err != nil {
		return err
	}
	p99 := func(d []time.Duration) time.Duration { return d[len(d)*99/100] }
	fmt.Printf("key to frame, 200x60  %6.1f ms median, %.1f ms p99; empty program %.1f and %.1f ms; goal within a frame (16.7 ms)\n",
		ms(median(ours)), ms(p99(ours)), ms(median(empty)), ms(p99(empty)))
	fmt.Printf("processor per frame   %6.2f ms; empty program %.2f ms; goal under 2\n", ms(oursCPU), ms(emptyCPU))
	return nil
}

// typing sends two keys in turn, at times that keep no step with the frames. The
// processor time is what the same run without keys does not take.
func (m measurement) typing(c *exec.Cmd, ready string, pair ...string) (latencies []time.Duration, perKey time.Duration, err error) {
	idle := *c
	without, _, err := m.session(&idle, ready)
	if err != nil {
		return nil, 0, err
	}
	with, latencies, err := m.session(c, ready, pair...)
	slices.Sort(latencies)
	return latencies, (with - without) / keys, err
}

func (m measurement) session(c *exec.Cmd, ready string, pair ...string) (cpu time.Duration, latencies []time.Duration, err error) {
	t, err := terminal.Start(c, 200, 60, false)
	if err != nil {
		return 0, nil, err
	}
	defer t.Close()
	if err := t.Wait("first screen", patience, func(s string) bool { return strings.TrimSpace(s) != "" }); err != nil {
		return 0, nil, err
	}
	if strings.Contains(t.Screen(), "enter go on") { // the words before the first step
		time.Sleep(pause)
		if err := t.Type("\r"); err != nil {
			return 0, nil, err
		}
	}
	if err := t.Wait(ready, patience, func(s string) bool { return strings.Contains(strings.ToLower(s), ready) }); err != nil {
		return 0, nil, err
	}
	time.Sleep(time.Second) // for what a start still has to do
	random := rand.New(rand.NewPCG(1, 1))
	for i := range keys {
		time.Sleep(40*time.Millisecond + time.Duration(random.IntN(16667))*time.Microsecond)
		if len(pair) == 0 {
			continue
		}
		t.Quiet()
		begin := time.Now()
		if err := t.Type(pair[i%len(pair)]); err != nil {
			return 0, nil, err
		}
		at, ok := t.Next(2 * time.Second)
		if !ok {
			return 0, nil, fmt.Errorf("no frame after key %d; the screen:\n%s", i+1, t.Screen())
		}
		latencies = append(latencies, at.Sub(begin))
	}
	t.Close()
	return t.Command.ProcessState.SystemTime() + t.Command.ProcessState.UserTime(), latencies, nil
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }

func median(d []time.Duration) time.Duration {
	sorted := slices.Sorted(slices.Values(d))
	return sorted[len(sorted)/2]
}
