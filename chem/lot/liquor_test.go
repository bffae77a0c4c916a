package lot

import (
	"strings"
	"testing"
)

// Tin turns to its oxide, gold stays, lead stays dissolved and is spoken of.
func TestTinGoldLead(t *testing.T) {
	b := read(t, liquorHead+`[[dissolved]]
mass  = "100 g ± 0.1 g"
share = { Ag = "50 %", Sn = "10 %", Au = "2 %", Pb = "5 %", Cu = "rest" }
by    = "nitric acid"
`)
	near(t, "tin(IV) oxide, mol", b.mol("SnO2(s)"), 10/118.71, 1e-4)
	near(t, "gold, mol", b.mol("Au(s)"), 2/196.97, 1e-4)
	near(t, "lead ions, mol", b.mol("Pb^2+"), 5/207.2, 1e-3)
	near(t, "silver ions, mol", b.mol("Ag^+"), 50/107.87, 1e-4)
	near(t, "copper ions, mol", b.mol("Cu^2+"), 33/63.546, 1e-4)
	all := ""
	for _, n := range b.report.Notes {
		all += n.Text + "\n"
	}
	for _, word := range []string{"Tin ", "Gold ", "Lead "} {
		if !strings.Contains(all, word) {
			t.Errorf("no word of %s in\n%s", word, all)
		}
	}
}

// Tin weighed as oxide is a second estimate: the liquid holds none.
func TestTinWeighed(t *testing.T) {
	b := read(t, liquorHead+`[[dissolved]]
mass  = "100 g ± 0.1 g"
share = { Cu = "rest", Sn = "10 % ± 1 %" }
by    = "nitric acid"
[[solid]]
compound = "SnO2"
wet_mass = "15 g ± 1 %"
moisture = "20 % ± 1 %"
purity   = "100 % ± 0 %"
`)
	sn := b.metal(t, "Sn")
	if len(sn.Estimates) != 3 {
		t.Fatalf("estimates: %+v", sn.Estimates)
	}
	near(t, "phases, g", grams(sn.Estimates[1].Mass), 12*118.71/150.71, 1e-3)
	near(t, "dissolved, g", grams(sn.Dissolved), 0, 1e-9)
}

// Etchants: 2 Fe³⁺ per copper; Cu + Cu²⁺ → 2 Cu⁺; peroxide with acid.
func TestEtchants(t *testing.T) {
	copper := func(by string) string {
		return liquorHead + "[[dissolved]]\nmass = \"31.773 g ± 0.1 %\"\nshare = { Cu = \"rest\" }\nby = \"" + by + "\"\n"
	}
	poured := func(what, amount string) string {
		return "[[added]]\nwhat = \"" + what + "\"\nstrength = \"2.0 mol/L ± 0.1 %\"\namount = \"" + amount + "\"\n"
	}
	iron := read(t, copper("ferric chloride")+poured("iron(III) chloride", "0.75 L ± 0.1 %"))
	near(t, "iron(III), mol", iron.mol("Fe^3+"), 0.5, 1e-3)
	near(t, "iron(II), mol", iron.mol("Fe^2+"), 1.0, 1e-3)
	near(t, "copper, mol", iron.mol("Cu^2+"), 0.5, 1e-3)
	near(t, "chloride, mol", iron.mol("Cl^-"), 4.5+iron.mol("H^+"), 1e-3)
	near(t, "nitrate, mol", iron.mol("NO3^-"), 0, 1e-12)

	short := read(t, copper("ferric chloride")+poured("iron(III) chloride", "0.25 L ± 0.1 %"))
	near(t, "iron(III), mol", short.mol("Fe^3+"), 0, 1e-9)
	near(t, "iron(II), mol", short.mol("Fe^2+"), 0.5, 1e-3)
	if !strings.Contains(short.note(Conflict), "iron(III)") {
		t.Errorf("no conflict: %+v", short.report.Notes)
	}

	cupric := read(t, copper("copper(II) chloride")+poured("copper(II) chloride", "0.5 L ± 0.1 %"))
	near(t, "copper(I), mol", cupric.mol("Cu^+"), 1.0, 1e-3)
	near(t, "copper(II), mol", cupric.mol("Cu^2+"), 0.5, 1e-3)

	peroxide := read(t, copper("hydrochloric acid + peroxide")+poured("hydrochloric acid", "1.0 L ± 0.1 %")+poured("hydrogen peroxide", "0.5 L ± 0.1 %"))
	near(t, "free acid, mol", peroxide.inv.FreeAcid, 1.0, 1e-3)
	near(t, "chloride, mol", peroxide.mol("Cl^-"), 2.0, 1e-3)
	near(t, "peroxide, mol, half decomposed", peroxide.mol("H2O2(aq)"), 0.25, 1e-3)
}

