package tui

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// sheet is the bench sheet of one plan: what to weigh, pour, watch and note.
// Steps can be ticked off while one works; what is ticked stays with the plan
// until the program ends, and is in what is saved and copied.
type sheet struct {
	plan    string
	run     int
	cancel  context.CancelFunc
	made    *econ.Sheet
	problem string
	roll    roll
}

// sheetHere is the plan that a sheet can be made of: that of the row, or of the
// open page; nil if it cannot be carried out.
func (m model) sheetHere() *econ.PricedPlan {
	a := m.appraisal()
	if a == nil {
		return nil
	}
	p := m.planHere()
	if m.screen == planScreen {
		p = m.plan.shown(a)
	}
	if p == nil || !p.Priced() {
		return nil
	}
	return p
}

// openSheet has the sheet of a plan made and shows its page meanwhile.
func (m model) openSheet(plan string) (model, tea.Cmd) {
	ctx, cancel := context.WithCancel(m.ctx)
	m.sheetRun++
	m.cover = sheet{plan: plan, run: m.sheetRun, cancel: cancel}
	return m, makeSheet(ctx, m.appraisal(), plan, m.sheetRun)
}

// makeSheet works the sheet out.
func makeSheet(ctx context.Context, a *econ.Appraisal, plan string, run int) tea.Cmd {
	return func() tea.Msg {
		made, err := econ.BenchSheet(ctx, a, plan)
		return sheetMadeMsg{run: run, sheet: made, err: err}
	}
}

// sheetMade takes a sheet in, if its page is still open.
func (m model) sheetMade(msg sheetMadeMsg) model {
	s, open := m.cover.(sheet)
	if !open || s.run != msg.run || errors.Is(msg.err, context.Canceled) {
		return m
	}
	s.made, s.problem = msg.sheet, ""
	if msg.err != nil {
		s.problem = strings.TrimPrefix(messageOf(msg.err), "econ: ")
	}
	m.cover = s
	return m
}

func (s sheet) title() string { return "Bench sheet: " + s.plan }

func (s sheet) place() string { return s.roll.place() }

func (s sheet) keys(m model) []key.Binding {
	k := m.keys
	ready := s.made != nil
	k.Tick.SetEnabled(ready && strings.HasPrefix(s.roll.current().key, actionKey))
	k.SaveSheet.SetEnabled(ready)
	k.Copy.SetEnabled(ready)
	return []key.Binding{k.Tick, k.SaveSheet, k.Copy, k.Outturn, k.NextPart, k.Back, k.Interrupt}
}

func (s sheet) press(m model, msg tea.KeyMsg) (model, tea.Cmd) {
	if key.Matches(msg, m.keys.Back) || key.Matches(msg, m.keys.Quit) {
		s.cancel()
		m.cover = nil
		return m, nil
	}
	if r, ok := m.keys.moved(s.roll, msg); ok {
		s.roll = r
		m.cover = s
		return m, nil
	}
	switch {
	case s.made == nil:
	case key.Matches(msg, m.keys.Tick):
		return m.tick(s), nil
	case key.Matches(msg, m.keys.Outturn):
		return m.openOutturn(s.plan)
	case key.Matches(msg, m.keys.SaveSheet):
		return m.askSheetPath(s), nil
	case key.Matches(msg, m.keys.Copy):
		return m, sendText(m.terminal, s.text(m))
	}
	return m, nil
}

// tick marks what the cursor is on as done, or not done again.
func (m model) tick(s sheet) model {
	here := s.roll.current().key
	if !strings.HasPrefix(here, actionKey) {
		return m
	}
	ticked := maps.Clone(m.ticked)
	if ticked == nil {
		ticked = map[string]bool{}
	}
	ticked[s.plan+here] = !ticked[s.plan+here]
	m.ticked = ticked
	s.roll = s.roll.move(1)
	m.cover = s
	return m
}

func (s sheet) lay(m model) cover {
	s.roll = s.roll.size(m.width, m.bodyHeight())
	switch {
	case s.problem != "":
		s.roll = s.roll.fill(m.look.paragraph(warn, "! ", "There is no sheet: "+s.problem, s.roll.room()))
	case s.made == nil:
		s.roll = s.roll.fill([]line{text(muted, "Writing the sheet"+m.look.signs.more)})
	default:
		s.roll = s.roll.fill(s.lines(m, m.look, s.roll.room()))
	}
	return s
}

func (s sheet) view(m model) []string { return s.roll.view(m.look) }

