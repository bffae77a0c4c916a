package tui

import (
	"context"
	"fmt"
	"io"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// BenchmarkFrame is one key and one drawing on each screen, on a large terminal
// and with the plans of a real lot.
func BenchmarkFrame(b *testing.B) {
	for i, name := range screenNames {
		b.Run(name, func(b *testing.B) {
			m := frameModel(b)
			next, _ := m.Update(press(fmt.Sprint(i + 1)))
			keys := []tea.KeyMsg{press("down"), press("down"), press("up")}
			b.ReportAllocs()
			b.ResetTimer()
			for n := range b.N {
				next, _ = next.Update(keys[n%len(keys)])
				_ = next.View()
			}
		})
	}
}

// frameModel is a model over a real lot on a terminal of 200 by 60.
func frameModel(b *testing.B) tea.Model {
	b.Helper()
	m, err := newModel(context.Background(), Options{
		Lot:  File{Name: "lot", Path: "../testdata/lots/chloride-settled.toml"},
		Book: File{Name: "prices.toml", Path: "../prices.toml"}, Today: today, Output: io.Discard,
	}.withDefaults())
	if err != nil {
		b.Fatal(err)
	}
	m, cmd := m.start(asEdited, m.log.data())
	next, _ := m.Update(cmd())
	next, _ = next.Update(sizeMsg(200, 60))
	return next
}
