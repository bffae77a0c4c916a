package tui

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	tea "github.com/charmbracelet/bubbletea"
)

// TestResizes: five hundred sizes in a row lose nothing: not the text being
// typed, not the row, not the page.
func TestResizes(t *testing.T) {
	for _, s := range []string{"1", "2", "3", "4", "5", "6", "7"} {
		t.Run(s, func(t *testing.T) {
			b := newBench(t, 80, 24, nil)
			b.keys(" ", "down", " ", s, "down", "down")
			if s == "5" {
				b.keys("home", "enter", "ctrl+u")
				b.text("31.2")
			}
			want := b.view()
			random := rand.New(rand.NewPCG(1, uint64(len(s))))
			start := time.Now()
			for range 500 {
				width, height := 1+random.IntN(200), 1+random.IntN(60)
				b.send(sizeMsg(width, height))
				rows := strings.Split(b.view(), "\n")
				if len(rows) > height {
					t.Fatalf("%d rows on a screen of %d", len(rows), height)
				}
				for _, row := range rows {
					if ansi.StringWidth(row) > width {
						t.Fatalf("%q is wider than %d", row, width)
					}
				}
			}
			t.Logf("500 sizes in %v", time.Since(start).Round(time.Millisecond))
			b.send(sizeMsg(80, 24))
			if s != "5" { // the row is the same; how far the page is scrolled may differ
				b.keys("home")
				other := newBench(t, 80, 24, nil)
				other.keys(" ", "down", " ", s, "home")
				want = other.view()
			}
			if got := b.view(); got != want {
				t.Errorf("after the sizes:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}

// someKeys are what a person with gloves may hit.
var someKeys = append(strings.Split("1 2 3 4 5 6 7 - + j k g G w ? u r c d t f h l [ ] q x p a s S k 0 3 . / o z t e y", " "),
	"enter", "enter", "esc", "esc", "up", "down", "left", "right", "tab", "shift+tab", "pgup", "pgdown", "home", "end", "backspace", "ctrl+u", " ")

// TestRandomKeys: ten times a thousand keys; nothing panics, and the file holds
// exactly what was last saved.
func TestRandomKeys(t *testing.T) {
	for seed := range uint64(10) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			b := newBench(t, 80, 24, nil)
			random := rand.New(rand.NewPCG(7, seed))
			saves := 0
			for range 1000 {
				name := someKeys[random.IntN(len(someKeys))]
				if name == "S" || b.m.question != nil && b.m.question.field != nil {
					name = "esc" // so that no files are made all over
				}
				b.send(press(name))
				if strings.HasPrefix(b.m.notice.text, "Saved") {
					saves++
				}
				if rows := strings.Count(b.view(), "\n") + 1; rows != 24 {
					t.Fatalf("%d rows after %s", rows, name)
				}
				b.m.left = stillHere
			}
			if got := b.book(); got != string(b.m.log.disk) {
				t.Errorf("the file is\n%s\nbut should be\n%s", got, b.m.log.disk)
			}
			if saves == 0 && b.book() != testBook {
				t.Error("the file changed without being saved")
			}
			b.keys("esc", "esc", "esc", "esc")
			next, cmd := b.m.Update(press("q"))
			if m := next.(model); cmd == nil && m.question == nil {
				t.Error("q does not lead out any more")
			}
		})
	}
}

// TestRandomMessages: results may come in any order at any time.
func TestRandomMessages(t *testing.T) {
	b := newBench(t, 80, 24, nil)
	random := rand.New(rand.NewPCG(3, 3))
	messages := []tea.Msg{
		appraisedMsg{role: asTyped, run: 2, err: fmt.Errorf("no")},
		appraisedMsg{role: asEdited, run: 99, judged: judged{appraisal: testAppraisal()}},
		keptMsg{fmt.Errorf("full")},
		savedMsg{err: fmt.Errorf("full")},
		bookReloadedMsg{err: fmt.Errorf("gone")},
		lotReloadedMsg{err: fmt.Errorf("gone")},
		tea.FocusMsg{},
		tea.MouseMsg{},
	}
	for range 500 {
		b.send(messages[random.IntN(len(messages))])
		b.send(press(someKeys[random.IntN(len(someKeys))]))
		b.view()
		b.m.left = stillHere
	}
}
