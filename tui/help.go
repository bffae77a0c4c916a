package tui

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// purposes say in a sentence what each screen is for.
var purposes = [screenCount]string{
	"Residue: what stands in the vessel, how sure that is, and which routes get at it. What was said of it can be changed where it stands; all is worked out anew at once, and nothing is written before it is saved.",
	"Standings: every plan by its net, what is left in money. The bar is its gain, net less the baseline: leaving the lot as it is. No labour: net with your own hours at no cost. Hands h: your hours. Elapsed h: from start to end. Per h: net without labour for each hour of yours. Plans that only end otherwise than a better one are listed on demand.",
	"Abreast: two to four plans line by line; the signs say how each stands to plan A.",
	"Plan: one plan step by step, with what it takes, gives off, loses and leaves.",
	"Prices: every price with its unit and its day; a change is worked out while it is typed, and nothing is written before it is saved. A typed price is of today; one that is still right can be dated today as it is.",
	"What if: move a price, a content, the wage or the size of the lot and watch the order of the plans and the advice change. Nothing here is saved or shown on another screen.",
	"Curves: silver that stays dissolved against salt, metals against pH, net against the size of the lot, the prices and the wage; drawn, or as a table.",
}

// openHelp shows the keys that work here and now.
func (m model) openHelp(k keyMap) model {
	var lines []line
	width := m.width - cursorWidth
	first := m.look.paragraph(plain, "", purposes[m.screen], width)
	first[0] = first[0].at("purpose", nil)
	lines = append(lines, first...)
	for _, g := range k.full(m.screen) {
		var rows []line
		for _, b := range g.keys {
			if b.Enabled() {
				rows = append(rows, text(accent, "  "+pad(b.Help().Key, 11, false)).with(plain, b.Help().Desc).at(g.title+b.Help().Key, nil))
			}
		}
		if len(rows) > 0 {
			lines = append(append(lines, m.look.head(g.title)...), rows...)
		}
	}
	r := roll{}.size(m.width, m.bodyHeight()).fill(lines)
	m.help = &r
	return m
}

// helpKey is a key while the help is shown: it moves, or closes.
func (m model) helpKey(msg tea.KeyMsg) model {
	k := m.active()
	if key.Matches(msg, k.Help) || key.Matches(msg, m.keys.Cancel) || key.Matches(msg, k.Quit) {
		m.help = nil
		return m
	}
	if r, ok := k.moved(*m.help, msg); ok {
		m.help = &r
	}
	return m
}

// ask shows where the figure in the row of the cursor comes from.
func (m model) ask() model {
	c := m.row().claim
	if c == nil {
		return m
	}
	width := m.width - cursorWidth
	var lines []line
	if len(c.questions) > 0 {
		lines = m.look.answers(m.appraisal(), c.questions, width)
	} else {
		lines = m.look.explain(c, m.appraisal().Figures, width)
	}
	r := roll{}.size(m.width, m.bodyHeight()).fill(lines)
	m.asked = &r
	return m
}

// askedKey is a key while an answer is shown.
func (m model) askedKey(msg tea.KeyMsg) (model, tea.Cmd) {
	k := m.active()
	if key.Matches(msg, k.Where) || key.Matches(msg, m.keys.Cancel) || key.Matches(msg, m.keys.Accept) {
		m.asked = nil
		return m, nil
	}
	if r, ok := k.moved(*m.asked, msg); ok {
		m.asked = &r
		return m, nil
	}
	m, cmd, _ := m.globalKey(k, msg)
	return m, cmd
}
