package data

import "sync"

// Dissolving is a row of dissolving.toml: what an agent does to a solid.
type Dissolving struct {
	ID       string `toml:"id"`
	Agent    string `toml:"agent"`
	Solid    string `toml:"solid"`    // species
	Branch   string `toml:"branch"`   // "NO", "NO2", "N2O", "NH4", "SO2", or "" where there is no choice
	Reaction string `toml:"reaction"` // empty: the agent leaves the solid as it is
	Row
}

// DissolvingRows returns the table of dissolving reactions.
func DissolvingRows() ([]Dissolving, error) { return dissolving() }

var dissolving = sync.OnceValues(func() ([]Dissolving, error) {
	return rows[Dissolving]("dissolving.toml")
})

func (d Dissolving) check() error {
	return wrong(named(d.ID, d.Agent, d.Solid) && (d.Reaction != "" || d.Note != ""), "dissolving row %q", d.ID)
}

// Agent is a row of agents.toml: a dissolving agent and what it is made up of.
type Agent struct {
	Name       string   `toml:"name"`
	OtherNames []string `toml:"other_names"`
	Reagents   []string `toml:"reagents"` // ids of the catalogue
	Row
}

// Agents returns the dissolving agents.
func Agents() ([]Agent, error) { return agents() }

var agents = sync.OnceValues(func() ([]Agent, error) {
	return rows[Agent]("agents.toml")
})

func (a Agent) check() error {
	return wrong(named(a.Name) && len(a.Reagents) > 0, "agent %q", a.Name)
}
