package tui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
)

// TestKeysApart: on no screen does a key mean two things.
func TestKeysApart(t *testing.T) {
	k := newKeyMap()
	for s := range screenCount {
		seen := map[string]string{}
		for _, g := range k.full(s) {
			for _, b := range g.keys {
				for _, name := range b.Keys() {
					if other, taken := seen[name]; taken && other != b.Help().Desc {
						t.Errorf("%s: %q means %q and %q", screenNames[s], name, other, b.Help().Desc)
					}
					seen[name] = b.Help().Desc
				}
			}
		}
	}
}

// TestThrowingKeysApart: a key that throws something away never opens the
// question about it, so that hitting it twice cannot lose anything.
func TestThrowingKeysApart(t *testing.T) {
	k := newKeyMap()
	for _, opens := range []key.Binding{k.Quit, k.Save} {
		for _, throws := range []key.Binding{k.LeaveUnsaved, k.ThrowAway, k.Reload} {
			for _, name := range throws.Keys() {
				for _, other := range opens.Keys() {
					if name == other {
						t.Errorf("%q opens a question and throws away in it", name)
					}
				}
			}
		}
	}
}

// TestFooterIsTrue: the footer and the help show only keys that do something
// now, and help is on every screen.
func TestFooterIsTrue(t *testing.T) {
	b := newBench(t, 200, 50, nil)
	for _, s := range []string{"1", "2", "3", "4", "5", "6", "7"} {
		b.keys(s)
		rows := strings.Split(b.view(), "\n")
		footer := rows[len(rows)-1]
		if strings.Contains(footer, "save") || strings.Contains(footer, "undo") {
			t.Errorf("nothing to save or undo, but: %s", footer)
		}
		if !strings.Contains(footer, "? help") || !strings.Contains(footer, "q quit") {
			t.Errorf("no way out in: %s", footer)
		}
		b.keys("?")
		b.shows(screenNames[b.m.screen]+": ", "On this screen", "ctrl+c")
		b.keys("?")
		b.hides("On this screen")
	}
	b.keys("5")
	b.reprice("31.00 / ozt")
	b.shows("s save", "u undo")
}
