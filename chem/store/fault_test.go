package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

var errInjected = errors.New("injected fault")

// faultyLayer is the real file system, except that the operation with the
// number failAt fails. It keeps the names of all operations.
type faultyLayer struct {
	osLayer
	failAt int
	ops    []string
	sleeps time.Duration
}

func (l *faultyLayer) fails(op string) bool {
	l.ops = append(l.ops, op)
	return len(l.ops) == l.failAt
}

func (l *faultyLayer) Sleep(d time.Duration) { l.sleeps += d }

func (l *faultyLayer) Resolve(path string) (string, error) {
	if l.fails("resolve") {
		return "", errInjected
	}
	return l.osLayer.Resolve(path)
}

func (l *faultyLayer) Stat(path string) (fs.FileInfo, error) {
	if l.fails("stat") {
		return nil, errInjected
	}
	return l.osLayer.Stat(path)
}

func (l *faultyLayer) Lock(path string, wait time.Duration) (func(), error) {
	if l.fails("lock") {
		return nil, errInjected
	}
	return l.osLayer.Lock(path, wait)
}

func (l *faultyLayer) List(dir string) ([]string, error) {
	if l.fails("list") {
		return nil, errInjected
	}
	return l.osLayer.List(dir)
}

func (l *faultyLayer) Open(path string) (File, error) {
	if l.fails("open") {
		return nil, errInjected
	}
	f, err := l.osLayer.Open(path)
	return &faultyFile{f, l, "old"}, err
}

func (l *faultyLayer) CreateExcl(path string, mode fs.FileMode) (File, error) {
	if l.fails("create") {
		return nil, errInjected
	}
	f, err := l.osLayer.CreateExcl(path, mode)
	return &faultyFile{f, l, "new"}, err
}

func (l *faultyLayer) Rename(from, to string) error {
	if l.fails("rename") {
		return errInjected
	}
	return l.osLayer.Rename(from, to)
}

func (l *faultyLayer) SyncDir(dir string) error {
	if l.fails("syncdir") {
		return errInjected
	}
	return l.osLayer.SyncDir(dir)
}

type faultyFile struct {
	File
	layer *faultyLayer
	which string
}

// Write fails half way, as on a disk that is full.
func (f *faultyFile) Write(p []byte) (int, error) {
	if f.layer.fails("write") {
		n, _ := f.File.Write(p[:len(p)/2])
		return n, errInjected
	}
	return f.File.Write(p)
}

func (f *faultyFile) Read(p []byte) (int, error) {
	if f.layer.fails("read") {
		return 0, errInjected
	}
	return f.File.Read(p)
}

func (f *faultyFile) Stat() (fs.FileInfo, error) {
	if f.layer.fails("fstat") {
		return nil, errInjected
	}
	return f.File.Stat()
}

func (f *faultyFile) Chmod(mode fs.FileMode) error {
	if f.layer.fails("chmod") {
		return errInjected
	}
	return f.File.Chmod(mode)
}

func (f *faultyFile) Sync() error {
	if f.layer.fails("sync") {
		return errInjected
	}
	return f.File.Sync()
}

func (f *faultyFile) Close() error {
	err := f.File.Close()
	if f.which == "new" && f.layer.fails("close") {
		return errInjected
	}
	return err
}

func writeFile(t *testing.T, path, data string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
		t.Fatal(err)
	}
	age(t, path)
}

// age makes a file look as if nobody had written to it for a minute.
func age(t *testing.T, path string) {
	t.Helper()
	past := time.Now().Add(-time.Minute)
	if err := os.Chtimes(path, past, past); err != nil {
		t.Fatal(err)
	}
}

