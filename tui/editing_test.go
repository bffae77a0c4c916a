package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"afterpour/chem/store"

	tea "github.com/charmbracelet/bubbletea"
)

// reprice types a price for the row of the cursor.
func (b *bench) reprice(price string) {
	b.t.Helper()
	b.keys("enter", "ctrl+u")
	b.text(price)
	b.keys("enter")
}

// pollNow looks at the files as the clock would.
func (b *bench) pollNow() {
	b.t.Helper()
	msg := poll(b.m.world.layer, b.m.book, b.m.residueFile)()
	next, _ := b.m.Update(msg) // the command is the next tick
	b.m = next.(model)
}

// outside writes the price book as another program would.
func (b *bench) outside(text string) {
	b.t.Helper()
	if err := os.WriteFile(b.bookPath, []byte(text), 0o600); err != nil {
		b.t.Fatal(err)
	}
	old := time.Now().Add(-time.Minute)
	if err := os.Chtimes(b.bookPath, old, old); err != nil {
		b.t.Fatal(err)
	}
}

func (b *bench) shows(texts ...string) {
	b.t.Helper()
	for _, s := range texts {
		if !strings.Contains(b.view(), s) {
			b.t.Errorf("%q is not on the screen:\n%s", s, b.view())
		}
	}
}

func (b *bench) hides(texts ...string) {
	b.t.Helper()
	for _, s := range texts {
		if strings.Contains(b.view(), s) {
			b.t.Errorf("%q is on the screen:\n%s", s, b.view())
		}
	}
}

// dearSilver is the test book with the price of silver that turns the order.
var dearSilver = strings.Replace(testBook, "\"30.00 / ozt\"   # looked up in the morning\ndate  = 2026-11-20", "\"45.00 / ozt\"   # looked up in the morning\ndate  = 2026-11-25", 1)

func TestEditSave(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	b.shows("* 1 not saved", "saved    work up, gain +74.30 USD, by chloride-oxide-sugar+dispose",
		"now      work up, gain +98.60 USD, by copper-cementation+dispose", "was place 4", "was 30.00 / ozt")
	if b.book() != testBook {
		t.Error("the file changed before it was saved")
	}
	b.keys("2")
	b.shows("1 * copper-cementation+dispose")
	b.keys("s")
	b.shows("Saved: ")
	b.hides("not saved")
	if got := b.book(); got != dearSilver {
		t.Errorf("saved:\n%s\nwant:\n%s", got, dearSilver)
	}
	if _, cmd := b.m.Update(press("q")); cmd == nil {
		t.Error("q asks although all is saved")
	}
}

// TestUndo: the mark of unsaved edits and the guard go with the last of them.
func TestUndo(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	b.keys("down")
	b.reprice("8.00 / kg")
	b.shows("* 2 not saved")
	b.keys("u")
	b.shows("* 1 not saved", "Undone: spot.Cu.price is “9.00 / kg” again.")
	b.keys("u")
	b.hides("not saved")
	if next, cmd := b.m.Update(press("q")); cmd == nil || next.(model).question != nil {
		t.Error("q asks although nothing is changed any more")
	}
	b.keys("r", "r")
	b.shows("* 2 not saved")
	b.keys("q")
	b.shows("2 prices are not in prices.toml yet", "spot.Ag.price: 30.00 / ozt → 45.00 / ozt")
	b.keys("q")
	b.shows("Not saved")
	b.keys("esc")
	b.hides("yet:")
}

// TestNoChange: a price typed as it was, or left, is no edit.
func TestNoChange(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("30.00 / ozt")
	b.hides("not saved")
	b.keys("enter", "ctrl+u")
	b.text("31.00 / ozt")
	b.keys("esc")
	b.hides("not saved", "31.00")
	b.keys("enter", "ctrl+u")
	b.text("thirty")
	b.keys("enter")
	b.shows("!")
	if b.m.prices.field == nil {
		t.Error("a price that cannot be read was taken")
	}
	b.keys("esc")
	if b.book() != testBook || b.m.log.dirty() {
		t.Error("something changed")
	}
}

func TestRenewKey(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5", "down")
	b.shows("! Cu", "stale: 85 days old")
	b.keys("t")
	b.hides("stale: 85 days old")
	b.shows("* Cu", "was of 2026-09-01")
	b.keys("s")
	if want := strings.Replace(testBook, "2026-09-01", "2026-11-25", 1); b.book() != want {
		t.Errorf("saved:\n%s", b.book())
	}
}

