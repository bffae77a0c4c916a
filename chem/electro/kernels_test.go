package electro

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

func TestDepositAndChargeForAreInverse(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q := units.Charge(rapid.Float64Range(1e-6, 1e9).Draw(r, "charge"))
		n := rapid.IntRange(1, 8).Draw(r, "n")
		mm := units.MolarMass(rapid.Float64Range(1, 400).Draw(r, "molar mass"))
		eta := rapid.Float64Range(0.01, 1).Draw(r, "efficiency")
		m, err := Deposit(q, n, mm, eta)
		if err != nil {
			r.Fatal(err)
		}
		back, err := ChargeFor(m, n, mm, eta)
		if err != nil {
			r.Fatal(err)
		}
		if math.Abs(float64(back/q)-1) > 1e-12 {
			r.Fatalf("%g C came back as %g C", q, back)
		}
		twice, _ := Deposit(2*q, n, mm, eta)
		if math.Abs(float64(twice/m)-2) > 1e-12 {
			r.Fatal("twice the charge is not twice the mass")
		}
	})
}

func TestNernstShiftsByDecades(t *testing.T) {
	for n := 1; n <= 3; n++ {
		a := must[units.Potential](t)(Nernst(0.5, n, 1, units.Celsius(25)))
		b := must[units.Potential](t)(Nernst(0.5, n, 10, units.Celsius(25)))
		near(t, "standard", float64(a), 0.5, 1e-12)
		near(t, "decade", float64(a-b), 0.05916/float64(n), 5e-6) // 59.16 mV, OpenStax section 17.4 (0.0592)
	}
}

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

// The limiting current of industrial copper liquor (40 g/L) in natural
// convection is known to lie well above the 200 to 350 A/m2 at which plants run
// (practice row cu_ew_j) and below 2000 A/m2.
func TestLimitingCurrentOfPlants(t *testing.T) {
	k := must[float64](t)(NaturalConvection(1*units.Metre, 40/63.546, 0.714e-9, 0.16))
	i := must[units.Current](t)(LimitingCurrent(2, k, 1, 40/63.546))
	if i < 350 || i > 2000 {
		t.Errorf("limiting current %.0f A/m2", i)
	}
	// The row for a still liquor covers what the correlation gives on a bench plate.
	value, low, high, err := MassTransfer(Still)
	if err != nil || !(low < value && value < high) {
		t.Fatal(low, value, high, err)
	}
	for _, c := range []units.Concentration{0.02, 0.1, 0.5, 1} {
		k := must[float64](t)(NaturalConvection(10*units.Centimetre, c, 0.714e-9, 0.16))
		if k < low || k > high {
			t.Errorf("%g mol/L: k = %.2g m/s, outside %g to %g", c, k, low, high)
		}
	}
}

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

// Both anchors of the nitrate line must lie on it.
func TestNitrateAnchors(t *testing.T) {
	near(t, "copper at rest", must[float64](t)(NitrateReduction(1, 1, 0.30, 1, standardKelvins)), 5, 1e-9)
	near(t, "onset", must[float64](t)(NitrateReduction(0.01, 0.1, 0.05, 1, standardKelvins)), 1, 1e-9)
	// About 0.2 to 1.8 mg of copper a cm2 and hour in 1 mol/L acid.
	low, high := NitrateFactor()
	for f, want := range map[float64]float64{low: 0.18, high: 1.78} {
		j := must[float64](t)(NitrateReduction(1, 1, 0.30, f, standardKelvins))
		m := must[units.Mass](t)(Deposit(units.Charge(j*3600), 2, 63.546, 1)) // a m2 and hour
		near(t, "attack", m.Milligrams()/1e4, want, 0.01)
	}
	warm := must[float64](t)(NitrateReduction(1, 1, 0.30, 1, 298.15+20))
	if ratio := warm / 5; ratio < 2.5 || ratio > 6 {
		t.Errorf("20 K make the attack %.1f times faster", ratio)
	}
}

func TestAmmoniumShare(t *testing.T) {
	for volts, want := range map[float64]float64{0.3: 0, 0: 0, -0.19: 0.5, -0.38: 1, -1: 1} {
		near(t, "ammoniumShare", ammoniumShare(volts), want, 1e-9)
	}
}

func TestBadArguments(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, call := range map[string]func() error{
		"Deposit negative":  func() error { _, err := Deposit(-1, 1, 100, 1); return err },
		"Deposit NaN":       func() error { _, err := Deposit(units.Charge(nan), 1, 100, 1); return err },
		"Deposit Inf":       func() error { _, err := Deposit(units.Charge(inf), 1, 100, 1); return err },
		"Deposit overflow":  func() error { _, err := Deposit(1e308, 1, 1e308, 1); return err },
		"Deposit n":         func() error { _, err := Deposit(1, 0, 100, 1); return err },
		"Deposit eta":       func() error { _, err := Deposit(1, 1, 100, 1.1); return err },
		"Deposit eta NaN":   func() error { _, err := Deposit(1, 1, 100, nan); return err },
		"ChargeFor eta":     func() error { _, err := ChargeFor(1, 1, 100, 0); return err },
		"ChargeFor mm":      func() error { _, err := ChargeFor(1, 1, 0, 1); return err },
		"Nernst Q":          func() error { _, err := Nernst(0, 1, 0, 298); return err },
		"Nernst Q negative": func() error { _, err := Nernst(0, 1, -1, 298); return err },
		"Nernst T":          func() error { _, err := Nernst(0, 1, 1, 0); return err },
		"CellVoltage":       func() error { _, err := CellVoltage(units.Potential(nan), 0); return err },
		"LogK overflow":     func() error { _, err := LogK(1e300, 8, 1e-10); return err },
		"Tafel":             func() error { _, err := Tafel{}.Overpotential(nan); return err },
		"Conductivity T":    func() error { _, err := Conductivity(500); return err },
		"Conductivity c":    func() error { _, err := Conductivity(298, IonConcentration{"K", -1}); return err },
		"OhmicDrop":         func() error { _, err := OhmicDrop(1, 1, 0, 1); return err },
		"LimitingCurrent":   func() error { _, err := LimitingCurrent(2, nan, 1, 1); return err },
		"NaturalConvection": func() error { _, err := NaturalConvection(0, 1, 1, 1); return err },
		"Deplete rising":    func() error { _, err := Deplete(1, 2, 1, 1, 1, 1, 1); return err },
		"Deplete zero":      func() error { _, err := Deplete(1, 0, 1, 1, 1, 1, 1); return err },
		"Deplete overflow":  func() error { _, err := Deplete(1e300, 1, 1e300, 1e-300, 1, 1, 1); return err },
		"Nitrate":           func() error { _, err := NitrateReduction(1, 1, -300, 1, 298); return err },
		"CementTime":        func() error { _, err := CementTime(1, 2, 1, 1, 1); return err },
		"CopperAttack":      func() error { _, err := CopperAttack(Liquor{}, 1, 1, 1); return err },
	} {
		err := call()
		var domain *DomainError
		if !errors.Is(err, ErrDomain) || !errors.As(err, &domain) || domain.Error() == "" {
			t.Errorf("%s: %v, want a DomainError", name, err)
		}
	}
}
