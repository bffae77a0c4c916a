package electro

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

// anyCell and anyLiquor draw what a bench might hold, and some more.
func anyCell(r *rapid.T) Cell {
	c := DefaultCell(units.Area(rapid.Float64Range(1e-4, 0.2).Draw(r, "area")), 12,
		units.Current(rapid.Float64Range(0.01, 30).Draw(r, "amps")))
	c.Anode = rapid.SampledFrom(AnodeMaterials()).Draw(r, "anode")
	c.MassTransfer = rapid.Float64Range(1e-6, 5e-5).Draw(r, "k")
	c.Taper = rapid.SampledFrom([]float64{0, 0.5, 0.8, 0.95}).Draw(r, "taper")
	c.Stray = rapid.Float64Range(0, 0.3).Draw(r, "stray")
	c.NitrateFactor = rapid.Float64Range(0, 3).Draw(r, "nitrate factor")
	return c
}

func anyLiquor(r *rapid.T) (Liquor, string) {
	c := func(name string, low, high float64) units.Concentration {
		if rapid.Bool().Draw(r, name+"?") {
			return 0
		}
		return units.Concentration(math.Pow(10, rapid.Float64Range(low, high).Draw(r, name)))
	}
	target := rapid.SampledFrom([]string{"Cu", "Ag", "Zn", "Pb", "Ni", "Pd"}).Draw(r, "target")
	l := Liquor{
		Volume: units.Volume(rapid.Float64Range(0.05, 20).Draw(r, "litres")), Temperature: units.Celsius(rapid.Float64Range(0, 100).Draw(r, "T")),
		Acid: c("acid", -7, 0.7), IronIII: c("iron3", -6, -0.5), IronII: c("iron2", -6, -0.5), Nitrate: c("nitrate", -4, 0.8),
		Sulfate: c("sulfate", -4, 0.5), Chloride: c("chloride", -6, 0.7), Salt: c("salt", -3, 0.7),
		Metals: []Dissolved{
			{Metal: target, Concentration: units.Concentration(math.Pow(10, rapid.Float64Range(-5, 0.3).Draw(r, "target c")))},
			{Metal: "Cu", Concentration: c("Cu", -6, 0.3)},
			{Metal: "Pb", Concentration: c("Pb", -6, -1)},
		},
	}
	return l, target
}

func TestWinConserves(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := anyCell(r)
		l, target := anyLiquor(r)
		before, _ := l.of(target)
		got, err := Win(c, l, target, Stop{Concentration: units.Concentration(before) / 5, Hours: 200})
		if err != nil && !errors.Is(err, ErrNotFinished) {
			r.Fatal(err)
		}
		q := float64(got.Charge)
		for name, sum := range map[string]float64{"cathode": total(got.Cathode[:]), "anode": total(got.Anode[:])} {
			if math.Abs(sum-q) > 1e-9*q {
				r.Fatalf("%s reactions take %g C of %g C", name, sum, q)
			}
		}
		metalCharge := 0.0
		for _, w := range got.Metals {
			first, _ := l.of(w.Metal)
			gone := (first - float64(w.Left)) * float64(l.Volume)
			held := float64(w.Plated)
			if w.Metal == "Pb" {
				held += float64(got.LeadDioxide)
			}
			if math.Abs(gone-held) > 1e-9*first*float64(l.Volume)+1e-15 {
				r.Fatalf("%s: %g mol left the liquor, %g mol came down", w.Metal, gone, held)
			}
			metalCharge += float64(w.Charge)
		}
		if math.Abs(metalCharge-float64(got.Cathode[MetalDeposition])) > 1e-9*q {
			r.Fatalf("metals took %g C, not %g C", metalCharge, got.Cathode[MetalDeposition])
		}
		for name, v := range figures(got) {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				r.Fatalf("%s is %g", name, v)
			}
		}
		if got.Efficiency > 1 {
			r.Fatalf("efficiency %g", got.Efficiency)
		}
	})
}

