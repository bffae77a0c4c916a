package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const saidLot = "title = \"Contact strip, jars 3 and 4\"   # by the window\n[vessel]\nliquid = \"3.2 L\"\n"

// lotOnDisk starts a bench whose lot is a file.
func lotOnDisk(t *testing.T) (*bench, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "strip.toml")
	if err := os.WriteFile(path, []byte(saidLot), 0o600); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-time.Hour)
	_ = os.Chtimes(path, old, old)
	return newBench(t, 100, 40, func(o *Options) { o.Lot = File{Name: path, Path: path} }), path
}

func read(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// say opens the value of a path on the residue and types a text.
func (b *bench) say(path, typed string) {
	b.t.Helper()
	b.keys("1")
	b.m.residue.roll = b.m.residue.roll.upTo(saidKey + path)
	b.keys("enter", "ctrl+u")
	b.text(typed)
}

func TestLotEdit(t *testing.T) {
	b, path := lotOnDisk(t)
	b.say("vessel.liquid", "3,4 L ± 2 %")
	b.shows("vessel liquid", "understood as 3.4 L ± 0.068 L, about 2 %")
	runs := b.m.studies[asEdited].run
	b.keys("enter")
	b.shows("3,4 L ± 2 %", "* 1 not saved")
	if b.m.studies[asEdited].run == runs || b.m.lotTurned {
		t.Error("the lot was not worked out anew")
	}
	if got := read(t, path); got != saidLot {
		t.Errorf("the file changed before it was saved: %q", got)
	}
	b.keys("q")
	b.shows("Of the lot, not saved yet:", "vessel.liquid: 3.2 L → 3,4 L ± 2 %")
	b.keys("esc", "s")
	b.shows("Saved: ")
	b.hides("not saved")
	if want := strings.Replace(saidLot, "3.2 L", "3,4 L ± 2 %", 1); read(t, path) != want {
		t.Errorf("saved %q, want %q", read(t, path), want)
	}
	b.keys("u")
	b.shows("* 1 not saved", "Undone: vessel.liquid is “3.2 L” again.")
	if string(b.m.lotLog.data()) != saidLot {
		t.Errorf("undone: %q", b.m.lotLog.data())
	}
}

// TestLotEditRefused: what cannot be read is said while it is typed, and is not
// taken.
func TestLotEditRefused(t *testing.T) {
	b, _ := lotOnDisk(t)
	b.say("vessel.liquid", "3.2 kg")
	b.shows("! ")
	b.keys("enter")
	if b.m.residue.field == nil || b.m.lotLog.dirty() {
		t.Error("a volume in kg was taken")
	}
	b.keys("esc")
	if b.m.residue.field != nil || b.m.lotLog.dirty() {
		t.Error("esc does not leave it as it was")
	}
	b.say("vessel.ph", "1.2")
	b.shows("understood as 1.2 ± ")
	b.keys("enter")
	if want := saidLot + "ph = \"1.2\"\n"; string(b.m.lotLog.data()) != want {
		t.Errorf("a new key: %q, want %q", b.m.lotLog.data(), want)
	}
}

// TestUndoOverFiles: edits of lot and prices are undone in the order in which
// they were made, and redone.
func TestUndoOverFiles(t *testing.T) {
	b, _ := lotOnDisk(t)
	b.say("vessel.liquid", "3 L")
	b.keys("enter", "5")
	b.reprice("45.00 / ozt")
	b.say("vessel.liquid", "2 L")
	b.keys("enter")
	want := []string{"vessel.liquid is “3 L”", "spot.Ag.price is “30.00 / ozt”", "vessel.liquid is “3.2 L”"}
	for _, s := range want {
		b.keys("u")
		b.shows("Undone: " + s)
	}
	if b.m.dirty() {
		t.Error("dirty after all is undone")
	}
	for _, s := range []string{"vessel.liquid is “3 L”", "spot.Ag.price is “45.00 / ozt”", "vessel.liquid is “2 L”"} {
		b.keys("r")
		b.shows("Done again: " + s)
	}
}

// TestSampleSavedAsNew: a built-in lot gets a name, and goes on as that file.
func TestSampleSavedAsNew(t *testing.T) {
	b := newBench(t, 100, 40, nil)
	b.say("vessel.liquid", "3 L")
	b.keys("enter", "s")
	b.shows("Save the lot as")
	path := filepath.Join(t.TempDir(), "mine.toml")
	b.text(path)
	b.keys("enter")
	b.shows("Saved: ")
	if !strings.Contains(read(t, path), `liquid = "3 L"`) {
		t.Errorf("saved %q", read(t, path))
	}
	b.say("vessel.liquid", "4 L")
	b.keys("enter", "s")
	if !strings.Contains(read(t, path), `liquid = "4 L"`) {
		t.Errorf("saved again %q", read(t, path))
	}
}

// TestLotRecovered: unsaved edits of the lot outlive the session.
func TestLotRecovered(t *testing.T) {
	b := newBench(t, 100, 40, nil)
	b.say("vessel.liquid", "3 L")
	b.keys("enter")
	b.m.lotKeeper.release()
	b.m.lotKeeper = nil
	b.crash()
	next := b.again(nil)
	next.shows("Unsaved edits of the lot were recovered", "vessel.liquid: 3.2 L → 3 L")
	next.keys("p")
	next.shows("* 1 not saved")
	if !strings.Contains(string(next.m.lotLog.data()), `"3 L"`) {
		t.Errorf("put back: %q", next.m.lotLog.data())
	}
}

// TestLotChangedOutside: a save over somebody else's change is refused, and
// mine can be kept on top of it.
func TestLotChangedOutside(t *testing.T) {
	b, path := lotOnDisk(t)
	b.say("vessel.liquid", "3 L")
	b.keys("enter")
	theirs := saidLot + "ph = 1\n"
	if err := os.WriteFile(path, []byte(theirs), 0o600); err != nil {
		t.Fatal(err)
	}
	b.keys("s")
	b.shows("Not saved: the lot on disk is no longer what was read.", "vessel.liquid: 3.2 L → 3 L")
	b.keys("k")
	b.keys("s")
	if want := strings.Replace(theirs, "3.2 L", "3 L", 1); read(t, path) != want {
		t.Errorf("saved %q, want %q", read(t, path), want)
	}
}
