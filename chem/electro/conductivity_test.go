package electro

import (
	"testing"

	"afterpour/chem/units"
)

// Potassium chloride at 25 °C: 0.0141, 0.1282 and 1.0862 S/cm·10 for 0.01, 0.1
// and 1 mol/kg (CRC Handbook, calibration of conductivity cells, from memory),
// which are 0.00997, 0.0994 and 0.971 mol/L.
func TestConductivityOfPotassiumChloride(t *testing.T) {
	for c, want := range map[float64]float64{0.00997: 0.14082, 0.0994: 1.2825, 0.971: 10.862} {
		k := units.Concentration(c)
		got := must[float64](t)(Conductivity(units.Celsius(25), IonConcentration{"K", k}, IonConcentration{"Cl", k}))
		near(t, "Conductivity", got, want, 0.05*want)
	}
}

func TestOhmicDrop(t *testing.T) {
	// 5 A through 4 cm of liquor of 20 S/m, 100 cm2: 5·0.04/(20·0.01) = 1 V.
	u := must[units.Potential](t)(OhmicDrop(5, 4*units.Centimetre, 100*units.SquareCentimetre, 20))
	near(t, "OhmicDrop", float64(u), 1, 1e-12)
}
