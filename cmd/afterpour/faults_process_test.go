//go:build !windows

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"afterpour/chem/input"
	"afterpour/econ"
)

// finished is how a process of the program ended and what it took.
type finished struct {
	code           int
	stdout, stderr string
	cpu, wall      time.Duration
	peakMiB        int // of resident memory; 0 where that cannot be told
}

// process runs the built program to its end, watching its memory.
func process(t testing.TB, stdin io.Reader, environment []string, args ...string) finished {
	t.Helper()
	cmd := exec.Command(builtProgram(t), args...)
	var stdout, stderr bytes.Buffer
	cmd.Stdin, cmd.Stdout, cmd.Stderr = stdin, &stdout, &stderr
	cmd.Env = append(os.Environ(), environment...)
	cmd.WaitDelay = 100 * time.Millisecond // whoever feeds standard input may go on
	begun := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	stop := time.AfterFunc(30*time.Second, func() { _ = cmd.Process.Kill() })
	defer stop.Stop()
	peak := watchMemory(cmd.Process.Pid)
	err := cmd.Wait()
	f := finished{stdout: stdout.String(), stderr: stderr.String(), wall: time.Since(begun), peakMiB: <-peak}
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) && !errors.Is(err, exec.ErrWaitDelay) {
		t.Fatal(err)
	}
	f.code = cmd.ProcessState.ExitCode()
	f.cpu = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	return f
}

// watchMemory looks at a process's peak of resident memory every few
// milliseconds until it is gone. (What the system reports of an ended child
// counts the memory of the parent that it was forked from.)
func watchMemory(pid int) <-chan int {
	peak := make(chan int, 1)
	high := regexp.MustCompile(`VmHWM:\s+([0-9]+) kB`)
	go func() {
		most := 0
		for {
			status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
			match := high.FindSubmatch(status)
			if err != nil || match == nil && most > 0 {
				peak <- most
				return
			}
			if match != nil {
				kB, _ := strconv.Atoi(string(match[1]))
				most = max(most, kB/1024)
			}
			time.Sleep(3 * time.Millisecond)
		}
	}()
	return peak
}

// within checks the targets of time, counted as processor time since the machine
// may be busy, and of memory.
func (f finished) within(t *testing.T, what string, cpu time.Duration, mib int) {
	t.Helper()
	if f.cpu > cpu || f.peakMiB > mib {
		t.Errorf("%s: %v of processor time and %d MiB, want %v and %d MiB", what, f.cpu, f.peakMiB, cpu, mib)
	}
	if bytes.Contains([]byte(f.stderr), []byte("goroutine ")) {
		t.Errorf("%s: a stack trace: %s", what, clip(f.stderr))
	}
}

// endless never ends.
type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = "# no end\n"[i%9]
	}
	return len(p), nil
}

// oddFiles are things that somebody may name as a file.
func oddFiles(t *testing.T) map[string]string {
	t.Helper()
	dir := t.TempDir()
	files := map[string]string{"folder": dir, "missing": filepath.Join(dir, "none"), "null device": "/dev/null", "endless device": "/dev/zero", "terminal": "/dev/tty"}
	sizes := map[string]int64{"0 B": 0, "1 B": 1, "1 MiB less one": input.MaxBytes - 1, "1 MiB": input.MaxBytes, "1 MiB and one": input.MaxBytes + 1, "100 MB": 100e6}
	for name, size := range sizes {
		files[name] = filepath.Join(dir, strings.ReplaceAll(name, " ", "-"))
		text := strings.Repeat("#", int(min(size, input.MaxBytes+1)))
		mustWrite(t, files[name], text)
		if err := os.Truncate(files[name], size); err != nil {
			t.Fatal(err)
		}
		settle(t, files[name])
	}
	files["pipe without a writer"] = filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(files["pipe without a writer"], 0o600); err != nil {
		t.Fatal(err)
	}
	files["link to itself"] = filepath.Join(dir, "loop")
	files["link to nothing"] = filepath.Join(dir, "dangling")
	if err := errors.Join(os.Symlink("loop", files["link to itself"]), os.Symlink("none", files["link to nothing"])); err != nil {
		t.Fatal(err)
	}
	return files
}

