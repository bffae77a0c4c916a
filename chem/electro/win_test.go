package electro

import (
	"math"
	"testing"

	"afterpour/chem/units"
)

// benchCell is a plate of 100 cm2 with a supply of 12 V and 5 A.
func benchCell() Cell { return DefaultCell(100*units.SquareCentimetre, 12, 5) }

// sulfate is a copper sulfate liquor, 32 g/L with acid.
func sulfate() Liquor {
	return Liquor{
		Volume: 1, Temperature: units.Celsius(25), Acid: 1, Sulfate: 1,
		Metals: []Dissolved{{Metal: "Cu", Concentration: 0.5}},
	}
}

// nitric is the same copper in nitric acid of the strength given.
func nitric(acid units.Concentration) Liquor {
	l := sulfate()
	l.Acid, l.Sulfate, l.Nitrate = acid, 0, acid+1
	return l
}

// win runs a cell that must finish.
func win(t *testing.T, c Cell, l Liquor, metal string, stop Stop) Result {
	t.Helper()
	r, err := Win(c, l, metal, stop)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func total(charges []units.Charge) float64 {
	var sum float64
	for _, q := range charges {
		sum += float64(q)
	}
	return sum
}

func plated(r Result, metal string) Won {
	for _, w := range r.Metals {
		if w.Metal == metal {
			return w
		}
	}
	return Won{}
}

// Without competitors the run is the closed form: hydrogen takes only what is
// beyond the limiting current.
func TestWinAgainstTheClosedForm(t *testing.T) {
	c := benchCell()
	c.Taper, c.Stray = 0, 0
	l := sulfate()
	k := transferOf(c.MassTransfer, "Cu", float64(l.Temperature))
	for _, stop := range []units.Concentration{0.3, 0.1, 0.005} {
		r := win(t, c, l, "Cu", Stop{Concentration: stop})
		d := must[Depletion](t)(Deplete(0.5, stop, l.Volume, c.Current, 2, k, c.CathodeArea))
		near(t, "hours", float64(r.Hours), float64(d.Hours()), 0.01*float64(d.Hours()))
		near(t, "efficiency", r.Efficiency, d.Efficiency, 0.01)
		near(t, "moles plated", float64(plated(r, "Cu").Plated), 0.5-float64(stop), 1e-6)
	}
}

// Steps a tenth as long must not change the figures.
func TestWinStepsAreShortEnough(t *testing.T) {
	iron, chloride, lead := sulfate(), sulfate(), nitric(0.5)
	iron.IronIII, iron.IronII = 0.1, 0.05
	chloride.Chloride, chloride.Acid = 0.3, 0.05
	lead.Metals = append(lead.Metals, Dissolved{Metal: "Pb", Concentration: 0.02}, Dissolved{Metal: "Ag", Concentration: 0.05})
	for name, l := range map[string]Liquor{
		"sulfate": sulfate(), "nitric": nitric(1), "strong": nitric(2.5), "iron": iron, "chloride": chloride, "lead": lead,
	} {
		for _, taper := range []float64{0, 0.8} {
			c := benchCell()
			c.Taper = taper
			run := func(coarse float64) Result {
				b, m := newBath(c, l, "Cu")
				b.coarse = coarse
				sum, err := b.march(m, Stop{Concentration: 0.005})
				if err != nil {
					t.Fatal(err)
				}
				return sum.result(b, l)
			}
			rough, fine := run(1), run(0.1)
			for what, pair := range map[string][2]float64{
				"hours":  {float64(rough.Hours), float64(fine.Hours)},
				"charge": {float64(rough.Charge), float64(fine.Charge)},
				"energy": {float64(rough.Energy), float64(fine.Energy)},
				"acid":   {float64(rough.AcidMade), float64(fine.AcidMade)},
				"NO":     {float64(rough.NitricOxide), float64(fine.NitricOxide)},
				"Cl2":    {float64(rough.Chlorine), float64(fine.Chlorine)},
			} {
				near(t, name+" "+what, pair[0], pair[1], 0.003*math.Abs(pair[1])+1e-6)
			}
		}
	}
}

func TestWinStops(t *testing.T) {
	c := benchCell()
	r := win(t, c, sulfate(), "Cu", Stop{Hours: 2})
	if r.Reason != ReachedHours {
		t.Errorf("reason %q", r.Reason)
	}
	near(t, "hours", float64(r.Hours), 2, 1e-6)
	c.Taper = 0
	r = win(t, c, sulfate(), "Cu", Stop{Efficiency: 0.5})
	if r.Reason != ReachedEfficiency || plated(r, "Cu").Left <= 0 {
		t.Errorf("reason %q, %g mol/L left", r.Reason, plated(r, "Cu").Left)
	}
	r = win(t, c, sulfate(), "Cu", Stop{Concentration: 0.5})
	if r.Reason != ReachedConcentration || r.Charge != 0 || r.Steps != 0 {
		t.Errorf("nothing to do: %+v", r)
	}
	l := nitric(3)
	l.Metals[0].Concentration = 1e-4
	c.Current = 0.05
	r = win(t, c, l, "Cu", Stop{Concentration: 1e-5})
	if r.Reason != NoDeposit {
		t.Errorf("reason %q, want that no metal comes down", r.Reason)
	}
}

func BenchmarkWin(b *testing.B) {
	l := nitric(1)
	l.IronIII = 0.01
	l.Metals = append(l.Metals, Dissolved{Metal: "Zn", Concentration: 0.3}, Dissolved{Metal: "Pb", Concentration: 0.01})
	for name, taper := range map[string]float64{"taper": 0.8, "constant": 0} {
		c := benchCell()
		c.Taper = taper
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Win(c, l, "Cu", Stop{Concentration: 0.005}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
