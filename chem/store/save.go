package store

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"
	"time"
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
	if err := replaceFile(layer, target, current, data); err != nil && !errors.Is(err, ErrNotSynced) {
		return Snapshot{}, failed("save", s.Path, err)
	} else if err != nil {
		return describe(layer, s.Path, data, current.Mode), failed("sync", s.Path, err)
	}
	return describe(layer, s.Path, data, current.Mode), nil
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

func putInPlace(layer Layer, fresh, target string) error {
	if err := renameOrRemove(layer, fresh, target); err != nil {
		return err
	}
	if err := layer.SyncDir(filepath.Dir(target)); err != nil {
		return errors.Join(ErrNotSynced, err)
	}
	return nil
}

func renameOrRemove(layer Layer, from, to string) error {
	err := layer.Rename(from, to)
	if err != nil {
		_ = layer.Remove(from)
	}
	return err
}

// writeBeside writes a temporary file in the folder of the target, forces it to
// disk and returns its path. If anything fails, no file is left.
func writeBeside(layer Layer, target string, data []byte, mode fs.FileMode) (path string, err error) {
	path = temporaryPath(target)
	f, err := layer.CreateExcl(path, 0o600)
	if err != nil {
		return "", err
	}
	err = fill(f, data, mode)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		_ = layer.Remove(path)
	}
	return path, err
}

func fill(f File, data []byte, mode fs.FileMode) error {
	if _, err := f.Write(data); err != nil {
		return err
	}
	if err := f.Chmod(mode); err != nil {
		return err
	}
	return f.Sync()
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

// prefix starts the names of lock and temporary files of a target.
func prefix(target string) string {
	return "." + filepath.Base(target) + ".afterpour-"
}

func lockPath(target string) string {
	return filepath.Join(filepath.Dir(target), prefix(target)+"lock")
}

func temporaryPath(target string) string {
	var random [8]byte
	_, _ = rand.Read(random[:]) // never fails; CreateExcl would notice a repeated name
	return filepath.Join(filepath.Dir(target), prefix(target)+hex.EncodeToString(random[:])+".tmp")
}

// Sweep removes the temporary files that a killed save of this file left. It
// does nothing while another program is saving the file.
func Sweep(layer Layer, path string) {
	target, err := layer.Resolve(path)
	if err != nil {
		return
	}
	release, err := layer.Lock(lockPath(target), 0)
	if err != nil {
		return
	}
	defer release()
	sweep(layer, target)
}

// sweep is for the holder of the lock, to whom every temporary file is a stale
// one. What cannot be removed now is left for the next time.
func sweep(layer Layer, target string) {
	dir := filepath.Dir(target)
	names, err := layer.List(dir)
	if err != nil {
		return
	}
	for _, name := range names {
		if strings.HasPrefix(name, prefix(target)) && strings.HasSuffix(name, ".tmp") {
			_ = layer.Remove(filepath.Join(dir, name))
		}
	}
}