// TestFaultSizes: whatever is named as a lot or as a price book is refused in a
// second and little memory, with a message that names it.
func TestFaultSizes(t *testing.T) {
	good := sampleFile(t)
	for name, path := range oddFiles(t) {
		calls := [][]string{{"check", path}, {"check", "--deep", good, "--prices", path}}
		if longForm() {
			calls = append(calls, []string{"rank", "--json", path}, []string{"rank", good, "--prices", path}, []string{"prices", "--prices", path},
				[]string{"prices", "set", "silver", "1 / g", "--prices", path}, []string{"work", "equilibrium", path}, []string{path})
		}
		for _, args := range calls {
			got := process(t, nil, nil, args...)
			if got.code != exitInput || !strings.Contains(got.stdout+got.stderr, path) {
				t.Errorf("%s, %q: exit code %d, standard error %q", name, args, got.code, clip(got.stderr))
			}
			got.within(t, name, time.Second, 64)
			t.Logf("%-22s %v cpu %v %d MiB", name, got.wall, got.cpu, got.peakMiB)
		}
	}
	got := process(t, endless{}, nil, "check", "-")
	if got.code != exitInput || !strings.Contains(got.stderr, "1 MiB") {
		t.Errorf("an endless pipe: exit code %d, %q", got.code, clip(got.stderr))
	}
	got.within(t, "an endless pipe", time.Second, 64)
}

// bombFiles keep a reader without limits busy, or kill it.
func bombFiles() map[string]string {
	repeat := strings.Repeat
	var tables strings.Builder
	for i := range 100_000 {
		fmt.Fprintf(&tables, "[t%d]\n", i)
	}
	return map[string]string{
		"brackets":       "a = " + repeat("[", 500_000) + repeat("]", 500_000),
		"open brackets":  "a = " + repeat("[", 1_000_000),
		"inline tables":  "a = " + repeat("{a = ", 10_000) + "1" + repeat("}", 10_000),
		"dotted key":     repeat("a.", 500_000) + "a = 1",
		"dotted header":  "[" + repeat("a.", 500_000) + "a]",
		"tables":         tables.String(),
		"elements":       repeat("[[added]]\n", 100_000),
		"numbers":        "a = [" + repeat("1,", 500_000) + "]",
		"repeated keys":  repeat("a = 1\n", 150_000),
		"broken lines":   repeat("a b\n", 250_000),
		"a text":         `title = "` + repeat(`\u00e9`, 170_000) + `"`,
		"comments":       repeat("# x\n", 250_000) + "title = 'x'",
		"shares":         "title = 'x'\n[[dissolved]]\nshare = {" + repeat("Ag = '1 %', ", 80_000) + "}",
		"many pieces":    "title = 'x'\n" + repeat("[[dissolved]]\nmass = '1 g'\ngrade = 'sterling 925'\n", 6_000),
		"many pours":     "title = 'x'\n" + repeat("[[added]]\nwhat = 'water'\namount = '1 mL'\n", 6_000),
		"many solids":    "title = 'x'\n" + repeat("[[solid]]\ncompound = 'AgCl'\nwet_mass = '1 g'\n", 6_000),
		"many assays":    "title = 'x'\nvessel.liquid = '1 L'\n" + repeat("[[measured]]\nmetal = 'Ag'\nin = 'liquid'\nvalue = '1 g/L'\n", 4_000),
		"a long formula": "title = 'x'\n[[solid]]\ncompound = '" + repeat("(Ag", 100_000) + repeat(")2", 100_000) + "'\nwet_mass = '1 g'\n",
		"a long number":  "title = 'x'\nvessel.liquid = '" + repeat("9", 900_000) + " L'\n",
	}
}

// TestFaultBombs: no file takes more than a second and 128 MiB, as a lot or as a
// price book.
func TestFaultBombs(t *testing.T) {
	good := sampleFile(t)
	for name, text := range bombFiles() {
		path := writeFile(t, "bomb.toml", text)
		calls := [][]string{{"check", path}, {"prices", "--prices", path}}
		if longForm() {
			calls = append(calls, []string{"rank", "--json", path, good}, []string{"routes", "--routes", filepath.Dir(path)}, []string{"work", "equilibrium", path})
		}
		for _, args := range calls {
			got := process(t, nil, nil, args...)
			if got.code != exitInput && !(got.code == exitDone && args[0] != "prices" && args[0] != "routes") {
				t.Errorf("%s, %s: exit code %d, %q", name, args[0], got.code, clip(got.stderr))
			}
			got.within(t, name+", "+args[0], time.Second, 128)
			t.Logf("%-15s %-6s %8v %4d MiB", name, args[0], got.cpu.Round(time.Millisecond), got.peakMiB)
		}
	}
}

