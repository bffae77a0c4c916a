package store

import (
	"errors"
	"io/fs"
)

// appendTries is how often an append begins again because somebody else has
// changed the file meanwhile.
const appendTries = 100

// Append puts what grow returns at the end of a file, and makes the file with the
// folders above it if it is missing. grow is given the bytes that are there (nil
// for a new file) and is called again if somebody else changes the file
// meanwhile, so that two who append at once both get in. The bytes that are there
// stay as they are; an error of grow is returned and nothing is written.
//
// It returns the snapshot of the file as it is now. Errors: that of grow; those
// of Read, Save and Create; *ChangedError where the file would not stand still.
func Append(layer Layer, path string, grow func(old []byte) (more []byte, err error)) (Snapshot, error) {
	var last error
	for range appendTries {
		s, err := appendOnce(layer, path, grow)
		if !errors.Is(err, ErrChanged) && !errors.Is(err, fs.ErrExist) {
			return s, err
		}
		last = err
	}
	return Snapshot{}, last
}

func appendOnce(layer Layer, path string, grow func([]byte) ([]byte, error)) (Snapshot, error) {
	current, err := Read(layer, path)
	if errors.Is(err, fs.ErrNotExist) {
		more, err := grow(nil)
		if err != nil {
			return Snapshot{}, err
		}
		return Create(layer, path, more)
	}
	if err != nil {
		return Snapshot{}, err
	}
	more, err := grow(current.Data)
	if err != nil {
		return Snapshot{}, err
	}
	grown := make([]byte, 0, len(current.Data)+len(more))
	grown = append(append(grown, current.Data...), more...)
	return Save(layer, current, grown)
}
