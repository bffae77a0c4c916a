package equil

import (
	_ "embed"
	"fmt"
	"sync"

	"github.com/BurntSushi/toml"

	"afterpour/chem/substance"
)

//go:embed data/bench.toml
var benchText string

// bench is how the species and solids of streams stand to components and
// solids of sets of constants.
type bench struct {
	Forms  []benchForm  `toml:"form"`
	Ions   []benchIon   `toml:"ion"`
	Solids []benchSolid `toml:"solid"`

	hydrogen, hydroxide, water substance.SpeciesID
	waterKg                    float64               // kg in a mol of water
	ionRow                     []int8                // species -> row of Ions, or -1
	dissolved                  []substance.SpeciesID // what may be a stranger: aqueous, not hydrogen ion or hydroxide
	charge                     []float64             // of each species
	aside                      []string              // what is said of each species that takes no part
}

type benchForm struct {
	Species string `toml:"species"`
	Text    string `toml:"reaction"`
	Returns string `toml:"returns"`

	id       substance.SpeciesID
	reaction substance.Reaction
	ions     uint32 // rows of Ions that it breaks down to
}

type benchIon struct {
	Component string `toml:"component"`
	Species   string `toml:"species"`
	Metal     bool   `toml:"metal"`

	id substance.SpeciesID
}

type benchSolid struct {
	Name  string `toml:"name"`
	Text  string `toml:"reaction"`
	Forms bool   `toml:"forms"` // comes down within hours at the bench
	Gas   bool   `toml:"gas"`   // leaves, and does not come back

	id       substance.SpeciesID
	reaction substance.Reaction
	ions     uint32 // rows of Ions that it dissolves to
}

var loadBench = sync.OnceValues(func() (*bench, error) {
	b := &bench{}
	meta, err := toml.Decode(benchText, b)
	if err != nil {
		return nil, fmt.Errorf("equil: bench table: %w", err)
	}
	if unknown := meta.Undecoded(); len(unknown) > 0 {
		return nil, fmt.Errorf("equil: bench table: unknown key %s", unknown[0])
	}
	if err := b.resolve(); err != nil {
		return nil, fmt.Errorf("equil: bench table: %w", err)
	}
	return b, nil
})

// resolve finds every species and checks every reaction for balance.
func (b *bench) resolve() (err error) {
	find := func(name string) (id substance.SpeciesID) {
		if err == nil {
			id, err = substance.Find(name)
		}
		return id
	}
	parse := func(text string) (r substance.Reaction) {
		if err == nil {
			r, err = substance.ParseReaction(text)
		}
		return r
	}
	b.hydrogen, b.hydroxide, b.water = find("H^+"), find("OH^-"), find("H2O(l)")
	for i := range b.Ions {
		b.Ions[i].id = find(b.Ions[i].Species)
	}
	for i := range b.Forms {
		b.Forms[i].id, b.Forms[i].reaction = find(b.Forms[i].Species), parse(b.Forms[i].Text)
	}
	for i := range b.Solids {
		b.Solids[i].reaction = parse(b.Solids[i].Text)
	}
	if err != nil {
		return err
	}
	if len(b.Ions) > maxComponents || len(b.Solids) > 32 {
		return fmt.Errorf("too many rows for a selection")
	}
	b.index()
	return nil
}

// index makes the tables that a search runs over.
func (b *bench) index() {
	all := substance.AllSpecies()
	b.waterKg = float64(b.water.Species().MolarMass) / 1000
	b.ionRow = make([]int8, len(all))
	b.charge = make([]float64, len(all))
	b.aside = make([]string, len(all))
	for i, sp := range all {
		b.ionRow[i] = -1
		b.charge[i] = float64(sp.Charge)
		b.aside[i] = sp.Name + " takes no part in the equilibrium"
		if sp.Phase == substance.Aqueous && sp.ID != b.hydrogen && sp.ID != b.hydroxide {
			b.dissolved = append(b.dissolved, sp.ID)
		}
	}
	for i, ion := range b.Ions {
		b.ionRow[ion.id] = int8(i)
	}
	for i := range b.Forms {
		b.Forms[i].ions = b.ionsOf(b.Forms[i].reaction)
	}
	for i := range b.Solids {
		s := &b.Solids[i]
		s.id, s.ions = s.reaction.Terms[0].Species, b.ionsOf(s.reaction)
	}
}

// ionsOf are the ion rows that a reaction names.
func (b *bench) ionsOf(r substance.Reaction) (rows uint32) {
	for _, t := range r.Terms {
		if i := b.ionRow[t.Species]; i >= 0 {
			rows |= 1 << i
		}
	}
	return rows
}

// run takes a reaction on by an extent in mol; a negative extent runs it back.
func run(mol []float64, r substance.Reaction, extent float64) {
	for _, t := range r.Terms {
		mol[t.Species] += t.Nu * extent
	}
}
