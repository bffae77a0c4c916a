package lot

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"afterpour/chem/units"
)

const liquorHead = "title = \"x\"\n[vessel]\nliquid = \"1.0 L ± 3 %\"\n"

// piece is 20 g of silver and copper, half each, dissolved in nitric acid.
const piece20 = `[[dissolved]]
mass   = "20 g ± 0.1 g"
share  = { Ag = "50 % ± 1 %", Cu = "rest" }
by     = "nitric acid"
`

func assay(value string) string {
	return "[[measured]]\nmetal = \"Ag\"\nvalue = \"" + value + "\"\n"
}

// No solid forms in a nitrate liquor: a measured liquid is a second estimate.
func TestLiquidIsASecondEstimate(t *testing.T) {
	b := read(t, liquorHead+piece20+assay("10.4 g/L ± 2 %"))
	ag := b.metal(t, "Ag")
	// sources 10 ± 0.206; liquid 10.4, √(2² + 3²) % = 0.375
	w := (1 / 0.2062 / 0.2062) / (1/0.2062/0.2062 + 1/0.375/0.375)
	near(t, "silver, g", grams(ag.Contained), w*10+(1-w)*10.4, 1e-3)
	near(t, "its doubt, g", grams(ag.SD), 1/math.Sqrt(1/0.2062/0.2062+1/0.375/0.375), 5e-3)
	near(t, "settled, g", grams(ag.Solid), 0, 1e-9)
}

// Metal left standing: the solid is the balance, the total that of the sources.
func TestLiquidOnlySplits(t *testing.T) {
	standing := strings.Replace(piece20, "by ", "extent = \"80 % ± 1 %\"\nremainder = \"in vessel\"\nby ", 1)
	b := read(t, liquorHead+standing+assay("2.0 g/L ± 2 %"))
	ag, cu := b.metal(t, "Ag"), b.metal(t, "Cu")
	near(t, "silver, g", grams(ag.Contained), 10, 1e-6)
	near(t, "its doubt, g", grams(ag.SD), 0.2062, 1e-3)
	near(t, "dissolved, g", grams(ag.Dissolved), 2.0, 1e-6)
	near(t, "silver metal, g", b.mol("Ag(s)")*107.87, 8.0, 1e-4)
	near(t, "copper, g", grams(cu.Contained), 10, 1e-6)
	// 2 g of silver stood undissolved, 6 g cemented on 6/107.87 · 63.546/2 g of copper
	near(t, "copper left standing, g", grams(cu.Solid), 2-6/107.87*63.546/2, 1e-3)
	if !strings.Contains(b.note(Caution), "salt water") {
		t.Errorf("no word of a salt drop: %+v", b.report.Notes)
	}
	if len(ag.Estimates) != 2 || ag.Disagree {
		t.Errorf("estimates: %+v", ag.Estimates)
	}
}

// More in the liquid than went in is a conflict; the total stays that of the
// sources, with a doubt widened by √χ².
func TestMoreLiquidThanAll(t *testing.T) {
	standing := strings.Replace(piece20, "by ", "extent = \"80 % ± 1 %\"\nremainder = \"in vessel\"\nby ", 1)
	b := read(t, liquorHead+standing+assay("13 g/L ± 2 %"))
	ag := b.metal(t, "Ag")
	if !ag.Disagree || !strings.Contains(b.note(Conflict), "more in the liquid") {
		t.Fatalf("no conflict: %+v %+v", ag, b.report.Notes)
	}
	near(t, "silver, g", grams(ag.Contained), 10, 1e-6)
	z := 3.0 / math.Sqrt(0.2062*0.2062+13*13*0.0013)
	near(t, "χ²", ag.ChiSquared, z*z, 0.01)
	if grams(ag.SD) < 0.2062*z*0.5 {
		t.Errorf("doubt %g g is not widened", grams(ag.SD))
	}
}