// Aqua regia: gold holds four chlorides each, silver one; the rest is free.
func TestAquaRegia(t *testing.T) {
	b := read(t, liquorHead+`[[dissolved]]
mass  = "100 g ± 0.1 %"
share = { Au = "58.5 %", Ag = "10 %", Cu = "rest" }
by    = "aqua regia"
[[added]]
what     = "hydrochloric acid"
strength = "10 mol/L ± 0.1 %"
amount   = "0.4 L ± 0.1 %"
[[added]]
what     = "nitric acid"
strength = "10 mol/L ± 0.1 %"
amount   = "0.2 L ± 0.1 %"
`)
	gold, silver := 58.5/196.97, 10/107.87
	near(t, "gold chloride, mol", b.mol("AuCl4^-"), gold, 1e-4)
	near(t, "silver chloride, mol", b.mol("AgCl(s)"), silver, 1e-4)
	near(t, "free chloride, mol", b.mol("Cl^-"), 4-4*gold-silver, 1e-4)
}

// A weighed lead chloride takes its chloride from what was poured in.
func TestWeighedSolidBindsChloride(t *testing.T) {
	b := read(t, liquorHead+`[[added]]
what     = "sodium chloride"
strength = "100 % ± 0 %"
amount   = "58.44 g ± 0.1 %"
[[solid]]
compound = "PbCl2"
wet_mass = "27.81 g ± 0.1 %"
moisture = "0 % ± 0 %"
purity   = "100 % ± 0 %"
`)
	near(t, "chloride in all, mol", b.inv.Vessel.Element("Cl"), 1, 1e-3)
}

// Zinc in nitric acid: shares of 0.2 each to dinitrogen monoxide and ammonium.
func TestZincCarriesAmmonium(t *testing.T) {
	b := read(t, liquorHead+"[[dissolved]]\nmass = \"65.38 g ± 0.1 %\"\nshare = { Zn = \"rest\" }\nby = \"nitric acid\"\n"+nitric(1))
	near(t, "ammonium, mol", b.inv.Ammonium, 0.2/4, 1e-6)
	// H⁺ per zinc: 0.2 × 2.5 + 0.2 × 2.5 + 0.3 × 8/3 + 0.3 × 4 = 3.0
	near(t, "free acid, mol", b.inv.FreeAcid, 6-3, 1e-3)
	for _, id := range []string{"lot/nitric/Zn/n2o-share", "lot/nitric/Zn/ammonium-share"} {
		if _, ok := b.figs.ByID(id); !ok {
			t.Errorf("%s is no input", id)
		}
	}
}

// An oxide that stands in the piece dissolves by acid alone, or not at all.
func TestOxidesInThePiece(t *testing.T) {
	b := read(t, liquorHead+"[[dissolved]]\nmass = \"100 g ± 0.1 %\"\ngrade = \"ag-cdo 90/10\"\nby = \"nitric acid\"\n")
	near(t, "cadmium, mol", b.mol("Cd^2+"), 10/128.41, 0.01)
	tin := read(t, liquorHead+"[[dissolved]]\nmass = \"100 g ± 0.1 %\"\ngrade = \"ag-sno2 90/10\"\nby = \"nitric acid\"\n")
	near(t, "tin(IV) oxide, mol", tin.mol("SnO2(s)"), 10/150.71, 0.01)
}