// TestFaultSameSeed: the same seed gives the same bytes on one processor and on
// eight, with odds.
func TestFaultSameSeed(t *testing.T) {
	path := sampleFile(t)
	draws := strconv.Itoa(rounds(50, 2000))
	var first string
	for i, processors := range []string{"1", "8", "8"} {
		got := process(t, nil, []string{"GOMAXPROCS=" + processors}, "rank", "--json", "--seed", "7", "--draws", draws, path)
		if got.code != exitDone {
			t.Fatalf("exit code %d: %s", got.code, got.stderr)
		}
		if i == 0 {
			first = got.stdout
		} else if got.stdout != first {
			t.Errorf("on %s processors the result differs", processors)
		}
	}
	if !strings.Contains(first, `"seed":7`) {
		t.Errorf("the seed is not told: %s", first[:200])
	}
}

// TestFaultClosedOutput: where standard output is closed after a line, or the
// disk behind it is full, the program ends without a stack trace, and not as if
// all had gone well.
func TestFaultClosedOutput(t *testing.T) {
	path := sampleFile(t)
	for _, args := range [][]string{{"rank", path}, {"rank", "--json", path, path, path}, {"check", path}, {"prices"}, {"--help"}, {"routes"}, {"work", "mass", "AgCl"}} {
		read, write, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(builtProgram(t), args...)
		var stderr bytes.Buffer
		cmd.Stdout, cmd.Stderr = write, &stderr
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		write.Close()
		one := make([]byte, 1)
		_, _ = io.ReadFull(read, one)
		read.Close() // as `head -c 1` does
		_ = cmd.Wait()
		if strings.Contains(stderr.String(), "goroutine ") || strings.Contains(stderr.String(), "panic") {
			t.Errorf("%q into a closed pipe: %s", args, stderr.String())
		}
		if full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0); err == nil {
			cmd := exec.Command(builtProgram(t), args...)
			stderr.Reset()
			cmd.Stdout, cmd.Stderr = full, &stderr
			err := cmd.Run()
			full.Close()
			if err == nil || strings.Contains(stderr.String(), "goroutine ") {
				t.Errorf("%q on a full disk: %v, standard error %q", args, err, stderr.String())
			}
		}
	}
}

// TestFaultTwoPrograms lets two processes set prices in one book by turns, as
// fast as they can. What one has saved stays until it sets it again; who comes
// too late is told with exit code 4. 200 saves each in the long form.
func TestFaultTwoPrograms(t *testing.T) {
	book := writeFile(t, "prices.toml", string(econ.DefaultBook()))
	saves := rounds(15, 200)
	type count struct{ saved, told int }
	setter := func(metal, table string) (count, error) {
		var n count
		last := ""
		for i := range saves {
			if last != "" && silverOf(book, table) != last {
				return n, fmt.Errorf("%s was set to %q and has become %q", metal, last, silverOf(book, table))
			}
			price := fmt.Sprintf("%d.5 / kg", 100+i)
			err := exec.Command(builtProgram(t), "prices", "set", metal, price, "--prices", book).Run()
			var exit *exec.ExitError
			switch {
			case err == nil:
				n.saved, last = n.saved+1, price
			case errors.As(err, &exit) && exit.ExitCode() == exitChanged:
				n.told++
			default:
				return n, err
			}
		}
		return n, nil
	}
	type result struct {
		count
		err error
	}
	results := make(chan result)
	for metal, table := range map[string]string{"silver": "[spot.Ag]", "copper": "[spot.Cu]"} {
		go func() { n, err := setter(metal, table); results <- result{n, err} }()
	}
	for range 2 {
		r := <-results
		if r.err != nil || r.saved+r.told != saves || r.saved == 0 {
			t.Errorf("%d saved, %d told that the book had changed: %v", r.saved, r.told, r.err)
		}
		t.Logf("%d saved, %d told that the book had changed", r.saved, r.told)
	}
	for _, name := range entries(t, filepath.Dir(book)) {
		if name != "prices.toml" && name != "prices.toml~" {
			t.Errorf("%q is left beside the book", name)
		}
	}
}