// TestChangedOutside: a price book that another program changed is noticed and
// never overwritten without a word.
func TestChangedOutside(t *testing.T) {
	theirs := strings.Replace(testBook, "9.00 / kg", "7.50 / kg", 1)
	open := func(t *testing.T) *bench {
		b := newBench(t, 100, 30, nil)
		b.keys("5")
		b.reprice("45.00 / ozt")
		b.outside(theirs)
		return b
	}
	t.Run("noticed", func(t *testing.T) {
		b := open(t)
		b.pollNow()
		b.shows("The price book was changed by another program.", "spot.Ag.price: 30.00 / ozt → 45.00 / ozt", "reload", "keep mine", "save as")
		b.keys("esc")
		b.shows("! the file changed on disk")
		b.pollNow()
		b.hides("by another program")
	})
	t.Run("not overwritten", func(t *testing.T) {
		b := open(t)
		b.keys("s")
		b.shows("Not saved: the price book on disk is no longer what was read.")
		if b.book() != theirs {
			t.Error("the other program's change is lost")
		}
	})
	t.Run("reload", func(t *testing.T) {
		b := open(t)
		b.keys("s", "r")
		b.hides("not saved", "changed on disk", "45.00")
		b.shows("7.50 / kg", "Read again")
	})
	t.Run("keep mine", func(t *testing.T) {
		b := open(t)
		b.keys("s", "k")
		b.shows("7.50 / kg", "45.00 / ozt", "* 1 not saved")
		b.keys("s")
		if want := strings.Replace(dearSilver, "9.00 / kg", "7.50 / kg", 1); b.book() != want {
			t.Errorf("saved:\n%s", b.book())
		}
	})
	t.Run("save as", func(t *testing.T) {
		b := open(t)
		b.keys("s", "a")
		other := filepath.Join(filepath.Dir(b.bookPath), "mine.toml")
		b.text(other)
		b.keys("enter")
		if b.book() != theirs {
			t.Error("the other program's change is lost")
		}
		if data, _ := os.ReadFile(other); string(data) != dearSilver {
			t.Errorf("saved elsewhere:\n%s", data)
		}
		b.shows("mine.toml")
		b.hides("not saved")
	})
	t.Run("broken", func(t *testing.T) {
		b := open(t)
		b.outside("[spot.Ag]\nprice = \"45 / L\"\n")
		b.keys("s", "r")
		b.shows("cannot be used", "prices.toml:2:9")
		b.keys("esc")
		b.shows("* 1 not saved", "45.00 / ozt")
	})
	t.Run("gone", func(t *testing.T) {
		b := open(t)
		if err := os.Remove(b.bookPath); err != nil {
			t.Fatal(err)
		}
		b.keys("s")
		b.shows("no longer what was read")
	})
	t.Run("same contents", func(t *testing.T) {
		b := open(t)
		b.outside(testBook)
		b.pollNow()
		b.hides("by another program")
	})
	t.Run("nothing unsaved", func(t *testing.T) {
		b := newBench(t, 100, 30, nil)
		b.outside(theirs)
		b.pollNow()
		b.shows("Nothing of yours is unsaved")
		b.keys("r", "5")
		b.shows("7.50 / kg")
	})
}

// TestFirstBook: the built-in prices are saved as a first book of the user's
// own, where its next start finds it.
func TestFirstBook(t *testing.T) {
	home := filepath.Join(t.TempDir(), "config", "prices.toml")
	b := newBench(t, 100, 30, func(o *Options) {
		o.Book = File{Name: "built-in prices", Data: []byte(testBook)}
		o.BookHome = home
	})
	b.shows("built-in prices")
	b.keys("5")
	b.reprice("45.00 / ozt")
	b.keys("s")
	b.shows("Saved: " + home[:20])
	if data, _ := os.ReadFile(home); string(data) != dearSilver {
		t.Errorf("saved:\n%s", data)
	}
	b.keys("down")
	b.reprice("8.00 / kg")
	b.keys("s")
	if data, _ := os.ReadFile(home); !strings.Contains(string(data), "8.00 / kg") {
		t.Error("the second save went elsewhere")
	}
}

// TestSaveFails: a failed save keeps the edits and offers another place.
func TestSaveFails(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Log("permissions do not bind root: the write-protected file is noticed by its mode alone")
	}
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	if err := os.Chmod(b.bookPath, 0o400); err != nil {
		t.Fatal(err)
	}
	b.keys("s")
	b.shows("Not saved", store.ErrReadOnly.Error(), "Your edits are still here.")
	b.keys("a")
	other := filepath.Join(filepath.Dir(b.bookPath), "mine.toml")
	b.text(other)
	b.keys("enter")
	if data, _ := os.ReadFile(other); string(data) != dearSilver {
		t.Errorf("saved elsewhere:\n%s", data)
	}
	b.keys("S")
	b.text(other)
	b.keys("enter")
	b.shows("there is a file of that name already")
}

// TestStaleRun: a result that is not of the current run is dropped.
func TestStaleRun(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	now := b.m.appraisal()
	b.send(appraisedMsg{role: asEdited, run: b.m.studies[asEdited].run - 1, judged: judged{appraisal: testAppraisal()}})
	if b.m.appraisal() != now {
		t.Error("the result of an older run is shown")
	}
}

// TestPaste: a pasted megabyte is bounded and no key of it is run.
func TestPaste(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	big := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("q", 1<<20)), Paste: true}
	b.send(big)
	if b.m.left != stillHere || b.m.prices.field != nil {
		t.Error("pasted text was run as keys")
	}
	b.keys("enter")
	start := time.Now()
	b.send(big)
	if took := time.Since(start); took > 200*time.Millisecond {
		t.Errorf("a paste took %v", took)
	}
	if n := len(b.m.prices.field.input.Value()); n > fieldLimit {
		t.Errorf("the field holds %d characters", n)
	}
}

// TestKeysTogether: keys that arrive in one go are run one by one, in a field
// as text.
func TestKeysTogether(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("j 3")})
	b.shows("[3 Abreast]")
	if got := b.m.standings.chosen; len(got) != 1 || got[0] != "dispose" {
		t.Errorf("chosen %v, want the second plan", got)
	}
	b.keys("5", "enter", "ctrl+u")
	b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("31 /")})
	b.shows("31 /")
}
