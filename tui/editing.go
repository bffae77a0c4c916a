package tui

import (
	"errors"
	"fmt"
	"io/fs"

	"afterpour/chem/input"
	"afterpour/chem/store"

	tea "github.com/charmbracelet/bubbletea"
)

// splice is how prices are written on this day.
func (m model) splice() splicer { return priceSplicer(m.book.name, m.world.today()) }

// change makes an edit and has everything worked out anew.
func (m model) change(e edit) (model, tea.Cmd) {
	log, err := m.log.apply(e, m.splice())
	if err != nil {
		m.notice = notice{warn, err.Error()}
		return m, nil
	}
	m.turn++
	return m.withLog(log.numbered(m.turn))
}

// withLog takes a changed log in force: recovery file, figures.
func (m model) withLog(log editLog) (model, tea.Cmd) {
	m.log = log
	m.kept++
	m, run := m.start(asEdited, log.data())
	return m, tea.Batch(run, keep(m.keeper, m.kept, log.unsaved))
}

// undo takes back the last edit of whichever file it was in.
func (m model) undo() (model, tea.Cmd, bool) {
	if m.lotLog.done > 0 && (m.log.done == 0 || m.lotLog.undoTurn() > m.log.undoTurn()) {
		return m.undoLot()
	}
	log, e, ok := m.log.undo()
	if !ok {
		return m, nil, true
	}
	m, cmd := m.withLog(log)
	m.notice = notice{plain, fmt.Sprintf("Undone: %s is “%s” again.", e.Path, e.Old)}
	return m, cmd, true
}

// redo makes the edit again that was taken back last.
func (m model) redo() (model, tea.Cmd, bool) {
	price, priced := m.log.redoTurn()
	if turn, ok := m.lotLog.redoTurn(); ok && (!priced || turn < price) {
		return m.redoLot()
	}
	log, e, ok := m.log.redo()
	if !ok {
		return m, nil, true
	}
	m, cmd := m.withLog(log)
	m.notice = notice{plain, fmt.Sprintf("Done again: %s is “%s”.", e.Path, e.New)}
	return m, cmd, true
}

// save writes what is unsaved: the lot first, then the price book.
func (m model) save(thenQuit bool) (model, tea.Cmd) {
	switch {
	case m.saving:
		return m, nil
	case m.lotLog.dirty():
		return m.saveLot(thenQuit)
	}
	return m.saveBook(thenQuit)
}

// saveBook writes the price book: over the file that was read, or, if it was
// built in, as a first book of the user's own.
func (m model) saveBook(thenQuit bool) (model, tea.Cmd) {
	data := m.log.data()
	switch {
	case m.book.onDisk():
		m.saving = true
		return m, saveBook(m.world.layer, m.book.snapshot, data, thenQuit)
	case m.bookHome != "":
		m.saving = true
		return m, createBook(m.world.layer, m.bookHome, data, false, thenQuit)
	}
	return m.askPath(thenQuit), nil
}

// saved takes in how saving went.
func (m model) saved(msg savedMsg) (model, tea.Cmd) {
	m.saving = false
	switch {
	case errors.Is(msg.err, store.ErrChanged):
		m.changed.book = true
		m.question = m.bookChangedQuestion("Not saved: the price book on disk is no longer what was read.")
		return m, nil
	case errors.Is(msg.err, fs.ErrExist):
		m = m.askPath(msg.thenQuit)
		m.notice = notice{warn, "Not saved: there is a file of that name already."}
		return m, nil
	case msg.err != nil && !errors.Is(msg.err, store.ErrNotSynced):
		m.question = m.notSavedQuestion(msg.err, msg.thenQuit)
		return m, nil
	}
	m.book.snapshot, m.book.path = msg.snapshot, msg.snapshot.Path
	if msg.created {
		m.book.name = msg.snapshot.Path
	}
	m.log = m.log.saved(msg.data)
	m.changed.book = false
	m.kept++
	cmd := keep(m.keeper, m.kept, m.log.unsaved)
	if msg.elsewhere {
		cmd = tea.Sequence(cmd, rebind(m.keeper, m.book.path))
	}
	if msg.thenQuit && !m.dirty() {
		m.left = leftDone
		return m, tea.Sequence(cmd, tea.Quit)
	}
	m.notice = notice{gain, "Saved: " + m.book.name}
	if msg.err != nil {
		m.notice = notice{warn, msg.err.Error()}
	}
	return m.savedStudy(), cmd
}

