package econ

import (
	"math"
	"os"
	"testing"

	"github.com/BurntSushi/toml"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// example is a row of the worked examples.
type example struct {
	ID        string         `toml:"id"`
	Value     float64        `toml:"value"`
	Tolerance float64        `toml:"tolerance"`
	Given     map[string]any `toml:"given"`
	Answers   map[string]any `toml:"answers"`
}

// workedExample reads one row of the worked examples.
func workedExample(t *testing.T, id string) example {
	t.Helper()
	data, err := os.ReadFile("../testdata/worked-examples.toml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Example []example `toml:"example"`
	}
	if err := toml.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	for _, e := range file.Example {
		if e.ID == id {
			return e
		}
	}
	t.Fatalf("no worked example %s", id)
	return example{}
}

func (e example) given(t *testing.T, key string) float64 { return e.number(t, e.Given, key) }

func (e example) answer(t *testing.T, key string) float64 { return e.number(t, e.Answers, key) }

func (e example) number(t *testing.T, in map[string]any, key string) float64 {
	t.Helper()
	switch v := in[key].(type) {
	case float64:
		return v
	case int64:
		return float64(v)
	}
	t.Fatalf("%s has no %s", e.ID, key)
	return 0
}

// agrees compares the draws with the published value and standard uncertainty.
func (e example) agrees(t *testing.T, list []float64, uncertainty, digit float64) {
	t.Helper()
	m := momentsOf(list)
	scatter := 4 * m.sd() / math.Sqrt(m.n)
	if math.Abs(m.mean-e.Value) > e.Tolerance+scatter {
		t.Errorf("%s: %.8g, published %.8g", e.ID, m.mean, e.Value)
	}
	if math.Abs(m.sd()-uncertainty) > digit/2+scatter {
		t.Errorf("%s: standard uncertainty %.4g, published %.4g", e.ID, m.sd(), uncertainty)
	}
}

// Eurachem/CITAC guide, example A1: a cadmium standard, 0.90 mg/L.
func TestCadmiumStandard(t *testing.T) {
	e := workedExample(t, "un_cd")
	var s supplement
	m := s.add("m", units.NormalDist(e.given(t, "m_mg"), e.given(t, "u_m")))
	p := s.add("P", units.NormalDist(e.given(t, "P"), e.given(t, "u_P")))
	v := s.add("V", units.NormalDist(e.given(t, "V_mL"), e.given(t, "u_V")))
	list := s.run(func(x input.Values, _ int) float64 { return 1000 * x.At(m) * x.At(p) / x.At(v) })
	e.agrees(t, list, e.answer(t, "u_c"), 0.1)
}

// Harvey, Analytical Chemistry 2.0, appendix 2: sodium hydroxide by potassium
// hydrogen phthalate, 0.1021 ± 0.0001 mol/L. The question gives the
// uncertainties.
func TestSodiumHydroxideByPhthalate(t *testing.T) {
	e := workedExample(t, "un_naoh")
	var s supplement
	mass := s.add("m", units.NormalDist(e.given(t, "m_g"), 0.00013))
	volume := s.add("V", units.NormalDist(e.given(t, "V_mL"), 0.013))
	purity := s.add("P", units.NormalDist(1, 0.00029))
	molar := s.add("M", units.NormalDist(e.given(t, "M"), 0.0038))
	repeat := s.add("rep", units.NormalDist(1, 0.0005))
	list := s.run(func(x input.Values, _ int) float64 {
		return 1000 * x.At(mass) * x.At(purity) / x.At(molar) / x.At(volume) * x.At(repeat)
	})
	e.agrees(t, list, e.answer(t, "u_c"), 0.0001)
}

// JCGM 100:2008, H.1: an end gauge of 50 mm, 50.000 838 mm. The law of propagation
// gives 32 nm to the first order and 34 nm to the second (H.1.7); the draws hold
// all orders.
func TestEndGauge(t *testing.T) {
	e := workedExample(t, "un_gauge")
	var s supplement
	length := s.add("l(s)", units.NormalDist(e.given(t, "l_s_nm"), 25))
	apart := s.add("d", units.NormalDist(e.given(t, "d_nm"), math.Sqrt(5.8*5.8+3.9*3.9+6.7*6.7)))
	expansion := s.add("α(s)", units.UniformDist(11.5e-6-2e-6, 11.5e-6+2e-6))
	between := s.add("δα", units.UniformDist(-1e-6, 1e-6))
	bed := s.add("θ", units.NormalDist(-0.1, 0.2))
	warmer := s.add("δθ", units.UniformDist(-0.05, 0.05))
	list := s.run(func(v input.Values, n int) float64 {
		theta := v.At(bed) + s.arcsine("Δ", n, -0.5, 0.5)
		l := v.At(length)
		return l + v.At(apart) - l*(v.At(between)*theta+v.At(expansion)*v.At(warmer))
	})
	const secondOrder = 34
	e.agrees(t, list, secondOrder, 1)
	first := math.Sqrt(25*25 + 5.8*5.8 + 3.9*3.9 + 6.7*6.7 + square(5e7*0.1*1e-6/math.Sqrt(3)) + square(5e7*11.5e-6*0.05/math.Sqrt(3)))
	near(t, "first order", first, e.answer(t, "u_c_nm"), 0.5)
}
