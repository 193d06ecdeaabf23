package profiles

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// TestSyncedBeforeItReplaces looks over the shoulder of a program that replaces a file: the
// new one is on the disk before it takes the name, and the name before the save is told as
// done (fsync(2), rename(2): a name may otherwise reach the disk before the text). No test
// that kills a program can see this, since the system goes on.
func TestSyncedBeforeItReplaces(t *testing.T) {
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "bay.yaml")
	if err := os.WriteFile(path, []byte("old\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	done, err := traced(t, path)
	if errors.Is(err, syscall.EPERM) {
		t.Skip("nobody may trace here")
	}
	if err != nil {
		t.Fatal(err)
	}
	for i, what := range done {
		if strings.HasPrefix(what, "sync .bay.yaml.") {
			done[i] = "sync the new file"
		}
	}
	if want := []string{"sync the new file", "rename", "sync the folder"}; !slices.Equal(done, want) {
		t.Errorf("%q, want %q", done, want)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "new\n" {
		t.Errorf("the file reads %q, %v", text, err)
	}
}

// traced runs a program that replaces a file, and lists the calls that make things last.
func traced(t *testing.T, path string) (done []string, err error) {
	runtime.LockOSThread() // one thread traces from first to last
	defer runtime.UnlockOSThread()
	c := program(t, "replace", path)
	c.SysProcAttr = &syscall.SysProcAttr{Ptrace: true, Setpgid: true}
	if err := c.Start(); err != nil {
		return nil, err
	}
	main := c.Process.Pid
	defer func() {
		_ = c.Process.Kill()
		_ = c.Process.Release()
	}()
	const sysgood, wall = 1, 0x40000000 // ptrace(2), waitpid(2)
	entered := map[int]bool{}
	for first := true; ; first = false {
		var status syscall.WaitStatus
		thread, err := syscall.Wait4(-main, &status, wall, nil)
		switch {
		case errors.Is(err, syscall.EINTR):
			continue
		case err != nil:
			return done, fmt.Errorf("wait: %w", err)
		case status.Exited() && thread == main:
			if status.ExitStatus() != 0 {
				return done, fmt.Errorf("exit status %d", status.ExitStatus())
			}
			return done, nil
		case !status.Stopped():
			continue
		}
		signal := 0
		switch got := status.StopSignal(); {
		case first:
			if err := syscall.PtraceSetOptions(main, sysgood|syscall.PTRACE_O_TRACECLONE); err != nil {
				return done, err
			}
		case got == syscall.SIGTRAP|0x80:
			if entered[thread] = !entered[thread]; entered[thread] {
				if what := lasting(thread, filepath.Dir(path)); what != "" {
					done = append(done, what)
				}
			}
		case got != syscall.SIGTRAP && got != syscall.SIGSTOP:
			signal = int(got)
		}
		if err := syscall.PtraceSyscall(thread, signal); err != nil && !errors.Is(err, syscall.ESRCH) {
			return done, err
		}
	}
}

// lasting names the call that a thread enters, if it is one of those that matter.
func lasting(thread int, folder string) string {
	var r syscall.PtraceRegs
	if syscall.PtraceGetRegs(thread, &r) != nil {
		return ""
	}
	switch r.Orig_rax {
	case syscall.SYS_FSYNC, syscall.SYS_FDATASYNC:
		name, _ := os.Readlink(fmt.Sprintf("/proc/%d/fd/%d", thread, r.Rdi))
		if name == folder {
			return "sync the folder"
		}
		return "sync " + filepath.Base(name)
	case syscall.SYS_RENAME, syscall.SYS_RENAMEAT, 316: // renameat2
		return "rename"
	}
	return ""
}
