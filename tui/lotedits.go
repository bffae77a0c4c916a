package tui

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"afterpour/chem/lot"
	"afterpour/chem/store"

	tea "github.com/charmbracelet/bubbletea"
)

// lotSplicer writes values into a lot file.
func lotSplicer(name string) splicer {
	return func(data []byte, path, text string) ([]byte, string, error) {
		return lot.Edit(name, data, path, text)
	}
}

func (m model) spliceLot() splicer { return lotSplicer(m.residueFile.name) }

// dirty reports that something is unsaved, in whichever file.
func (m model) dirty() bool { return m.log.dirty() || m.lotLog.dirty() }

// changeLot makes an edit of the lot and has everything worked out anew.
func (m model) changeLot(e edit) (model, tea.Cmd) {
	log, err := m.lotLog.apply(e, m.spliceLot())
	if err != nil {
		m.notice = notice{warn, messageOf(err)}
		return m, nil
	}
	m.turn++
	return m.withLotLog(log.numbered(m.turn))
}

// withLotLog takes a changed log of the lot in force: the lot, recovery file,
// figures.
func (m model) withLotLog(log editLog) (model, tea.Cmd) {
	fresh, err := m.ground.with(opened{name: m.residueFile.name, data: log.data()})
	if err != nil {
		m.notice = notice{warn, messageOf(err)}
		return m, nil
	}
	m.lotLog, m.ground, m.lotTurned = log, fresh, true
	m.lotKept++
	kept := keep(m.lotKeeper, m.lotKept, log.unsaved)
	m, run := m.startAnew(asEdited, m.log.data())
	if !m.log.dirty() {
		return m, tea.Batch(run, kept)
	}
	m, again := m.startAnew(asSaved, m.log.disk)
	return m, tea.Batch(run, again, kept)
}

func (m model) undoLot() (model, tea.Cmd, bool) {
	log, e, _ := m.lotLog.undo()
	m, cmd := m.withLotLog(log)
	m.notice = notice{plain, fmt.Sprintf("Undone: %s is %s again.", lotPath(e), quoted(e.Old))}
	return m, cmd, true
}

func (m model) redoLot() (model, tea.Cmd, bool) {
	log, e, _ := m.lotLog.redo()
	m, cmd := m.withLotLog(log)
	m.notice = notice{plain, fmt.Sprintf("Done again: %s is %s.", lotPath(e), quoted(e.New))}
	return m, cmd, true
}

// lotPath names what an edit of the lot changes.
func lotPath(e edit) string {
	if e.Path == "" {
		return "the lot"
	}
	return e.Path
}

// quoted is a text of a file in a message; "not set" where there is none.
func quoted(s string) string {
	if s == "" {
		return "not set"
	}
	return "“" + firstLine(s) + "”"
}

// saveLot writes the lot over the file that was read; one that was built in, or
// described here, gets a name first.
func (m model) saveLot(thenQuit bool) (model, tea.Cmd) {
	if !m.residueFile.onDisk() {
		return m.askLotPath(thenQuit), nil
	}
	m.saving = true
	return m, saveLot(m.world.layer, m.residueFile.snapshot, "", m.lotLog.data(), thenQuit)
}

// askSaveAs asks for another name for what the open screen edits.
func (m model) askSaveAs() model {
	if m.screen == residueScreen {
		return m.askLotPath(false)
	}
	return m.askPath(false)
}

// askLotPath asks where to save the lot.
func (m model) askLotPath(thenQuit bool) model {
	field := newField("", pathWidth)
	m.question = &dialog{
		title:   "Save the lot as",
		texts:   []string{"The name of a file that does not exist yet, such as jar-3.toml:"},
		choices: []choice{{m.keys.Cancel, stay}},
		field:   &field,
		accept: func(m model, path string) (model, tea.Cmd) {
			if path == "" {
				return m, nil
			}
			m.saving = true
			return m, saveLot(m.world.layer, store.Snapshot{}, path, m.lotLog.data(), thenQuit)
		},
	}
	return m
}

// lotSaved takes in how saving the lot went; the price book follows if it is
// unsaved too.
func (m model) lotSaved(msg lotSavedMsg) (model, tea.Cmd) {
	m.saving = false
	switch {
	case errors.Is(msg.err, store.ErrChanged):
		m.changed.lot = true
		m.question = m.lotChangedQuestion("Not saved: the lot on disk is no longer what was read.")
		return m, nil
	case errors.Is(msg.err, fs.ErrExist):
		m = m.askLotPath(msg.thenQuit)
		m.notice = notice{warn, "Not saved: there is a file of that name already."}
		return m, nil
	case msg.err != nil && !errors.Is(msg.err, store.ErrNotSynced):
		m.question = m.lotNotSavedQuestion(msg.err, msg.thenQuit)
		return m, nil
	}
	m.residueFile.snapshot, m.residueFile.path, m.residueFile.data = msg.snapshot, msg.snapshot.Path, msg.data
	m.lotLog, m.changed.lot = m.lotLog.saved(msg.data), false
	m.lotKept++
	cmd := keep(m.lotKeeper, m.lotKept, m.lotLog.unsaved)
	if msg.created {
		m.residueFile.name = msg.snapshot.Path
		cmd = tea.Sequence(cmd, rebind(m.lotKeeper, msg.snapshot.Path))
	}
	m.notice = notice{gain, "Saved: " + m.residueFile.name}
	if msg.err != nil {
		m.notice = notice{warn, msg.err.Error()}
	}
	switch {
	case m.log.dirty():
		m, more := m.saveBook(msg.thenQuit)
		return m, tea.Sequence(cmd, more)
	case msg.thenQuit && !m.dirty():
		m.left = leftDone
		return m, tea.Sequence(cmd, tea.Quit)
	}
	return m, cmd
}

