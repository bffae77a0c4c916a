package tui

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/store"
	"afterpour/econ"

	tea "github.com/charmbracelet/bubbletea"
)

// File is a file that the screen opens. The caller decides which one that is
// (named in the call, in the working folder, built in); the screen reads it.
type File struct {
	Name string // as messages and the title name it
	Path string // on disk; "" if the file is built in or came from standard input
	Data []byte // its contents where Path is ""
}

// Theme chooses the colours.
type Theme string

// The themes. Every one carries the same facts: colour only repeats what a
// sign or a word says already.
const (
	Dark  Theme = "dark"
	Light Theme = "light"
	Mono  Theme = "mono"
)

// Options is everything that the screen is started with. The zero value of a
// field is its default.
type Options struct {
	Lot      File
	Start    bool // begin with the page that offers the samples and describing a lot; Lot is the sample it proposes
	Book     File
	BookHome string // where a first price book is written if Book has no path: the file in the configuration folder; "" if there is none
	StateDir string // folder for recovery files, made when needed; "" keeps none

	Library *route.Library // the built-in routes if nil
	History []econ.Outturn // of earlier lots, for the figures to learn from

	Theme   Theme // Dark if ""
	NoColor bool  // no colour, bold or reverse at all: NO_COLOR is set
	ASCII   bool  // draw with ASCII characters alone

	Seed  uint64
	Draws int // most draws for the odds; 0: until the odds are steady; below 0: none unless asked for

	Layer  store.Layer      // store.OS if nil
	Today  func() time.Time // time.Now if nil
	Input  io.Reader        // standard input if nil
	Output io.Writer        // standard output if nil
}

// ErrInterrupted is returned when the user left with ctrl+c: like a signal, it
// leaves at once and keeps unsaved edits in the recovery file.
var ErrInterrupted = errors.New("tui: interrupted")

// Run opens the screen and returns when the user leaves it. The terminal is
// restored on every way out.
//
// When ctx ends, unsaved edits go to the recovery file and Run returns
// context.Cause(ctx): the caller turns signals into such an end, and Run
// handles none itself but a stop. Other errors: input.Problems if the lot file
// or the price book cannot be read at the start (nothing has been drawn then),
// ErrInterrupted after ctrl+c, and whatever the terminal refuses.
func Run(ctx context.Context, o Options) error {
	o = o.withDefaults()
	work, stop := context.WithCancel(ctx) // what still runs ends with the screen
	defer stop()
	m, err := newModel(work, o)
	if err != nil {
		return err
	}
	final, err := show(ctx, m, o)
	return finish(ctx, m.keeper, final, err)
}

// show runs a model on the terminal until it ends, and gives the terminal back.
func show(ctx context.Context, m tea.Model, o Options) (tea.Model, error) {
	options := []tea.ProgramOption{tea.WithContext(ctx), tea.WithAltScreen(), tea.WithoutSignalHandler(), tea.WithOutput(o.Output)}
	if o.Input != nil {
		options = append(options, tea.WithInput(o.Input))
	}
	program := tea.NewProgram(m, options...)
	defer handleStops(program)()
	return program.Run()
}

// withDefaults fills in what the caller left out.
func (o Options) withDefaults() Options {
	if o.Theme == "" {
		o.Theme = Dark
	}
	if o.Layer == nil {
		o.Layer = store.OS
	}
	if o.Today == nil {
		o.Today = time.Now
	}
	if o.Output == nil {
		o.Output = os.Stdout
	}
	return o
}

// newModel reads the files and makes the first state. Nothing has been drawn
// yet, so what is wrong with a file can still be said on a plain terminal.
func newModel(ctx context.Context, o Options) (model, error) {
	m := model{
		ctx: ctx, keys: newKeyMap(), look: newLook(newRenderer(o.Output, o), o.Theme, o.ASCII),
		world:    surroundings{o.Layer, o.Today, o.Seed, o.Draws, judge, econ.Refine, econ.Drivers},
		terminal: o.Output, bookHome: o.BookHome, screen: standingsScreen, before: standingsScreen,
	}
	library := o.Library
	if library == nil {
		var err error
		if library, err = route.Builtin(); err != nil {
			return m, err
		}
	}
	var lotErr, bookErr error
	if m.residueFile, lotErr = open(o.Layer, o.Lot); lotErr == nil {
		m.ground, lotErr = decodeLot(library, o.History, m.residueFile)
	}
	if m.book, bookErr = open(o.Layer, o.Book); bookErr == nil {
		bookErr = readableBook(m.book)
	}
	if err := together(lotErr, bookErr); err != nil {
		return m, err
	}
	m.log = newEditLog(m.book.data)
	m.lotLog = newEditLog(m.residueFile.data)
	m.studies[asEdited].pending = true
	m = m.withKeeper(o).withLotKeeper(o)
	if o.Start {
		m = m.withStart()
	}
	return m, nil
}

// together joins the problems of two files; any other error goes first.
func together(errs ...error) error {
	var all input.Problems
	for _, err := range errs {
		var problems input.Problems
		switch {
		case err == nil:
		case errors.As(err, &problems):
			all = append(all, problems...)
		default:
			return err
		}
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// withKeeper takes a place for the recovery file and asks about what an earlier
// session left. Without such a place the screen works all the same.
func (m model) withKeeper(o Options) model {
	if o.StateDir == "" {
		return m
	}
	file := o.Book.Path
	if file == "" {
		file = o.BookHome
	}
	k, found, err := newKeeper(o.Layer, o.StateDir, file)
	if err != nil {
		m.notice = notice{warn, "No recovery file can be kept: " + err.Error()}
		return m
	}
	m.keeper = k
	if m.found = found; found != nil {
		m.question = m.recoveryQuestion()
	}
	return m
}

// finish writes or removes the recovery file and says how the screen was left.
func finish(ctx context.Context, k *keeper, final tea.Model, err error) error {
	m, known := final.(model)
	if known {
		var edits []edit
		if m.left != leftDone {
			edits = m.log.unsaved
		}
		if m.found != nil && k != nil { // undecided: stays for the next start
			_ = k.moveOn()
		}
		if kerr := errors.Join(k.close(edits), m.closeLot()); kerr != nil && err == nil {
			err = fmt.Errorf("unsaved edits could not be kept: %w", kerr)
		}
	}
	switch {
	case ctx.Err() != nil:
		return context.Cause(ctx)
	case err != nil:
		return err
	case known && m.left == leftAtOnce:
		return ErrInterrupted
	}
	return nil
}
