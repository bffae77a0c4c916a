package tui

import (
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// newField makes a line to type in. The text input keeps text and place; the
// screen draws both itself, because a caret that is only reversed disappears
// where there is no colour. Two of its keys are off: the clipboard's would run
// programs, and the one that deletes the word ahead panics with the caret before
// the last character.
func newField(value string, limit int) textinput.Model {
	f := textinput.New()
	f.CharLimit = limit
	f.KeyMap.Paste.SetEnabled(false)
	f.KeyMap.DeleteWordForward.SetEnabled(false)
	f.Cursor.SetMode(cursor.CursorHide)
	f.SetValue(value)
	f.CursorEnd()
	f.Focus()
	return f
}

// shortened cuts a pasted text before it is worked on: a field holds a line.
func shortened(msg tea.KeyMsg) tea.KeyMsg {
	const most = 500
	if len(msg.Runes) > most {
		msg.Runes = msg.Runes[:most]
	}
	return msg
}

// fieldLine draws a field with its caret, the part round the caret if it is too
// long.
func (l look) fieldLine(f textinput.Model, width int) line {
	runes := []rune(f.Value())
	place := min(f.Position(), len(runes))
	before, after := string(runes[:place]), string(runes[place:])
	if over := ansi.StringWidth(before) + 2 - width; over > 0 {
		before = ansi.TruncateLeft(before, over, l.signs.more)
	}
	return text(accent, before+l.signs.caret+after)
}
