package tui

import (
	"context"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/econ"

	tea "github.com/charmbracelet/bubbletea"
)

// All access to files and all long work is in the commands of this file. A
// command captures values, never the model, and changes nothing.

// pollEvery is the time between two looks at the files.
const pollEvery = time.Second

func tick() tea.Cmd {
	return tea.Tick(pollEvery, func(time.Time) tea.Msg { return tickedMsg{} })
}

// poll looks whether the files are still what was read. A file that cannot be
// looked at counts as unchanged: saving will say what is wrong with it.
func poll(layer store.Layer, book, residue opened) tea.Cmd {
	return func() tea.Msg {
		m := polledMsg{book: book.snapshot.Hash, residue: residue.snapshot.Hash}
		if book.onDisk() {
			m.found.book, _ = store.Changed(layer, book.snapshot)
		}
		if residue.onDisk() {
			m.found.lot, _ = store.Changed(layer, residue.snapshot)
		}
		return m
	}
}

// appraise judges the lot with the prices of a book.
func appraise(ctx context.Context, w surroundings, g ground, from judged, name string, book []byte, as role, run int) tea.Cmd {
	return func() tea.Msg {
		result, err := w.judge(ctx, w, g, from, name, book)
		return appraisedMsg{role: as, run: run, judged: result, err: err}
	}
}

// refine works the odds out. Two commands run side by side, so that the toolkit
// watches over both: one draws, the other hands over what came on the way. Each
// report holds all that the ones before it held, so only the latest waits.
func refine(ctx context.Context, w surroundings, a *econ.Appraisal, run int) tea.Cmd {
	latest := make(chan refinedMsg, 1)
	var next tea.Cmd
	next = func() tea.Msg {
		select {
		case msg := <-latest:
			msg.next = next
			return msg
		case <-ctx.Done():
			return nil
		}
	}
	draw := func() tea.Msg {
		msg := refinedMsg{run: run, done: true}
		_, msg.err = w.refine(ctx, a, econ.Effort{Most: max(0, w.draws)}, func(p econ.Progress) {
			msg.progress = p
			select {
			case <-latest:
			default:
			}
			latest <- refinedMsg{run: run, progress: p}
		})
		return msg
	}
	return tea.Batch(draw, next)
}

// sense works out what the doubt of a plan's gain comes from.
func sense(ctx context.Context, w surroundings, a *econ.Appraisal, plan string, run int) tea.Cmd {
	return func() tea.Msg {
		found, err := w.sense(ctx, a, plan)
		return sensedMsg{run, found, err}
	}
}

// tryOut works out what moved figures would bring.
func tryOut(ctx context.Context, e experiment, moves []econ.Move, run int) tea.Cmd {
	return func() tea.Msg {
		a, err := e.At(ctx, moves...)
		return triedMsg{run, a, err}
	}
}

// seek looks for where the decision turns along a slider.
func seek(ctx context.Context, e experiment, a *econ.Appraisal, slider, name string, run int) tea.Cmd {
	return func() tea.Msg {
		limit, err := e.Threshold(ctx, a, slider)
		return limitMsg{run, name, limit, err}
	}
}

// drawCurve works a curve out.
func drawCurve(ctx context.Context, e experiment, id string, run int) tea.Cmd {
	return func() tea.Msg {
		curve, err := e.Curve(ctx, id)
		return curveMsg{run, id, curve, err}
	}
}

// appraiseTyped judges the lot with one price of a book as it is being typed.
func appraiseTyped(ctx context.Context, w surroundings, g ground, from judged, name string, book []byte, e edit, run int) tea.Cmd {
	return func() tea.Msg {
		data, _, err := priceSplicer(name, w.today())(book, e.Path, e.New)
		if err != nil {
			return appraisedMsg{role: asTyped, run: run, err: err}
		}
		return appraise(ctx, w, g, from, name, data, asTyped, run)()
	}
}

