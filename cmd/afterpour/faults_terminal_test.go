//go:build !windows

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"

	"afterpour/econ"
)

// terminal is the program in a terminal that answers, with somebody's files.
type terminal struct {
	t      *testing.T
	dir    string
	cmd    *exec.Cmd
	master *os.File
	screen *vt.SafeEmulator
	ended  chan error

	mu  sync.Mutex
	raw bytes.Buffer // all that the program wrote
}

// inFolder makes a folder with the first sample lot and the shipped book.
func inFolder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	sample, err := sampleLot()
	if err != nil {
		t.Fatal(err)
	}
	mustWrite(t, filepath.Join(dir, "lot.toml"), string(sample.data))
	mustWrite(t, filepath.Join(dir, "prices.toml"), string(econ.DefaultBook()))
	return dir
}

// openTerminal starts the program on the lot of a folder.
func openTerminal(t *testing.T, dir string) *terminal {
	t.Helper()
	return inTerminal(t, dir, exec.Command(builtProgram(t), "lot.toml"))
}

// inTerminal runs a command in a folder and a terminal.
func inTerminal(t *testing.T, dir string, cmd *exec.Cmd) *terminal {
	t.Helper()
	s := &terminal{t: t, dir: dir, screen: vt.NewSafeEmulator(100, 30), ended: make(chan error, 1), cmd: cmd}
	s.cmd.Dir = dir
	s.cmd.Env = append(os.Environ(), "TERM=xterm-256color", "LANG=C.UTF-8", "HOME="+dir,
		"XDG_CONFIG_HOME="+filepath.Join(dir, "config"), "XDG_STATE_HOME="+filepath.Join(dir, "state"))
	var err error
	if s.master, err = pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 30, Cols: 100}); err != nil {
		t.Fatal(err)
	}
	go func() { _, _ = io.Copy(s, s.master) }()
	go func() { _, _ = io.Copy(s.master, s.screen) }() // the terminal's answers
	go func() { s.ended <- s.cmd.Wait() }()
	t.Cleanup(func() { _ = s.cmd.Process.Kill(); _ = s.master.Close() })
	return s
}

// Write takes what the program writes to the screen and keeps it.
func (s *terminal) Write(p []byte) (int, error) {
	s.mu.Lock()
	s.raw.Write(p)
	s.mu.Unlock()
	return s.screen.Write(p)
}

func (s *terminal) written() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.raw.String()
}

func (s *terminal) text() string { return ansi.Strip(s.screen.Render()) }

// until waits for a text on the screen, and returns how long that took.
func (s *terminal) until(limit time.Duration, texts ...string) time.Duration {
	s.t.Helper()
	for begun := time.Now(); ; time.Sleep(5 * time.Millisecond) {
		view, missing := s.text(), ""
		for _, want := range texts {
			if !strings.Contains(view, want) {
				missing = want
			}
		}
		took := time.Since(begun)
		if missing == "" {
			return took
		}
		if took > limit {
			s.t.Fatalf("%q did not come in %v; the screen shows\n%s", missing, limit, view)
		}
	}
}

// ready waits for the first figures.
func (s *terminal) ready() *terminal {
	s.t.Helper()
	s.until(30*time.Second, "[2 Standings]", "net USD")
	return s
}

func (s *terminal) press(keys string) {
	s.t.Helper()
	if _, err := s.master.WriteString(keys); err != nil {
		s.t.Fatal(err)
	}
	time.Sleep(30 * time.Millisecond)
}

// exit waits for the program and returns its exit code.
func (s *terminal) exit() int {
	s.t.Helper()
	select {
	case err := <-s.ended:
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			s.t.Fatal(err)
		}
		return s.cmd.ProcessState.ExitCode()
	case <-time.After(20 * time.Second):
		s.t.Fatalf("the program does not end; the screen shows\n%s", s.text())
		return -1
	}
}

