package tui

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"afterpour/chem/store"
)

// again starts another session on the files of a bench.
func (b *bench) again(change func(*Options)) *bench {
	b.t.Helper()
	next := &bench{t: b.t, bookPath: b.bookPath}
	o := Options{
		Lot:      File{Name: "strip.toml", Data: b.m.residueFile.data},
		Book:     File{Name: b.bookPath, Path: b.bookPath},
		StateDir: filepath.Join(filepath.Dir(b.bookPath), "state"), Today: today, NoColor: true,
	}
	if change != nil {
		change(&o)
	}
	next.start(o)
	next.send(sizeMsg(100, 30))
	return next
}

// crash ends a session as a killed process does: its locks are gone, nothing is
// tidied.
func (b *bench) crash() {
	if b.m.keeper != nil {
		b.m.keeper.release()
	}
	b.m.keeper = nil
}

func (b *bench) states() []string {
	names, _ := filepath.Glob(filepath.Join(filepath.Dir(b.bookPath), "state", "unsaved-*.json"))
	return names
}

func TestRecovery(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	if len(b.states()) != 1 {
		t.Fatalf("recovery files after an edit: %v", b.states())
	}
	b.crash()
	next := b.again(nil)
	next.shows("Unsaved edits were recovered", "spot.Ag.price: 30.00 / ozt → 45.00 / ozt", "put them back")
	if next.m.log.dirty() {
		t.Error("applied without being asked")
	}
	next.keys("5")
	next.shows("put them back")
	next.keys("p")
	next.shows("* 1 not saved")
	next.keys("5")
	next.shows("45.00 / ozt")
	next.keys("u")
	next.hides("not saved")
	if len(next.states()) != 0 {
		t.Errorf("recovery files with nothing unsaved: %v", next.states())
	}
}

func TestRecoveryThrownAway(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	b.crash()
	next := b.again(nil)
	next.keys("x")
	if len(next.states()) != 0 || next.m.log.dirty() {
		t.Errorf("thrown away: %v", next.states())
	}
}

// TestRecoveryLater: undecided edits stay for the next start, whatever is edited
// meanwhile.
func TestRecoveryLater(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	b.crash()
	next := b.again(nil)
	next.keys("esc", "5", "down")
	next.reprice("8.00 / kg")
	if len(next.states()) != 2 {
		t.Fatalf("recovery files: %v", next.states())
	}
	if err := finish(context.Background(), next.m.keeper, next.quit(), nil); err != nil {
		t.Fatal(err)
	}
	third := b.again(nil)
	third.shows("spot.Ag.price: 30.00 / ozt → 45.00 / ozt")
}

// quit leaves without saving and returns the last state.
func (b *bench) quit() model {
	b.keys("q")
	if b.m.question != nil {
		b.keys("x")
	}
	return b.m
}

// TestRecoveryMoved: an edit whose price has changed since is said and left out.
func TestRecoveryMoved(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	b.crash()
	b.outside(strings.Replace(testBook, "30.00 / ozt", "33.00 / ozt", 1))
	next := b.again(nil)
	next.keys("p")
	next.shows("Not put back")
	if next.m.log.dirty() {
		t.Error("an edit was put on another price than it was made on")
	}
}

// TestTwoSessions: two sessions on one book keep their edits apart.
func TestTwoSessions(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	second := b.again(nil)
	b.keys("5")
	b.reprice("45.00 / ozt")
	second.hides("recovered")
	second.keys("5", "down")
	second.reprice("8.00 / kg")
	if len(b.states()) != 2 {
		t.Fatalf("recovery files: %v", b.states())
	}
	third := b.again(nil)
	third.hides("recovered")
}