// Statements that contradict each other are marked, shown, and widen the doubt.
func TestConflictWidens(t *testing.T) {
	b := read(t, liquorHead+assay("10 g/L ± 2 %")+assay("12 g/L ± 2 %"))
	ag := b.metal(t, "Ag")
	// weights from 0.2 and 0.24 g/L, the volume left out
	w := 1 / (1 + (0.2/0.24)*(0.2/0.24))
	mean := w*10 + (1-w)*12
	chi := (10-mean)*(10-mean)/0.04 + (12-mean)*(12-mean)/0.0576
	u := 1 / math.Sqrt(1/0.04+1/0.0576)
	near(t, "silver, g", grams(ag.Contained), mean, 1e-6)
	near(t, "χ²", ag.ChiSquared, chi, 1e-6)
	near(t, "doubt, g", grams(ag.SD), math.Hypot(u*math.Sqrt(chi), 0.03*mean), 1e-3)
	if !ag.Disagree || !ag.Estimates[0].Disagree || !ag.Estimates[1].Disagree {
		t.Errorf("not marked: %+v", ag.Estimates)
	}
	if !strings.Contains(b.note(Conflict), "10 g") || !strings.Contains(b.note(Conflict), "12 g") {
		t.Errorf("both are not shown: %q", b.note(Conflict))
	}
	if ref, ok := b.figs.ByID("lot/disagreement/Ag/liquid"); !ok {
		t.Error("the disagreement is no input")
	} else if d := b.figs.Get(ref).Dist; d.Mean != 0 || !(d.SD > 0) {
		t.Errorf("the disagreement: %+v", d)
	}
}

// OpenStax Chemistry 2e, Example 4.14: 50.00 mL of acid take 35.23 mL of
// 0.250 mol/L sodium hydroxide: 0.176 mol/L.
func TestTitrationOfAcid(t *testing.T) {
	b := read(t, `title = "x"
[vessel]
liquid = "1 L ± 0 L"
[[titrated]]
of = "acid"
sample = "50.00 mL"
titrant = "0.250 mol/L"
used = "35.23 mL"
`)
	near(t, "acid, mol/L", float64(b.report.Acid.Concentration), 0.176, 0.0005/0.176)
}

// Two opinions on a solid share its dry mass: only what differs weighs.
func TestSolidAssayShares(t *testing.T) {
	b := sample(t, "chloride-sludge")
	for _, e := range b.metal(t, "Ag").Estimates {
		if e.Of != "solid" {
			t.Errorf("estimate of %q", e.Of)
		}
	}
	twice := read(t, `title = "x"
[[solid]]
compound = "AgCl"
wet_mass = "100 g ± 1 g"
moisture = "50 % ± 1 %"
purity = "90 % ± 1 %"
[[solid]]
compound = "Ag"
wet_mass = "10 g ± 0.1 g"
moisture = "0 % ± 0 %"
purity = "100 % ± 0 %"
`)
	near(t, "AgCl and Ag, g of silver", grams(twice.metal(t, "Ag").Solid), 45*107.87/143.32+10, 1e-4)
	near(t, "Ag, mol", twice.mol("Ag(s)"), 10/107.87, 1e-4)
}

// The chloride poured in fixes the settled silver while it is the scarcer, and
// leaves none in the liquid while it is the more.
func TestChlorideFixesSilver(t *testing.T) {
	salt := func(g float64) string {
		return fmt.Sprintf("[[added]]\nwhat = \"sodium chloride\"\nstrength = \"100 %% ± 0 %%\"\namount = \"%g g ± 1 %%\"\n", g)
	}
	few := read(t, liquorHead+piece20+salt(2)) // 0.03422 mol against 0.09270
	near(t, "settled, mol", few.mol("AgCl(s)"), 2/58.44, 1e-3)
	near(t, "dissolved, mol", few.mol("Ag^+"), 10/107.87-2/58.44, 1e-3)
	measured := read(t, liquorHead+piece20+salt(2)+assay("6.4 g/L ± 2 %"))
	ag := measured.metal(t, "Ag")
	if len(ag.Estimates) != 4 || ag.Estimates[1].Label != "liquid and solid" {
		t.Fatalf("chloride and an assay are no second estimate: %+v", ag.Estimates)
	}
	near(t, "phases, g", grams(ag.Estimates[1].Mass), 6.4+2/58.44*107.87, 1e-3)
	much := read(t, liquorHead+piece20+salt(20)+"[[solid]]\ncompound = \"AgCl\"\nwet_mass = \"20 g ± 0.1 g\"\nmoisture = \"30 % ± 2 %\"\npurity = \"95 % ± 1 %\"\n")
	ag = much.metal(t, "Ag")
	if len(ag.Estimates) != 3 || ag.Estimates[1].Label != "liquid and solid" {
		t.Fatalf("with chloride to spare the solid is no second estimate: %+v", ag.Estimates)
	}
	near(t, "dissolved, g", grams(ag.Dissolved), 0, 1e-6)
	near(t, "chloride left, mol", much.mol("Cl^-"), 20/58.44-much.mol("AgCl(s)"), 1e-3)
	contrary := read(t, liquorHead+piece20+salt(20)+assay("6 g/L ± 2 %"))
	if r := contrary.metal(t, "Ag"); !r.Disagree || !strings.Contains(contrary.note(Conflict), "chloride") {
		t.Errorf("silver beside chloride is no conflict: %+v", contrary.report.Notes)
	}
}

