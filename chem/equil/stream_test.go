package equil

import (
	"math"

	"afterpour/chem/substance"
	"afterpour/chem/units"
	"pgregory.net/rapid"
)

// fataler is what tests, benchmarks and rapid have in common.
type fataler interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// streamOf makes a stream of the named species, in mol.
func streamOf(t fataler, celsius float64, mol map[string]float64) substance.Stream {
	t.Helper()
	s := substance.NewStream(units.Celsius(celsius))
	for name, n := range mol {
		id, err := substance.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		s.Add(id, n)
	}
	return s
}

func molOf(t fataler, s substance.Stream, name string) float64 {
	t.Helper()
	id, err := substance.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return s.Mol[id]
}

// drawStream makes a neutral liquor with solids and strangers in it.
func drawStream(t *rapid.T) substance.Stream {
	amounts := map[string]float64{"H2O(l)": rapid.Float64Range(30, 200).Draw(t, "water")}
	amount := func(name string) float64 {
		return math.Pow(10, rapid.Float64Range(-7, 0).Draw(t, name))
	}
	cations := []string{"Ag^+", "Cu^2+", "Zn^2+", "Ni^2+", "Pb^2+", "Fe^3+", "Fe^2+", "Sn^2+", "Na^+", "K^+", "NH4^+", "H^+"}
	anions := []string{"Cl^-", "NO3^-", "SO4^2-", "HSO4^-", "OH^-", "CO3^2-", "HCO3^-", "C6H11O7^-"}
	charge := 0.0
	for _, name := range append(cations, anions...) {
		if rapid.Bool().Draw(t, "with") {
			amounts[name] = amount(name)
			charge += amounts[name] * float64(substance.MustFind(name).Species().Charge)
		}
	}
	if charge > 0 {
		amounts["NO3^-"] += charge
	} else {
		amounts["H^+"] -= charge
	}
	for _, name := range []string{"AgCl(s)", "Ag2O(s)", "Cu(OH)2(s)", "CuO(s)", "Zn(OH)2(s)", "PbCl2(s)", "PbSO4(s)", "Fe(OH)3(s)", "SnO2(s)", "Ag(s)", "NH3(aq)"} {
		if rapid.IntRange(0, 3).Draw(t, "solid") == 0 {
			amounts[name] = amount(name)
		}
	}
	return streamOf(t, rapid.Float64Range(5, 95).Draw(t, "celsius"), amounts)
}

// checkConserved compares every element and the charge of two streams.
func checkConserved(t fataler, before, after substance.Stream) {
	t.Helper()
	for _, symbol := range []string{"H", "O", "C", "N", "Na", "K", "Cl", "S", "Ag", "Cu", "Zn", "Ni", "Pb", "Fe", "Sn"} {
		if was, is := before.Element(symbol), after.Element(symbol); math.Abs(was-is) > 1e-12*(1+was) {
			t.Fatalf("%s: %.15g mol became %.15g", symbol, was, is)
		}
	}
	if was, is := before.Charge(), after.Charge(); math.Abs(was-is) > 1e-12 {
		t.Fatalf("charge: %g became %g", was, is)
	}
	for i, n := range after.Mol {
		if n < 0 || math.IsNaN(n) || math.IsInf(n, 0) {
			t.Fatalf("%s: %g mol", substance.SpeciesID(i).Species().Name, n)
		}
	}
}
