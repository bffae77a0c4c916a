package substance

import (
	"fmt"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/units"
)

// WaterDensity returns the density of water in kg/L, from the saturation rows of IAPWS-95, 5 to 100 degC, linear between
// the rows (within 0.0001 kg/L). Outside, the nearest row's value holds.
func WaterDensity(t units.Temperature) units.Density {
	return units.Density(waterCurve().at(float64(t)))
}

var waterCurve = sync.OnceValue(func() curve {
	rows, err := data.WaterRows()
	if err != nil {
		panic(fmt.Sprintf("substance: the water table is wrong: %v", err))
	}
	var c curve
	for _, r := range rows {
		c.x = append(c.x, float64(units.Celsius(r.Celsius)))
		c.y = append(c.y, r.Density)
	}
	return c
})

// curve is a table of y against rising x.
type curve struct{ x, y []float64 }

// at interpolates linearly; outside the table it gives the end value.
func (c curve) at(x float64) float64 {
	last := len(c.x) - 1
	if !(x > c.x[0]) {
		return c.y[0]
	}
	for i := 1; i <= last; i++ {
		if x <= c.x[i] {
			share := (x - c.x[i-1]) / (c.x[i] - c.x[i-1])
			return c.y[i-1] + share*(c.y[i]-c.y[i-1])
		}
	}
	return c.y[last]
}
