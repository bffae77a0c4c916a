package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// TestMain gives the whole suite a home of its own, so that no test reads or
// writes the tester's configuration, and starts it in an empty folder, so that
// no price book is found by accident.
func TestMain(m *testing.M) {
	code, err := inEmptyHome(m)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		code = 1
	}
	os.Exit(code)
}

func inEmptyHome(m *testing.M) (int, error) {
	if err := keepGoCaches(); err != nil {
		return 1, err
	}
	home, err := os.MkdirTemp("", "afterpour-test-")
	if err != nil {
		return 1, err
	}
	defer os.RemoveAll(home)
	for name, value := range map[string]string{
		"HOME": home, "XDG_CONFIG_HOME": filepath.Join(home, "config"), "XDG_STATE_HOME": filepath.Join(home, "state"),
	} {
		if err := os.Setenv(name, value); err != nil {
			return 1, err
		}
	}
	return m.Run(), nil
}

// keepGoCaches lets the go commands that tests run find what has been built and
// downloaded already: by default that lies in the home that is about to change,
// and building the program from nothing takes a minute.
func keepGoCaches() error {
	names := []string{"GOCACHE", "GOMODCACHE", "GOPATH"}
	out, err := exec.Command("go", append([]string{"env"}, names...)...).Output()
	if err != nil {
		return fmt.Errorf("go env: %w", err)
	}
	values := strings.Split(strings.TrimSpace(string(out)), "\n")
	for i, name := range names {
		if i < len(values) {
			if err := os.Setenv(name, values[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// outcome is what a call of the program gave.
type outcome struct {
	code           int
	stdout, stderr string
}

// call runs the program with nothing on standard input.
func call(t *testing.T, args ...string) outcome {
	t.Helper()
	return callWith(t, "", args...)
}

// noNumber finds what a float prints as when it is none (and not NaNO3).
var noNumber = regexp.MustCompile(`\b(NaN|Inf)\b`)

// callWith runs the program with a text on standard input.
func callWith(t *testing.T, stdin string, args ...string) outcome {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code := run(context.Background(), args, strings.NewReader(stdin), &stdout, &stderr)
	got := outcome{code, stdout.String(), stderr.String()}
	for name, text := range map[string]string{"stdout": got.stdout, "stderr": got.stderr} {
		if strings.ContainsRune(text, '\x1b') {
			t.Errorf("run(%q): %s holds an escape byte: %q", args, name, text)
		}
	}
	if at := noNumber.FindStringIndex(got.stdout); code == exitDone && at != nil {
		t.Errorf("run(%q): standard output holds a number that is none: …%q…", args, got.stdout[max(0, at[0]-200):min(len(got.stdout), at[1]+50)])
	}
	return got
}

// want fails the test unless the call ended with this code.
func (o outcome) want(t *testing.T, code int) outcome {
	t.Helper()
	if o.code != code {
		t.Fatalf("exit code %d, want %d\nstdout: %s\nstderr: %s", o.code, code, o.stdout, o.stderr)
	}
	return o
}

// object decodes standard output as one JSON object.
func (o outcome) object(t *testing.T) map[string]any {
	t.Helper()
	var object map[string]any
	if err := json.Unmarshal([]byte(o.stdout), &object); err != nil {
		t.Fatalf("standard output is not one JSON object: %v\n%s", err, o.stdout)
	}
	return object
}

// number reads a number of a JSON object.
func number(t *testing.T, object map[string]any, key string) float64 {
	t.Helper()
	value, ok := object[key].(float64)
	if !ok {
		t.Fatalf("%q is %v, want a number", key, object[key])
	}
	return value
}

// near compares within an absolute or a relative tolerance.
func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance || math.Abs(got-want) <= tolerance*math.Abs(want)
}

// moduleRoot is the folder of go.mod.
func moduleRoot(t testing.TB) string {
	t.Helper()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	return root
}

// writeFile writes a file into a fresh folder and returns its path.
func writeFile(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	age(t, path)
	return path
}

// age makes a file look as if it had been left alone for a while: a file that
// was written a moment ago is read only after a pause.
func age(t *testing.T, path string) {
	t.Helper()
	earlier := time.Now().Add(-time.Minute)
	if err := os.Chtimes(path, earlier, earlier); err != nil {
		t.Fatal(err)
	}
}

// sampleFile writes the first built-in sample lot to a file.
func sampleFile(t *testing.T) string {
	t.Helper()
	sample, err := sampleLot()
	if err != nil {
		t.Fatal(err)
	}
	return writeFile(t, "sample.toml", string(sample.data))
}