// edit changes the price of silver without saving.
func (s *terminal) edit(price string) {
	s.t.Helper()
	s.press("5")
	s.until(10*time.Second, "[5 Prices]")
	s.press("\r")
	s.press("\x15")
	s.press(price)
	s.until(10*time.Second, price)
	s.press("\r")
	s.until(10*time.Second, "not saved")
}

// TestFaultResizes: five hundred sizes within a second or so lose nothing, and
// the frame of the last size is there within 100 ms, or what a busy machine
// makes of that.
func TestFaultResizes(t *testing.T) {
	s := openTerminal(t, inFolder(t)).ready()
	random := rand.New(rand.NewPCG(5, 5))
	for range 500 {
		s.resize(1+random.IntN(200), 1+random.IntN(60))
		time.Sleep(time.Millisecond)
	}
	s.resize(41, 13)
	s.until(5*time.Second, "41")
	s.screen.Resize(100, 30)
	took := s.resizeUntil(100, 30, "[2 Standings]", "net USD")
	t.Logf("the frame after the last size was there after %v", took.Round(time.Millisecond))
	if took > time.Duration(rounds(2000, 100))*time.Millisecond {
		t.Errorf("the last frame took %v", took)
	}
	s.press("q")
	if code := s.exit(); code != exitDone {
		t.Errorf("exit code %d", code)
	}
}

func (s *terminal) resize(width, height int) {
	s.t.Helper()
	if err := pty.Setsize(s.master, &pty.Winsize{Rows: uint16(height), Cols: uint16(width)}); err != nil {
		s.t.Fatal(err)
	}
}

func (s *terminal) resizeUntil(width, height int, texts ...string) time.Duration {
	s.t.Helper()
	s.resize(width, height)
	return s.until(10*time.Second, texts...)
}

// TestFaultPaste: a megabyte pasted into a field is bounded and runs no keys. The
// short form pastes a quarter of it: the toolkit searches all that it has so far
// with every 256 bytes that it reads.
func TestFaultPaste(t *testing.T) {
	dir := inFolder(t)
	s := openTerminal(t, dir).ready()
	s.press("5")
	s.until(10*time.Second, "[5 Prices]")
	s.press("\r")
	begun := time.Now()
	if _, err := s.master.WriteString("\x1b[200~" + strings.Repeat("q\r\x03s", rounds(1<<16, 1<<18)) + "\x1b[201~"); err != nil {
		t.Fatal(err)
	}
	s.until(30*time.Second, "sq")
	t.Logf("read from the terminal in %v", time.Since(begun).Round(time.Millisecond))
	s.press("\x1b") // out of the field
	s.until(10*time.Second, "[5 Prices]", "30.00 / ozt")
	s.press("2")
	s.until(10*time.Second, "[2 Standings]")
	if mustRead(t, filepath.Join(dir, "prices.toml")) != string(econ.DefaultBook()) {
		t.Error("pasted keys changed the book")
	}
	s.press("q")
	if code := s.exit(); code != exitDone {
		t.Errorf("exit code %d", code)
	}
}

// TestFaultInterrupt: an interrupt from outside ends the program as ctrl+c does.
func TestFaultInterrupt(t *testing.T) {
	dir := inFolder(t)
	s := openTerminal(t, dir).ready()
	s.edit("400.00 / ozt")
	if err := s.cmd.Process.Signal(syscall.SIGINT); err != nil {
		t.Fatal(err)
	}
	if code := s.exit(); code != 130 {
		t.Errorf("exit code %d, want 130", code)
	}
	s.restored()
	next := openTerminal(t, dir)
	next.until(30*time.Second, "Unsaved edits were recovered")
}

// restored checks that the terminal is as it was before.
func (s *terminal) restored() {
	s.t.Helper()
	for deadline := time.Now().Add(2 * time.Second); s.screen.IsAltScreen() && time.Now().Before(deadline); {
		time.Sleep(10 * time.Millisecond)
	}
	if s.screen.IsAltScreen() || s.screen.CursorHidden() {
		s.t.Errorf("alternate screen %t, cursor hidden %t", s.screen.IsAltScreen(), s.screen.CursorHidden())
	}
}

