package tui

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"

	"afterpour/chem/store"
)

// longForm asks for the long form of the fault tests.
const longForm = "AFTERPOUR_LONG"

// panicking is the screen with a fault in it: from the key Z on it panics in one
// of the three places where its code runs.
type panicking struct {
	model
	where string
	now   bool
}

func (p panicking) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && k.String() == "Z" {
		switch p.where {
		case "Update":
			panic("a fault in Update")
		case "Cmd":
			return p, func() tea.Msg { panic("a fault in a command") }
		}
		p.now = true
		return p, nil
	}
	next, cmd := p.model.Update(msg)
	p.model = next.(model)
	return p, cmd
}

func (p panicking) View() string {
	if p.now {
		panic("a fault in View")
	}
	return p.model.View()
}

// faultPlace says, to a child of this test, where to panic.
const faultPlace = "AFTERPOUR_PANIC"

// TestPanicChild is the child: it shows the faulty screen on the terminal it is
// started in.
func TestPanicChild(t *testing.T) {
	where := os.Getenv(faultPlace)
	if where == "" {
		t.Skip("only as a child of TestFaultPanics")
	}
	o := Options{Lot: File{Name: "lot.toml", Path: "lot.toml"}, Book: File{Name: "prices.toml", Path: "prices.toml"}, StateDir: "state"}.withDefaults()
	m, err := newModel(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	final, err := show(context.Background(), panicking{model: m, where: where}, o)
	if err = finish(context.Background(), m.keeper, final, err); err == nil {
		t.Error("a panic is no failure")
	}
	fmt.Println("the child ends:", err)
}

// TestFaultPanics: wherever the screen's code panics, the terminal is given back
// and the unsaved edit is in the recovery file.
func TestFaultPanics(t *testing.T) {
	for _, where := range []string{"Update", "View", "Cmd"} {
		t.Run(where, func(t *testing.T) {
			dir := terminalDir(t)
			program, err := os.Executable()
			if err != nil {
				t.Fatal(err)
			}
			s := &session{t: t, dir: dir, screen: vt.NewSafeEmulator(100, 30), ended: make(chan error, 1)}
			s.cmd = exec.Command(program, "-test.run=^TestPanicChild$")
			s.cmd.Dir, s.cmd.Env = dir, environment(dir, faultPlace+"="+where)
			if s.ptmx, err = pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 30, Cols: 100}); err != nil {
				t.Fatal(err)
			}
			go func() { _, _ = io.Copy(s.screen, s.ptmx) }()
			go func() { _, _ = io.Copy(s.ptmx, s.screen) }()
			go func() { s.ended <- s.cmd.Wait() }()
			t.Cleanup(func() { _ = s.cmd.Process.Kill(); _ = s.ptmx.Close() })

			s.until("net USD")
			s.write("5")
			s.until("[5 Prices]")
			s.write("\r\x15")
			s.write("400.00 / ozt")
			s.until("→ 400.00 USD / ozt")
			s.write("\r")
			s.until("* 1 not saved")
			unsaved := func() []string {
				left, _ := filepath.Glob(filepath.Join(dir, "state", "unsaved-*.json"))
				return left
			}
			for edited := time.Now(); len(unsaved()) == 0 && time.Since(edited) < 5*time.Second; {
				time.Sleep(10 * time.Millisecond)
			}
			s.write("Z")
			s.exit()
			s.restored()
			if !strings.Contains(s.text(), "the child ends:") {
				t.Errorf("the screen shows\n%s", s.text())
			}
			left := unsaved()
			if len(left) != 1 {
				t.Fatalf("recovery files: %v", left)
			}
			if data, _ := os.ReadFile(left[0]); !strings.Contains(string(data), "400.00 / ozt") {
				t.Errorf("the recovery file holds %s", data)
			}
		})
	}
}

// TestFaultKeysManySeeds is TestRandomKeys with ninety seeds more, in the long form.
func TestFaultKeysManySeeds(t *testing.T) {
	if os.Getenv(longForm) == "" {
		t.Skip("in the long form only: TestRandomKeys is the short one")
	}
	for seed := uint64(10); seed < 100; seed++ {
		b := newBench(t, 80, 24, nil)
		random := rand.New(rand.NewPCG(7, seed))
		for range 1000 {
			name := someKeys[random.IntN(len(someKeys))]
			if name == "S" || b.m.question != nil && b.m.question.field != nil {
				name = "esc" // so that no files are made all over
			}
			b.send(press(name))
			if rows := strings.Count(b.view(), "\n") + 1; rows != 24 {
				t.Fatalf("seed %d: %d rows after %s", seed, rows, name)
			}
			b.m.left = stillHere
		}
		if got := b.book(); got != string(b.m.log.disk) {
			t.Errorf("seed %d: the file is\n%s\nbut should be\n%s", seed, got, b.m.log.disk)
		}
	}
}