// savedStudy makes what is shown what later changes are compared with, once it
// is what the file says.
func (m model) savedStudy() model {
	s := m.studies[asEdited]
	if !m.log.dirty() && !s.pending && s.err == nil {
		m.studies[asSaved].judged = s.judged
	}
	return m
}

// polled takes in what was found on disk. It asks once, when a change is first
// seen and nothing else is being answered or typed; the mark in the title stays
// until the change is dealt with. A look at a file as it was before it was last
// read or saved here says nothing.
func (m model) polled(msg polledMsg) model {
	if msg.book != m.book.snapshot.Hash || msg.residue != m.residueFile.snapshot.Hash || m.saving {
		return m
	}
	news := changes{book: msg.found.book && !m.changed.book, lot: msg.found.lot && !m.changed.lot}
	if (news.book || news.lot) && (m.question != nil || m.prices.field != nil || m.residue.field != nil || m.whatIf.field != nil || m.cover != nil) {
		return m
	}
	m.changed = msg.found
	switch {
	case news.book:
		m.question = m.bookChangedQuestion("The price book was changed by another program.")
	case news.lot:
		m.question = m.lotChangedQuestion("The lot file was changed by another program.")
	}
	return m
}

// bookReloaded takes the price book in as it now is, and puts the unsaved edits
// on top of it if they are to be kept.
func (m model) bookReloaded(msg bookReloadedMsg) (model, tea.Cmd) {
	if msg.err != nil {
		m.question = m.unreadableQuestion(msg.err)
		return m, nil
	}
	mine := m.log.unsaved
	m.book, m.changed.book = msg.file, false
	log := newEditLog(msg.file.data)
	var lost []string
	if msg.keep {
		log, lost = putBack(log, mine, true, m.splice())
	}
	m.studies[asSaved].appraisal = nil
	m, run := m.withLog(log)
	m, again := m.start(asSaved, log.disk)
	m.notice = notice{plain, "Read again: " + m.book.name}
	if len(lost) > 0 {
		m.notice = notice{warn, "Could not be kept: " + lost[0]}
	}
	return m, tea.Batch(run, again)
}

// putBack makes edits on a log, from whatever stands there now if over is set.
// It returns what could not be made.
func putBack(log editLog, edits []edit, over bool, splice splicer) (editLog, []string) {
	var lost []string
	for _, e := range edits {
		if over {
			if _, old, err := splice(log.data(), e.Path, e.New); err == nil {
				e.Old = old
			}
		}
		next, err := log.apply(e, splice)
		if err != nil {
			lost = append(lost, err.Error())
			continue
		}
		log = next
	}
	return log, lost
}

// lotReloaded takes the lot in as it now is.
func (m model) lotReloaded(msg lotReloadedMsg) (model, tea.Cmd) {
	if msg.err != nil {
		m.question = m.unreadableQuestion(msg.err)
		return m, nil
	}
	mine := m.lotLog.unsaved
	m.residueFile, m.ground, m.changed.lot = msg.file, msg.ground, false
	log := newEditLog(msg.file.data)
	var lost []string
	if msg.keep {
		log, lost = putBack(log, mine, true, m.spliceLot())
	}
	m, run := m.withLotLog(log)
	m.notice = notice{plain, "Read again: " + m.residueFile.name}
	if len(lost) > 0 {
		m.notice = notice{warn, "Could not be kept: " + lost[0]}
	}
	return m, run
}

// quit leaves, or asks first if something is really unsaved.
func (m model) quit() (model, tea.Cmd) {
	if m.dirty() {
		m.question = m.quitQuestion()
		return m, nil
	}
	m.left = leftDone
	return m, tea.Quit
}

// keptOrNot says so when unsaved edits are not safe.
func (m model) keptOrNot(msg keptMsg) model {
	if msg.err != nil {
		m.notice = notice{warn, "No recovery file can be kept: " + msg.err.Error()}
	}
	return m
}

// messageOf is an error on one line.
func messageOf(err error) string {
	var problems input.Problems
	if errors.As(err, &problems) && len(problems) > 0 {
		return problems[0].Message
	}
	return err.Error()
}
