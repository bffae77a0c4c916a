package tui

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
)

// edit is one value of a file changed. Every change of a file, by whatever key
// or screen, is one of these and goes through editLog.apply; undo, recovery and
// putting edits on a file that changed meanwhile all follow from that.
type edit struct {
	Path string `json:"path"` // of the value, "spot.Ag.price" or "spot.Ag.date"
	Old  string `json:"old"`  // as it was typed before; "" if there was none
	New  string `json:"new"`  // as it is typed now
}

// splicer writes one value into a file and returns the new file, with what
// stood there before.
type splicer func(data []byte, path, text string) (changed []byte, old string, err error)

// step is an edit and the file as it is after it.
type step struct {
	edit edit
	data []byte
	turn int // among the edits of all files, so that they are undone in the order they were made
}

// editLog is the working copy of a file: the file as it was read, and the edits
// made since. It is a value: a changed log shares nothing with the old one that
// either of them changes.
type editLog struct {
	base    []byte // as read
	disk    []byte // as it stands in the file, for all that is known here
	steps   []step // oldest first
	done    int    // how many steps are in force; those after can be redone
	unsaved []edit // from the file to the working copy: one for each value, in the order they were touched
}

// undoSteps bounds the log, and with it the memory that the files in it take.
const undoSteps = 500

// errMoved means that a value is no longer what an edit starts from.
var errMoved = errors.New("it has changed meanwhile")

func newEditLog(data []byte) editLog { return editLog{base: data, disk: data} }

// data is the file with all edits in force.
func (l editLog) data() []byte {
	if l.done == 0 {
		return l.base
	}
	return l.steps[l.done-1].data
}

// dirty reports that the working copy differs from the file.
func (l editLog) dirty() bool { return !bytes.Equal(l.data(), l.disk) }

// apply makes an edit: the one way in which anything is changed. It refuses an
// edit whose Old is not what stands there.
func (l editLog) apply(e edit, splice splicer) (editLog, error) {
	data, old, err := splice(l.data(), e.Path, e.New)
	if err != nil {
		return l, err
	}
	if old != e.Old {
		return l, fmt.Errorf("%s is “%s” and not “%s”: %w", e.Path, old, e.Old, errMoved)
	}
	if bytes.Equal(data, l.data()) {
		return l, nil
	}
	l.steps = append(l.steps[:l.done:l.done], step{edit: e, data: data})
	if len(l.steps) > undoSteps {
		l.base, l.steps = l.steps[0].data, l.steps[1:]
	}
	l.done = len(l.steps)
	return l.note(e.Path, e.Old, e.New), nil
}

// undo takes the last edit in force back and returns it.
func (l editLog) undo() (editLog, edit, bool) {
	if l.done == 0 {
		return l, edit{}, false
	}
	l.done--
	e := l.steps[l.done].edit
	return l.note(e.Path, e.New, e.Old), e, true
}

// redo puts the last edit taken back in force again and returns it.
func (l editLog) redo() (editLog, edit, bool) {
	if l.done == len(l.steps) {
		return l, edit{}, false
	}
	e := l.steps[l.done].edit
	l.done++
	return l.note(e.Path, e.Old, e.New), e, true
}

// numbered gives the last edit its turn.
func (l editLog) numbered(turn int) editLog {
	if l.done > 0 {
		l.steps = slices.Clone(l.steps)
		l.steps[l.done-1].turn = turn
	}
	return l
}

// undoTurn is the turn of the edit that undo would take back; 0 without one.
func (l editLog) undoTurn() int {
	if l.done == 0 {
		return 0
	}
	return l.steps[l.done-1].turn
}

// redoTurn is the turn of the edit that redo would make again.
func (l editLog) redoTurn() (int, bool) {
	if l.done == len(l.steps) {
		return 0, false
	}
	return l.steps[l.done].turn, true
}

// saved notes what the file now holds. Earlier edits can still be undone, which
// then makes the working copy differ again.
func (l editLog) saved(data []byte) editLog {
	l.disk = data
	l.unsaved = nil
	return l
}

// note keeps the account of what differs from the file.
func (l editLog) note(path, from, to string) editLog {
	list := make([]edit, 0, len(l.unsaved)+1)
	found := false
	for _, e := range l.unsaved {
		if e.Path == path {
			found, e.New = true, to
			if e.New == e.Old {
				continue
			}
		}
		list = append(list, e)
	}
	if !found {
		list = append(list, edit{path, from, to})
	}
	if !l.dirty() {
		list = nil
	}
	l.unsaved = list
	return l
}