// TestFaultStop: stopped by ctrl+z or from outside, the terminal is the shell's
// again; brought back, the screen and the unsaved edit are there again.
func TestFaultStop(t *testing.T) {
	shell, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no shell with job control:", err)
	}
	for name, stop := range map[string]func(*terminal, int){
		"ctrl+z":  func(s *terminal, _ int) { s.press("\x1a") },
		"SIGTSTP": func(_ *terminal, pid int) { _ = syscall.Kill(pid, syscall.SIGTSTP) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := inFolder(t)
			s := inTerminal(t, dir, exec.Command(shell, "-c", `set -m; "$0" lot.toml; echo "in the shell"; read -r; fg %1; echo "ended with $?"`, builtProgram(t))).ready()
			s.edit("400.00 / ozt")
			stop(s, s.child())
			s.until(10*time.Second, "in the shell")
			s.restored()
			s.press("\n")
			s.until(10*time.Second, "[5 Prices]", "not saved")
			if !s.screen.IsAltScreen() {
				t.Error("the screen did not come back")
			}
			s.press("u")
			s.press("q")
			s.until(10*time.Second, "ended with 0")
			s.restored()
		})
	}
}

// TestFaultStopAlone: where no shell could let the program go on, ctrl+z says so
// instead of waiting for ever.
func TestFaultStopAlone(t *testing.T) {
	s := openTerminal(t, inFolder(t)).ready() // the first process of its session
	s.press("\x1a")
	s.until(10*time.Second, "no shell to go to")
	s.press("q")
	if code := s.exit(); code != exitDone {
		t.Errorf("exit code %d", code)
	}
}

// child finds the process that the shell has started.
func (s *terminal) child() int {
	s.t.Helper()
	pid := s.cmd.Process.Pid
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	child := 0
	if _, scanErr := fmt.Sscan(string(data), &child); err != nil || scanErr != nil {
		s.t.Skip("this system does not tell whose child a process is")
	}
	return child
}

// TestFaultEditors: whatever way an editor saves the book in, the screen notices
// within two seconds and never shows half of it.
func TestFaultEditors(t *testing.T) {
	for name := range editors("") {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := inFolder(t)
			s := openTerminal(t, dir).ready()
			edit := editors(filepath.Join(dir, "prices.toml"))[name]
			theirs := strings.ReplaceAll(string(econ.DefaultBook()), `"30.00 / ozt"`, `"44.00 / ozt"`)
			edit(theirs)
			took := s.until(30*time.Second, "changed by another program")
			t.Logf("noticed %v after the last byte", took.Round(time.Millisecond))
			if limit := 2 * time.Second * time.Duration(rounds(3, 1)); took > limit {
				t.Errorf("noticed after %v, want %v", took, limit)
			}
			s.press("r")
			s.press("5")
			s.until(10*time.Second, "[5 Prices]", "44.00")
			if view := s.written(); strings.Contains(view, "cannot be used") {
				t.Error("half a book was read")
			}
		})
	}
}

// sequence finds every escape sequence and every control that a terminal acts on.
var sequence = regexp.MustCompile(`\x1b\[[?>=]?[0-9;:]*[A-Za-z]|\x1b[]P_^X][^\x07\x1b]*(?:\x07|\x1b\\)|\x1b[()][0AB]|\x1b[=>78cDEHMNOZ]|[\x00-\x08\x0b\x0c\x0e-\x1a\x1c-\x1f\x7f]|[\x{80}-\x{9f}]|\x1b`)

// ours are the sequences that the program itself writes: colours, cursor moves,
// erasing, modes, the cursor's place, and the question for the terminal's colours.
var ours = regexp.MustCompile(`^\x1b\[(?:[0-9;:]*m|[0-9;]*[ABCDGHJKLMPXd]|[0-9;]*[rSTfsu]|\?[0-9;]+[hlu]|[0-9 ]*q|[>=?]?[0-9;]*[cu]|6n)$|^\x1b\](?:1[0-2];\?|11;\?|10;\?)(?:\x07|\x1b\\)$`)