// lotChangedQuestion says that somebody else changed the lot.
func (m model) lotChangedQuestion(title string) *dialog {
	q := &dialog{title: title, texts: []string{m.residueFile.name}}
	reload := choice{m.keys.Reload, func(m model) (model, tea.Cmd) {
		return m, reloadLot(m.world.layer, m.ground, m.residueFile, false)
	}}
	later := choice{m.keys.Later, stay}
	if !m.lotLog.dirty() {
		q.texts = append(q.texts, "The figures shown are those of the file as it was read.")
		q.choices = []choice{reload, later}
		return q
	}
	q.texts = append(append(q.texts, "Unsaved here:"), editTexts(m.lotLog.unsaved)...)
	q.texts = append(q.texts,
		"Reload drops these and takes the file as it is now. Keep mine takes the file as it is now and puts these on top of it, still to be saved. Save as leaves the file alone and writes yours under another name.")
	q.choices = []choice{
		reload,
		{m.keys.KeepMine, func(m model) (model, tea.Cmd) {
			return m, reloadLot(m.world.layer, m.ground, m.residueFile, true)
		}},
		{m.keys.Elsewhere, func(m model) (model, tea.Cmd) { return m.askLotPath(false), nil }},
		later,
	}
	return q
}

// lotNotSavedQuestion says why saving failed and offers another place.
func (m model) lotNotSavedQuestion(err error, thenQuit bool) *dialog {
	return &dialog{
		title: "The lot is not saved",
		texts: []string{err.Error(), "Your edits are still here."},
		choices: []choice{
			{m.keys.Elsewhere, func(m model) (model, tea.Cmd) { return m.askLotPath(thenQuit), nil }},
			{m.keys.Stay, stay},
		},
	}
}

// unsavedTexts list what the guard at the way out is about.
func (m model) unsavedTexts() []string {
	var texts []string
	if m.lotLog.dirty() {
		texts = append(append(texts, "Of the lot, not saved yet:"), editTexts(m.lotLog.unsaved)...)
	}
	if m.log.dirty() {
		texts = append(texts, fmt.Sprintf("%s not in %s yet:", plural(len(m.log.unsaved), "price is", "prices are"), m.bookName()))
		texts = append(texts, editTexts(m.log.unsaved)...)
	}
	return texts
}

// withLotKeeper takes a place for the unsaved edits of the lot.
func (m model) withLotKeeper(o Options) model {
	if o.StateDir == "" {
		return m
	}
	m.stateDir = o.StateDir
	file := o.Lot.Path
	if file == "" {
		file = m.lotPlace(o.Lot.Name)
	}
	k, found, err := newKeeper(o.Layer, o.StateDir, file)
	if err != nil {
		m.notice = notice{warn, "No recovery file can be kept: " + err.Error()}
		return m
	}
	m.lotKeeper, m.lotFound = k, found
	return m.askLotRecovery()
}

// lotPlace is under what name the edits of a lot are kept that is not on disk.
func (m model) lotPlace(name string) string { return filepath.Join(m.stateDir, "built-in", name) }

// askLotRecovery offers the edits of the lot that an earlier session left, once
// those of the price book are decided on.
func (m model) askLotRecovery() model {
	r := m.lotFound
	if r == nil || m.question != nil || m.found != nil {
		return m
	}
	texts := []string{fmt.Sprintf("An earlier session ended on %s with edits of this lot that were not saved:", r.Written.Local().Format("2006-01-02 at 15:04"))}
	m.question = &dialog{
		title: "Unsaved edits of the lot were recovered",
		texts: append(append(texts, editTexts(r.Edits)...), "Nothing has been changed. Put back, they are unsaved edits that can be undone."),
		choices: []choice{
			{m.keys.PutBack, func(m model) (model, tea.Cmd) { return m.recoverLot() }},
			{m.keys.ThrowAway, func(m model) (model, tea.Cmd) {
				m.lotFound = nil
				m.lotKept++
				return m, keep(m.lotKeeper, m.lotKept, nil)
			}},
			{m.keys.Later, func(m model) (model, tea.Cmd) {
				m.lotFound = nil
				return m, keepElsewhere(m.lotKeeper)
			}},
		},
	}
	return m
}

// recoverLot makes the edits of an earlier session again.
func (m model) recoverLot() (model, tea.Cmd) {
	log, lost := putBack(m.lotLog, m.lotFound.Edits, false, m.spliceLot())
	m.lotFound, m.cover = nil, nil
	m.turn++
	m, cmd := m.withLotLog(log.numbered(m.turn))
	m.notice = notice{plain, fmt.Sprintf("Put back, not saved yet: %s", plural(len(log.unsaved), "edit", "edits"))}
	if len(lost) > 0 {
		m.notice = notice{warn, "Not put back: " + lost[0]}
	}
	return m, cmd
}

// closeLot ends the recovery file of the lot as finish ends that of the book.
func (m model) closeLot() error {
	if m.lotKeeper == nil {
		return nil
	}
	var edits []edit
	if m.left != leftDone {
		edits = m.lotLog.unsaved
	}
	if m.lotFound != nil { // undecided: stays for the next start
		_ = m.lotKeeper.moveOn()
	}
	return m.lotKeeper.close(edits)
}
