//go:build unix

package store

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
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
	if os.Geteuid() == 0 { // who may write everywhere
		asNobody(t)
		return
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
	if got := names(t, dir); len(got) != 1 {
		t.Errorf("the folder holds %q", got)
	}
	if _, err := Create(OS, filepath.Join(dir, "other.toml"), []byte("x")); !errors.Is(err, os.ErrPermission) {
		t.Errorf("Create: %v, want %v", err, os.ErrPermission)
	}
}

// asNobody runs the test once more as a user without rights.
func asNobody(t *testing.T) {
	t.Helper()
	const nobody = 65534
	dir, err := os.MkdirTemp("", "afterpour-nobody-")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	copied := filepath.Join(dir, "test")
	data, err := os.ReadFile(program)
	if err == nil {
		err = errors.Join(os.Chmod(dir, 0o777), os.WriteFile(copied, data, 0o755))
	}
	if err != nil {
		t.Fatal(err)
	}
	again := exec.Command(copied, "-test.run=^"+t.Name()+"$", "-test.v")
	again.Dir, again.Env = dir, append(os.Environ(), "TMPDIR="+dir, "HOME="+dir)
	again.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	out, err := again.CombinedOutput()
	if errors.Is(err, syscall.EPERM) {
		t.Skip("this superuser may not become another user:", err)
	}
	if err != nil || !strings.Contains(string(out), "--- PASS: "+t.Name()) {
		t.Errorf("as another user: %v\n%s", err, out)
	}
}
