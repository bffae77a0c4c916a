package store

import (
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
)

// putInPlace gives a temporary file the name of its target.
func putInPlace(layer Layer, fresh, target string) error {
	if err := renameOrRemove(layer, fresh, target); err != nil {
		return err
	}
	if err := layer.SyncDir(filepath.Dir(target)); err != nil {
		return fmt.Errorf("%w: %w", ErrNotSynced, err)
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
