package econ

import (
	"math"
	"testing"

	"afterpour/chem/units"

	"pgregory.net/rapid"
)

func TestWeigh(t *testing.T) {
	for _, test := range []struct {
		balance, exact float64 // g
		want           string
	}{
		{0.01, 29.0004, "29.1 g"},
		{0.01, 29.0, "29.0 g"},
		{0.01, 6.4871, "6.49 g"},
		{0.01, 0.1234, "0.13 g"},
		{0.1, 6.41, "6.5 g"},
		{0.1, 113.2, "114 g"},
		{1, 6.41, "7 g"},
		{0.01, 1061, "1.07 kg"},
		{0, 5.02, "5.1 g"},
	} {
		m := newMeasurer(units.Mass(test.balance) * units.Gram)
		if got := m.massText(m.weigh(units.Mass(test.exact) * units.Gram)); got != test.want {
			t.Errorf("%g g on a balance of %g g: %s, want %s", test.exact, test.balance, got, test.want)
		}
	}
}

func TestPour(t *testing.T) {
	for _, test := range []struct {
		exact float64 // mL
		want  string
	}{
		{4.31, "4.4 mL"}, {10, "10 mL"}, {10.1, "10.5 mL"}, {57.2, "58 mL"}, {101, "102 mL"}, {333, "335 mL"}, {1999, "2.00 L"}, {4503, "4.52 L"},
	} {
		m := newMeasurer(units.Gram)
		if got := volumeText(m.pour(units.Volume(test.exact) * units.Millilitre)); got != test.want {
			t.Errorf("%g mL: %s, want %s", test.exact, got, test.want)
		}
	}
}

// A dose is never rounded to less, stands on a mark, and is hardly more than a
// step over.
func TestRoundingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := newMeasurer(units.Mass(rapid.SampledFrom([]float64{0.001, 0.01, 0.1, 1}).Draw(t, "balance")) * units.Gram)
		exact := units.Mass(math.Pow(10, rapid.Float64Range(-3, 4).Draw(t, "grams"))) * units.Gram
		got := m.weigh(exact)
		step := m.massStep(exact)
		if got < exact*(1-1e-8) || got.Grams() > exact.Grams()+step*(1+1e-8) {
			t.Errorf("%v g is weighed as %v g in steps of %g g", exact.Grams(), got.Grams(), step)
		}
		if n := got.Grams() / step; math.Abs(n-math.Round(n)) > 1e-6 {
			t.Errorf("%v g is no multiple of %g g", got.Grams(), step)
		}
		v := units.Volume(math.Pow(10, rapid.Float64Range(0, 4).Draw(t, "millilitres"))) * units.Millilitre
		c := cylinderFor(v.Millilitres())
		if p := m.pour(v); p < v*(1-1e-8) || p.Millilitres() > v.Millilitres()+c.mark*(1+1e-8) {
			t.Errorf("%v mL is poured as %v mL by marks of %g mL", v.Millilitres(), p.Millilitres(), c.mark)
		}
	})
}

func TestTexts(t *testing.T) {
	for _, test := range []struct{ got, want string }{
		{hoursText(0.01), "a minute"},
		{hoursText(0.267), "16 min"},
		{hoursText(0.5), "30 min"},
		{hoursText(1.25), "75 min"},
		{hoursText(2.3), "2.5 h"},
		{hoursText(18.2), "18 h"},
		{hoursText(72), "3 days"},
		{hoursText(0), "no time"},
		{roughly(0.1163), "120 mL"},
		{roughly(2.94), "2.9 L"},
		{roughly(0.0043), "4.3 mL"},
		{roughly(12.34), "12 L"},
		{roughly(0), "0 mL"},
		{celsius(units.Celsius(77.3)), "75 °C"},
		{celsius(units.Celsius(16.2)), "16 °C"},
		{phText(-0.2), "pH 0 or less"},
		{phText(1.44), "pH about 1"},
		{phText(8), "neither strong acid nor lye"},
		{phText(13.7), "pH about 14"},
		{capital("éclat"), "Éclat"},
		{capital("pH paper"), "pH paper"},
		{capital(""), ""},
		{beakerFor(0.32, 0.6), "600 mL beaker"},
		{beakerFor(90, 0.75), "vessel of 120 L or more"},
		{letter(0), "a"},
		{letter(27), "b2"},
		{finenessText(999.6), "fineness over 999"},
		{finenessText(925), "fineness about 925"},
	} {
		if test.got != test.want {
			t.Errorf("got %q, want %q", test.got, test.want)
		}
	}
}
