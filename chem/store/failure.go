package store

import (
	"errors"
	"io/fs"
	"os"

	"afterpour/chem/input"
)

// What can be wrong with a file; other errors are those of the file system.
var (
	ErrChanged    = errors.New("the file has changed on disk since it was read")
	ErrNotRegular = errors.New("this is a device or a pipe, not a file")
	ErrFolder     = errors.New("this is a folder, not a file")
	ErrTooLarge   = errors.New("the file is larger than 1 MiB")
	ErrUnsettled  = errors.New("something keeps writing to the file")
	ErrLocked     = errors.New("another program is saving this file")
	ErrReadOnly   = errors.New("the file is write-protected")
	ErrNotSynced  = errors.New("the file is saved, but might not survive a power failure")
)

// Error is a failed operation on a file. Its text is clean.
type Error struct {
	Op   string // what was tried: "read", "save", …
	Path string
	Err  error
}

// Error returns what failed, on which file, and why.
func (e *Error) Error() string {
	reason := e.Err
	var perr *fs.PathError // says the path once more, as a LinkError does
	var lerr *os.LinkError
	if errors.Is(reason, ErrNotSynced) {
		reason = ErrNotSynced
	} else if errors.As(reason, &perr) {
		reason = perr.Err
	} else if errors.As(reason, &lerr) {
		reason = lerr.Err
	}
	return input.Clean("cannot "+e.Op+" "+e.Path+": "+reason.Error(), 0)
}

// Unwrap returns the reason.
func (e *Error) Unwrap() error { return e.Err }

// ChangedError says that a file was not saved because it is no longer what was
// read. It is ErrChanged.
type ChangedError struct {
	Path    string
	Current Snapshot // what is there now; without Data if there is no file any more
	Gone    bool     // there is no file any more
}

// Error says what happened to the file.
func (e *ChangedError) Error() string {
	if e.Gone {
		return input.Clean("cannot save "+e.Path+": the file is no longer there", 0)
	}
	return input.Clean("cannot save "+e.Path+": "+ErrChanged.Error(), 0)
}

// Is makes the error one of the kind ErrChanged.
func (e *ChangedError) Is(target error) bool { return target == ErrChanged }

func failed(op, path string, err error) error {
	if err == nil {
		return nil
	}
	return &Error{Op: op, Path: path, Err: err}
}
