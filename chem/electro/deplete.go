package electro

import (
	"math"

	"afterpour/chem/units"
)

// Depletion is how a vessel is stripped of a metal at constant current.
type Depletion struct {
	Constant   units.Hours         // while the metal takes the whole current
	Decaying   units.Hours         // while it takes the limiting current, which falls
	MetalPart  units.Charge        // charge that deposited metal
	Passed     units.Charge        // charge passed in all
	Efficiency float64             // MetalPart over Passed
	Critical   units.Concentration // where the limiting current equals the current
}

// Hours returns the whole time.
func (d Depletion) Hours() units.Hours { return d.Constant + d.Decaying }

// Deplete returns the time and charge that take a well-mixed vessel from the
// concentration start to stop at a constant current, where nothing but the
// metal takes current below its limiting current, and something else (hydrogen)
// takes the excess above it.
//
//	c* = I/(n·F·k·A)
//	t1 = n·F·V·(c0 − max(c, c*))/I
//	t2 = V/(k·A)·ln(min(c0, c*)/c)
//
// with the mass-transfer coefficient k in m/s. ErrDomain for a stop that is not
// between 0 (excluded) and start, or for anything else not above 0.
//
// Source: charge balance of a batch cell under mass-transfer control, Bard and
// Faulkner, 2nd edition, section 11.3; checked against a numerical integration
// in the tests.
func Deplete(start, stop units.Concentration, v units.Volume, i units.Current, n int, k float64, area units.Area) (Depletion, error) {
	const name = "Deplete"
	if err := demand(name, positive("start", float64(start)), positive("stop", float64(stop)),
		argument{name: "stop", value: float64(stop), valid: stop <= start, want: "no more than the start"},
		positive("volume", float64(v)), positive("current", float64(i)), electrons(n),
		positive("mass-transfer coefficient", k), positive("area", float64(area))); err != nil {
		return Depletion{}, err
	}
	c0, c1, z := float64(start), float64(stop), float64(n)
	critical := float64(i) / limiting(z, k, float64(area), 1)
	metal := z * Faraday * float64(v) * (c0 - c1)
	t1 := z * Faraday * float64(v) * (c0 - min(c0, max(c1, critical))) / float64(i)
	t2 := float64(v) / 1000 / (k * float64(area)) * math.Log(max(c1, min(c0, critical))/c1)
	passed, err := result(name, (t1+t2)*float64(i))
	if err != nil {
		return Depletion{}, err
	}
	d := Depletion{
		Constant: units.Hours(t1 / 3600), Decaying: units.Hours(t2 / 3600),
		MetalPart: units.Charge(metal), Passed: units.Charge(passed), Critical: units.Concentration(critical), Efficiency: 1,
	}
	if passed > 0 {
		d.Efficiency = min(1, metal/passed)
	}
	return d, nil
}
