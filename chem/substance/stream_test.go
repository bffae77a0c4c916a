package substance

import (
	"math"
	"testing"

	"afterpour/chem/units"

	"pgregory.net/rapid"
)

// nitrateLiquor is 1 kg of water with 0.1 mol silver nitrate, 0.5 mol copper nitrate and 1 mol nitric acid, over 2 mol
// of silver chloride.
func nitrateLiquor() Stream {
	s := NewStream(units.Celsius(20))
	for name, n := range map[string]float64{
		"H2O(l)": 1000 / 18.015, "Ag^+": 0.1, "Cu^2+": 0.5, "H^+": 1, "NO3^-": 2.1, "AgCl(s)": 2,
	} {
		s.Add(MustFind(name), n)
	}
	return s
}

func TestStreamSums(t *testing.T) {
	s := nitrateLiquor()
	cases := map[string]struct{ got, want float64 }{
		"silver, mol":           {s.Element("Ag"), 2.1},
		"silver, kg":            {float64(s.ElementMass("Ag")), 2.1 * 0.10787},
		"chlorine, mol":         {s.Element("Cl"), 2},
		"gold, mol":             {s.Element("Au"), 0},
		"no element":            {s.Element("Xx"), 0},
		"no mass":               {float64(s.ElementMass("Xx")), 0},
		"dissolved silver, mol": {s.ElementIn("Ag", Dissolved), 0.1},
		"settled, kg":           {float64(s.MassOf(Undissolved)), 2 * 0.14332},
		"mass, kg":              {float64(s.Mass()), 1 + 0.1*0.10787 + 0.5*0.063546 + 0.001008 + 2.1*0.062004 + 2*0.14332},
		"water, mol":            {float64(s.Water()), 1000 / 18.015},
		"solids, L":             {float64(s.SolidVolume()), 2 * 0.14332 / 5.56},
		"ionic strength":        {s.IonicStrength(), (0.1 + 0.5*4 + 1 + 2.1) / 2},
	}
	for name, c := range cases {
		if !near(c.got, c.want, 1e-9) {
			t.Errorf("%s = %.12g, want %.12g", name, c.got, c.want)
		}
	}
	if got := s.Charge(); math.Abs(got) > 1e-12 {
		t.Errorf("charge = %g mol, want 0", got)
	}
	v := float64(s.LiquidVolume())
	if got, want := float64(s.HydrogenIon()), 1/v; !near(got, want, 1e-12) {
		t.Errorf("hydrogen ion = %g mol/L, want %g", got, want)
	}
	if got := NewStream(units.Celsius(20)).HydrogenIon(); got != 0 {
		t.Errorf("hydrogen ion of nothing = %g", got)
	}
}

func TestMixTemperature(t *testing.T) {
	a, b := NewStream(units.Celsius(20)), NewStream(units.Celsius(80))
	a.Add(MustFind("H2O(l)"), 1)
	b.Add(MustFind("H2O(l)"), 3)
	a.Mix(b)
	if got := a.Temperature.Celsius(); !near(got, 65, 1e-9) {
		t.Errorf("mixed to %g degC, want 65", got)
	}
	empty := NewStream(units.Celsius(5))
	empty.Mix(NewStream(units.Celsius(90)))
	if got := empty.Temperature.Celsius(); !near(got, 5, 1e-9) {
		t.Errorf("nothing mixed with nothing: %g degC, want 5", got)
	}
}

func drawStream(t *rapid.T) Stream {
	s := NewStream(units.Celsius(rapid.Float64Range(5, 95).Draw(t, "celsius")))
	for range rapid.IntRange(0, 12).Draw(t, "species") {
		id := rapid.IntRange(0, len(AllSpecies())-1).Draw(t, "id")
		s.Add(SpeciesID(id), rapid.Float64Range(0, 50).Draw(t, "mol"))
	}
	return s
}

// TestStreamConserves: splitting and mixing again gives back every species, element and the charge.
func TestStreamConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStream(t)
		before := s.Clone()
		which := rapid.SampledFrom([]func(Species) bool{Dissolved, Undissolved, Escaping}).Draw(t, "which")
		part := s.Split(rapid.Float64Range(0, 1).Draw(t, "share"), which)
		for i := range part.Mol {
			if part.Mol[i] != 0 && !which(AllSpecies()[i]) {
				t.Fatalf("%s was split off", AllSpecies()[i].Name)
			}
		}
		s.Mix(part)
		for i := range s.Mol {
			if !near(s.Mol[i], before.Mol[i], 1e-12) {
				t.Fatalf("%s: %g mol, before %g", AllSpecies()[i].Name, s.Mol[i], before.Mol[i])
			}
		}
		for _, symbol := range Symbols() {
			if !near(s.Element(symbol), before.Element(symbol), 1e-9) {
				t.Fatalf("%s: %g mol, before %g", symbol, s.Element(symbol), before.Element(symbol))
			}
		}
	})
}

func TestScaleAndClone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStream(t)
		k := rapid.Float64Range(0, 10).Draw(t, "k")
		c := s.Clone()
		c.Scale(k)
		if got, want := float64(c.Mass()), k*float64(s.Mass()); !near(got, want, 1e-9) {
			t.Fatalf("mass %g after scaling by %g, want %g", got, k, want)
		}
		if got, want := float64(c.LiquidVolume()), k*float64(s.LiquidVolume()); !near(got, want, 1e-9) {
			t.Fatalf("volume %g after scaling by %g, want %g", got, k, want)
		}
	})
}

// BenchmarkSplitMix is what a settling step costs.
func BenchmarkSplitMix(b *testing.B) {
	s := nitrateLiquor()
	b.ReportAllocs()
	for b.Loop() {
		part := s.Split(0.9, Dissolved)
		s.Mix(part)
	}
}

// BenchmarkLiquidVolume is the dearest of the sums.
func BenchmarkLiquidVolume(b *testing.B) {
	s := nitrateLiquor()
	b.ReportAllocs()
	for b.Loop() {
		_ = s.LiquidVolume()
	}
}
