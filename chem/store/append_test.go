package store

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// lateLayer is the real file system on a day when every file has been left alone
// for long.
type lateLayer struct{ osLayer }

func (lateLayer) Now() time.Time { return time.Now().Add(time.Hour) }

func line(text string) func([]byte) ([]byte, error) {
	return func([]byte) ([]byte, error) { return []byte(text + "\n"), nil }
}

func TestAppend(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new", "notes.toml")
	for i, want := range []string{"one\n", "one\ntwo\n", "one\ntwo\nthree\n"} {
		if _, err := Append(lateLayer{}, path, line([]string{"one", "two", "three"}[i])); err != nil {
			t.Fatal(err)
		}
		if got := contents(t, path); got != want {
			t.Fatalf("after append %d the file holds %q, want %q", i+1, got, want)
		}
	}
	if got := contents(t, path+BackupSuffix); got != "one\ntwo\n" {
		t.Errorf("the backup holds %q", got)
	}
}

func TestAppendGivesOldBytes(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notes.toml")
	writeFile(t, path, "no final newline")
	_, err := Append(lateLayer{}, path, func(old []byte) ([]byte, error) {
		if string(old) != "no final newline" {
			t.Errorf("grow is given %q", old)
		}
		return []byte("\nx"), nil
	})
	if got := contents(t, path); err != nil || got != "no final newline\nx" {
		t.Errorf("the file holds %q, %v", got, err)
	}
	refuse := errors.New("no")
	if _, err := Append(lateLayer{}, path, func([]byte) ([]byte, error) { return nil, refuse }); !errors.Is(err, refuse) {
		t.Errorf("the error of grow comes back as %v", err)
	}
	if got := contents(t, path); got != "no final newline\nx" {
		t.Errorf("a refused append left %q", got)
	}
}

// TestAppendTogether lets many append at once: everybody's line is there, once,
// and at no time are bytes lost that were there before.
func TestAppendTogether(t *testing.T) {
	path := filepath.Join(t.TempDir(), "notes.toml")
	var mu sync.Mutex
	seen := [][]byte{}
	var wg sync.WaitGroup
	for who := range 6 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for n := range 10 {
				_, err := Append(lateLayer{}, path, func(old []byte) ([]byte, error) {
					mu.Lock()
					seen = append(seen, bytes.Clone(old))
					mu.Unlock()
					return []byte(fmt.Sprintf("%d-%d\n", who, n)), nil
				})
				if err != nil {
					t.Errorf("%d-%d: %v", who, n, err)
				}
			}
		}()
	}
	wg.Wait()
	all := contents(t, path)
	for who := range 6 {
		for n := range 10 {
			if got := strings.Count("\n"+all, fmt.Sprintf("\n%d-%d\n", who, n)); got != 1 {
				t.Errorf("%d-%d is there %d times", who, n, got)
			}
		}
	}
	for _, old := range seen {
		if !strings.HasPrefix(all, string(old)) {
			t.Errorf("what stood there is no longer the beginning: %q", old)
		}
	}
}

// TestAppendFaults lets each operation fail in turn: the file is as it was, or
// whole with the new line.
func TestAppendFaults(t *testing.T) {
	for failAt := 1; failAt < 40; failAt++ {
		path := filepath.Join(t.TempDir(), "notes.toml")
		writeFile(t, path, "old\n")
		layer := &faultyLayer{failAt: failAt}
		_, err := Append(layer, path, line("new"))
		got := contents(t, path)
		if err == nil && got != "old\nnew\n" || err != nil && got != "old\n" && !errors.Is(err, ErrNotSynced) {
			t.Errorf("with operation %d failing: %v, and the file holds %q", failAt, err, got)
		}
	}
}
