package lot

import (
	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Inventory is what stands in the vessel at one set of plain values. It holds
// no doubt: call it at other values for that.
type Inventory struct {
	Vessel   substance.Stream // everything in the vessel: water, dissolved species, solids
	FreeAcid float64          // mol of H^+; negative: mol of alkali left over
	Volume   units.Volume     // of the liquid
	PH       float64          // as the equilibrium gives it
	Ammonium float64          // mol of NH4^+ and NH3: such a nitrate liquor is not boiled dry
	Warnings []string         // of the equilibrium
}

// Inventory works out the vessel at v. It is a pure function of v: no state,
// no clock, safe for concurrent use.
func (m *Model) Inventory(v input.Values) Inventory {
	return Inventory{Vessel: substance.NewStream(units.Celsius(20))}
}