// figures lists what must be a number of zero or more.
func figures(r Result) map[string]float64 {
	return map[string]float64{
		"hours": float64(r.Hours), "charge": float64(r.Charge), "energy": float64(r.Energy), "efficiency": r.Efficiency,
		"hydrogen": float64(r.Hydrogen), "oxygen": float64(r.Oxygen), "chlorine": float64(r.Chlorine), "NO": float64(r.NitricOxide),
		"first volts": float64(r.First), "last volts": float64(r.Last), "mean volts": float64(r.Voltage), "lead dioxide": float64(r.LeadDioxide),
		"ammonium": float64(r.Ammonium), "acid left": float64(r.Left.Acid), "nitrate left": float64(r.Left.Nitrate),
		"chloride left": float64(r.Left.Chloride), "iron(III) left": float64(r.Left.IronIII), "iron(II) left": float64(r.Left.IronII),
	}
}

// A cell of k times the liquor, plates and current does the same in the same time.
func TestWinIsScaleFree(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := anyCell(r)
		l, target := anyLiquor(r)
		before, _ := l.of(target)
		stop := Stop{Concentration: units.Concentration(before) / 3, Hours: 100}
		k := rapid.Float64Range(0.1, 10).Draw(r, "k")
		one, err1 := Win(c, l, target, stop)
		c.CathodeArea *= units.Area(k)
		c.AnodeArea *= units.Area(k)
		c.Leads /= k
		c.Current *= units.Current(k)
		l.Volume *= units.Volume(k)
		big, err2 := Win(c, l, target, stop)
		if (err1 == nil) != (err2 == nil) {
			r.Fatalf("%v against %v", err1, err2)
		}
		if math.Abs(float64(big.Hours-one.Hours)) > 1e-4*float64(one.Hours)+1e-12 ||
			math.Abs(float64(big.Charge)-k*float64(one.Charge)) > 1e-4*k*float64(one.Charge)+1e-9 {
			r.Fatalf("%g h and %g C became %g h and %g C at %g times the size", one.Hours, one.Charge, big.Hours, big.Charge, k)
		}
	})
}

// More nitrate or iron never makes the moment's metal current larger at the same current.
func TestCompetitorsOnlyTake(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := anyCell(r)
		c.Taper = 0
		l, target := anyLiquor(r)
		share := func(l Liquor) float64 {
			b, m := newBath(c, l, target)
			p := b.moment(&m, &guesses{})
			return p.metal[b.target] / p.current
		}
		more := l
		if rapid.Bool().Draw(r, "iron") {
			more.IronIII += 0.05
		} else {
			more.Nitrate += 0.5
		}
		// The supply must drive both alike.
		c.Voltage = 1000
		if a, b := share(l), share(more); b > a+1e-6 {
			r.Fatalf("share of the metal rose from %g to %g", a, b)
		}
	})
}

func FuzzWin(f *testing.F) {
	f.Add(0.01, 5.0, 12.0, 1e-5, 0.8, 0.04, 1.0, 1.0, 25.0, 0.5, 1.0, 0.0, 2.0, 0.0, 0.05)
	f.Add(0.01, 5.0, 1.0, 1e-5, 0.0, 0.0, 1.0, 1.0, 60.0, 0.5, 0.0, 0.1, 0.0, 2.0, 0.005)
	f.Fuzz(func(t *testing.T, area, amps, volts, k, taper, stray, factor, litres, celsius, cu, acid, iron, nitrate, chloride, stop float64) {
		c := DefaultCell(units.Area(area), units.Potential(volts), units.Current(amps))
		c.MassTransfer, c.Taper, c.Stray, c.NitrateFactor = k, taper, stray, factor
		l := Liquor{
			Volume: units.Volume(litres), Temperature: units.Celsius(celsius), Acid: units.Concentration(acid),
			IronIII: units.Concentration(iron), Nitrate: units.Concentration(nitrate), Chloride: units.Concentration(chloride),
			Metals: []Dissolved{{Metal: "Cu", Concentration: units.Concentration(cu)}},
		}
		r, err := Win(c, l, "Cu", Stop{Concentration: units.Concentration(stop)})
		if err != nil {
			_ = err.Error()
			return
		}
		for name, v := range figures(r) {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s is %g", name, v)
			}
		}
	})
}
