package substance

import (
	"fmt"

	"afterpour/chem/data"
	"afterpour/chem/units"
)

// SpeciesID numbers a species of the registry; it indexes Stream.Mol. Numbers follow the order of the species table
// and may change between versions of the program: store names, not numbers.
type SpeciesID int16

// Species is one substance in one phase, as the simulation counts it.
type Species struct {
	ID        SpeciesID
	Name      string // canonical: "Ag^+", "AgCl(s)", "NO2(g)", "H2O(l)", "e^-"
	Formula   Formula
	Title     string // in words: "silver chloride"
	Phase     Phase
	MolarMass units.MolarMass

	// MolarVolume is in L/mol: of a solid its real volume, of a dissolved species its apparent volume at infinite
	// dilution (conventional scale, H^+ = 0; it may be negative), of a gas 0.
	MolarVolume float64

	// VolumeSlope is what the apparent volume gains with concentration, in L/mol per root of ionic strength in
	// mol/kg (Masson's rule); 0 for solids.
	VolumeSlope float64

	Charge int    // in elementary charges
	Metal  string // symbol of the working metal that it carries, or ""

	Source data.Row // where its density or apparent volume comes from
}

// Species returns the registry's entry. It panics on a number that the registry never gave out.
func (id SpeciesID) Species() Species { return AllSpecies()[id] }

// cubicCentimetre is 1 cm3 in litres.
const cubicCentimetre = 1e-3

// newSpecies makes a registry entry of a row of the species table.
func newSpecies(id SpeciesID, row data.Species) (Species, error) {
	f, err := ParseFormula(row.Name)
	if err != nil {
		return Species{}, err
	}
	sp := Species{
		ID: id, Name: f.String(), Formula: f, Title: row.Title, Phase: f.Phase(), MolarMass: f.MolarMass(),
		Charge: f.Charge(), Metal: row.Metal, VolumeSlope: row.Slope * cubicCentimetre, Source: row.Row,
	}
	if sp.Phase == Unstated && !f.IsElectron() {
		sp.Phase = Aqueous
	}
	switch {
	case row.Metal != "" && f.Atoms(row.Metal) == 0:
		return Species{}, fmt.Errorf("it carries no %s", row.Metal)
	case row.Density != nil:
		sp.MolarVolume = float64(sp.MolarMass) / gramsPerKilogram / *row.Density
	case row.Volume != nil:
		sp.MolarVolume = *row.Volume * cubicCentimetre
	case sp.Phase == Aqueous || Undissolved(sp):
		return Species{}, fmt.Errorf("it has neither a density nor an apparent volume")
	}
	return sp, nil
}
