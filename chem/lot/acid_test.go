package lot

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// 20 g of half silver, half copper takes, per mol,
//
//	NO   4/3 × 0.09270 + 8/3 × 0.15737 = 0.5433 mol
//	NO2  2 × 0.09270 + 4 × 0.15737     = 0.8149 mol
//
// of the acid poured in, here 10 mL steps of 6 mol/L.
const (
	acidNO  = 4.0/3*10/107.87 + 8.0/3*10/63.546
	acidNO2 = 2*10/107.87 + 4*10/63.546
)

func nitric(litres float64) string {
	return fmt.Sprintf("[[added]]\nwhat = \"nitric acid\"\nstrength = \"6.000 mol/L ± 0.1 %%\"\namount = \"%g L ± 0.1 %%\"\n", litres)
}

// Unmeasured, the liquor carries the whole range between the two reactions.
func TestAcidRange(t *testing.T) {
	b := read(t, liquorHead+piece20+nitric(0.3))
	a := b.report.Acid
	near(t, "least, mol", a.LowMol, 1.8-acidNO2, 1e-6)
	near(t, "most, mol", a.HighMol, 1.8-acidNO, 1e-6)
	near(t, "middle, mol", a.FreeMol, 1.8-(acidNO+acidNO2)/2, 1e-6)
	uniform := (acidNO2 - acidNO) / math.Sqrt(12)
	if a.SD < uniform || a.SD > 1.2*uniform {
		t.Errorf("doubt %g mol, the range alone gives %g", a.SD, uniform)
	}
	if !strings.Contains(b.note(Assumption), "nitrogen dioxide") {
		t.Errorf("the range is not stated: %+v", b.report.Notes)
	}
	ref, ok := b.figs.ByID("lot/nitric/no2-share")
	if !ok {
		t.Fatal("the share is no input")
	}
	if d := b.figs.Get(ref).Dist; d.Low != 0 || d.High != 1 {
		t.Errorf("share: %+v", d)
	}
	b.values[ref] = 1
	near(t, "all NO2, mol", b.model.Inventory(b.values).FreeAcid, a.LowMol, 1e-9)
}

// No more nitrogen dioxide than the acid poured in allows.
func TestAcidNarrowsBranch(t *testing.T) {
	b := read(t, liquorHead+piece20+nitric(0.1)) // 0.6 mol: between the two
	ref, _ := b.figs.ByID("lot/nitric/no2-share")
	near(t, "largest share", b.figs.Get(ref).Dist.High, (0.6-acidNO)/(acidNO2-acidNO), 1e-6)
	near(t, "least, mol", b.report.Acid.LowMol, 0, 1e-9)
	near(t, "free, mol", b.report.Acid.FreeMol, (0.6-acidNO)/2, 1e-6)
}

// Acid that does not suffice even for nitric oxide is a conflict.
func TestAcidTooLittle(t *testing.T) {
	b := read(t, liquorHead+piece20+nitric(0.05)) // 0.3 mol
	a := b.report.Acid
	near(t, "free, mol", a.FreeMol, 0, 1e-9)
	if !a.Disagree || !strings.Contains(b.note(Conflict), "more acid") {
		t.Errorf("no conflict: %+v", b.report.Notes)
	}
	if !(a.SD > 0.1) {
		t.Errorf("doubt %g mol is not widened", a.SD)
	}
}

// A titration of the acid narrows the range by inverse variance.
func TestTitrationNarrowsAcid(t *testing.T) {
	titre := "[[titrated]]\nof = \"acid\"\nsample = \"1.000 mL ± 1 %\"\ntitrant = \"0.1000 mol/L ± 0.1 %\"\nused = \"11.5 mL ± 0.1 mL\"\n"
	b := read(t, liquorHead+piece20+nitric(0.3)+titre)
	a := b.report.Acid
	wide := read(t, liquorHead+piece20+nitric(0.3)).report.Acid
	if len(a.Estimates) != 2 {
		t.Fatalf("estimates: %+v", a.Estimates)
	}
	s, found := a.Estimates[0], a.Estimates[1]
	near(t, "titrated, mol", found.Mol, 1.15, 1e-9)
	near(t, "its doubt, mol", found.SD, 1.15*math.Sqrt(0.01*0.01+0.001*0.001+(0.1/11.5)*(0.1/11.5)+0.03*0.03), 1e-3)
	w := 1 / (1 + s.SD*s.SD/(found.SD*found.SD))
	near(t, "free, mol", a.FreeMol, w*s.Mol+(1-w)*found.Mol, 1e-6)
	near(t, "doubt, mol", a.SD, 1/math.Sqrt(1/(s.SD*s.SD)+1/(found.SD*found.SD)), 1e-3)
	if !(a.SD < wide.SD) || a.Disagree {
		t.Errorf("doubt %g mol against %g mol unmeasured", a.SD, wide.SD)
	}
}