// TestDepartures: what each way out leaves behind and returns.
func TestDepartures(t *testing.T) {
	open := func(t *testing.T) *bench {
		b := newBench(t, 100, 30, nil)
		b.keys("5")
		b.reprice("45.00 / ozt")
		return b
	}
	t.Run("ctrl+c", func(t *testing.T) {
		b := open(t)
		b.keys("ctrl+c")
		if err := finish(context.Background(), b.m.keeper, b.m, nil); !errors.Is(err, ErrInterrupted) {
			t.Errorf("returned %v, want %v", err, ErrInterrupted)
		}
		if len(b.states()) != 1 || b.book() != testBook {
			t.Errorf("left behind: %v", b.states())
		}
	})
	t.Run("signal", func(t *testing.T) {
		b := open(t)
		hangup := errors.New("hangup")
		ctx, cancel := context.WithCancelCause(context.Background())
		cancel(hangup)
		if err := finish(ctx, b.m.keeper, b.m, errors.New("killed")); !errors.Is(err, hangup) {
			t.Errorf("returned %v, want the cause of the end", err)
		}
		if len(b.states()) != 1 {
			t.Errorf("left behind: %v", b.states())
		}
	})
	t.Run("without saving", func(t *testing.T) {
		b := open(t)
		if err := finish(context.Background(), b.m.keeper, b.quit(), nil); err != nil {
			t.Error(err)
		}
		if len(b.states()) != 0 || b.book() != testBook {
			t.Errorf("left behind: %v", b.states())
		}
	})
	t.Run("save and leave", func(t *testing.T) {
		b := open(t)
		b.keys("q", "s")
		if err := finish(context.Background(), b.m.keeper, b.m, nil); err != nil || b.m.left != leftDone {
			t.Errorf("left %v: %v", b.m.left, err)
		}
		if len(b.states()) != 0 || b.book() != dearSilver {
			t.Errorf("left behind: %v", b.states())
		}
	})
	t.Run("after a panic", func(t *testing.T) {
		b := open(t)
		gone := errors.New("panic")
		if err := finish(context.Background(), b.m.keeper, nil, gone); !errors.Is(err, gone) {
			t.Errorf("returned %v", err)
		}
		if len(b.states()) != 1 {
			t.Errorf("left behind: %v", b.states())
		}
	})
	t.Run("undecided", func(t *testing.T) {
		b := open(t)
		b.crash()
		next := b.again(nil)
		next.keys("ctrl+c")
		if err := finish(context.Background(), next.m.keeper, next.m, nil); !errors.Is(err, ErrInterrupted) {
			t.Error(err)
		}
		b.again(nil).shows("Unsaved edits were recovered")
	})
}

// TestLateWrites: commands run side by side; what is older than the last state
// written is dropped, and nothing is written once the session has ended.
func TestLateWrites(t *testing.T) {
	dir := t.TempDir()
	k, _, err := newKeeper(store.OS, dir, "prices.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := k.keep(2, nil); err != nil {
		t.Fatal(err)
	}
	if err := k.keep(1, []edit{{"a", "1", "2"}}); err != nil {
		t.Fatal(err)
	}
	if names, _ := filepath.Glob(filepath.Join(dir, "*.json")); len(names) != 0 {
		t.Errorf("an older state was written: %v", names)
	}
	if err := k.close(nil); err != nil {
		t.Fatal(err)
	}
	if err := k.keep(9, []edit{{"a", "1", "2"}}); err != nil {
		t.Fatal(err)
	}
	if names, _ := filepath.Glob(filepath.Join(dir, "*.json")); len(names) != 0 {
		t.Errorf("written after the end: %v", names)
	}
}

// TestRecoveryGarbage: a recovery file that makes no sense is left alone.
func TestRecoveryGarbage(t *testing.T) {
	dir := t.TempDir()
	k, _, _ := newKeeper(store.OS, dir, "prices.toml")
	place := k.placePath(1)
	_ = k.close(nil)
	if err := os.WriteFile(place, []byte("{\"version\":1,"), 0o600); err != nil {
		t.Fatal(err)
	}
	k, found, err := newKeeper(store.OS, dir, "prices.toml")
	if err != nil || found != nil {
		t.Fatalf("found %v, error %v", found, err)
	}
	if k.path == place {
		t.Error("took the place of a file it cannot read")
	}
	_ = k.close(nil)
}