// TestFaultFieldKeys: no key of the text input panics, whatever is in the field
// and wherever the caret stands.
func TestFaultFieldKeys(t *testing.T) {
	keys := []tea.KeyMsg{
		{Type: tea.KeyRunes, Runes: []rune("d"), Alt: true},
		{Type: tea.KeyDelete, Alt: true},
		{Type: tea.KeyBackspace, Alt: true},
		{Type: tea.KeyRunes, Runes: []rune("b"), Alt: true},
		{Type: tea.KeyRunes, Runes: []rune("f"), Alt: true},
		{Type: tea.KeyLeft, Alt: true},
		{Type: tea.KeyRight, Alt: true},
		{Type: tea.KeyCtrlLeft},
		{Type: tea.KeyCtrlRight},
		{Type: tea.KeyCtrlW},
		{Type: tea.KeyCtrlK},
		{Type: tea.KeyCtrlU},
		{Type: tea.KeyCtrlD},
		{Type: tea.KeyCtrlH},
		{Type: tea.KeyCtrlA},
		{Type: tea.KeyCtrlE},
		{Type: tea.KeyCtrlB},
		{Type: tea.KeyCtrlF},
		{Type: tea.KeyCtrlV},
		{Type: tea.KeyCtrlN},
		{Type: tea.KeyCtrlP},
		{Type: tea.KeyTab},
		{Type: tea.KeyDelete},
		{Type: tea.KeyBackspace},
		{Type: tea.KeyHome},
		{Type: tea.KeyEnd},
		{Type: tea.KeyLeft},
		{Type: tea.KeyRight},
	}
	for _, value := range []string{"", " ", "   ", "a", "a ", " a", " a ", "30.00 / ozt", "30.00 / ", "é 漢  "} {
		for _, key := range keys {
			for place := range len([]rune(value)) + 1 {
				f := newField(value, 40)
				f.SetCursor(place)
				for range 3 {
					f, _ = f.Update(key)
				}
				if n := len([]rune(f.Value())); f.Position() > n {
					t.Errorf("%v in %q at %d: the caret stands at %d of %q", key, value, place, f.Position(), f.Value())
				}
			}
		}
	}
}

// faulty is the file system, except that what comes at the number failAt of the
// operations that save a file fails.
type faulty struct {
	store.Layer
	failAt *int
}

var errDisk = errors.New("the disk has a fault")

func (l faulty) fails() bool {
	*l.failAt--
	return *l.failAt == 0
}

func (l faulty) CreateExcl(path string, mode fs.FileMode) (store.File, error) {
	if l.fails() {
		return nil, errDisk
	}
	return l.Layer.CreateExcl(path, mode)
}

func (l faulty) Rename(from, to string) error {
	if l.fails() {
		return errDisk
	}
	return l.Layer.Rename(from, to)
}

func (l faulty) Lock(path string, wait time.Duration) (func(), error) {
	if l.fails() {
		return nil, errDisk
	}
	return l.Layer.Lock(path, wait)
}

// TestFaultSaveKeepsEdits: whichever operation of a save fails, the book is
// whole, the edit is still there, and another place is offered.
func TestFaultSaveKeepsEdits(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("locks stay behind there")
	}
	tried := 0
	for n := 1; ; n++ {
		failAt := 0
		b := newBench(t, 100, 30, func(o *Options) { o.Layer = faulty{store.OS, &failAt} })
		b.keys("5")
		b.reprice("45.00 / ozt")
		failAt = n
		b.keys("s")
		if failAt > 0 { // nothing was left to fail
			break
		}
		if b.book() == dearSilver { // the fault came after the save, in tidying the recovery file
			continue
		}
		tried++
		b.shows("Not saved", errDisk.Error(), "Your edits are still here.")
		if b.book() != testBook {
			t.Errorf("operation %d: the book is\n%s", n, b.book())
		}
		b.keys("a")
		other := filepath.Join(filepath.Dir(b.bookPath), "mine.toml")
		b.text(other)
		b.keys("enter")
		if data, _ := os.ReadFile(other); string(data) != dearSilver {
			t.Errorf("operation %d: saved elsewhere:\n%s", n, data)
		}
	}
	if tried < 4 {
		t.Errorf("only %d operations failed", tried)
	}
}
