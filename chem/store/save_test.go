package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"afterpour/chem/input"
)

func TestSave(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "prices.toml")
	writeFile(t, path, "one")
	s, err := Save(OS, mustRead(t, path), []byte("two"))
	if err != nil {
		t.Fatal(err)
	}
	if got := contents(t, path); got != "two" {
		t.Errorf("after Save the file holds %q", got)
	}
	if got := contents(t, path+BackupSuffix); got != "one" {
		t.Errorf("the backup holds %q, want the old contents", got)
	}
	if _, err = Save(OS, s, []byte("three")); err != nil {
		t.Errorf("Save with the snapshot of the last Save: %v", err)
	}
	if got := names(t, dir); len(got) != 2 {
		t.Errorf("the folder holds %q, want file and backup only", got)
	}
}

func TestSaveUnchangedWritesNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "prices.toml")
	writeFile(t, path, "same")
	before, _ := os.Stat(path)
	if _, err := Save(OS, mustRead(t, path), []byte("same")); err != nil {
		t.Fatal(err)
	}
	after, _ := os.Stat(path)
	if !os.SameFile(before, after) || !before.ModTime().Equal(after.ModTime()) {
		t.Error("saving the same contents replaced the file")
	}
}

func TestSaveKeepsMode(t *testing.T) {
	for _, mode := range []fs.FileMode{0o600, 0o640, 0o664} {
		path := filepath.Join(t.TempDir(), "prices.toml")
		writeFile(t, path, "x")
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		if _, err := Save(OS, mustRead(t, path), []byte("y")); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{path, path + BackupSuffix} {
			info, err := os.Stat(name)
			if err != nil || info.Mode().Perm() != mode {
				t.Errorf("%s has mode %v (%v), want %v", filepath.Base(name), info.Mode(), err, mode)
			}
		}
	}
}

func TestSaveThroughSymlink(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	target, link := filepath.Join(elsewhere, "real.toml"), filepath.Join(dir, "prices.toml")
	writeFile(t, target, "x")
	if err := os.Symlink(target, link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	if _, err := Save(OS, mustRead(t, link), []byte("y")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link was replaced: %v, %v", info, err)
	}
	if got := contents(t, target); got != "y" {
		t.Errorf("behind the link stands %q", got)
	}
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("beside the link: %q", got)
	}
}

func TestSaveRefusesChangedFile(t *testing.T) {
	tests := map[string]struct {
		change func(path string) error
		gone   bool
	}{
		"other contents": {func(path string) error { return os.WriteFile(path, []byte("theirs"), 0o644) }, false},
		"removed":        {os.Remove, true},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "prices.toml")
			writeFile(t, path, "ours")
			s := mustRead(t, path)
			if err := test.change(path); err != nil {
				t.Fatal(err)
			}
			_, err := Save(OS, s, []byte("edited"))
			var changed *ChangedError
			if !errors.As(err, &changed) || !errors.Is(err, ErrChanged) || changed.Gone != test.gone {
				t.Fatalf("Save: %v, want a ChangedError with Gone = %v", err, test.gone)
			}
			if test.gone {
				return
			}
			if got := contents(t, path); got != "theirs" || string(changed.Current.Data) != "theirs" {
				t.Errorf("the file holds %q, the error %q; want theirs in both", got, changed.Current.Data)
			}
			if _, err = Save(OS, changed.Current, []byte("edited")); err != nil {
				t.Errorf("Save over what the error showed: %v", err)
			}
		})
	}
}

func TestSaveRefuses(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "prices.toml")
	writeFile(t, path, "x")
	s := mustRead(t, path)
	if _, err := Save(OS, s, make([]byte, input.MaxBytes+1)); !errors.Is(err, ErrTooLarge) {
		t.Errorf("Save of more than can be read: %v", err)
	}
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	if _, err := Save(OS, s, []byte("y")); !errors.Is(err, ErrReadOnly) {
		t.Errorf("Save to a write-protected file: %v", err)
	}
	if got := contents(t, path); got != "x" {
		t.Errorf("the write-protected file holds %q", got)
	}
	gone := filepath.Join(dir, "folder", "prices.toml")
	if _, err := Save(OS, Snapshot{Path: gone}, []byte("y")); !errors.Is(err, ErrChanged) {
		t.Errorf("Save into a vanished folder: %v", err)
	}
}

func TestLock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lock")
	release, err := OS.Lock(path, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := OS.Lock(path, 20*time.Millisecond); !errors.Is(err, ErrLocked) {
		t.Errorf("second Lock: %v, want %v", err, ErrLocked)
	}
	release()
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the lock file is left: %v", err)
	}
	if release, err = OS.Lock(path, 0); err != nil {
		t.Fatalf("Lock after release: %v", err)
	}
	release()
}

// TestConcurrentSaves lets several writers count in one file. If any save
// overwrote another silently, the count would fall short.
func TestConcurrentSaves(t *testing.T) {
	const writers, each = 3, 20
	path := filepath.Join(t.TempDir(), "count")
	writeFile(t, path, "0")
	var wg sync.WaitGroup
	for range writers {
		wg.Go(func() {
			for range each {
				if err := increment(path); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wg.Wait()
	if got, want := contents(t, path), strconv.Itoa(writers*each); got != want {
		t.Errorf("counted to %s, want %s", got, want)
	}
}

func increment(path string) error {
	for {
		data, info, err := readAll(OS, path)
		if err != nil {
			return err
		}
		n, err := strconv.Atoi(string(data))
		if err != nil {
			return fmt.Errorf("the file holds %q", data)
		}
		s := describe(OS, path, data, info.Mode())
		if _, err = Save(OS, s, []byte(strconv.Itoa(n+1))); !errors.Is(err, ErrChanged) {
			return err
		}
	}
}

func TestCreate(t *testing.T) {
	path := filepath.Join(t.TempDir(), "new", "afterpour", "prices.toml")
	if _, err := Create(OS, path, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if got := contents(t, path); got != "x" {
		t.Errorf("Create wrote %q", got)
	}
	if _, err := Create(OS, path, []byte("y")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("Create over a file: %v, want %v", err, fs.ErrExist)
	}
	if got := contents(t, path); got != "x" {
		t.Errorf("Create over a file wrote %q", got)
	}
}

func TestReplace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state", "recovery")
	for _, data := range []string{"a", "b"} {
		if err := Replace(OS, path, []byte(data)); err != nil {
			t.Fatal(err)
		}
		if got := contents(t, path); got != data {
			t.Errorf("Replace wrote %q, want %q", got, data)
		}
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v; want 0600", info.Mode(), err)
	}
	if got := names(t, filepath.Dir(path)); len(got) != 1 {
		t.Errorf("the folder holds %q", got)
	}
}

func TestErrorsAreClean(t *testing.T) {
	path := filepath.Join(t.TempDir(), "evil\x1b[31m\u202e\nname")
	_, err := Read(OS, path)
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		t.Fatalf("Read of no file: %v", err)
	}
	for _, text := range []string{err.Error(), (&ChangedError{Path: path}).Error(), (&ChangedError{Path: path, Gone: true}).Error()} {
		if text != input.Clean(text, 0) || strings.Count(text, "evil") != 1 {
			t.Errorf("error %q is not clean, or names the file twice", text)
		}
	}
}
