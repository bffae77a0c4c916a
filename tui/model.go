package tui

import (
	"context"
	"io"
	"slices"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// screen is one of the pages that the digits open.
type screen uint8

const (
	residueScreen screen = iota
	standingsScreen
	abreastScreen
	planScreen
	pricesScreen
	whatIfScreen
	curvesScreen
	screenCount
)

var screenNames = [screenCount]string{"Residue", "Standings", "Abreast", "Plan", "Prices", "What if", "Curves"}

// role says which prices an appraisal was made with.
type role uint8

const (
	asSaved  role = iota // those of the file
	asEdited             // those of the working copy: what all screens show
	asTyped              // those of the working copy with the text in the field
	roleCount
)

// study is an appraisal in one role: the last that came, and the run that is
// under way.
type study struct {
	judged
	run     int
	cancel  context.CancelFunc
	pending bool
	err     error
}

// model is the whole state of the program. It is a value: Update returns a
// changed copy, and View only reads.
type model struct {
	ctx    context.Context
	world  surroundings
	look   look
	keys   keyMap
	keeper *keeper

	width, height int
	screen        screen
	before        screen // where "back" leads

	residueFile opened
	ground      ground
	book        opened
	bookHome    string
	log         editLog
	kept        int // number of the last state handed to the keeper
	lotLog      editLog
	lotKeeper   *keeper
	lotKept     int
	stateDir    string
	terminal    io.Writer // for what is copied
	sheetRun    int
	ticked      map[string]bool // on the bench sheets
	turn        int             // of the last edit, over both files
	lotTurned   bool            // the lot is another than that of the figures shown
	studies     [roleCount]study

	residue   residue
	standings standings
	abreast   abreast
	plan      planView
	odds      odds
	drivers   drivers
	whatIf    whatIf
	curves    curves
	prices    prices

	asked    *roll   // where a figure comes from, while that is shown
	cover    cover   // a page in the place of the screens
	question *dialog // what must be answered first
	help     *roll
	found    *recovery // of an earlier session, until it is decided on
	lotFound *recovery
	notice   notice
	changed  changes
	saving   bool
	moved    bool // only the cursor moved, so the page need not be set out anew
	left     departure
}

// notice is a message at the foot of the screen. The next key takes it away.
type notice struct {
	tone tone
	text string
}

// departure says how the user left.
type departure uint8

const (
	stillHere departure = iota
	leftDone            // nothing unsaved, or it was thrown away knowingly
	leftAtOnce
)

// Init starts the first run and the watch over the files.
func (m model) Init() tea.Cmd {
	if m.ctx == nil {
		return nil
	}
	return tea.Batch(m.runCommand(asEdited, m.log.data()), tick())
}

// Update routes a message to what it concerns.
func (m model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.width, m.height = msg.Width, msg.Height
	case tea.KeyMsg:
		m, cmd = m.pressedAll(msg)
	case appraisedMsg:
		m, cmd = m.appraised(msg)
	case refinedMsg:
		m, cmd = m.refined(msg)
	case curveMsg:
		m = m.curveCame(msg)
	case triedMsg:
		m, cmd = m.tried(msg)
	case limitMsg:
		m = m.soughtOut(msg)
	case sensedMsg:
		m = m.sensed(msg)
	case tickedMsg:
		return m, poll(m.world.layer, m.book, m.residueFile)
	case polledMsg:
		m = m.polled(msg)
		cmd = tick()
	case savedMsg:
		m, cmd = m.saved(msg)
	case expectedMsg:
		m = m.outturnExpected(msg)
	case outturnNotedMsg:
		m, cmd = m.outturnNoted(msg)
	case sheetMadeMsg:
		m = m.sheetMade(msg)
	case sheetSentMsg:
		m = m.sheetSent(msg)
	case describedMsg:
		m = m.described(msg)
	case lotSavedMsg:
		m, cmd = m.lotSaved(msg)
	case bookReloadedMsg:
		m, cmd = m.bookReloaded(msg)
	case lotReloadedMsg:
		m, cmd = m.lotReloaded(msg)
	case keptMsg:
		m = m.keptOrNot(msg)
	case cannotStopMsg:
		m.notice = notice{plain, "There is no shell to go to here."}
	default:
		return m, nil
	}
	if m.moved {
		m.moved = false
		return m, cmd
	}
	m, curve := m.seekCurve()
	if curve != nil {
		cmd = tea.Batch(cmd, curve)
	}
	return m.lay(), cmd
}

// mostAtOnce is how many keys a fast hand or a slow line brings at once. More
// are a pasted text, which is never run as keys.
const mostAtOnce = 4