// lines are the sheet on a page of a width.
func (s sheet) lines(m model, l look, width int) []line {
	w := &sheetPage{look: l, width: width, ticked: m.ticked, plan: s.plan}
	s.made.Write(w)
	return w.lines
}

// textWidth is the width of a sheet that is saved or copied.
const textWidth = 80

// text is the sheet as plain text.
func (s sheet) text(m model) string {
	var b strings.Builder
	for _, row := range s.lines(m, m.look, textWidth) {
		b.WriteString(strings.TrimRight(m.look.plainSigns(input.Clean(row.String(), 0)), " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// askSheetPath asks where to save the sheet.
func (m model) askSheetPath(s sheet) model {
	field := newField("", pathWidth)
	content := []byte(s.text(m))
	m.question = &dialog{
		title:   "Save the bench sheet as",
		texts:   []string{"The name of a file that does not exist yet, such as sheet.txt:"},
		choices: []choice{{m.keys.Cancel, stay}},
		field:   &field,
		accept: func(m model, path string) (model, tea.Cmd) {
			if path == "" {
				return m, nil
			}
			return m, saveSheet(m.world.layer, path, content)
		},
	}
	return m
}

// saveSheet writes a sheet to a file that does not exist yet.
func saveSheet(layer store.Layer, path string, content []byte) tea.Cmd {
	return func() tea.Msg {
		_, err := store.Create(layer, path, content)
		return sheetSentMsg{to: path, err: err}
	}
}

// sendText hands a text to the terminal for its clipboard. Whether the terminal
// takes it cannot be known, so no more is said than that it was sent.
func sendText(terminal io.Writer, content string) tea.Cmd {
	return func() tea.Msg {
		_, err := io.WriteString(terminal, ansi.SetSystemClipboard(content))
		return sheetSentMsg{err: err}
	}
}

// sheetSent says what became of a sheet that was saved or copied.
func (m model) sheetSent(msg sheetSentMsg) model {
	switch {
	case msg.err != nil && !errors.Is(msg.err, store.ErrNotSynced):
		m.notice = notice{warn, "Not saved: " + messageOf(msg.err)}
	case msg.to == "":
		m.notice = notice{plain, "Sent to the terminal, for its clipboard."}
	default:
		m.notice = notice{gain, "Saved: " + msg.to}
	}
	return m
}

// sheetPage takes a sheet down as rows of the screen.
type sheetPage struct {
	look    look
	width   int
	lines   []line
	ticked  map[string]bool
	plan    string
	actions int
	step    bool // within a step, whose rows are indented
}

// actionKey begins the keys of what can be ticked off.
const actionKey = "action/"

// put adds a paragraph whose first row the cursor can rest on.
func (w *sheetPage) put(t tone, lead, body, key string) {
	if w.step {
		lead = "  " + lead
	}
	p := w.look.paragraph(t, lead, body, w.width)
	if len(p) == 0 {
		return
	}
	if key == "" {
		key = fmt.Sprint("row", len(w.lines))
	}
	p[0] = p[0].at(key, nil)
	w.lines = append(w.lines, p...)
}

// Title begins the sheet.
func (w *sheetPage) Title(text string) { w.put(strong, "", text, "") }

// Section begins a part.
func (w *sheetPage) Section(text string) {
	w.step = false
	w.lines = append(w.lines, w.look.head(text)...)
}

// Step begins a numbered step.
func (w *sheetPage) Step(number int, title, of string) {
	w.step = false
	if of != "" {
		title += " (" + of + ")"
	}
	w.lines = append(w.lines, text(plain, ""))
	at := len(w.lines)
	w.put(strong, fmt.Sprintf("%d. ", number), title, "")
	w.lines[at].part = true
	w.step = true
}

// Line is a labelled sentence.
func (w *sheetPage) Line(label, text string) { w.put(plain, label+": ", text, "") }

// Point is one of a list.
func (w *sheetPage) Point(text string) { w.put(plain, "- ", text, "") }

// Action is something to be ticked off.
func (w *sheetPage) Action(letter, text string) {
	key := fmt.Sprint(actionKey, w.actions)
	w.actions++
	t, box := plain, "[ ] "
	if w.ticked[w.plan+key] {
		t, box = muted, "[x] "
	}
	if letter != "" {
		box += letter + ". "
	}
	w.put(t, box, text, key)
}

// Caution is a warning.
func (w *sheetPage) Caution(severity, text string) {
	w.put(warn, "! ", strings.ToUpper(severity)+" "+text, "")
}

// Blank is a line to write on.
func (w *sheetPage) Blank(what, unit string) {
	w.put(muted, "> ", strings.TrimSpace(what+" ________ "+unit), "")
}
