package store

import (
	"bytes"
	"errors"
	"path/filepath"
	"syscall"
	"testing"
)

// TestFullDisk saves to a file system of 64 KiB until it is full.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skip("mounting needs the superuser:", err)
	}
	defer func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) }()
	path := filepath.Join(dir, "prices.toml")
	writeFile(t, path, "old")
	s := mustRead(t, path)
	_, err := Save(OS, s, bytes.Repeat([]byte("x"), 100_000))
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("Save on a full disk: %v, want %v", err, syscall.ENOSPC)
	}
	if got := contents(t, path); got != "old" {
		t.Errorf("the file holds %q", got)
	}
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("left on the full disk: %q", got)
	}
	if _, err := Save(OS, s, []byte("fits")); err != nil {
		t.Errorf("Save of what fits: %v", err)
	}
}
