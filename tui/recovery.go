package tui

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"sync"
	"time"

	"afterpour/chem/store"
)

// recovery is what a recovery file holds: the unsaved edits of one session.
type recovery struct {
	Version int       `json:"version"`
	File    string    `json:"file"` // the price book that the edits belong to
	Written time.Time `json:"written"`
	Edits   []edit    `json:"edits"`
}

const recoveryVersion = 1

// keeper writes the recovery file of a session. Each session on a price book
// has a place of its own, held by a lock, so that two programs on one book do
// not overwrite each other's edits; a place that is free and holds edits was
// left by a session that did not end well.
//
// Commands run side by side, so an older state might come last: each carries a
// sequence number, and what is older than the last one written is dropped.
type keeper struct {
	mu       sync.Mutex
	layer    store.Layer
	dir, key string
	file     string
	path     string
	release  func()
	sequence int
	closed   bool
}

// places bounds the number of sessions on one book that keep recovery files.
const places = 9

var errNoPlace = errors.New("too many recovery files of this price book are in use")

// newKeeper takes a place and returns what an earlier session left there, if
// anything. The folder is made when needed.
func newKeeper(layer store.Layer, dir, file string) (*keeper, *recovery, error) {
	k := &keeper{layer: layer, dir: dir}
	k.name(file)
	if err := layer.MakeDir(dir); err != nil {
		return nil, nil, err
	}
	found := k.leftBehind()
	if found == nil {
		if err := k.take(); err != nil {
			return nil, nil, err
		}
	}
	return k, found, nil
}

// name makes the keeper that of a price book.
func (k *keeper) name(file string) {
	if abs, err := filepath.Abs(file); err == nil {
		file = abs
	}
	sum := sha256.Sum256([]byte(file))
	k.key, k.file = hex.EncodeToString(sum[:6]), file
}

// lockWait is how long a place is waited for: only as long as a lock takes.
const lockWait = 20 * time.Millisecond

// leftBehind takes the first free place that holds edits.
func (k *keeper) leftBehind() *recovery {
	for n := 1; n <= places; n++ {
		if _, err := k.layer.Stat(k.placePath(n)); err != nil {
			continue
		}
		release, err := k.layer.Lock(k.lockPath(n), lockWait)
		if err != nil {
			continue
		}
		found, err := k.read(n)
		if err != nil || len(found.Edits) == 0 {
			release()
			continue
		}
		k.hold(n, release)
		return found
	}
	return nil
}

// take holds the first free place that holds nothing.
func (k *keeper) take() error {
	for n := 1; n <= places; n++ {
		if _, err := k.layer.Stat(k.placePath(n)); err == nil {
			continue
		}
		if release, err := k.layer.Lock(k.lockPath(n), lockWait); err == nil {
			k.hold(n, release)
			return nil
		} else if !errors.Is(err, store.ErrLocked) {
			return err
		}
	}
	return errNoPlace
}

func (k *keeper) hold(n int, release func()) {
	k.path, k.release = k.placePath(n), release
}

func (k *keeper) placePath(n int) string {
	return filepath.Join(k.dir, fmt.Sprintf("unsaved-%s-%d.json", k.key, n))
}

func (k *keeper) lockPath(n int) string { return k.placePath(n) + ".lock" }

func (k *keeper) read(n int) (*recovery, error) {
	snapshot, err := store.Read(k.layer, k.placePath(n))
	if err != nil {
		return nil, err
	}
	var r recovery
	if err := json.Unmarshal(snapshot.Data, &r); err != nil {
		return nil, err
	}
	if r.Version != recoveryVersion || r.File != k.file {
		return nil, errors.New("a recovery file of another kind")
	}
	return &r, nil
}

// keep writes the unsaved edits, or removes the file if there are none.
func (k *keeper) keep(sequence int, edits []edit) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.closed || sequence <= k.sequence {
		return nil
	}
	k.sequence = sequence
	if len(edits) == 0 {
		return k.remove()
	}
	data, err := json.MarshalIndent(recovery{recoveryVersion, k.file, k.layer.Now().UTC(), edits}, "", "  ")
	if err != nil {
		return err
	}
	return store.Replace(k.layer, k.path, append(data, '\n'))
}

func (k *keeper) remove() error {
	if err := k.layer.Remove(k.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// moveOn leaves what is in this place to the next start and takes another.
func (k *keeper) moveOn() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.closed {
		return nil
	}
	k.release()
	return k.take()
}

// rebind goes on with the edits of another price book.
func (k *keeper) rebind(file string) error {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.closed {
		return nil
	}
	k.release()
	k.name(file)
	return k.take()
}

// close ends the session with its last state and frees the place. Whatever
// commands still run write nothing any more.
func (k *keeper) close(edits []edit) error {
	if k == nil {
		return nil
	}
	err := k.keep(int(^uint(0)>>1), edits)
	k.mu.Lock()
	defer k.mu.Unlock()
	k.closed = true
	k.release()
	return err
}