// judge is the one way from a lot and a price book to figures. With an earlier
// result of the same lot only what depends on prices is worked out anew.
func judge(ctx context.Context, w surroundings, g ground, from judged, name string, book []byte) (judged, error) {
	figures := g.figures.Clone()
	doc, err := input.Parse(name, book)
	if err != nil {
		return judged{}, err
	}
	prices, err := econ.DecodeBook(doc, figures)
	if err != nil {
		return judged{}, err
	}
	today := w.today()
	request := econ.Request{
		Lot: g.lot, Figures: figures, Library: g.library, Book: prices,
		Today: today, Seed: w.seed, Draws: w.draws, Learning: g.learning,
	}
	result := judged{rows: prices.Rows(today), solids: from.solids}
	if from.appraisal != nil {
		if result.appraisal, err = econ.Reprice(ctx, from.appraisal, request); err != nil {
			return judged{}, err
		}
		result.experiment = trial{econ.WhatIfOf(result.appraisal, request)}
		return result, nil
	}
	if result.appraisal, err = econ.Appraise(ctx, request); err != nil {
		return judged{}, err
	}
	result.experiment = trial{econ.WhatIfOf(result.appraisal, request)}
	if m, err := econ.ModelOf(g.lot, figures); err == nil { // as Appraise made it
		result.solids = m.Inventory(figures.Central()).Vessel.SolidVolume()
	}
	return result, nil
}

// saveBook saves the price book over the file that was read.
func saveBook(layer store.Layer, snapshot store.Snapshot, data []byte, thenQuit bool) tea.Cmd {
	return func() tea.Msg {
		after, err := store.Save(layer, snapshot, data)
		return savedMsg{snapshot: after, data: data, thenQuit: thenQuit, err: err}
	}
}

// createBook saves the price book to a file that does not exist yet.
func createBook(layer store.Layer, path string, data []byte, elsewhere, thenQuit bool) tea.Cmd {
	return func() tea.Msg {
		after, err := store.Create(layer, path, data)
		return savedMsg{snapshot: after, data: data, elsewhere: elsewhere, thenQuit: thenQuit, created: true, err: err}
	}
}

// saveLot saves the lot over the file that was read, or as a file that does not
// exist yet.
func saveLot(layer store.Layer, snapshot store.Snapshot, path string, data []byte, thenQuit bool) tea.Cmd {
	return func() tea.Msg {
		msg := lotSavedMsg{data: data, created: path != "", thenQuit: thenQuit}
		if path != "" {
			msg.snapshot, msg.err = store.Create(layer, path, data)
		} else {
			msg.snapshot, msg.err = store.Save(layer, snapshot, data)
		}
		return msg
	}
}

// reloadBook reads the price book again.
func reloadBook(layer store.Layer, book opened, keep bool) tea.Cmd {
	return func() tea.Msg {
		f, err := open(layer, File{Name: book.name, Path: book.path})
		if err == nil {
			err = readableBook(f)
		}
		return bookReloadedMsg{file: f, keep: keep, err: err}
	}
}

func readableBook(f opened) error {
	doc, err := input.Parse(f.name, f.data)
	if err != nil {
		return err
	}
	_, err = econ.DecodeBook(doc, new(input.Figures))
	return err
}

// reloadLot reads the lot file again.
func reloadLot(layer store.Layer, g ground, residue opened, keep bool) tea.Cmd {
	return func() tea.Msg {
		f, err := open(layer, File{Name: residue.name, Path: residue.path})
		if err != nil {
			return lotReloadedMsg{err: err}
		}
		fresh, err := g.with(f)
		return lotReloadedMsg{file: f, ground: fresh, keep: keep, err: err}
	}
}

// keep writes the recovery file, or removes it if nothing is unsaved.
func keep(k *keeper, sequence int, edits []edit) tea.Cmd {
	if k == nil {
		return nil
	}
	return func() tea.Msg { return keptMsg{k.keep(sequence, edits)} }
}

// rebind makes the recovery file that of another price book.
func rebind(k *keeper, file string) tea.Cmd {
	if k == nil {
		return nil
	}
	return func() tea.Msg { return keptMsg{k.rebind(file)} }
}

// keepElsewhere leaves the recovery file of an earlier session for the next
// start and goes on with another.
func keepElsewhere(k *keeper) tea.Cmd {
	if k == nil {
		return nil
	}
	return func() tea.Msg { return keptMsg{k.moveOn()} }
}
