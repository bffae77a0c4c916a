package lot

import (
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

const acidOnly = "title = \"x\"\n[vessel]\nliquid = \"2 L\"\n[[added]]\nwhat = \"nitric acid\"\n"

// Mass share, mol/L and g/L, by volume or by mass, all lead to the same moles.
// OpenStax Chemistry 2e, Appendix F: 68 % nitric acid is 15.4 mol/L at 1.41 kg/L
// (rounded); the table row behind the density is 1.40 to 1.41 kg/L.
func TestPourUnits(t *testing.T) {
	density, err := substance.SolutionDensity("HNO3", 0.68)
	if err != nil {
		t.Fatal(err)
	}
	want := 0.68 * float64(density) * 1000 / 63.012
	near(t, "mol/L of the table", want, 15.3, 0.015)
	for name, text := range map[string]string{
		"share, volume":         "strength = \"68 %\"\namount = \"1 L\"\n",
		"usual, volume":         "amount = \"1 L\"\n",
		"share, mass":           "strength = \"68 %\"\namount = \"" + units.Format(units.MassKind, float64(density)) + "\"\n",
		"concentration, volume": "strength = \"" + units.Format(units.ConcentrationKind, want) + "\"\namount = \"1 L\"\n",
		"concentration, mass":   "strength = \"" + units.Format(units.ConcentrationKind, want) + "\"\namount = \"" + units.Format(units.MassKind, float64(density)) + "\"\n",
		"g/L, volume":           "strength = \"" + units.Format(units.MassConcentrationKind, want*63.012) + "\"\namount = \"1 L\"\n",
		"g/L, mass":             "strength = \"" + units.Format(units.MassConcentrationKind, want*63.012) + "\"\namount = \"" + units.Format(units.MassKind, float64(density)) + "\"\n",
	} {
		near(t, name+", mol", read(t, acidOnly+text).inv.FreeAcid, want, 1e-3)
	}
}

// Away from its central value a strength has the density that the table gives.
func TestPourDensityFollowsStrength(t *testing.T) {
	b := read(t, acidOnly+"strength = \"66 % ± 1 %\"\namount = \"1 L\"\n")
	v := append(input.Values(nil), b.values...)
	for _, share := range []float64{0.64, 0.66, 0.68} {
		v[b.lot.Added[0].Strength] = share
		density, err := substance.SolutionDensity("HNO3", units.MassFraction(share))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "acid, mol", b.model.Inventory(v).FreeAcid, share*float64(density)*1000/63.012, 5e-4)
	}
}

// Dry salts by mass; water adds volume and nothing else.
func TestPourSaltAndWater(t *testing.T) {
	b := read(t, "title = \"x\"\n[[added]]\nwhat = \"table salt\"\nstrength = \"100 % ± 0 %\"\namount = \"58.44 g\"\n[[added]]\nwhat = \"water\"\namount = \"1.5 L\"\n")
	near(t, "sodium, mol", b.mol("Na^+"), 1, 1e-4)
	near(t, "chloride, mol", b.mol("Cl^-"), 1, 1e-4)
	near(t, "volume, L", float64(b.inv.Volume), 1.5, 1e-9)
}