// pressedAll takes keys that arrived together one by one.
func (m model) pressedAll(msg tea.KeyMsg) (model, tea.Cmd) {
	if msg.Type != tea.KeyRunes || msg.Paste || len(msg.Runes) < 2 || len(msg.Runes) > mostAtOnce {
		return m.pressed(msg)
	}
	var cmds []tea.Cmd
	for _, r := range msg.Runes {
		one := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: msg.Alt}
		if r == ' ' {
			one.Type = tea.KeySpace
		}
		var cmd tea.Cmd
		moved := m.moved
		m, cmd = m.pressed(one)
		m = m.lay()
		m.moved = moved && m.moved
		cmds = append(cmds, cmd)
	}
	return m, tea.Batch(cmds...)
}

// pressed gives a key to whoever it is for: first ctrl+c, then what lies on
// top, then the screen.
func (m model) pressed(msg tea.KeyMsg) (model, tea.Cmd) {
	if key.Matches(msg, m.keys.Interrupt) {
		m.left = leftAtOnce
		return m, tea.Quit
	}
	if key.Matches(msg, m.keys.Suspend) {
		return m, stopSelf
	}
	m.notice = notice{}
	switch {
	case m.question != nil:
		return m.answered(msg)
	case m.cover != nil && m.fits():
		return m.cover.press(m, msg)
	case m.whatIf.field != nil && m.fits():
		return m.moveTyped(msg)
	case m.prices.field != nil && m.fits():
		return m.typed(msg)
	case m.residue.field != nil && m.fits():
		return m.saidTyped(msg)
	case m.help != nil:
		return m.helpKey(msg), nil
	case m.asked != nil:
		return m.askedKey(msg)
	}
	return m.screenKey(msg)
}

// screenKey is a key on an open screen.
func (m model) screenKey(msg tea.KeyMsg) (model, tea.Cmd) {
	k := m.active()
	if m, cmd, ok := m.globalKey(k, msg); ok {
		return m, cmd
	}
	if r, ok := k.moved(*m.roll(), msg); ok {
		*m.roll() = r
		m.moved = m.screen != pricesScreen // whose foot tells of the row
		return m, nil
	}
	switch m.screen {
	case residueScreen:
		return m.residueKey(k, msg), nil
	case standingsScreen:
		return m.standingsKey(k, msg)
	case abreastScreen:
		return m.abreastKey(k, msg), nil
	case planScreen:
		return m.planKey(k, msg)
	case pricesScreen:
		return m.pricesKey(k, msg)
	case whatIfScreen:
		return m.whatIfKey(k, msg)
	case curvesScreen:
		return m.curvesKey(k, msg), nil
	}
	return m, nil
}

// globalKey is a key that means the same on every screen.
func (m model) globalKey(k keyMap, msg tea.KeyMsg) (model, tea.Cmd, bool) {
	for i := range k.Screens {
		if key.Matches(msg, k.Screens[i]) {
			return m.open(screen(i)), nil, true
		}
	}
	switch {
	case key.Matches(msg, k.Help):
		return m.openHelp(k), nil, true
	case key.Matches(msg, k.Sheet):
		m, cmd := m.openSheet(m.sheetHere().ID)
		return m, cmd, true
	case key.Matches(msg, k.Where):
		return m.ask(), nil, true
	case key.Matches(msg, k.Back):
		return m.open(m.before), nil, true
	case key.Matches(msg, k.Undo):
		return m.undo()
	case key.Matches(msg, k.Redo):
		return m.redo()
	case key.Matches(msg, k.Save):
		m, cmd := m.save(false)
		return m, cmd, true
	case key.Matches(msg, k.SaveAs):
		return m.askSaveAs(), nil, true
	case key.Matches(msg, k.Quit):
		m, cmd := m.quit()
		return m, cmd, true
	}
	return m, nil, false
}

// open shows a screen.
func (m model) open(s screen) model {
	if s != m.screen {
		m.before, m.screen = m.screen, s
	}
	m.asked = nil
	return m
}