// hostileWalk goes through all pages of the screen.
var hostileWalk = []string{"1", "j", "j", "2", "j", "\r", "j", "j", "\x1b", "3", "4", "j", "5", "j", "\r", "\x1b", "?", "\x1b", "w", "\x1b", "6", "j", "7", "j", "2"}

// TestFaultPayloadsOnScreen opens lots whose every text is hostile and walks
// through all pages: nothing is written but the program's own sequences.
func TestFaultPayloadsOnScreen(t *testing.T) {
	own := openTerminal(t, inFolder(t)).ready()
	own.walk()
	known := map[string]bool{}
	for _, seq := range sequence.FindAllString(own.written(), -1) {
		if !ours.MatchString(seq) {
			t.Fatalf("the program's own list does not hold %q", seq)
		}
		known[kindOf(seq)] = true
	}
	for first := 0; first < len(thirty); first += rounds(10, 1) {
		dir := inFolder(t)
		mustWrite(t, filepath.Join(dir, "lot.toml"), filled(hostileLot, first))
		mustWrite(t, filepath.Join(dir, "prices.toml"), filled(string(econ.DefaultBook())+hostileTables, first))
		s := openTerminal(t, dir).ready()
		s.walk()
		for _, seq := range sequence.FindAllString(s.written(), -1) {
			if !ours.MatchString(seq) || !known[kindOf(seq)] {
				t.Errorf("payload %q: the terminal was sent %q", thirty[first], seq)
			}
		}
		for _, r := range "\u202e\u2066\u200b\ufeff\u00ad\u2028" {
			if strings.ContainsRune(s.written(), r) {
				t.Errorf("payload %q: the terminal was sent %U", thirty[first], r)
			}
		}
	}
}

// kindOf is a sequence without its numbers.
func kindOf(seq string) string { return regexp.MustCompile(`[0-9;]+`).ReplaceAllString(seq, "n") }

// walk goes through all pages and leaves, so that no sequence is cut short.
func (s *terminal) walk() {
	s.t.Helper()
	for _, key := range hostileWalk {
		s.press(key)
	}
	s.press("\x03")
	s.exit()
	time.Sleep(100 * time.Millisecond) // for the last bytes to be read
}

// TestFaultKeys: a thousand random keys in a real terminal; the program lives,
// the book is only what was saved, and it can be left. More seeds in the long
// form.
func TestFaultKeys(t *testing.T) {
	keys := []string{"1", "2", "3", "4", "5", "j", "k", "g", "G", "w", "?", "u", "r", "c", "d", "f", "h", "l", "[", "]", "x", "p", "a", " ", "\r", "\x1b", "\t", "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[5~", "\x1b[6~", "\x7f", "\x15", "9", ".", "/", "%"}
	for seed := range uint64(rounds(1, 20)) {
		dir := inFolder(t)
		s := openTerminal(t, dir).ready()
		random := rand.New(rand.NewPCG(seed, 11))
		for range rounds(300, 1000) {
			if _, err := s.master.WriteString(keys[random.IntN(len(keys))]); err != nil {
				t.Fatalf("seed %d: %v; the screen shows\n%s", seed, err, s.text())
			}
			time.Sleep(2 * time.Millisecond)
		}
		if mustRead(t, filepath.Join(dir, "prices.toml")) != string(econ.DefaultBook()) {
			t.Errorf("seed %d: the book changed without being saved", seed)
		}
		s.press("\x03")
		if code := s.exit(); code != 130 {
			_, fault, _ := strings.Cut(s.written(), "Caught panic:")
			t.Errorf("seed %d: exit code %d: %s", seed, code, fault[:min(len(fault), 3000)])
		}
		s.restored()
	}
}

