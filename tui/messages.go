package tui

import (
	"afterpour/chem/lot"
	"afterpour/chem/store"
	"afterpour/econ"

	tea "github.com/charmbracelet/bubbletea"
)

// appraisedMsg brings the result of a run. One whose number is not the current
// one of its role is dropped.
type appraisedMsg struct {
	role role
	run  int
	judged
	err error
}

// refinedMsg brings odds, better ones each time; the last is done. A run that is
// not the current one is dropped.
type refinedMsg struct {
	run      int
	progress econ.Progress
	done     bool
	err      error
	next     tea.Cmd // waits for the next
}

// sensedMsg brings what the doubt of a plan's gain comes from.
type sensedMsg struct {
	run   int
	found *econ.Sensitivity
	err   error
}

// triedMsg brings what moved figures would bring.
type triedMsg struct {
	run       int
	appraisal *econ.Appraisal
	err       error
}

// limitMsg brings where the decision turns along a slider, by its limitKey.
type limitMsg struct {
	run   int
	name  string
	limit econ.Threshold
	err   error
}

// curveMsg brings a curve, or why there is none.
type curveMsg struct {
	run   int
	id    string
	curve econ.Curve
	err   error
}

// cannotStopMsg says that there is nobody who could let a stopped program go on.
type cannotStopMsg struct{}

// tickedMsg says that it is time to look at the files again.
type tickedMsg struct{}

// polledMsg says whether the files are still what was read, and of which reading
// that is said.
type polledMsg struct {
	found         changes
	book, residue [32]byte
}

// savedMsg says how saving the price book went.
type savedMsg struct {
	snapshot store.Snapshot
	data     []byte // what was to be saved
	elsewhere, thenQuit,
	created bool
	err error
}

// describedMsg brings what is in a lot by the answers so far.
type describedMsg struct {
	run    int
	report *lot.Report
	err    error
}

// sheetMadeMsg brings the bench sheet of a plan.
type sheetMadeMsg struct {
	run   int
	sheet *econ.Sheet
	err   error
}

// sheetSentMsg says how saving a sheet went, or sending it to the terminal.
type sheetSentMsg struct {
	to  string // "" for the terminal
	err error
}

// expectedMsg brings what a plan should give.
type expectedMsg struct {
	run      int
	expected *econ.Expectation
	err      error
}

// outturnNotedMsg says how noting an outturn went.
type outturnNotedMsg struct {
	path string
	all  []econ.Outturn // of the file, the new one last
	err  error
}

// bookReloadedMsg brings the price book as it now stands on disk.
type bookReloadedMsg struct {
	file opened
	keep bool // the unsaved edits are to be put on top of it
	err  error
}

// lotReloadedMsg brings the lot file as it now stands on disk.
type lotReloadedMsg struct {
	file   opened
	ground ground
	keep   bool // the unsaved edits are to be put on top of it
	err    error
}

// lotSavedMsg says how saving the lot went.
type lotSavedMsg struct {
	snapshot          store.Snapshot
	data              []byte // what was to be saved
	created, thenQuit bool
	err               error
}

// keptMsg says how writing the recovery file went.
type keptMsg struct{ err error }