// active returns the keys with those disabled that do nothing now.
func (m model) active() keyMap {
	k := m.keys
	a := m.appraisal()
	k.Where.SetEnabled(m.row().claim != nil)
	k.Back.SetEnabled(m.before != m.screen)
	k.Undo.SetEnabled(m.log.done+m.lotLog.done > 0)
	k.Redo.SetEnabled(m.log.done < len(m.log.steps) || m.lotLog.done < len(m.lotLog.steps))
	k.Save.SetEnabled(m.dirty() && !m.saving)
	k.SaveAs.SetEnabled(!m.saving)
	k.Open.SetEnabled(m.planHere() != nil)
	k.Sheet.SetEnabled(m.sheetHere() != nil)
	k.Choose.SetEnabled(m.planHere() != nil && m.planHere().Priced())
	k.ClearChoice.SetEnabled(len(m.standings.chosen) > 0)
	k.All.SetEnabled(a != nil && (m.standings.all || slices.ContainsFunc(a.Plans, func(p econ.PricedPlan) bool { return !m.standings.lists(&p) })))
	k.Odds.SetEnabled(a != nil && (m.odds.running || !a.Settled))
	if m.odds.running {
		k.Odds.SetHelp(k.Odds.Help().Key, "stop the odds")
	}
	here := m.sliderHere()
	for _, b := range []*key.Binding{&k.Less, &k.More, &k.MuchLess, &k.MuchMore} {
		b.SetEnabled(here != nil)
	}
	k.PutHereBack.SetEnabled(here != nil && m.whatIf.value(here) != here.Value)
	k.AllBack.SetEnabled(len(m.whatIf.moves) > 0)
	k.NextCurve.SetEnabled(a != nil)
	k.PrevCurve.SetEnabled(a != nil)
	k.AsTable.SetEnabled(a != nil)
	if m.curves.table {
		k.AsTable.SetHelp(k.AsTable.Help().Key, "drawn")
	}
	k.Drivers.SetEnabled(m.canAskDrivers())
	k.NextPlan.SetEnabled(a != nil && len(a.Plans) > 1)
	k.PrevPlan.SetEnabled(a != nil && len(a.Plans) > 1)
	k.Edit.SetEnabled(m.priceHere() != nil || m.saidHere() != nil || m.sliderHere() != nil)
	k.Renew.SetEnabled(m.priceHere() != nil && !m.priceHere().Date.IsZero())
	return k
}

// moved moves the cursor of a page.
func (k keyMap) moved(r roll, msg tea.KeyMsg) (roll, bool) {
	switch {
	case key.Matches(msg, k.Up):
		return r.move(-1), true
	case key.Matches(msg, k.Down):
		return r.move(1), true
	case key.Matches(msg, k.PageUp):
		return r.page(-1), true
	case key.Matches(msg, k.PageDown):
		return r.page(1), true
	case key.Matches(msg, k.First):
		return r.end(-1), true
	case key.Matches(msg, k.Last):
		return r.end(1), true
	case key.Matches(msg, k.NextPart):
		return r.jump(1), true
	case key.Matches(msg, k.PrevPart):
		return r.jump(-1), true
	}
	return r, false
}

// roll is the page of the open screen.
func (m *model) roll() *roll {
	switch m.screen {
	case standingsScreen:
		return &m.standings.roll
	case abreastScreen:
		return &m.abreast.roll
	case planScreen:
		return &m.plan.roll
	case pricesScreen:
		return &m.prices.roll
	case whatIfScreen:
		return &m.whatIf.roll
	case curvesScreen:
		return &m.curves.roll
	}
	return &m.residue.roll
}

// row is the row of the cursor.
func (m model) row() line { return m.roll().current() }

// appraisal is what the screens show; nil until the first run is done.
func (m model) appraisal() *econ.Appraisal { return m.studies[asEdited].appraisal }

// lay sets the open screen out anew for the size and the figures.
func (m model) lay() model {
	a := m.appraisal()
	if m.cover != nil && m.fits() {
		m.cover = m.cover.lay(m)
		return m
	}
	if !m.fits() || a == nil {
		return m
	}
	switch m.screen {
	case residueScreen:
		m.residue = m.residue.lay(m.look, a, m.ground.said, m.studies[asEdited].solids, m.width, m.bodyHeight())
	case standingsScreen:
		m.standings = m.standings.lay(m.look, a, m.odds, m.width, m.bodyHeight())
	case abreastScreen:
		m.abreast = m.abreast.lay(m.look, a, m.standings.chosen, m.width, m.bodyHeight())
	case planScreen:
		m.plan = m.plan.lay(m.look, a, m.drivers, m.width, m.bodyHeight())
	case pricesScreen:
		m.prices = m.prices.lay(m.look, m.pricesView(), m.width, m.bodyHeight())
	case whatIfScreen:
		m.whatIf = m.whatIf.lay(m.look, a, m.studies[asEdited].experiment, m.width, m.bodyHeight())
	case curvesScreen:
		m.curves = m.curves.lay(m.look, m.studies[asEdited].experiment, m.width, m.bodyHeight())
	}
	return m.layTop()
}
