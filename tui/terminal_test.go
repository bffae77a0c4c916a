package tui

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// built is the program, built once for all tests that run it.
var built = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "afterpour-test")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "afterpour")
	out, err := exec.Command("go", "build", "-o", path, "afterpour/cmd/afterpour").CombinedOutput()
	if err != nil {
		return "", errors.New(string(out))
	}
	return path, nil
})

// session is the program in a terminal of its own.
type session struct {
	t      *testing.T
	dir    string
	cmd    *exec.Cmd
	ptmx   *os.File
	screen *vt.SafeEmulator
	ended  chan error
}

// terminalDir is a folder with a lot, a price book and homes for the rest.
func terminalDir(t *testing.T) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("there is no pseudo-terminal of this kind")
	}
	dir := t.TempDir()
	for to, from := range map[string]string{"lot.toml": "../testdata/lots/nitrate-liquor.toml", "prices.toml": "../prices.toml"} {
		data, err := os.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, to)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		old := time.Now().Add(-time.Hour)
		_ = os.Chtimes(path, old, old)
	}
	return dir
}

func environment(dir string, more ...string) []string {
	return append([]string{
		"HOME=" + dir, "XDG_CONFIG_HOME=" + filepath.Join(dir, "config"), "XDG_STATE_HOME=" + filepath.Join(dir, "state"),
		"PATH=" + os.Getenv("PATH"), "TERM=xterm-256color", "LANG=C.UTF-8",
	}, more...)
}

// run starts the program in a folder and in a terminal of a size.
func run(t *testing.T, dir string, width, height int, args []string, more ...string) *session {
	t.Helper()
	path, err := built()
	if err != nil {
		t.Fatal(err)
	}
	s := &session{t: t, dir: dir, screen: vt.NewSafeEmulator(width, height), ended: make(chan error, 1)}
	s.cmd = exec.Command(path, args...)
	s.cmd.Dir, s.cmd.Env = dir, environment(dir, more...)
	s.ptmx, err = pty.StartWithSize(s.cmd, &pty.Winsize{Rows: uint16(height), Cols: uint16(width)})
	if err != nil {
		t.Fatal(err)
	}
	go func() { _, _ = io.Copy(s.screen, s.ptmx) }()
	go func() { _, _ = io.Copy(s.ptmx, s.screen) }() // the terminal's answers
	go func() { s.ended <- s.cmd.Wait() }()
	t.Cleanup(func() {
		_ = s.cmd.Process.Kill()
		_ = s.ptmx.Close()
	})
	return s
}

// text is what the terminal shows.
func (s *session) text() string { return ansi.Strip(s.screen.Render()) }