func contents(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// names returns what is in a folder.
func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

func mustRead(t *testing.T, path string) Snapshot {
	t.Helper()
	s, err := Read(OS, path)
	if err != nil {
		t.Fatalf("Read(%q): %v", path, err)
	}
	return s
}

// TestSaveFaults lets every operation of a save fail in turn. Whichever it is,
// the file is whole, nothing is left beside it, and the error says so.
func TestSaveFaults(t *testing.T) {
	seen := map[string]bool{}
	for n := 1; ; n++ {
		dir := t.TempDir()
		path := filepath.Join(dir, "prices.toml")
		writeFile(t, path, "old")
		layer := &faultyLayer{}
		s, err := Read(layer, path)
		if err != nil {
			t.Fatal(err)
		}
		layer.ops, layer.failAt = nil, n
		_, err = Save(layer, s, []byte("new contents"))
		if len(layer.ops) < n {
			if err != nil {
				t.Fatalf("save without fault: %v", err)
			}
			break
		}
		op := layer.ops[n-1]
		seen[op] = true
		checkFault(t, dir, path, op, err)
	}
	for _, op := range []string{"resolve", "lock", "open", "read", "create", "write", "chmod", "sync", "close", "rename", "syncdir"} {
		if !seen[op] {
			t.Errorf("no save failed at %s", op)
		}
	}
}

func checkFault(t *testing.T, dir, path, op string, err error) {
	t.Helper()
	want := "old"
	switch {
	case op == "list", op == "stat": // sweeping and describing may fail
		want = "new contents"
		if err != nil {
			t.Errorf("fault at %s: %v, want none", op, err)
		}
	case op == "syncdir":
		want = "new contents"
		if !errors.Is(err, ErrNotSynced) {
			t.Errorf("fault at %s: %v, want %v", op, err, ErrNotSynced)
		}
	case !errors.Is(err, errInjected) || !strings.Contains(err.Error(), "prices.toml"):
		t.Errorf("fault at %s: %v, want the fault and the name of the file", op, err)
	}
	if got := contents(t, path); got != want {
		t.Errorf("fault at %s: the file holds %q, want %q", op, got, want)
	}
	for _, name := range names(t, dir) {
		if name != "prices.toml" && name != "prices.toml~" {
			t.Errorf("fault at %s: %q is left", op, name)
		}
	}
}

func TestCreateFaults(t *testing.T) {
	for n := 1; ; n++ {
		dir := t.TempDir()
		layer := &faultyLayer{failAt: n}
		_, err := Create(layer, filepath.Join(dir, "a", "prices.toml"), []byte("new"))
		if len(layer.ops) < n {
			return
		}
		switch op := layer.ops[n-1]; {
		case op == "list", op == "stat" && n > 4, op == "syncdir":
		case err == nil:
			t.Errorf("Create: fault at %s gave no error", op)
		default:
			if left := names(t, filepath.Join(dir, "a")); len(left) > 0 {
				t.Errorf("Create: fault at %s left %q", op, left)
			}
		}
	}
}

// TestReplaceFaults: a recovery file is the old or the new one, whatever fails.
func TestReplaceFaults(t *testing.T) {
	for n := 1; ; n++ {
		dir := t.TempDir()
		path := filepath.Join(dir, "recovery")
		writeFile(t, path, "old")
		layer := &faultyLayer{failAt: n}
		err := Replace(layer, path, []byte("new"))
		if len(layer.ops) < n {
			return
		}
		want := "old"
		switch op := layer.ops[n-1]; {
		case op == "list":
			want = "new"
		case op == "syncdir":
			want = "new"
			if !errors.Is(err, ErrNotSynced) {
				t.Errorf("Replace: fault at %s gave %v", op, err)
			}
		case !errors.Is(err, errInjected):
			t.Errorf("Replace: fault at %s gave %v", op, err)
		}
		if got := contents(t, path); got != want {
			t.Errorf("Replace: fault at %s left %q, want %q", layer.ops[n-1], got, want)
		}
		if got := names(t, dir); len(got) != 1 {
			t.Errorf("Replace: fault at %s left %q", layer.ops[n-1], got)
		}
	}
}

func TestReadFaults(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lot.toml")
	writeFile(t, path, "title = 'x'")
	for n := 1; ; n++ {
		layer := &faultyLayer{failAt: n}
		s, err := Read(layer, path)
		if len(layer.ops) < n {
			if string(s.Data) != "title = 'x'" {
				t.Errorf("Read without fault: %q", s.Data)
			}
			return
		}
		if !errors.Is(err, errInjected) {
			t.Errorf("Read: fault at %s gave %v", layer.ops[n-1], err)
		}
	}
}

func TestSweep(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "prices.toml")
	writeFile(t, path, "x")
	stale := temporaryPath(path)
	writeFile(t, stale, "half")
	writeFile(t, temporaryPath(filepath.Join(dir, "other.toml")), "of another file")
	before := len(names(t, dir))

	release, err := OS.Lock(lockPath(path), 0)
	if err != nil {
		t.Fatal(err)
	}
	Sweep(OS, path)
	if !slices.Contains(names(t, dir), filepath.Base(stale)) {
		t.Error("Sweep removed a temporary file while somebody was saving")
	}
	release()
	Sweep(OS, path)
	if got := names(t, dir); len(got) != before-1 || slices.Contains(got, filepath.Base(stale)) {
		t.Errorf("after Sweep: %q", got)
	}
}
