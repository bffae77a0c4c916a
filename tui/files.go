package tui

import (
	"context"
	"errors"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/store"
	"afterpour/chem/units"
	"afterpour/econ"
)

// opened is a file as it was read.
type opened struct {
	name     string
	path     string // "" if it is not on disk
	data     []byte
	snapshot store.Snapshot
}

// onDisk reports that the file can be watched and saved.
func (f opened) onDisk() bool { return f.path != "" }

// open reads a file. The error is of type input.Problems.
func open(layer store.Layer, f File) (opened, error) {
	if f.Path == "" {
		return opened{name: f.Name, data: f.Data}, nil
	}
	snapshot, err := store.Read(layer, f.Path)
	if err != nil {
		return opened{}, problemsOf(f.Path, err)
	}
	return opened{name: f.Name, path: f.Path, data: snapshot.Data, snapshot: snapshot}, nil
}

// changes says which files are known to have changed on disk.
type changes struct{ book, lot bool }

// problemsOf turns any error about a file into a list of problems.
func problemsOf(file string, err error) input.Problems {
	var problems input.Problems
	if errors.As(err, &problems) {
		return problems
	}
	return input.Problems{{File: file, Message: err.Error()}}
}

// ground is what every appraisal of one lot stands on: the routes, the lot, and
// the register with the figures of both. The register is cloned for each run
// and never changed.
type ground struct {
	library *route.Library
	lot     *lot.Lot
	figures *input.Figures
	said    []lot.Said // every value of the file as it is typed

	history  []econ.Outturn // of earlier lots
	learning *econ.Learning // what they have made of the figures; nil without any
}

// with decodes another lot, or this one as edited, on the same routes and
// outturns.
func (g ground) with(f opened) (ground, error) { return decodeLot(g.library, g.history, f) }

// decodeLot reads a lot into a register of its own, with what earlier outturns
// have taught.
func decodeLot(library *route.Library, history []econ.Outturn, f opened) (ground, error) {
	figures := library.Figures().Clone()
	doc, err := input.Parse(f.name, f.data)
	if err != nil {
		return ground{}, err
	}
	residue, err := lot.Decode(doc, figures)
	if err != nil {
		return ground{}, err
	}
	g := ground{library: library, lot: residue, figures: figures, said: lot.AllSaid(doc, figures), history: history}
	if len(history) > 0 {
		g.learning = econ.Learn(figures, history)
		g.learning.Apply(figures)
	}
	return g, nil
}

// surroundings is what commands need of the world outside the model.
type surroundings struct {
	layer  store.Layer
	today  func() time.Time
	seed   uint64
	draws  int
	judge  judgement
	refine refinement
	sense  sensing
}

// judged is a lot worked out with the prices of a book.
type judged struct {
	appraisal  *econ.Appraisal
	rows       []econ.Row
	experiment experiment
	solids     units.Volume // in the vessel, without the liquor between the grains
}

// judgement works a lot out with the prices of a book, from an earlier result
// of the same lot if there is one. It is judge, save in tests of the screen
// alone.
type judgement func(ctx context.Context, w surroundings, g ground, from judged, name string, book []byte) (judged, error)
