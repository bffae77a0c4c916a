package tui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// cover is a page that takes the place of the screens while it is open: the
// start, describing a lot, a bench sheet. It is a value, as the model is.
type cover interface {
	// title stands where the lot's title stands on the screens.
	title() string
	// press takes a key and returns the model that comes of it.
	press(m model, msg tea.KeyMsg) (model, tea.Cmd)
	// lay sets the page out for the size and the figures.
	lay(m model) cover
	// view draws the page.
	view(m model) []string
	// place says which part of the page is shown.
	place() string
	// keys are the keys for the foot, those that lead out last.
	keys(m model) []key.Binding
}

// openLot goes on with another lot; what was shown of the last one goes.
func (m model) openLot(f opened) (model, tea.Cmd) {
	fresh, err := m.ground.with(f)
	if err != nil {
		m.notice = notice{warn, messageOf(err)}
		return m, nil
	}
	m.residueFile, m.ground = f, fresh
	m.studies[asEdited].judged = judged{}
	m, run := m.withLotLog(newEditLog(f.data))
	return m, tea.Sequence(rebind(m.lotKeeper, m.lotPlace(f.name)), run)
}
