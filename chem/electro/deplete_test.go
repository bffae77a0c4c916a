package electro

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

// rk4 integrates V·dc/dt = −min(I, I_lim(c))/(nF) from c0 until stop and
// returns the hours.
func rk4(c0, stop, litres, amps, n, k, area float64) float64 {
	rate := func(c float64) float64 { return min(amps, limiting(n, k, area, c)) / (n * Faraday * litres) }
	c, t, dt := c0, 0.0, 0.5 // s
	for c > stop {
		k1 := rate(c)
		k2 := rate(c - dt/2*k1)
		k3 := rate(c - dt/2*k2)
		k4 := rate(c - dt*k3)
		c -= dt / 6 * (k1 + 2*k2 + 2*k3 + k4)
		t += dt
	}
	return t / 3600
}

func TestDepleteAgainstNumericalIntegration(t *testing.T) {
	for name, c := range map[string]struct{ c0, stop, litres, amps, k, area float64 }{
		"both phases":   {0.15, 0.005, 1, 1, 1e-5, 0.01},
		"constant only": {0.15, 0.10, 2, 0.5, 1e-5, 0.01},
		"decay only":    {0.02, 0.001, 0.5, 5, 2e-5, 0.02},
	} {
		d := must[Depletion](t)(Deplete(units.Concentration(c.c0), units.Concentration(c.stop), units.Volume(c.litres),
			units.Current(c.amps), 2, c.k, units.Area(c.area)))
		want := rk4(c.c0, c.stop, c.litres, c.amps, 2, c.k, c.area)
		near(t, name, float64(d.Hours()), want, 1e-3*want)
		near(t, name+" metal", float64(d.MetalPart), 2*Faraday*c.litres*(c.c0-c.stop), 1e-6)
	}
}

func TestDepleteProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c0 := units.Concentration(rapid.Float64Range(1e-3, 2).Draw(r, "c0"))
		stop := c0 * units.Concentration(rapid.Float64Range(1e-4, 1).Draw(r, "stop"))
		v := units.Volume(rapid.Float64Range(0.1, 20).Draw(r, "V"))
		i := units.Current(rapid.Float64Range(0.01, 50).Draw(r, "I"))
		a := units.Area(rapid.Float64Range(1e-4, 1).Draw(r, "A"))
		k := rapid.Float64Range(1e-6, 1e-4).Draw(r, "k")
		d, err := Deplete(c0, stop, v, i, 2, k, a)
		if err != nil {
			r.Fatal(err)
		}
		if !(d.Efficiency > 0 && d.Efficiency <= 1) || d.MetalPart > d.Passed*(1+1e-12) {
			r.Fatalf("efficiency %g", d.Efficiency)
		}
		further, err := Deplete(c0, stop/2, v, i, 2, k, a)
		if err != nil || further.Hours() < d.Hours() {
			r.Fatalf("further takes %g h, less than %g h (%v)", further.Hours(), d.Hours(), err)
		}
		// A cell of twice the size in everything takes the same time.
		twice, err := Deplete(c0, stop, 2*v, 2*i, 2, k, 2*a)
		if err != nil || math.Abs(float64(twice.Hours()-d.Hours())) > 1e-9*float64(d.Hours())+1e-15 {
			r.Fatalf("twice the cell takes %g h, not %g h (%v)", twice.Hours(), d.Hours(), err)
		}
	})
}

func BenchmarkDeplete(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Deplete(0.5, 0.005, 1, 5, 2, 1e-5, 0.01); err != nil {
			b.Fatal(err)
		}
	}
}
