package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
	"time"

	"afterpour/chem/input"
)

func TestReadSizes(t *testing.T) {
	tests := map[string]struct {
		size int64
		want error
	}{
		"empty":     {0, nil},
		"one byte":  {1, nil},
		"limit":     {input.MaxBytes, nil},
		"limit + 1": {input.MaxBytes + 1, ErrTooLarge},
		"100 MB":    {100e6, ErrTooLarge},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "f")
			writeFile(t, path, "")
			if err := os.Truncate(path, test.size); err != nil {
				t.Fatal(err)
			}
			age(t, path)
			s, err := Read(OS, path)
			if !errors.Is(err, test.want) {
				t.Fatalf("Read of %d bytes: %v, want %v", test.size, err, test.want)
			}
			if err == nil && int64(len(s.Data)) != test.size {
				t.Errorf("Read of %d bytes gave %d", test.size, len(s.Data))
			}
		})
	}
}

func TestReadRefuses(t *testing.T) {
	dir := t.TempDir()
	tests := map[string]struct {
		path string
		want error
	}{
		"folder":  {dir, ErrFolder},
		"missing": {filepath.Join(dir, "none"), fs.ErrNotExist},
	}
	if _, err := os.Stat("/dev/zero"); err == nil {
		tests["device"] = struct {
			path string
			want error
		}{"/dev/zero", ErrNotRegular}
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			if _, err := Read(OS, test.path); !errors.Is(err, test.want) {
				t.Errorf("Read(%q): %v, want %v", test.path, err, test.want)
			}
		})
	}
}

// slowLayer has a clock of its own, and runs a hook while somebody sleeps.
type slowLayer struct {
	osLayer
	now     time.Time
	whileIn func(nap int)
	naps    int
}

func (l *slowLayer) Now() time.Time { return l.now }

func (l *slowLayer) Sleep(d time.Duration) {
	l.naps++
	l.whileIn(l.naps)
	l.now = l.now.Add(d)
}

func TestReadWaitsForWriter(t *testing.T) {
	path := filepath.Join(t.TempDir(), "prices.toml")
	write := func(data string, at time.Time) {
		t.Helper()
		if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, at, at); err != nil {
			t.Fatal(err)
		}
	}
	start := time.Now().Truncate(time.Second).Add(1234567)
	write("value = 240", start)
	layer := &slowLayer{now: start}
	layer.whileIn = func(nap int) {
		if nap == 1 { // the rest of the file arrives while we wait
			write("value = 2_400.50", layer.now.Add(time.Millisecond))
		}
	}
	s, err := Read(layer, path)
	if err != nil || string(s.Data) != "value = 2_400.50" {
		t.Errorf("Read gave %q, %v; want the whole file", s.Data, err)
	}

	write("x", start)
	layer = &slowLayer{now: start}
	layer.whileIn = func(int) { write("x", layer.now.Add(time.Millisecond)) }
	if _, err := Read(layer, path); !errors.Is(err, ErrUnsettled) {
		t.Errorf("Read of a file without end: %v, want %v", err, ErrUnsettled)
	}
	if waited := layer.now.Sub(start); waited > 6*time.Second {
		t.Errorf("Read gave up after %v", waited)
	}
}

func TestReadDoesNotWaitForOldFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lot.toml")
	writeFile(t, path, "x")
	layer := &faultyLayer{}
	if _, err := Read(layer, path); err != nil || layer.sleeps != 0 {
		t.Errorf("Read waited %v (%v)", layer.sleeps, err)
	}
}

func TestUnsettled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "f")
	writeFile(t, path, "")
	fine := time.Date(2026, 11, 20, 12, 0, 0, 5e6, time.UTC)
	coarse := fine.Truncate(time.Second)
	tests := map[string]struct {
		modified time.Time
		age      time.Duration
		want     time.Duration
	}{
		"just now":         {fine, 0, settleTime},
		"half way":         {fine, settleTime / 2, settleTime / 2},
		"settled":          {fine, settleTime, 0},
		"clock ahead":      {fine, -time.Hour, settleTime},
		"whole seconds":    {coarse, time.Second, time.Second},
		"long ago, coarse": {coarse, time.Hour, 0},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			if err := os.Chtimes(path, test.modified, test.modified); err != nil {
				t.Fatal(err)
			}
			info, _ := os.Stat(path)
			if got := unsettled(info, test.modified.Add(test.age)); got != test.want {
				t.Errorf("unsettled = %v, want %v", got, test.want)
			}
		})
	}
}

func TestChanged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "f")
	writeFile(t, path, "one")
	s := mustRead(t, path)
	check := func(what string, want bool) {
		t.Helper()
		if got, err := Changed(OS, s); got != want || err != nil {
			t.Errorf("%s: Changed = %v, %v; want %v", what, got, err, want)
		}
	}
	check("untouched", false)
	earlier := time.Now().Add(-time.Hour)
	if err := os.Chtimes(path, earlier, earlier); err != nil {
		t.Fatal(err)
	}
	check("touched", false)
	writeFile(t, path, "two")
	check("other contents", true)
	if err := os.WriteFile(path, []byte("tw"), 0o644); err != nil {
		t.Fatal(err)
	}
	check("still being written", false)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	check("removed", true)
}