// A pH that no branch of the reaction can explain is a conflict.
func TestPHDisagrees(t *testing.T) {
	b := read(t, strings.Replace(liquorHead, "[vessel]\n", "[vessel]\nph = \"2.0 ± 0.2\"\n", 1)+piece20+nitric(0.6))
	if !b.report.Acid.Disagree || !strings.Contains(b.note(Conflict), "pH") {
		t.Errorf("no conflict: %+v", b.report.Notes)
	}
}

// Neutral and alkaline readings of pH, with log Kw −13.997.
func TestAcidByActivity(t *testing.T) {
	near(t, "pH 1, γ 0.8", acidByActivity(1, 0.8, 0), 0.125, 1e-9)
	near(t, "pH 13, γ 1", acidByActivity(13, 1, 0), -0.1, 0.01)
	near(t, "neutral", acidByActivity(13.997/2, 1, 0), 0, 1e-12)
	// half of the sulfate is hydrogensulfate where the activity equals its constant
	near(t, "pH 1.987, 0.1 mol/L sulfate", acidByActivity(1.987, 1, 0.1), bisulfateK+0.05, 1e-6)
}

// Metal that still stands there speaks for nearly spent acid.
func TestStandingMetalSpendsAcid(t *testing.T) {
	standing := strings.Replace(piece20, "by ", "extent = \"80 % ± 1 %\"\nremainder = \"in vessel\"\nby ", 1)
	b := read(t, liquorHead+standing)
	a := b.report.Acid
	near(t, "free, mol", a.FreeMol, 0.25, 1e-6)
	if len(a.Estimates) != 1 || !strings.Contains(a.Estimates[0].Label, "stands") {
		t.Errorf("estimates: %+v", a.Estimates)
	}
}

// Soda takes acid up first; what is left of it brings the metals down.
func TestBases(t *testing.T) {
	soda := func(g float64) string {
		return fmt.Sprintf("[[added]]\nwhat = \"soda ash\"\nstrength = \"100 %% ± 0 %%\"\namount = \"%g g ± 0.1 %%\"\n", g)
	}
	some := read(t, liquorHead+piece20+nitric(0.3)+soda(50)) // 0.9435 mol of base
	near(t, "free, mol", some.report.Acid.FreeMol, 1.8-(acidNO+acidNO2)/2-2*50/105.99, 1e-3)
	near(t, "sodium, mol", some.mol("Na^+"), 2*50/105.99, 1e-3)
	near(t, "copper settled, g", grams(some.metal(t, "Cu").Solid), 0, 1e-9)
	much := read(t, liquorHead+piece20+nitric(0.3)+soda(150))
	near(t, "copper dissolved, g", grams(much.metal(t, "Cu").Dissolved), 0, 1e-6)
	near(t, "silver dissolved, g", grams(much.metal(t, "Ag").Dissolved), 0, 1e-6)
	near(t, "copper, g", grams(much.metal(t, "Cu").Contained), 10, 1e-6)
	if !(much.inv.FreeAcid < 0) {
		t.Errorf("free acid %g mol after soda to spare", much.inv.FreeAcid)
	}
}

// Ammonia poured in stays as ammonium; a nitrate liquor with it is not boiled dry.
func TestAmmonia(t *testing.T) {
	b := read(t, liquorHead+piece20+nitric(0.3)+"[[added]]\nwhat = \"ammonia\"\nstrength = \"5 mol/L ± 1 %\"\namount = \"100 mL ± 1 %\"\n")
	near(t, "ammonium, mol", b.inv.Ammonium, 0.5, 1e-6)
	if !strings.Contains(b.note(Caution), "boil") {
		t.Errorf("no caution: %+v", b.report.Notes)
	}
}

// Acid is used up by the metal as combined, not as the sources alone have it.
func TestAcidOfCombinedMetal(t *testing.T) {
	b := read(t, liquorHead+piece20+nitric(0.3)+"[[measured]]\nmetal = \"Cu\"\nvalue = \"10.8 g/L ± 1 %\"\n")
	cu := grams(b.metal(t, "Cu").Contained)
	if !(cu > 10.05 && cu < 10.8) {
		t.Fatalf("copper %g g", cu)
	}
	near(t, "least acid left, mol", b.report.Acid.LowMol, 1.8-2*10/107.87-4*cu/63.546, 1e-5)
}

// An alkaline reading stands although no base was stated.
func TestAlkalineReading(t *testing.T) {
	b := read(t, strings.Replace(liquorHead, "[vessel]\n", "[vessel]\nph = \"12.5 ± 0.1\"\n", 1)+"[[added]]\nwhat = \"nitric acid\"\nstrength = \"0.2 mol/L ± 50 %\"\namount = \"1 L\"\n")
	if !(b.report.Acid.FreeMol < -0.001) {
		t.Errorf("free acid %g mol at pH 12.5", b.report.Acid.FreeMol)
	}
	checkSound(t, b)
}
