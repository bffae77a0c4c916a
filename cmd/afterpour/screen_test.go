//go:build !windows

package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

func TestSpeaksUTF8(t *testing.T) {
	for name, tc := range map[string]struct {
		env  map[string]string
		want bool
	}{
		"nothing set":        {nil, true},
		"C":                  {map[string]string{"LANG": "C"}, false},
		"POSIX":              {map[string]string{"LC_CTYPE": "POSIX", "LANG": "de_DE.UTF-8"}, false},
		"C.UTF-8":            {map[string]string{"LANG": "C.UTF-8"}, true},
		"C.utf8":             {map[string]string{"LC_ALL": "C.utf8"}, true},
		"ordinary":           {map[string]string{"LANG": "en_GB.UTF-8"}, true},
		"LC_ALL decides":     {map[string]string{"LC_ALL": "C", "LANG": "en_GB.UTF-8"}, false},
		"an empty one is no": {map[string]string{"LC_ALL": "", "LANG": "C"}, false},
	} {
		t.Run(name, func(t *testing.T) {
			if got := speaksUTF8(func(key string) string { return tc.env[key] }); got != tc.want {
				t.Errorf("speaksUTF8(%v) = %t, want %t", tc.env, got, tc.want)
			}
		})
	}
}

func TestTheme(t *testing.T) {
	call(t, "--theme", "plaid").want(t, exitUsage)
}

// session is the program in a pseudo-terminal that somebody sits at.
type session struct {
	cmd      *exec.Cmd
	terminal *os.File
	mu       sync.Mutex
	written  bytes.Buffer
	done     chan struct{}
}

func startSession(t *testing.T, environment ...string) *session {
	t.Helper()
	s := &session{cmd: exec.Command(builtProgram(t)), done: make(chan struct{})}
	s.cmd.Dir = t.TempDir()
	s.cmd.Env = append(append(os.Environ(), "TERM=xterm-256color"), environment...)
	terminal, err := pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	s.terminal = terminal
	t.Cleanup(func() { terminal.Close(); _ = s.cmd.Process.Kill() })
	go func() {
		defer close(s.done)
		_, _ = io.Copy(s, terminal)
	}()
	return s
}

// Write collects what the program writes.
func (s *session) Write(data []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.written.Write(data)
}

func (s *session) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.written.String()
}

// await waits until the program has written a text.
func (s *session) await(t *testing.T, text string) {
	t.Helper()
	for deadline := time.Now().Add(10 * time.Second); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		if strings.Contains(s.text(), text) {
			return
		}
	}
	t.Fatalf("%q did not come:\n%q", text, s.text())
}

// end waits for the program and returns its exit code.
func (s *session) end(t *testing.T) int {
	t.Helper()
	timer := time.AfterFunc(10*time.Second, func() { _ = s.cmd.Process.Kill() })
	defer timer.Stop()
	err := s.cmd.Wait()
	<-s.done
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return exit.ExitCode()
	}
	if err != nil {
		t.Fatal(err)
	}
	return 0
}

const (
	intoScreen = "\x1b[?1049h"
	outOfIt    = "\x1b[?1049l"
)

// In a terminal the program opens the screen; every way out restores the
// terminal and gives the right exit code.
func TestScreenEnds(t *testing.T) {
	for name, tc := range map[string]struct {
		end  func(*session) error
		code int
	}{
		"q":         {func(s *session) error { _, err := s.terminal.WriteString("q"); return err }, 0},
		"ctrl+c":    {func(s *session) error { _, err := s.terminal.WriteString("\x03"); return err }, 130},
		"terminate": {func(s *session) error { return s.cmd.Process.Signal(syscall.SIGTERM) }, 143},
		"hang up":   {func(s *session) error { return s.cmd.Process.Signal(syscall.SIGHUP) }, 129},
	} {
		t.Run(name, func(t *testing.T) {
			s := startSession(t)
			s.await(t, intoScreen)
			time.Sleep(500 * time.Millisecond) // the first frame with figures
			if err := tc.end(s); err != nil {
				t.Fatal(err)
			}
			if code := s.end(t); code != tc.code {
				t.Errorf("exit code %d, want %d\n%q", code, tc.code, s.text())
			}
			if !strings.Contains(s.text(), outOfIt) {
				t.Errorf("the terminal was not restored: %q", s.text())
			}
		})
	}
}

// A terminal that can only print gets the standings.
func TestDumbTerminal(t *testing.T) {
	s := startSession(t, "TERM=dumb")
	if code := s.end(t); code != 0 {
		t.Errorf("exit code %d", code)
	}
	if text := s.text(); !strings.Contains(text, "Verdict: ") || strings.Contains(text, "\x1b") {
		t.Errorf("got %q", text)
	}
}
