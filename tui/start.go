package tui

import (
	"strings"

	"afterpour/chem/lot"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// start is the page of a program that was called without a file: describe a lot
// of one's own, or look at a sample. The cursor begins on the sample that is
// being worked out meanwhile, so that enter shows its standings at once.
type start struct {
	roll    roll
	samples []lot.About
}

// newKey is the row for describing a lot; sampleKey begins those of the samples.
const (
	newKey    = "new"
	sampleKey = "sample/"
)

// withStart opens the start page.
func (m model) withStart() model {
	s := start{samples: lot.Samples()}
	s = s.laid(m)
	for _, a := range s.samples {
		if strings.HasSuffix(m.residueFile.name, a.Name) {
			s.roll = s.roll.upTo(sampleKey + a.Name)
		}
	}
	m.cover = s
	return m
}

func (s start) title() string { return "Afterpour" }

func (s start) lay(m model) cover { return s.laid(m) }

// laid sets the page out: what one can begin with, each with what it is.
func (s start) laid(m model) start {
	s.roll = s.roll.size(m.width, m.bodyHeight())
	room := s.roll.room()
	lines := []line{text(strong, "Describe a new lot").at(newKey, nil)}
	lines = append(lines, m.look.paragraph(muted, "    ", "at most twelve short questions, and each may be left blank", room)...)
	lines = append(lines, m.look.head("Or look at a sample; all of them are invented")...)
	for _, a := range s.samples {
		lines = append(lines, text(strong, a.Title).at(sampleKey+a.Name, nil))
		lines = append(lines, m.look.paragraph(muted, "    ", a.Shows, room)...)
	}
	s.roll = s.roll.fill(lines)
	if s.roll.cursor+mostHead < s.roll.height {
		s.roll.top = 0 // with the row for a new lot in sight
	}
	return s
}

func (s start) view(m model) []string { return s.roll.view(m.look) }

func (s start) place() string { return s.roll.place() }

func (s start) keys(m model) []key.Binding {
	return []key.Binding{m.keys.Open, m.keys.Describe, m.keys.Down, m.keys.Quit}
}

func (s start) press(m model, msg tea.KeyMsg) (model, tea.Cmd) {
	if r, ok := m.keys.moved(s.roll, msg); ok {
		s.roll = r
		m.cover = s
		return m, nil
	}
	switch {
	case key.Matches(msg, m.keys.Quit):
		return m.quit()
	case key.Matches(msg, m.keys.Describe):
		return m.describeLot(), nil
	case key.Matches(msg, m.keys.Back):
		m.cover = nil
	case key.Matches(msg, m.keys.Open):
		return s.open(m)
	}
	return m, nil
}

// open goes on with what the cursor is on.
func (s start) open(m model) (model, tea.Cmd) {
	here := s.roll.current().key
	name, sample := strings.CutPrefix(here, sampleKey)
	switch {
	case here == newKey:
		return m.describeLot(), nil
	case !sample:
		return m, nil
	}
	m.cover = nil
	if strings.HasSuffix(m.residueFile.name, name) {
		return m, nil // it is being worked out already
	}
	data, err := lot.Sample(name)
	if err != nil {
		m.notice = notice{warn, err.Error()}
		return m, nil
	}
	return m.openLot(opened{name: "built-in sample lot " + name, data: data})
}