// silverOf reads the price in a table of a book as it stands on disk.
func silverOf(book, table string) string {
	data, err := os.ReadFile(book)
	if err != nil {
		return err.Error()
	}
	_, after, _ := strings.Cut(string(data), "\n"+table)
	match := silverPrice.FindStringSubmatch(after)
	if match == nil {
		return ""
	}
	return match[1]
}

// TestFaultSlowEditor: while an editor empties the book and fills it again
// slowly, or puts another in its place, no call ever reads half of it.
func TestFaultSlowEditor(t *testing.T) {
	text := string(econ.DefaultBook())
	book := writeFile(t, "prices.toml", text)
	full := len(bookOf(t, []byte(text)).Rows(time.Now()))
	for name, edit := range editors(book) {
		done := make(chan struct{})
		go func() { defer close(done); edit(text) }()
		time.Sleep(20 * time.Millisecond)
		got := process(t, nil, nil, "prices", "--json", "--prices", book)
		<-done
		if got.code != exitDone || strings.Count(got.stdout, `"id":`) != full {
			t.Errorf("%s: exit code %d, %d of %d prices read: %s", name, got.code, strings.Count(got.stdout, `"id":`), full, clip(got.stderr))
		}
	}
}

// editors write a text to a file in the ways that editors do.
func editors(path string) map[string]func(text string) {
	return map[string]func(string){
		"in place": func(text string) { _ = os.WriteFile(path, []byte(text), 0o600) },
		"by rename": func(text string) {
			_ = os.WriteFile(path+".swp", []byte(text), 0o600)
			_ = os.Rename(path+".swp", path)
		},
		"slowly": func(text string) {
			f, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, 0)
			if err != nil {
				return
			}
			defer f.Close()
			for len(text) > 0 {
				n := min(len(text), 1000)
				_, _ = f.WriteString(text[:n])
				text = text[n:]
				time.Sleep(40 * time.Millisecond)
			}
		},
	}
}

// networkSymbol finds a function, in a list of a program's symbols, by which the
// network is used.
var networkSymbol = regexp.MustCompile(`(?m) [Tt] ((net\.(\(\*?(Dialer|Resolver|ListenConfig|netFD|conn|sysDialer|sysListener|TCP\w+|UDP\w+|IPConn|Unix\w+)\)\.|Dial|Listen|Lookup|lookup|dial|socket|internetSocket|cgo)|net/http\.|crypto/tls\.|syscall\.([Ss]ocket|[Cc]onnect|[Bb]ind|[Ll]isten|[Ss]endto|[Rr]ecvfrom|[Ss]endmsg|[Rr]ecvmsg)\b)\S*)`)

// TestFaultNoNetwork proves that the program cannot use the network: the linker
// keeps only what can be reached, and of the network package that is nothing
// but reading files and addresses. Where the system can trace calls, that is
// watched too.
func TestFaultNoNetwork(t *testing.T) {
	symbols, err := exec.Command("go", "tool", "nm", builtProgram(t)).Output()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(symbols, []byte(" main.main")) {
		t.Fatal("the symbols of the program cannot be read")
	}
	if reaching := networkSymbol.FindAllSubmatch(symbols, 20); reaching != nil {
		t.Errorf("the program can reach %s", reaching)
	}
	if !networkSymbol.MatchString("  6980e0 T net.(*Dialer).DialContext\n") || !networkSymbol.MatchString("  6980e0 t syscall.connect\n") {
		t.Error("a symbol that uses the network is not recognised")
	}
	strace, err := exec.LookPath("strace")
	if err != nil || runtime.GOOS != "linux" {
		return
	}
	path := sampleFile(t)
	for _, args := range [][]string{{"rank", path}, {"prices"}} {
		log := filepath.Join(t.TempDir(), "calls")
		cmd := exec.Command(strace, append([]string{"-f", "-qq", "-e", "trace=network", "-o", log, builtProgram(t)}, args...)...)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Skipf("calls cannot be traced here: %v %s", err, clip(string(out)))
		}
		for _, line := range strings.Split(mustRead(t, log), "\n") {
			if strings.Contains(line, "(") {
				t.Errorf("%q: %s", args, line)
			}
		}
	}
}
