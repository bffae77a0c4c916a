package econ

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

func TestNiceStep(t *testing.T) {
	for x, want := range map[float64]float64{0.9: 1, 1: 1, 1.1: 2, 0.3: 0.5, 30: 50, 0.051: 0.1, 0: 1, math.Inf(1): 1} {
		near(t, "step", niceStep(x), want, 1e-9)
	}
}

func TestStatedLabels(t *testing.T) {
	for id, want := range map[string]string{
		"lot/dissolved[0].mass": "dissolved metal 1, mass", "lot/dissolved[1].share.Ag": "dissolved metal 2, share Ag",
		"lot/vessel.liquid": "vessel, liquid", "lot/measured[11].value": "measured 12, value", "lot/solid[0].wet_mass": "solid 1, wet mass",
		"lot/lots_per_year": "lots per year", "lot/nitric/no2-share": "nitric, no2 share", "lot/odd[x.y": "odd, y",
	} {
		if got := statedLabel(id); got != want {
			t.Errorf("statedLabel(%q) = %q, want %q", id, got, want)
		}
	}
}

// A slider's values are those that are typed in its unit.
func TestStatedSliderUnits(t *testing.T) {
	for text, c := range map[string]struct {
		kind  units.Kind
		value float64
		unit  string
	}{
		"410 g ± 2 g": {units.MassKind, 410, "g"}, "3.2 L ± 5 %": {units.VolumeKind, 3.2, "L"}, "20 degC ± 2 degC": {units.TemperatureKind, 20, "degC"},
		"4.9 g/L ± 4 %": {units.MassConcentrationKind, 4.9, "g/L"}, "0.3 ± 0.3": {units.Number, 0.3, ""}, "8 % ± 1 %": {units.Fraction, 8, "%"},
		"37 um ± 25 %": {units.LengthKind, 37, "um"}, "0.05 mol/L ± 1 %": {units.ConcentrationKind, 50, "mmol/L"},
	} {
		_, dist, err := units.Parse(text, c.kind)
		if err != nil {
			t.Fatal(err)
		}
		s := statedSlider(input.Figure{ID: "lot/x.y", Kind: c.kind, Dist: dist, Text: text})
		near(t, text, s.Value, c.value, 1e-9)
		near(t, text+", base", s.base(s.Value), dist.Mean, 1e-12)
		if s.Unit != c.unit {
			t.Errorf("%s is in %q, want %q", text, s.Unit, c.unit)
		}
	}
}

// Any figure that a file may hold has a slider that can be used.
func TestStatedSliderOfAnyFigure(t *testing.T) {
	kinds := []units.Kind{units.MassKind, units.VolumeKind, units.Fraction, units.ConcentrationKind, units.MassConcentrationKind, units.AreaKind, units.LengthKind, units.Number, units.CountKind}
	rapid.Check(t, func(r *rapid.T) {
		fig := input.Figure{ID: "lot/x[0].y", Kind: rapid.SampledFrom(kinds).Draw(r, "kind")}
		mean := math.Pow(10, rapid.Float64Range(-9, 3).Draw(r, "log"))
		if fig.Kind == units.Fraction {
			mean = rapid.Float64Range(0, 1).Draw(r, "share")
		}
		if rapid.IntRange(0, 9).Draw(r, "zero") == 0 {
			mean = 0
		}
		fig.Dist = units.NormalDist(mean, mean*rapid.Float64Range(0, 1).Draw(r, "doubt"))
		if fig.Kind != units.Number {
			fig.Dist = fig.Dist.Bounded(0, math.Inf(1))
		}
		s := statedSlider(fig)
		if !(s.From < s.To && s.Step > 0 && s.From >= s.Least-1e-9*s.Step && s.To <= s.Most*(1+1e-9)) || math.IsNaN(s.Value+s.SD+s.Step) || math.IsInf(s.From, 0) || math.IsInf(s.To, 0) {
			r.Fatalf("%+v of %+v", s, fig.Dist)
		}
		if c := s.Clip(s.To * 1e6); c > s.Most {
			r.Fatalf("clipped to %g, most is %g", c, s.Most)
		}
	})
}

// A price that stands at nothing has a slider as wide as prices of its kind are.
func TestPriceSliderFromNothing(t *testing.T) {
	b, _ := decoded(t, swapped(t, smallBook, `rate = "20.00 / h"`, `rate = "0 / h"`))
	p, err := b.Find("labour")
	if err != nil {
		t.Fatal(err)
	}
	s := priceSlider(p, b.figures.Get(p.Ref), "USD")
	if s.From != 0 || s.Group != GroupWage || s.Unit != "USD / h" || !s.Quick {
		t.Errorf("%+v", s)
	}
	near(t, "widest wage", s.To, 60, 1e-9)
	near(t, "base of 60 an hour", s.base(60), 60, 1e-9)
}
