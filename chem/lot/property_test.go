package lot

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

// checkSound fails on a figure that is not finite or has a negative doubt, on
// charge that is not balanced, and on a negative amount.
func checkSound(t testing.TB, b built) {
	t.Helper()
	checkInventory(t, b.inv)
	finite := func(what string, x float64) {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s is %g", what, x)
		}
	}
	for _, m := range b.report.Metals {
		for what, x := range map[string]float64{"contained": grams(m.Contained), "dissolved": grams(m.Dissolved), "solid": grams(m.Solid)} {
			finite(m.Metal+" "+what, x)
			if x < 0 {
				t.Errorf("%s %s is %g g", m.Metal, what, x)
			}
		}
		for what, x := range map[string]float64{"contained": grams(m.SD), "dissolved": grams(m.DissolvedSD), "solid": grams(m.SolidSD), "χ²": m.ChiSquared, "p": m.P} {
			finite(m.Metal+" "+what, x)
			if x < 0 {
				t.Errorf("doubt of %s %s is %g", m.Metal, what, x)
			}
		}
		near(t, m.Metal+": dissolved + solid, g", grams(m.Dissolved+m.Solid), grams(m.Contained), 1e-9)
	}
	for what, x := range map[string]float64{"free acid": b.report.Acid.FreeMol, "its doubt": b.report.Acid.SD, "χ²": b.report.Acid.ChiSquared, "p": b.report.Acid.P, "pH": b.report.PH} {
		finite(what, x)
	}
	if b.report.Acid.SD < 0 {
		t.Errorf("doubt of the acid is %g", b.report.Acid.SD)
	}
}

func checkInventory(t testing.TB, inv Inventory) {
	t.Helper()
	largest := 0.0
	for i, n := range inv.Vessel.Mol {
		if math.IsNaN(n) || math.IsInf(n, 0) || n < 0 {
			t.Errorf("%s: %g mol", substance.SpeciesID(i).Species().Name, n)
		}
		largest = math.Max(largest, math.Abs(n))
	}
	if z := inv.Vessel.Charge(); !(math.Abs(z) <= 1e-9*math.Max(1, largest)) {
		t.Errorf("charge %g mol beside %g mol", z, largest)
	}
	if v := float64(inv.Volume); v > 0 && !inv.Crowded && math.Abs(float64(inv.Vessel.LiquidVolume())-v) > 1e-6*v {
		t.Errorf("liquid %g L, stated %g L", float64(inv.Vessel.LiquidVolume()), v)
	}
}

// recipe is a lot of random size, every figure with its own doubt.
type recipe struct {
	mass, silver, litres, acid, chloride, assay, ph float64
	measured, weighed, reading, standing            bool
}

func drawRecipe(t *rapid.T) recipe {
	return recipe{
		mass:     rapid.Float64Range(1, 500).Draw(t, "mass"),
		silver:   rapid.Float64Range(0.5, 99).Draw(t, "silver"),
		litres:   rapid.Float64Range(0.2, 5).Draw(t, "litres"),
		acid:     rapid.Float64Range(0.01, 3).Draw(t, "acid"),
		chloride: rapid.Float64Range(0, 80).Draw(t, "chloride"),
		assay:    rapid.Float64Range(0, 60).Draw(t, "assay"),
		ph:       rapid.Float64Range(-0.5, 4).Draw(t, "ph"),
		measured: rapid.Bool().Draw(t, "measured"),
		weighed:  rapid.Bool().Draw(t, "weighed"),
		reading:  rapid.Bool().Draw(t, "reading"),
		standing: rapid.Bool().Draw(t, "standing"),
	}
}

// sections writes the recipe k times as large, as separate entries.
func (r recipe) sections(k float64) (head string, entries []string) {
	head = fmt.Sprintf("title = \"x\"\n[vessel]\nliquid = \"%.9g L ± 3 %%\"\n", k*r.litres)
	if r.reading {
		head += fmt.Sprintf("ph = \"%.6g ± 0.4\"\n", r.ph)
	}
	stands := ""
	if r.standing {
		stands = "extent = \"85 % ± 3 %\"\nremainder = \"in vessel\"\n"
	}
	entries = append(entries,
		fmt.Sprintf("[[dissolved]]\nmass = \"%.9g g ± 1 %%\"\nshare = { Ag = \"%.6g %% ± 0.3 %%\", Cu = \"rest\" }\nby = \"nitric acid\"\n%s", k*r.mass, r.silver, stands),
		fmt.Sprintf("[[dissolved]]\nmass = \"%.9g g ± 1 %%\"\ngrade = \"sterling 925\"\nby = \"nitric acid\"\n", k*r.mass/3),
		fmt.Sprintf("[[added]]\nwhat = \"nitric acid\"\nstrength = \"68 %% ± 1 %%\"\namount = \"%.9g L ± 1 %%\"\n", k*r.acid),
		fmt.Sprintf("[[added]]\nwhat = \"sodium chloride\"\nstrength = \"99 %% ± 0.5 %%\"\namount = \"%.9g g ± 1 %%\"\n", k*r.chloride),
	)
	if r.measured {
		entries = append(entries,
			fmt.Sprintf("[[measured]]\nmetal = \"Ag\"\nvalue = \"%.6g g/L ± 0.3 g/L\"\n", r.assay),
			"[[titrated]]\nof = \"acid\"\nsample = \"1 mL ± 1 %\"\ntitrant = \"0.1 mol/L ± 1 %\"\nused = \"8 mL ± 0.1 mL\"\n")
	}
	if r.weighed {
		entries = append(entries, fmt.Sprintf("[[solid]]\ncompound = \"AgCl\"\nwet_mass = \"%.9g g ± 2 %%\"\nmoisture = \"40 %% ± 5 %%\"\npurity = \"90 %% ± 3 %%\"\n", k*r.mass/4))
	}
	return head, entries
}

