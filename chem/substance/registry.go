package substance

import (
	"fmt"
	"sync"

	"afterpour/chem/data"
)

const (
	waterName        = "H2O(l)"
	gramsPerKilogram = 1000
)

// registry holds every species with the columns that streams run over.
type registry struct {
	species     []Species
	byName      map[string]SpeciesID
	composition map[string][]float64 // element symbol → atoms of it in each species
	symbols     []string             // of composition, by atomic number
	kilograms   []float64            // kg/mol
	charges     []float64
	dissolved   []SpeciesID // aqueous, without water
	volumes     []float64   // of dissolved, L/mol
	slopes      []float64   // of dissolved, L/mol per root of mol/kg
	undissolved []SpeciesID // solids and liquid metal
	flowing     []SpeciesID // what flows with the liquor: water and aqueous
	gases       []SpeciesID
	water       SpeciesID
	hydrogenIon SpeciesID
}

// loaded returns the registry, built on first use. The table is part of the program, so an error in it is a mistake
// of programming: a test loads it, and here it panics.
var loaded = sync.OnceValue(func() *registry {
	reg, err := newRegistry()
	if err != nil {
		panic(fmt.Sprintf("substance: the species table is wrong: %v", err))
	}
	return reg
})

func newRegistry() (*registry, error) {
	rows, err := data.SpeciesRows()
	if err != nil {
		return nil, err
	}
	reg := &registry{byName: map[string]SpeciesID{}, composition: map[string][]float64{}}
	for _, row := range rows {
		sp, err := newSpecies(SpeciesID(len(reg.species)), row)
		if err != nil {
			return nil, fmt.Errorf("species %s: %w", row.Name, err)
		}
		if _, twice := reg.byName[sp.Name]; twice {
			return nil, fmt.Errorf("species %s stands twice", sp.Name)
		}
		reg.byName[sp.Name] = sp.ID
		reg.species = append(reg.species, sp)
	}
	reg.fillColumns()
	for _, e := range Elements() {
		if reg.composition[e.Symbol] != nil {
			reg.symbols = append(reg.symbols, e.Symbol)
		}
	}
	return reg, reg.findFixed()
}

func (reg *registry) fillColumns() {
	reg.kilograms = make([]float64, len(reg.species))
	reg.charges = make([]float64, len(reg.species))
	for i, sp := range reg.species {
		reg.kilograms[i] = float64(sp.MolarMass) / gramsPerKilogram
		reg.charges[i] = float64(sp.Charge)
		switch {
		case sp.Phase == Aqueous:
			reg.dissolved = append(reg.dissolved, sp.ID)
			reg.volumes = append(reg.volumes, sp.MolarVolume)
			reg.slopes = append(reg.slopes, sp.VolumeSlope)
		case Undissolved(sp):
			reg.undissolved = append(reg.undissolved, sp.ID)
		case Escaping(sp):
			reg.gases = append(reg.gases, sp.ID)
		}
		if Dissolved(sp) {
			reg.flowing = append(reg.flowing, sp.ID)
		}
		for _, symbol := range sp.Formula.Elements() {
			if reg.composition[symbol] == nil {
				reg.composition[symbol] = make([]float64, len(reg.species))
			}
			reg.composition[symbol][i] = sp.Formula.Atoms(symbol)
		}
	}
}

// findFixed looks up the species that this package itself names.
func (reg *registry) findFixed() error {
	for name, id := range map[string]*SpeciesID{waterName: &reg.water, "H^+": &reg.hydrogenIon} {
		found, ok := reg.byName[name]
		if !ok {
			return fmt.Errorf("the species %s is missing", name)
		}
		*id = found
	}
	return nil
}

// AllSpecies returns the registry in order of SpeciesID. Do not change it.
func AllSpecies() []Species { return loaded().species }

// Symbols returns the elements that any species holds, in order of atomic number. Do not change it.
func Symbols() []string { return loaded().symbols }
