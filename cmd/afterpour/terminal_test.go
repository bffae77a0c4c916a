//go:build !windows

package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// built is the program, built once for all tests that need a process.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "afterpour-built-")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "afterpour")
	cmd := exec.Command("go", "build", "-o", path, ".")
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", errors.New(string(out))
	}
	return path, nil
})

func builtProgram(t testing.TB) string {
	t.Helper()
	path, err := built()
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// inMuteTerminal runs the program in a pseudo-terminal that never answers a
// question, and returns all that it wrote there and how long it took.
func inMuteTerminal(t testing.TB, args ...string) (string, time.Duration) {
	t.Helper()
	cmd := exec.Command(builtProgram(t), args...)
	cmd.Dir = t.TempDir()
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "COLORTERM=truecolor", "NO_COLOR=")
	begun := time.Now()
	terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	defer terminal.Close()
	var written bytes.Buffer
	done := make(chan struct{})
	go func() {
		defer close(done)
		_, _ = io.Copy(&written, terminal) // ends with EIO when the program does
	}()
	err = cmd.Wait()
	took := time.Since(begun)
	<-done
	if err != nil {
		t.Fatalf("%q: %v\n%s", args, err, written.String())
	}
	return written.String(), took
}

// The limit is far above what the program needs (see BenchmarkStart) and far
// below the five seconds that an unanswered question to the terminal costs.
const startLimit = 2 * time.Second

func TestMuteTerminal(t *testing.T) {
	lot := sampleFile(t)
	for name, args := range map[string][]string{
		"version": {"--version"}, "help": {"--help"}, "rank": {"rank", lot}, "work": {"work", "mass", "AgCl"},
	} {
		t.Run(name, func(t *testing.T) {
			written, took := inMuteTerminal(t, args...)
			if took > startLimit {
				t.Errorf("%q took %v in a terminal that never answers, want less than %v", args, took, startLimit)
			}
			if bytes.ContainsRune([]byte(written), '\x1b') {
				t.Errorf("%q wrote an escape byte: %q", args, written)
			}
			if written == "" {
				t.Errorf("%q wrote nothing", args)
			}
		})
	}
}

// TestGroundGoesFirst reads the order of initialisation from the runtime: the
// cure for the stall works only if it comes before the terminal toolkit.
func TestGroundGoesFirst(t *testing.T) {
	cmd := exec.Command(builtProgram(t), "--version")
	cmd.Env = append(os.Environ(), "GODEBUG=inittrace=1")
	trace, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatal(err)
	}
	cure := regexp.MustCompile(`(?m)^init afterpour/cmd/internal/ground `).FindIndex(trace)
	toolkit := regexp.MustCompile(`(?m)^init github.com/charmbracelet/bubbletea `).FindIndex(trace)
	if cure == nil {
		t.Fatalf("the cure for the stall is not in the program:\n%s", trace)
	}
	if toolkit != nil && toolkit[0] < cure[0] {
		t.Errorf("the terminal toolkit initialises before the cure for its stall:\n%s", trace)
	}
}

// TestClosedPipe closes standard output before the program writes to it, as
// `| head -1` does: the program may end, but without a stack trace.
func TestClosedPipe(t *testing.T) {
	read, write, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	read.Close()
	cmd := exec.Command(builtProgram(t), "rank", sampleFile(t))
	var stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = write, &stderr
	err = cmd.Run()
	write.Close()
	var exit *exec.ExitError
	if !errors.As(err, &exit) {
		t.Fatalf("a closed pipe went unnoticed: %v", err)
	}
	status, _ := exit.Sys().(syscall.WaitStatus)
	if bytes.Contains(stderr.Bytes(), []byte("goroutine")) || bytes.Contains(stderr.Bytes(), []byte("panic")) {
		t.Errorf("closed pipe: status %v, stderr %s", status, stderr.String())
	}
}

// TestSignals ends the program while it waits for standard input.
func TestSignals(t *testing.T) {
	for name, tc := range map[string]struct {
		signal syscall.Signal
		code   int
	}{"interrupt": {syscall.SIGINT, 130}, "terminate": {syscall.SIGTERM, 143}, "hang up": {syscall.SIGHUP, 129}} {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command(builtProgram(t), "rank", "-")
			stdin, err := cmd.StdinPipe()
			if err != nil {
				t.Fatal(err)
			}
			defer stdin.Close()
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(300 * time.Millisecond) // it must have come to reading
			if err := cmd.Process.Signal(tc.signal); err != nil {
				t.Fatal(err)
			}
			timer := time.AfterFunc(5*time.Second, func() { _ = cmd.Process.Kill() })
			defer timer.Stop()
			var exit *exec.ExitError
			if err := cmd.Wait(); !errors.As(err, &exit) || exit.ExitCode() != tc.code {
				t.Errorf("after %v: %v, want exit code %d", tc.signal, err, tc.code)
			}
		})
	}
}

// BenchmarkStart measures a call from start to end in a terminal that never
// answers; the aim is a few tens of milliseconds.
func BenchmarkStart(b *testing.B) {
	for range b.N {
		inMuteTerminal(b, "--version")
	}
}
