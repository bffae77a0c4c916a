package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

const (
	soakFile = "AFTERPOUR_SOAK_FILE" // makes this test binary save to a file for ever
	longForm = "AFTERPOUR_LONG"      // asks for the long form: 1,000 kills instead of 30
)

func TestMain(m *testing.M) {
	if path := os.Getenv(soakFile); path != "" {
		saveForever(path)
	}
	os.Exit(m.Run())
}

// saveForever saves ever new contents, each of which carries its own checksum.
func saveForever(path string) {
	for {
		data, info, err := readAll(OS, path)
		if err == nil {
			n, _ := checked(data)
			_, err = Save(OS, describe(OS, path, data, info.Mode()), soakContents(n+1))
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

// soakContents returns the n-th contents: a number, a checksum, and enough text
// that writing it takes a while.
func soakContents(n int) []byte {
	body := bytes.Repeat([]byte(strconv.Itoa(n)+" price = 30.00 # a comment\n"), 4000)
	sum := sha256.Sum256(body)
	return append([]byte(fmt.Sprintf("%d %s\n", n, hex.EncodeToString(sum[:]))), body...)
}

// checked returns the number of soak contents, and whether they are whole.
func checked(data []byte) (n int, whole bool) {
	head, _, _ := strings.Cut(string(data), " ")
	n, err := strconv.Atoi(head)
	return n, err == nil && bytes.Equal(data, soakContents(n))
}

// TestKilledWhileSaving kills a saving process at random moments. No file may
// be lost or mixed, no save undone, and nothing left behind after a sweep.
func TestKilledWhileSaving(t *testing.T) {
	kills := 30
	if os.Getenv(longForm) != "" {
		kills = 1000
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "prices.toml")
	if err := os.WriteFile(path, soakContents(1), 0o600); err != nil {
		t.Fatal(err)
	}
	last, left := 1, 0
	for kill := range kills {
		killSoon(t, program, path)
		left += len(names(t, dir)) - 1
		n, whole := checked([]byte(contents(t, path)))
		if !whole || n < last {
			t.Fatalf("kill %d: the file holds number %d (whole: %v) after number %d", kill, n, whole, last)
		}
		last = n
		if backup, err := os.ReadFile(path + BackupSuffix); err == nil {
			if n, whole := checked(backup); !whole || n > last {
				t.Fatalf("kill %d: the backup holds number %d (whole: %v)", kill, n, whole)
			}
		}
	}
	if last < kills/3 {
		t.Errorf("only %d saves in %d kills: the test did not hit any", last, kills)
	}
	Sweep(OS, path)
	if got := names(t, dir); len(got) > 2 {
		t.Errorf("left after the sweep: %q", got)
	}
	t.Logf("%d kills, %d saves, %d files beside it on the way", kills, last, left)
}

// killSoon starts a process that saves, and kills it a moment after it has
// begun to.
func killSoon(t *testing.T, program, path string) {
	t.Helper()
	before, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	var stderr bytes.Buffer
	child := exec.Command(program)
	child.Env = append(os.Environ(), soakFile+"="+path)
	child.Stderr = &stderr
	if err := child.Start(); err != nil {
		t.Fatal(err)
	}
	for deadline := time.Now().Add(10 * time.Second); time.Now().Before(deadline); time.Sleep(time.Millisecond) {
		if now, err := os.Stat(path); err == nil && !os.SameFile(before, now) {
			break
		}
	}
	time.Sleep(time.Duration(rand.IntN(8000)) * time.Microsecond)
	_ = child.Process.Kill()
	_ = child.Wait()
	if stderr.Len() > 0 {
		t.Fatalf("the saving process failed: %s", stderr.String())
	}
}