// Without a word on the acid, nitrate balances the charge, and that is said.
func TestClosingAnion(t *testing.T) {
	b := read(t, liquorHead+assay("5 g/L"))
	near(t, "nitrate, mol", b.mol("NO3^-"), b.mol("Ag^+")+b.mol("H^+"), 1e-12)
	said := false
	for _, n := range b.report.Notes {
		said = said || n.Kind == Assumption && strings.Contains(n.Text, "nitrate")
	}
	if !said {
		t.Errorf("not said: %+v", b.report.Notes)
	}
	sulfate := read(t, liquorHead+"[[measured]]\nmetal = \"Cu\"\nvalue = \"10 g/L\"\n[[added]]\nwhat = \"sulfuric acid\"\nstrength = \"1 mol/L\"\namount = \"1 L\"\n")
	near(t, "nitrate, mol", sulfate.mol("NO3^-"), 0, 1e-12)
	near(t, "sulfate, mol", sulfate.mol("SO4^2-"), sulfate.mol("Cu^2+")+sulfate.mol("H^+")/2, 1e-9)
}

// Anions that outweigh the cations are closed with sodium, and that is said.
func TestUnnamedCation(t *testing.T) {
	b := read(t, `title = "x"
[vessel]
liquid = "1 L"
ph = "7 ± 0.5"
[[added]]
what = "hydrochloric acid"
strength = "1 mol/L"
amount = "1 L"
[[measured]]
metal = "Cu"
value = "1 g/L"
[[dissolved]]
mass = "1 g"
share = { Cu = "rest" }
by = "nitric acid"
`)
	near(t, "charge", b.inv.Vessel.Charge(), 0, 1e-9)
	if !(b.mol("Na^+") > 0.5) {
		t.Errorf("sodium %g mol", b.mol("Na^+"))
	}
}

// Any subset of statements works.
func TestAnySubset(t *testing.T) {
	for name, text := range map[string]string{
		"title":   "title = \"x\"\n",
		"volume":  "title = \"x\"\n[vessel]\nliquid = \"3 L\"\n",
		"pH":      "title = \"x\"\n[vessel]\nph = \"1\"\n",
		"assay":   "title = \"x\"\n" + assay("5 g/L"),
		"piece":   "title = \"x\"\n" + piece20,
		"acid":    "title = \"x\"\n[[added]]\nwhat = \"nitric acid\"\namount = \"1 L\"\n",
		"solid":   "title = \"x\"\n[[solid]]\ncompound = \"AgCl\"\nwet_mass = \"38 g\"\n",
		"taken":   "title = \"x\"\n[[taken]]\nmetal = \"Au\"\nmass = \"1 g\"\n",
		"plate":   "title = \"x\"\n[[plated]]\nmetal = \"Au\"\narea = \"10 cm2\"\nthickness = \"1 um\"\n",
		"titrant": "title = \"x\"\n[[titrated]]\nof = \"acid\"\nsample = \"1 mL\"\ntitrant = \"0.1 mol/L\"\nused = \"1 mL\"\n",
	} {
		t.Run(name, func(t *testing.T) { checkSound(t, read(t, text)) })
	}
	short := read(t, "title = \"x\"\n"+assay("5 g/L"))
	if !strings.Contains(short.note(Missing), "volume") {
		t.Errorf("nothing says that the volume is missing: %+v", short.report.Notes)
	}
	piece := read(t, "title = \"x\"\n"+piece20)
	near(t, "volume taken, L", float64(piece.report.Volume), 0.2, 1e-9)
}

// What is declared is carried into the report.
func TestDeclared(t *testing.T) {
	b := read(t, "title = \"x\"\ndeclared = [\"cyanide\", \"mercury\"]\nacknowledged = [\"nitric_metal\"]\n")
	if len(b.report.Declared) != 2 || len(b.report.Acknowledged) != 1 || !strings.Contains(b.note(Caution), "cyanide") {
		t.Errorf("report: %+v", b.report)
	}
}
