package substance

import (
	"errors"
	"fmt"
	"sync"

	"afterpour/chem/data"
)

// ErrNoDissolving says that the table does not know what the agent does to the solid.
var ErrNoDissolving = errors.New("no dissolving reaction is known")

// Dissolving is what an agent does to a solid, on one branch.
type Dissolving struct {
	ID        string
	Agent     string
	Solid     SpeciesID
	Branch    string // "NO", "NO2", "N2O", "NH4", "SO2", or "" where there is no choice
	Untouched bool   // the agent leaves the solid as it is; Reaction is empty
	Reaction  Reaction
	Note      string
	Source    data.Row
}

// Agent is a dissolving agent with the ids of the reagents that make it up.
type Agent struct {
	Name     string
	Reagents []string
}

type dissolvingTable struct {
	all    []Dissolving
	agents []Agent
	index  *nameIndex
}

var dissolving = sync.OnceValue(func() *dissolvingTable {
	t, err := newDissolvingTable()
	if err != nil {
		panic(fmt.Sprintf("substance: the dissolving table is wrong: %v", err))
	}
	return t
})

func newDissolvingTable() (*dissolvingTable, error) {
	t := &dissolvingTable{index: newNameIndex("agent")}
	agents, err := data.Agents()
	if err != nil {
		return nil, err
	}
	for i, a := range agents {
		if err := t.index.add(i, append([]string{a.Name}, a.OtherNames...)...); err != nil {
			return nil, err
		}
		t.agents = append(t.agents, Agent{a.Name, a.Reagents})
	}
	rows, err := data.DissolvingRows()
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	for _, row := range rows {
		d, err := t.newDissolving(row)
		if err == nil && seen[d.ID] {
			err = errors.New("it stands twice")
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", row.ID, err)
		}
		seen[d.ID] = true
		t.all = append(t.all, d)
	}
	return t, nil
}

func (t *dissolvingTable) newDissolving(row data.Dissolving) (Dissolving, error) {
	if _, err := t.index.find(row.Agent); err != nil {
		return Dissolving{}, err
	}
	id, err := Find(row.Solid)
	if err != nil {
		return Dissolving{}, err
	}
	d := Dissolving{
		ID: row.ID, Agent: row.Agent, Solid: id, Branch: row.Branch, Untouched: row.Reaction == "",
		Note: row.Note, Source: row.Row,
	}
	if d.Untouched {
		return d, nil
	}
	if d.Reaction, err = ParseReaction(row.Reaction); err != nil {
		return Dissolving{}, err
	}
	if !(d.Reaction.Nu(id) < 0) {
		return Dissolving{}, fmt.Errorf("%s does not use up %s", row.Reaction, row.Solid)
	}
	return d, nil
}

// DissolvingReactions returns the whole table. Do not change it.
func DissolvingReactions() []Dissolving { return dissolving().all }

// Agents returns the dissolving agents. Do not change it.
func Agents() []Agent { return dissolving().agents }

// FindAgent returns the agent of that name ("nitric acid", "HCl + H2O2", "ferric chloride").
// Error: *UnknownNameError with the near names.
func FindAgent(name string) (Agent, error) {
	row, err := dissolving().index.find(name)
	if err != nil {
		return Agent{}, err
	}
	return dissolving().agents[row], nil
}

// Dissolve returns what an agent does to a solid, one entry a branch, or one that says that it is left untouched.
// solid is an element symbol ("Ag") or a species ("CdO(s)"). Errors: an unknown agent or species; ErrNoDissolving.
func Dissolve(agent, solid string) ([]Dissolving, error) {
	a, err := FindAgent(agent)
	if err != nil {
		return nil, err
	}
	id, err := undissolvedSpecies(solid)
	if err != nil {
		return nil, err
	}
	var found []Dissolving
	for _, d := range dissolving().all {
		if d.Agent == a.Name && d.Solid == id {
			found = append(found, d)
		}
	}
	if found == nil {
		return nil, fmt.Errorf("substance: %w: %s in %s", ErrNoDissolving, id.Species().Title, a.Name)
	}
	return found, nil
}
