package electro

import (
	"errors"
	"math"
	"testing"

	"afterpour/chem/units"
)

// The straight lines stand for three published points each.
func TestTafelLinesPassNearTheirPoints(t *testing.T) {
	for id, points := range map[string][3]float64{
		"hydrogen-Cu":     {0.479, 0.584, 0.801},
		"hydrogen-Ag":     {0.475, 0.762, 0.875},
		"oxygen-graphite": {0.525, 0.963, 1.091},
		"oxygen-platinum": {0.721, 0.850, 1.280},
	} {
		line := must[Tafel](t)(Gas(id))
		for i, want := range points {
			j := math.Pow(10, float64(i+1))
			near(t, id, float64(must[units.Potential](t)(line.Overpotential(j))), want, 0.11)
			if back := line.density(float64(must[units.Potential](t)(line.Overpotential(j)))); math.Abs(back/j-1) > 1e-9 {
				t.Errorf("%s: %g A/m2 came back as %g", id, j, back)
			}
		}
	}
	line := must[Tafel](t)(Gas("oxygen-lead"))
	near(t, "lead, 0.303 + 0.12·log10 300", float64(must[units.Potential](t)(line.Overpotential(300))), 0.303+0.12*math.Log10(300), 1e-9)
	if v := must[units.Potential](t)(line.Overpotential(0)); v != 0 {
		t.Errorf("no current gives %g V", v)
	}
}

func TestActivationIsButlerVolmer(t *testing.T) {
	for _, j := range []float64{0.1, 30, 500} {
		eta := activation(j, 30, standardKelvins)
		vt := thermalVolt(standardKelvins)
		near(t, "j", 30*(math.Exp(eta/2/vt)-math.Exp(-eta/2/vt)), j, 1e-9*j)
	}
}

func TestConcentrationOverpotential(t *testing.T) {
	half := must[units.Potential](t)(ConcentrationOverpotential(0.5, 1, 2, units.Celsius(25)))
	near(t, "half the limit", float64(half), 0.025693/2*math.Ln2, 1e-6) // 25.693 mV = RT/F at 25 °C
	if _, err := ConcentrationOverpotential(1, 1, 2, units.Celsius(25)); !errors.Is(err, ErrDomain) {
		t.Errorf("at the limit: %v, want ErrDomain", err)
	}
}