// TestFaultWithoutTerminal: with no terminal at all, or one that can only print,
// the program prints and ends, without an escape and without waiting.
func TestFaultWithoutTerminal(t *testing.T) {
	for name, environment := range map[string][]string{"plain": nil, "dumb": {"TERM=dumb"}, "no TERM": {"TERM="}} {
		for _, args := range [][]string{{"--version"}, {"--help"}, {"work", "mass", "AgCl"}, {}} {
			best := time.Hour
			for range 3 { // the machine may be busy: the best counts
				cmd := exec.Command(builtProgram(t), args...)
				cmd.Dir = t.TempDir()
				cmd.Env = append(os.Environ(), environment...)
				cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true} // without a controlling terminal
				begun := time.Now()
				out, err := cmd.CombinedOutput()
				best = min(best, time.Since(begun))
				if err != nil || len(out) == 0 || bytes.ContainsRune(out, '\x1b') {
					t.Fatalf("%s, %q: %v, %q", name, args, err, clip(string(out)))
				}
			}
			limit := 200 * time.Millisecond
			if len(args) == 0 {
				limit = time.Second // the standings of the sample lot
			}
			if best > limit*time.Duration(rounds(3, 1)) {
				t.Errorf("%s, %q took %v, want %v", name, args, best, limit)
			}
			if name == "plain" {
				t.Logf("%q: %v", args, best.Round(time.Millisecond))
			}
		}
	}
}

// TestFaultIdle leaves the screen open with its files touched again and again:
// memory grows by at most 5 MiB, and it takes at most 1 % of a processor. Ten
// minutes in the long form.
func TestFaultIdle(t *testing.T) {
	t.Parallel()
	status := regexp.MustCompile(`VmRSS:\s+([0-9]+) kB`)
	dir := inFolder(t)
	if !longForm() { // a lot whose odds are there at once
		mustWrite(t, filepath.Join(dir, "lot.toml"), absurdLots["no metal"])
	}
	s := openTerminal(t, dir).ready()
	memory := func() (kB int) {
		data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
		if match := status.FindSubmatch(data); err == nil && match != nil {
			_, _ = fmt.Sscan(string(match[1]), &kB)
		}
		return kB
	}
	if memory() == 0 {
		t.Skip("this system does not tell the memory of a process")
	}
	s.quiet()
	begun, from, spent := time.Now(), memory(), s.processor()
	idle := time.Duration(rounds(5, 600)) * time.Second
	for time.Since(begun) < idle {
		settle(t, filepath.Join(dir, "prices.toml")) // another time, the same contents
		time.Sleep(500 * time.Millisecond)
	}
	grown, share := memory()-from, float64(s.processor()-spent)/float64(time.Since(begun))
	t.Logf("%v idle: memory %d kB, grown by %d kB; %.2f %% of a processor", idle, from, grown, 100*share)
	if grown > 5<<10 || share > float64(rounds(3, 1))/100 {
		t.Errorf("memory grew by %d kB, %.2f %% of a processor was taken", grown, 100*share)
	}
	s.press("q")
	if code := s.exit(); code != exitDone {
		t.Errorf("exit code %d", code)
	}
}

// quiet waits until all that begins with the program, the odds too, has ended.
func (s *terminal) quiet() {
	s.t.Helper()
	for deadline := time.Now().Add(2 * time.Minute); time.Now().Before(deadline); {
		before := s.processor()
		time.Sleep(time.Second)
		if s.processor()-before <= 20*time.Millisecond {
			return
		}
	}
	s.t.Fatal("the program never comes to rest")
}

// processor is the processor time that the program has taken, in ticks of 10 ms.
func (s *terminal) processor() time.Duration {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", s.cmd.Process.Pid))
	_, after, found := strings.Cut(string(data), ") ")
	fields := strings.Fields(after)
	if err != nil || !found || len(fields) < 13 {
		return 0
	}
	var user, system int
	_, _ = fmt.Sscan(fields[11], &user)
	_, _ = fmt.Sscan(fields[12], &system)
	return time.Duration(user+system) * 10 * time.Millisecond
}
