package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// Layer is the access to files and clock that this package uses.
type Layer interface {
	// Stat describes a file, following symbolic links.
	Stat(path string) (fs.FileInfo, error)
	// Resolve returns the path with all symbolic links followed.
	Resolve(path string) (string, error)
	// Open opens a file for reading, without waiting for the other end of a pipe.
	Open(path string) (File, error)
	// CreateExcl creates a file for writing; it fails if the name is taken.
	CreateExcl(path string, mode fs.FileMode) (File, error)
	// Rename gives a file another name, replacing what has that name.
	Rename(from, to string) error
	// Remove removes a file.
	Remove(path string) error
	// MakeDir makes a folder and those above it, for the user alone.
	MakeDir(path string) error
	// List returns the names in a folder.
	List(dir string) ([]string, error)
	// SyncDir forces the names in a folder to disk.
	SyncDir(dir string) error
	// Lock takes the lock file at path, waiting for it at most so long, and
	// returns what releases it. It returns ErrLocked if somebody else keeps it.
	Lock(path string, wait time.Duration) (release func(), err error)
	// Now returns the time.
	Now() time.Time
	// Sleep waits.
	Sleep(d time.Duration)
}

// File is an open file.
type File interface {
	io.ReadWriteCloser
	Stat() (fs.FileInfo, error)
	Chmod(mode fs.FileMode) error
	Sync() error
}

// OS is the file system of the machine.
var OS Layer = osLayer{}

type osLayer struct{}

func (osLayer) Stat(path string) (fs.FileInfo, error) { return os.Stat(path) }
func (osLayer) Resolve(path string) (string, error)   { return filepath.EvalSymlinks(path) }
func (osLayer) Rename(from, to string) error          { return os.Rename(from, to) }
func (osLayer) Remove(path string) error              { return os.Remove(path) }
func (osLayer) MakeDir(path string) error             { return os.MkdirAll(path, 0o700) }
func (osLayer) Now() time.Time                        { return time.Now() }
func (osLayer) Sleep(d time.Duration)                 { time.Sleep(d) }

func (osLayer) Open(path string) (File, error) {
	// Without O_NONBLOCK, opening a pipe would wait for somebody to write to it.
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, err
	}
	return f, nil
}

func (osLayer) CreateExcl(path string, mode fs.FileMode) (File, error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, err
	}
	return f, nil
}

func (osLayer) List(dir string) ([]string, error) {
	f, err := os.Open(dir)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return f.Readdirnames(-1)
}

// SyncDir does nothing where folders cannot be synced: on Windows, and on file
// systems that refuse it.
func (osLayer) SyncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}

// Lock removes the lock file when it releases the lock. Somebody who waited on
// the removed file then holds a lock that nobody else sees, so the lock counts
// only if the file still has its name afterwards.
func (osLayer) Lock(path string, wait time.Duration) (func(), error) {
	const pause = 5 * time.Millisecond
	for deadline := time.Now().Add(wait); ; time.Sleep(pause) {
		release, err := tryLock(path)
		if release != nil || err != nil {
			return release, err
		}
		if !time.Now().Before(deadline) {
			return nil, ErrLocked
		}
	}
}

// tryLock takes the lock if it is free; it returns neither release nor error if
// it is not.
func tryLock(path string) (release func(), err error) {
	lock := flock.New(path)
	if ok, err := lock.TryLock(); !ok || err != nil {
		return nil, err
	}
	held, err := lock.Stat()
	named, nerr := os.Stat(path)
	if err != nil || nerr != nil || !os.SameFile(held, named) {
		_ = lock.Unlock()
		return nil, nil
	}
	return func() {
		_ = os.Remove(path) // impossible on Windows, where it stays
		_ = lock.Unlock()
	}, nil
}
