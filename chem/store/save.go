package store

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"path/filepath"
	"time"

	"afterpour/chem/input"
)

// BackupSuffix stands behind the name of the file that keeps the old contents.
const BackupSuffix = "~"

// lockWait is how long a save waits for another one to finish.
const lockWait = 5 * time.Second

// Save puts data in the place of the file that was read as the snapshot, and
// returns the snapshot of the new file. Unless the error is ErrNotSynced, an
// error means that the file is as it was and that nothing is left beside it:
// *ChangedError if the file is no longer what was read, and *Error otherwise.
func Save(layer Layer, s Snapshot, data []byte) (Snapshot, error) {
	if len(data) > input.MaxBytes {
		return Snapshot{}, failed("save", s.Path, ErrTooLarge)
	}
	target, err := layer.Resolve(s.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return Snapshot{}, &ChangedError{Path: s.Path, Gone: true}
	}
	if err != nil {
		return Snapshot{}, failed("save", s.Path, err)
	}
	release, err := layer.Lock(lockPath(target), lockWait)
	if err != nil {
		return Snapshot{}, failed("save", s.Path, err)
	}
	defer release()
	sweep(layer, target)
	current, err := unchanged(layer, s, target)
	if err != nil {
		return Snapshot{}, err
	}
	if sha256.Sum256(data) == current.Hash {
		return current, nil
	}
	err = replaceFile(layer, target, current, data)
	if err != nil && !errors.Is(err, ErrNotSynced) {
		return Snapshot{}, failed("save", s.Path, err)
	}
	return describe(layer, s.Path, data, current.Mode), failed("sync", s.Path, err)
}

// unchanged reads the file as it is now and compares it with the snapshot.
func unchanged(layer Layer, s Snapshot, target string) (Snapshot, error) {
	data, info, err := readAll(layer, target)
	if errors.Is(err, fs.ErrNotExist) {
		return Snapshot{}, &ChangedError{Path: s.Path, Gone: true}
	}
	if err != nil {
		return Snapshot{}, failed("save", s.Path, err)
	}
	current := Snapshot{Path: s.Path, Data: data, Hash: sha256.Sum256(data), Mode: info.Mode().Perm(), info: info}
	if current.Hash != s.Hash {
		return Snapshot{}, &ChangedError{Path: s.Path, Current: current}
	}
	if info.Mode().Perm()&0o200 == 0 {
		return Snapshot{}, failed("save", s.Path, ErrReadOnly)
	}
	return current, nil
}

// replaceFile writes the new contents and the backup beside the target, then
// moves both to their names. Only the last step touches the target.
func replaceFile(layer Layer, target string, current Snapshot, data []byte) error {
	fresh, err := writeBeside(layer, target, data, current.Mode)
	if err != nil {
		return err
	}
	backup, err := writeBeside(layer, target, current.Data, current.Mode)
	if err == nil {
		err = renameOrRemove(layer, backup, target+BackupSuffix)
	}
	if err != nil {
		_ = layer.Remove(fresh)
		return err
	}
	return putInPlace(layer, fresh, target)
}

// describe returns the snapshot of a file just saved.
func describe(layer Layer, path string, data []byte, mode fs.FileMode) Snapshot {
	s := Snapshot{Path: path, Data: data, Hash: sha256.Sum256(data), Mode: mode}
	s.info, _ = layer.Stat(path) // without it, Changed reads the file
	return s
}

// Create writes a new file, with the folders above it if they are missing, and
// returns its snapshot. If the name is taken the error is fs.ErrExist.
func Create(layer Layer, path string, data []byte) (Snapshot, error) {
	const mode = 0o644
	if err := layer.MakeDir(filepath.Dir(path)); err != nil {
		return Snapshot{}, failed("create", path, err)
	}
	release, err := layer.Lock(lockPath(path), lockWait)
	if err != nil {
		return Snapshot{}, failed("create", path, err)
	}
	defer release()
	sweep(layer, path)
	if _, err := layer.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		if err == nil {
			err = fs.ErrExist
		}
		return Snapshot{}, failed("create", path, err)
	}
	fresh, err := writeBeside(layer, path, data, mode)
	if err == nil {
		err = putInPlace(layer, fresh, path)
	}
	if err != nil && !errors.Is(err, ErrNotSynced) {
		return Snapshot{}, failed("create", path, err)
	}
	return describe(layer, path, data, mode), failed("sync", path, err)
}

// Replace writes a file of the program's own, such as a recovery file: for the
// user alone, whatever was there before, and without backup.
func Replace(layer Layer, path string, data []byte) error {
	if err := layer.MakeDir(filepath.Dir(path)); err != nil {
		return failed("save", path, err)
	}
	release, err := layer.Lock(lockPath(path), lockWait)
	if err != nil {
		return failed("save", path, err)
	}
	defer release()
	sweep(layer, path)
	fresh, err := writeBeside(layer, path, data, 0o600)
	if err == nil {
		err = putInPlace(layer, fresh, path)
	}
	return failed("save", path, err)
}