// until waits for a text on the screen and returns the screen.
func (s *session) until(texts ...string) string {
	s.t.Helper()
	deadline := time.Now().Add(30 * time.Second)
	previous := ""
	for {
		view := s.text()
		missing := ""
		for _, want := range texts {
			if !strings.Contains(view, want) {
				missing = want
			}
		}
		if missing == "" && view == previous { // painted to its end
			return view
		}
		previous = view
		if len(s.ended) > 0 {
			s.t.Fatalf("waited for %q, but the program ended; the screen shows\n%s", missing, view)
		}
		if time.Now().After(deadline) {
			s.t.Fatalf("waited for %q, the screen shows\n%s", missing, view)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

func (s *session) write(keys string) {
	s.t.Helper()
	if _, err := s.ptmx.WriteString(keys); err != nil {
		s.t.Fatal(err)
	}
	time.Sleep(30 * time.Millisecond) // as fast as a fast person
}

// exit waits for the program to end and returns its exit code.
func (s *session) exit() int {
	s.t.Helper()
	select {
	case err := <-s.ended:
		var failed *exec.ExitError
		if err != nil && !errors.As(err, &failed) {
			s.t.Fatal(err)
		}
		return s.cmd.ProcessState.ExitCode()
	case <-time.After(20 * time.Second):
		s.t.Fatalf("the program does not end; the screen shows\n%s", s.text())
	}
	return -1
}

// restored checks that the terminal is as it was before.
func (s *session) restored() {
	s.t.Helper()
	time.Sleep(100 * time.Millisecond) // for the last bytes to be read
	if s.screen.IsAltScreen() {
		s.t.Error("the alternate screen is still on")
	}
	if s.screen.CursorHidden() {
		s.t.Error("the cursor is still hidden")
	}
}

// standingsJSON is what the command line says of the same lot and prices.
type standingsJSON struct {
	Verdict struct {
		Action, Plan, Why string
	}
	Plans []struct {
		ID        string
		Net, Gain *float64
		Blocked   *struct{ Reason string }
	}
}

func (s *session) rank() standingsJSON {
	s.t.Helper()
	return s.rankOf("lot.toml")
}

func (s *session) rankOf(file string) standingsJSON {
	s.t.Helper()
	path, _ := built()
	cmd := exec.Command(path, "rank", "--json", file)
	cmd.Dir, cmd.Env = s.dir, environment(s.dir)
	out, err := cmd.Output()
	if err != nil {
		s.t.Fatal(err)
	}
	var result standingsJSON
	if err := json.Unmarshal(out, &result); err != nil {
		s.t.Fatal(err)
	}
	return result
}

// showsStandings compares the first plans on the screen with rank --json.
func (s *session) showsStandings(view string, want standingsJSON) {
	s.t.Helper()
	rows := strings.Split(view, "\n")
	seen := 0
	for _, row := range rows {
		rank := rankOf(row)
		if rank == 0 || rank > len(want.Plans) {
			continue
		}
		p := want.Plans[rank-1]
		_, tail, found := strings.Cut(row, drawnSigns.net)
		if !found || p.Net == nil {
			continue
		}
		compare(s.t, p.ID, numbers(tail), *p.Net, *p.Gain)
		seen++
	}
	if seen < 3 {
		s.t.Errorf("only %d plans could be compared on\n%s", seen, view)
	}
	if !strings.Contains(strings.Join(strings.Fields(view), " "), want.Verdict.Why) {
		s.t.Errorf("the verdict is %q, the screen shows\n%s", want.Verdict.Why, view)
	}
}

// TestSession is the whole way of a person at the bench: open a lot, read the
// verdict, change a price so that the order turns, open the new best plan, set
// two abreast, save, leave. The file then differs in that price and its date.
func TestSession(t *testing.T) {
	dir := terminalDir(t)
	before, err := os.ReadFile(filepath.Join(dir, "prices.toml"))
	if err != nil {
		t.Fatal(err)
	}
	s := run(t, dir, 130, 40, []string{"lot.toml"})
	view := s.until("1 *", "net USD")
	s.showsStandings(view, s.rank())

	s.write("5")
	s.until("[5 Prices]", "30.00 / ozt")
	s.write("\r")
	s.write("\x15")
	s.write("400.00 / ozt")
	s.until("30.00 / ozt → 400.00 USD / ozt", "now      work up", "changed,")
	s.write("\r")
	s.until("* 1 not saved", "was 30.00 / ozt")
	s.write("2")
	view = s.until("[2 Standings]", "Work it up by")
	s.write("\r")
	s.until("[4 Plan]", "plan 1 of", "Steps")
	s.write("\x1b")
	s.until("[2 Standings]")
	s.write(" ")
	s.write("j")
	s.write(" ")
	s.until("A   1", "B   2")
	s.write("3")
	s.until("[3 Abreast]", "against A", "Money")
	s.write("s")
	s.until("Saved: ")
	s.showsStandings(view, s.rank())
	s.write("q")
	if code := s.exit(); code != 0 {
		t.Errorf("exit code %d, want 0", code)
	}
	s.restored()

	after, err := os.ReadFile(filepath.Join(dir, "prices.toml"))
	if err != nil {
		t.Fatal(err)
	}
	differsOnly(t, string(before), string(after))
}

// differsOnly checks that two books differ in the price of silver and its date.
func differsOnly(t *testing.T, before, after string) {
	t.Helper()
	old, now := strings.Split(before, "\n"), strings.Split(after, "\n")
	if len(old) != len(now) {
		t.Fatalf("%d lines, were %d", len(now), len(old))
	}
	var changed []string
	for i := range old {
		if old[i] != now[i] {
			changed = append(changed, now[i])
		}
	}
	if len(changed) != 2 || changed[0] != `price = "400.00 / ozt"` || !strings.HasPrefix(changed[1], "date  = "+time.Now().Format(time.DateOnly)) {
		t.Errorf("changed lines: %q", changed)
	}
}

// TestSessionEnds: every way out restores the terminal, and what was unsaved is
// offered at the next start.
func TestSessionEnds(t *testing.T) {
	edit := func(s *session) {
		s.until("net USD")
		s.write("5")
		s.until("[5 Prices]")
		s.write("\r\x15")
		s.write("400.00 / ozt")
		s.until("→ 400.00 USD / ozt")
		s.write("\r")
		s.until("* 1 not saved")
	}
	for name, tt := range map[string]struct {
		end  func(s *session)
		code int
	}{
		"ctrl+c": {func(s *session) { s.write("\x03") }, 130},
		"TERM":   {func(s *session) { _ = s.cmd.Process.Signal(syscall.SIGTERM) }, 143},
		"HUP":    {func(s *session) { _ = s.cmd.Process.Signal(syscall.SIGHUP) }, 129},
		"KILL":   {func(s *session) { time.Sleep(time.Second); _ = s.cmd.Process.Kill() }, -1},
	} {
		t.Run(name, func(t *testing.T) {
			dir := terminalDir(t)
			s := run(t, dir, 80, 24, []string{"lot.toml"})
			edit(s)
			tt.end(s)
			if code := s.exit(); code != tt.code {
				t.Errorf("exit code %d, want %d", code, tt.code)
			}
			if name != "KILL" {
				s.restored()
			}
			if data, _ := os.ReadFile(filepath.Join(dir, "prices.toml")); bytes.Contains(data, []byte("400.00")) {
				t.Error("saved without being asked")
			}
			next := run(t, dir, 80, 24, []string{"lot.toml"})
			next.until("Unsaved edits were recovered", "30.00 / ozt → 400.00 / ozt")
			next.write("p")
			next.until("* 1 not saved")
			next.write("u")
			next.write("q")
			if code := next.exit(); code != 0 {
				t.Errorf("exit code %d after putting back, want 0", code)
			}
		})
	}
}

// TestSessionNotices: another program saves the price book while this one is
// open: it is noticed by itself, and nothing is overwritten.
func TestSessionNotices(t *testing.T) {
	dir := terminalDir(t)
	s := run(t, dir, 80, 24, []string{"lot.toml"})
	s.until("net USD")
	path, _ := built()
	cmd := exec.Command(path, "prices", "set", "silver", "400 / ozt", "--prices", "prices.toml")
	cmd.Dir, cmd.Env = dir, environment(dir)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	start := time.Now()
	s.until("changed by another program", "reload")
	if took := time.Since(start); took > 5*time.Second { // two where the machine is idle
		t.Errorf("noticed after %v", took)
	}
	s.write("r")
	s.until("Read again", "Work it up by")
	s.showsPlan(s.rank())
	s.write("q")
	if code := s.exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

// showsPlan checks that the best plan is the one that rank --json names.
func (s *session) showsPlan(want standingsJSON) {
	s.t.Helper()
	if id := want.Plans[0].ID; !strings.Contains(s.text(), "1 * "+id) {
		s.t.Errorf("the best plan is %s, the screen shows\n%s", id, s.text())
	}
}

// TestSessionWithoutColour: with NO_COLOR nothing but text, cursor movement and
// modes is written; with a locale without UTF-8, nothing but ASCII.
func TestSessionWithoutColour(t *testing.T) {
	s := run(t, terminalDir(t), 80, 24, []string{"lot.toml"}, "NO_COLOR=1", "LC_ALL=C")
	view := s.until("net USD", "> ")
	for _, r := range view {
		if r > 126 {
			t.Errorf("%q on a terminal without UTF-8", r)
		}
	}
	if colours := regexp.MustCompile(`\x1b\[[0-9;]*[1-9][0-9;]*m`).FindString(s.screen.Render()); colours != "" {
		t.Errorf("%q with NO_COLOR", colours)
	}
	s.write("q")
	s.exit()
}

// TestFirstFrame: what is there at once, and how soon.
func TestFirstFrame(t *testing.T) {
	if _, err := built(); err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	s := run(t, terminalDir(t), 80, 24, []string{"lot.toml"})
	s.until("[2 Standings]")
	t.Logf("first frame after %v", time.Since(start).Round(time.Millisecond))
	s.until("net USD")
	t.Logf("figures after %v", time.Since(start).Round(time.Millisecond))
	s.write("q")
	if code := s.exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}
