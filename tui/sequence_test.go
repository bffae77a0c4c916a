package tui

import (
	"reflect"

	tea "github.com/charmbracelet/bubbletea"
)

// sequence takes the commands out of the message that tea.Sequence makes, whose
// type the toolkit keeps to itself.
func sequence(msg tea.Msg) ([]tea.Cmd, bool) {
	v := reflect.ValueOf(msg)
	if v.Kind() != reflect.Slice || v.Type().Elem() != reflect.TypeOf(tea.Cmd(nil)) {
		return nil, false
	}
	cmds := make([]tea.Cmd, v.Len())
	for i := range cmds {
		cmds[i], _ = v.Index(i).Interface().(tea.Cmd)
	}
	return cmds, true
}