func (r recipe) text(k float64) string {
	head, entries := r.sections(k)
	return head + strings.Join(entries, "")
}

// quiet hands a testing.TB to helpers from within rapid.
type quiet struct {
	testing.TB
	t *rapid.T
}

func (q quiet) Errorf(format string, args ...any) { q.t.Errorf(format, args...) }
func (q quiet) Fatalf(format string, args ...any) { q.t.Fatalf(format, args...) }
func (q quiet) Helper()                           {}

func TestSoundOfAnyLot(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		checkSound(quiet{t, rt}, read(quiet{t, rt}, drawRecipe(rt).text(1)))
	})
}

// A lot k times as large holds k times as much of everything, with k times the
// doubt; concentrations and probabilities stay.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := quiet{t, rt}
		r := drawRecipe(rt)
		k := rapid.Float64Range(0.1, 20).Draw(rt, "k")
		one, many := read(q, r.text(1)), read(q, r.text(k))
		for i, n := range one.inv.Vessel.Mol {
			// the volume leaves little room for water in some lots: its amount is a small difference of large figures
			if got := many.inv.Vessel.Mol[i]; math.Abs(got-k*n) > 1e-6*k*(math.Abs(n)+r.litres) {
				rt.Errorf("%s: %g mol, want %g × %g", substance.SpeciesID(i).Species().Name, got, k, n)
			}
		}
		for i, m := range one.report.Metals {
			near(q, m.Metal+" contained", grams(many.report.Metals[i].Contained), k*grams(m.Contained), 1e-6)
			near(q, m.Metal+" doubt", grams(many.report.Metals[i].SD), k*grams(m.SD), 1e-4)
		}
		// free acid too may be a small difference of what was poured and used
		if got, want := many.report.Acid.FreeMol, k*one.report.Acid.FreeMol; math.Abs(got-want) > 1e-6*k*(r.acid+math.Abs(one.report.Acid.FreeMol)) {
			rt.Errorf("free acid %g mol, want %g", got, want)
		}
	})
}

// The order of the entries does not matter.
func TestOrderOfEntries(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := quiet{t, rt}
		head, entries := drawRecipe(rt).sections(1)
		mixed := rapid.Permutation(entries).Draw(rt, "order")
		a, b := read(q, head+strings.Join(entries, "")), read(q, head+strings.Join(mixed, ""))
		for i, n := range a.inv.Vessel.Mol {
			if got := b.inv.Vessel.Mol[i]; math.Abs(got-n) > 1e-9*(math.Abs(n)+1e-3) {
				rt.Errorf("%s: %g mol, %g in another order", substance.SpeciesID(i).Species().Name, n, got)
			}
		}
		for i, m := range a.report.Metals {
			near(q, m.Metal+" doubt", grams(b.report.Metals[i].SD), grams(m.SD), 1e-6)
		}
	})
}

// More chloride never means less silver chloride: in one lot as the value of
// its input grows, and from lot to lot where nothing was measured.
func TestMoreChloride(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := quiet{t, rt}
		r := drawRecipe(rt)
		salt := substance.MustFind("AgCl(s)")
		b := read(q, r.text(1))
		ref := b.lot.Added[1].Amount
		last := -1.0
		for share := 0.0; share <= 3; share += 0.25 {
			v := append(input.Values(nil), b.values...)
			v[ref] *= share
			n := b.model.Inventory(v).Vessel.Mol[salt]
			if n < last-1e-12 {
				rt.Errorf("at %g of the chloride %g mol, before %g mol", share, n, last)
			}
			last = n
		}
		// Where metal still stands in the vessel, the acid that comes with the
		// chloride changes what has dissolved and what cemented: no comparison.
		r.measured, r.weighed, r.standing = false, false, false
		less := read(q, r.text(1)).inv.Vessel.Mol[salt]
		r.chloride *= rapid.Float64Range(1, 4).Draw(rt, "more")
		if more := read(q, r.text(1)).inv.Vessel.Mol[salt]; more < less-1e-9 {
			rt.Errorf("more chloride, %g mol of silver chloride after %g mol", more, less)
		}
	})
}

// The inventory is sound at any values within the bounds of the figures, and
// the same values give the same inventory.
func TestInventoryOfDraws(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := quiet{t, rt}
		b := read(q, drawRecipe(rt).text(1))
		v := b.figs.Central()
		for i := range v {
			v[i] = b.figs.Get(input.Ref(i)).Dist.Quantile(rapid.Float64Range(0, 1).Draw(rt, "p"))
		}
		one := b.model.Inventory(v)
		checkInventory(q, one)
		two := b.model.Inventory(v)
		for i, n := range one.Vessel.Mol {
			if math.Float64bits(n) != math.Float64bits(two.Vessel.Mol[i]) {
				rt.Errorf("%s differs from call to call", substance.SpeciesID(i).Species().Name)
			}
		}
	})
}
