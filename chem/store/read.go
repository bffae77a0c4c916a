package store

import (
	"crypto/sha256"
	"io"
	"io/fs"
	"os"
	"time"

	"afterpour/chem/input"
)

// Snapshot is a file as it was read.
type Snapshot struct {
	Path string   // as the caller named it
	Data []byte   // the contents
	Hash [32]byte // SHA-256 of the contents
	Mode fs.FileMode

	info fs.FileInfo // as it was before and after reading
}

const (
	// settleTime is how long a file must have been left alone to count as
	// completely written: an editor that empties a file and then fills it is
	// through with it within that time.
	settleTime = 200 * time.Millisecond
	// coarseTime takes its place where the file system tells whole seconds only.
	coarseTime = 2 * time.Second
	// settleTries is how often a file that is being written is looked at.
	settleTries = 25
)

// Read takes in a file of at most input.MaxBytes. It waits until nothing has
// written to the file for 200 ms, and gives up after about five seconds. A
// folder, a device or a pipe is refused without being opened.
func Read(layer Layer, path string) (Snapshot, error) {
	for range settleTries {
		s, err := readOnce(layer, path)
		if err == nil {
			return s, nil
		}
		if err != ErrUnsettled {
			return Snapshot{}, failed("read", path, err)
		}
	}
	return Snapshot{}, failed("read", path, ErrUnsettled)
}

// readOnce reads a file, after waiting if it was written a moment ago. It
// returns ErrUnsettled if the file was written to meanwhile.
func readOnce(layer Layer, path string) (Snapshot, error) {
	before, err := layer.Stat(path)
	if err != nil {
		return Snapshot{}, err
	}
	if err := regular(before); err != nil {
		return Snapshot{}, err
	}
	if wait := unsettled(before, layer.Now()); wait > 0 {
		// The clock of the file system may differ from ours, so a time that
		// stays the same while we wait is as good as one that is past.
		layer.Sleep(wait)
	}
	data, after, err := readAll(layer, path)
	if err != nil {
		return Snapshot{}, err
	}
	if !same(before, after) || int64(len(data)) != after.Size() {
		return Snapshot{}, ErrUnsettled
	}
	return Snapshot{Path: path, Data: data, Hash: sha256.Sum256(data), Mode: after.Mode().Perm(), info: after}, nil
}

func regular(info fs.FileInfo) error {
	switch {
	case info.IsDir():
		return ErrFolder
	case !info.Mode().IsRegular():
		return ErrNotRegular
	case info.Size() > input.MaxBytes:
		return ErrTooLarge
	}
	return nil
}

// unsettled returns how long to wait until a file has been left alone for long
// enough.
func unsettled(info fs.FileInfo, now time.Time) time.Duration {
	need := settleTime
	if info.ModTime().Nanosecond() == 0 {
		need = coarseTime
	}
	age := now.Sub(info.ModTime())
	switch {
	case age >= need:
		return 0
	case age < 0: // a clock that is ahead
		return need
	}
	return need - age
}

func same(a, b fs.FileInfo) bool {
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

// readAll reads an opened file, which need not be the one that was looked at
// before, and describes it as it is afterwards.
func readAll(layer Layer, path string) ([]byte, fs.FileInfo, error) {
	f, err := layer.Open(path)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err == nil {
		err = regular(info)
	}
	if err != nil {
		return nil, nil, err
	}
	data, err := io.ReadAll(io.LimitReader(f, input.MaxBytes+1))
	if err != nil {
		return nil, nil, err
	}
	if len(data) > input.MaxBytes {
		return nil, nil, ErrTooLarge
	}
	info, err = f.Stat()
	return data, info, err
}

// Changed reports whether the contents of a file differ from what was read. It
// is cheap enough to be asked every second. A file that is being written has
// not changed yet; one that is gone has.
func Changed(layer Layer, s Snapshot) (bool, error) {
	info, err := layer.Stat(s.Path)
	switch {
	case os.IsNotExist(err):
		return true, nil
	case err != nil:
		return false, failed("look at", s.Path, err)
	case s.info != nil && same(info, s.info):
		return false, nil
	case regular(info) != nil:
		return true, nil
	case unsettled(info, layer.Now()) > 0:
		return false, nil
	}
	data, _, err := readAll(layer, s.Path)
	if err != nil {
		return false, failed("look at", s.Path, err)
	}
	return sha256.Sum256(data) != s.Hash, nil
}
