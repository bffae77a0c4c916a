//go:build unix

package store

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

func TestReadRefusesPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skip("no named pipes here:", err)
	}
	start := time.Now()
	if _, err := Read(OS, path); !errors.Is(err, ErrNotRegular) {
		t.Errorf("Read of a pipe: %v, want %v", err, ErrNotRegular)
	}
	// Had the pipe taken the place of the file after it was looked at, opening
	// it must not wait for a writer either.
	if _, _, err := readAll(OS, path); !errors.Is(err, ErrNotRegular) {
		t.Errorf("opening a pipe: %v, want %v", err, ErrNotRegular)
	}
	if took := time.Since(start); took > time.Second {
		t.Errorf("refusing a pipe took %v", took)
	}
}

func TestSaveBreaksHardLink(t *testing.T) {
	dir := t.TempDir()
	path, other := filepath.Join(dir, "a"), filepath.Join(dir, "b")
	writeFile(t, path, "old")
	if err := os.Link(path, other); err != nil {
		t.Skip("no hard links here:", err)
	}
	if _, err := Save(OS, mustRead(t, path), []byte("new")); err != nil {
		t.Fatal(err)
	}
	if got := contents(t, other); got != "old" {
		t.Errorf("the other name of the file holds %q, want the old contents", got)
	}
}

func TestSaveIntoReadOnlyFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser may write everywhere; run as another user")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "prices.toml")
	writeFile(t, path, "old")
	s := mustRead(t, path)
	if err := os.Chmod(dir, 0o500); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = os.Chmod(dir, 0o700) }()
	if _, err := Save(OS, s, []byte("new")); !errors.Is(err, os.ErrPermission) {
		t.Errorf("Save: %v, want %v", err, os.ErrPermission)
	}
	if got := contents(t, path); got != "old" {
		t.Errorf("the file holds %q", got)
	}
}