// Metal taken out is subtracted; more than went in is a conflict.
func TestTaken(t *testing.T) {
	take := func(g float64) string {
		return fmt.Sprintf("[[taken]]\nmetal = \"Ag\"\nmass = \"%g g ± 0.01 g\"\n", g)
	}
	b := read(t, liquorHead+piece20+take(4))
	near(t, "silver left, g", grams(b.metal(t, "Ag").Contained), 6, 1e-6)
	over := read(t, liquorHead+piece20+take(14))
	ag := over.metal(t, "Ag")
	near(t, "silver left, g", grams(ag.Contained), 0, 1e-9)
	if !ag.Disagree || !strings.Contains(over.note(Conflict), "taken out") {
		t.Errorf("no conflict: %+v", over.report.Notes)
	}
	lone := read(t, liquorHead+take(4)+assay("5 g/L"))
	near(t, "silver measured, g", grams(lone.metal(t, "Ag").Contained), 5, 1e-6)
}

// Plate by its area: 850 cm2 × 37 um × 10.5 kg/L = 33.0 g.
func TestPlated(t *testing.T) {
	b := read(t, liquorHead+"[[plated]]\nmetal = \"Ag\"\narea = \"850 cm2 ± 10 %\"\nthickness = \"37 um ± 25 %\"\n")
	ag := b.metal(t, "Ag")
	near(t, "silver, g", grams(ag.Contained), 850*37e-4*10.5, 0.005)
	near(t, "its doubt", float64(ag.SD/ag.Contained), math.Hypot(0.10, 0.25), 1e-3)
}

// An assay that found nothing is not certain of it.
func TestAssayOfNothing(t *testing.T) {
	b := read(t, liquorHead+assay("0 g/L"))
	near(t, "doubt, g", grams(b.metal(t, "Ag").SD), 0.01, 1e-6)
	if units.Mass(0) != b.metal(t, "Ag").Contained {
		t.Error("something of nothing")
	}
}

// By hand: of a mismatch of 2 mol the liquid takes up 0.25, the solid 0.5 and
// the sources the other 0.25.
func TestSplit(t *testing.T) {
	mt := newMetal("Ag")
	mt.mode = bothPhases
	mt.total.liquidPull, mt.total.solidPull = 0.25, 0.5
	total, dissolved, settled := mt.split(10, 3, 5, nil)
	near(t, "dissolved", dissolved, 3.5, 1e-12)
	near(t, "settled", settled, 6, 1e-12)
	near(t, "total", total, 9.5, 1e-12)
}

// What did not dissolve has left the lot, unless it still stands there.
func TestRemainder(t *testing.T) {
	part := strings.Replace(piece20, "by ", "extent = \"80 % ± 1 %\"\nby ", 1)
	gone := read(t, liquorHead+part)
	near(t, "silver, g", grams(gone.metal(t, "Ag").Contained), 8, 1e-6)
	near(t, "solid, g", grams(gone.metal(t, "Cu").Solid), 0, 1e-9)
	stays := read(t, liquorHead+strings.Replace(part, "by ", "remainder = \"in vessel\"\nby ", 1))
	near(t, "silver, g", grams(stays.metal(t, "Ag").Contained), 10, 1e-6)
	// a triangle from 0.5 to 1 with its peak at 1 has its mean at 5/6: so much of the 8 g has cemented
	near(t, "silver dissolved, g", grams(stays.metal(t, "Ag").Dissolved), 8.0/6, 1e-3)
}
