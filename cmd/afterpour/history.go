package main

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/econ"
)

// noOutturns is the flag that leaves earlier outturns aside.
const noOutturns = "no-outturns"

// learn reads the outturns that lie beside a lot and gives the figures what they
// teach.
func (p *program) learn(r *ranking, f file, figures *input.Figures) (*econ.Learning, error) {
	if r.alone {
		return nil, nil
	}
	history, err := p.history(f.name)
	if err != nil || len(history) == 0 {
		return nil, err
	}
	learning := econ.Learn(figures, history)
	learning.Apply(figures)
	return learning, nil
}

// history reads all files of outturns in the folder of a lot, in order of name:
// they are the practitioner's last lots. A lot that is no file has none.
func (p *program) history(lotName string) ([]econ.Outturn, error) {
	if _, err := p.layer.Stat(lotName); lotName == stdinName || err != nil {
		return nil, nil
	}
	dir := filepath.Dir(lotName)
	names, err := p.layer.List(dir)
	if err != nil {
		return nil, problemsOf(dir, err)
	}
	slices.Sort(names)
	var all []econ.Outturn
	var problems input.Problems
	for _, name := range names {
		if !econ.IsOutturn(name) {
			continue
		}
		list, err := p.readOutturns(filepath.Join(dir, name))
		if err != nil {
			problems = append(problems, problemsOf(name, err)...)
		}
		all = append(all, list...)
	}
	if len(problems) > 0 {
		problems[len(problems)-1].Hint += noHistoryHint(problems[len(problems)-1].Hint)
		return nil, problems
	}
	return all, nil
}

func noHistoryHint(before string) string {
	if before != "" {
		before = "; or "
	}
	return before + "--" + noOutturns + " leaves earlier outturns aside"
}

// readOutturns reads one file of outturns; a missing one holds none.
func (p *program) readOutturns(path string) ([]econ.Outturn, error) {
	snapshot, err := store.Read(p.layer, path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, problemsOf(path, err)
	}
	doc, err := input.Parse(path, snapshot.Data)
	if err != nil {
		return nil, err
	}
	return econ.DecodeOutturns(doc)
}
