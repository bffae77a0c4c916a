package lot

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// The embedded lots and those of the examples folder must be the same bytes.
func TestSamplesAreTheExamples(t *testing.T) {
	folder := filepath.Join("..", "..", "testdata", "lots")
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		name := e.Name()[:len(e.Name())-len(filepath.Ext(e.Name()))]
		names = append(names, name)
		want, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		got, err := Sample(name)
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("Sample(%q) differs from %s: %v", name, e.Name(), err)
		}
	}
	known := SampleNames()
	slices.Sort(names)
	slices.Sort(known)
	if !slices.Equal(names, known) {
		t.Errorf("SampleNames() = %v, the folder holds %v", known, names)
	}
}

func TestSampleUnknown(t *testing.T) {
	if _, err := Sample("../doc"); err == nil {
		t.Error("Sample of an unknown name gave no error")
	}
}

// By hand, with Ag 107.87, Cu 63.546 g/mol:
//
//	silver in      48.0 g × 92.5 %              = 44.40 g = 0.41161 mol
//	  its doubt    √((0.2/48)² + (0.5/92.5)²)   = 0.683 %  → 0.303 g
//	silver found   14.6 g/L × 3.0 L             = 43.80 g, √(4² + 3²) % → 2.19 g
//	  mean         weights 1/0.303², 1/2.19²    = 0.9812 : 0.0188 → 44.389 g
//	copper in      48.0 × 7.5 % + 62 × 99.9 %   = 3.600 + 61.938 = 65.538 g = 1.03135 mol
//	acid in        68 % is 1.4031 kg/L          → 15.142 mol/L × 0.240 L = 3.634 mol
//	acid used, NO  0.4115 × 4/3 + 1.0313 × 8/3  = 3.299 mol → 0.335 left
//	acid used, NO2 0.4115 × 2 + 1.0313 × 4      = 4.948 mol → 1.314 short
//	  so at most 0.335/(0.335 + 1.314) = 20.3 % ran to NO2; in the middle 0.168 left
//	acid by pH     10^-1.6 / 0.8 × 3.0 L        = 0.0942 mol
//
// Between 0.168 ± 0.14 and 0.094 ± 0.072 the mean is 0.11.
func TestNitrateLiquor(t *testing.T) {
	b := sample(t, "nitrate-liquor")
	ag, cu := b.metal(t, "Ag"), b.metal(t, "Cu")
	near(t, "silver, g", grams(ag.Contained), 44.389, 0.0005)
	near(t, "its doubt, g", grams(ag.SD), 0.300, 0.02)
	near(t, "silver dissolved, g", grams(ag.Dissolved), 44.389, 0.0005)
	near(t, "silver settled, g", grams(ag.Solid), 0, 1e-9)
	near(t, "sources, g", grams(ag.Estimates[0].Mass), 44.40, 0.0002)
	near(t, "its doubt, g", grams(ag.Estimates[0].SD), 0.303, 0.01)
	near(t, "phases, g", grams(ag.Estimates[1].Mass), 43.80, 0.0002)
	near(t, "its doubt, g", grams(ag.Estimates[1].SD), 2.19, 0.01)
	near(t, "weight of the sources", ag.Estimates[0].Weight, 0.9812, 0.001)
	near(t, "copper, g", grams(cu.Contained), 65.538, 0.0002)
	near(t, "copper ions, mol", b.mol("Cu^2+"), 1.03135, 0.0002)
	near(t, "acid left at most, mol", b.report.Acid.HighMol, 0.335, 0.02)
	near(t, "acid by pH, mol", b.report.Acid.Estimates[1].Mol, 0.0942, 0.002)
	near(t, "free acid, mol", b.report.Acid.FreeMol, 0.11, 0.07)
	near(t, "nitrate, mol", b.mol("NO3^-"), b.mol("Ag^+")+2*b.mol("Cu^2+")+b.mol("H^+"), 1e-12)
	if ag.Disagree || b.report.Acid.Disagree {
		t.Errorf("statements of the sample disagree: %+v", b.report.Notes)
	}
}

// By hand, with Ag 107.87, Cu 63.546 g/mol:
//
//	silver in      216 g × 92.5 %               = 199.80 g = 1.8522 mol
//	  its doubt    √((0.5/216)² + (0.5/92.5)²)  = 0.588 %  → 1.175 g
//	silver found   66.0 g/L × 3.0 L             = 198.0 g, √(4² + 3²) % → 9.90 g
//	  mean         weights 1/1.175², 1/9.90²    = 0.9861 : 0.0139 → 199.775 g
//	copper in      216 × 7.5 % + 62 × 99.9 %    = 16.200 + 61.938 = 78.138 g = 1.22963 mol
//	acid in        15.142 mol/L × 0.430 L       = 6.511 mol
//	acid used, NO  1.8522 × 4/3 + 1.2296 × 8/3  = 5.749 mol → 0.762 left
//	acid by pH     10^-1.6 / 0.8 × 3.0 L        = 0.0942 mol
func TestSterlingParting(t *testing.T) {
	b := sample(t, "sterling-parting")
	ag, cu := b.metal(t, "Ag"), b.metal(t, "Cu")
	near(t, "silver, g", grams(ag.Contained), 199.775, 0.0005)
	near(t, "its doubt, g", grams(ag.SD), 1.167, 0.02)
	near(t, "silver settled, g", grams(ag.Solid), 0, 1e-9)
	near(t, "sources, g", grams(ag.Estimates[0].Mass), 199.80, 0.0002)
	near(t, "phases, g", grams(ag.Estimates[1].Mass), 198.0, 0.0002)
	near(t, "weight of the sources", ag.Estimates[0].Weight, 0.9861, 0.001)
	near(t, "copper, g", grams(cu.Contained), 78.138, 0.0002)
	near(t, "copper ions, mol", b.mol("Cu^2+"), 1.22963, 0.0002)
	near(t, "acid left at most, mol", b.report.Acid.HighMol, 0.762, 0.02)
	near(t, "acid by pH, mol", b.report.Acid.Estimates[1].Mol, 0.0942, 0.002)
	near(t, "nitrate, mol", b.mol("NO3^-"), b.mol("Ag^+")+2*b.mol("Cu^2+")+b.mol("H^+"), 1e-12)
	if ag.Disagree || b.report.Acid.Disagree {
		t.Errorf("statements of the sample disagree: %+v", b.report.Notes)
	}
}

// By hand, with AgCl 143.32 g/mol:
//
//	silver in       260 g × 9.0 %                 = 23.40 g ± 2.08 g (0.8/9.0)
//	liquid, AAS     4.7 × 2.5                     = 11.750 g, 4 %    → 0.470 g
//	liquid, titre   0.1000 × 4.40 / 10.00 × 2.5   = 0.1100 mol = 11.866 g, √(1.14² + 0.5² + 0.5²) % → 0.159 g
//	  mean          weights 0.103 : 0.897         = 11.854 g; with 4 % of volume ± 0.50 g
//	solid, weighed  26.0 × 68 % × 88 %            = 15.558 g AgCl = 0.10856 mol = 11.710 g ± 0.83 g
//	solid, chloride 37 % is 1.1837 kg/L           → 12.01 mol/L × 9.0 mL = 0.1081 mol = 11.66 g ± 1.17 g
//	  mean          weights 0.67 : 0.33           = 11.69 g ± 0.68 g
//	phases          11.854 + 11.69                = 23.55 g ± 0.84 g
//	all             weights 0.14 : 0.86           = 23.53 g
//	copper, zinc    260 × 61 %, 260 × 30 %        = 158.6 g, 78.0 g
func TestChlorideSettled(t *testing.T) {
	b := sample(t, "chloride-settled")
	ag := b.metal(t, "Ag")
	want := []struct {
		label           string
		mass, sd, share float64
	}{
		{"sources", 23.40, 2.08, 0.14},
		{"liquid and solid", 23.55, 0.84, 0.86},
		{"liquid by AAS", 11.750, 0.665, 0.103},
		{"liquid by titration", 11.866, 0.500, 0.897},
		{"solid weighed", 11.710, 0.83, 0.67},
		{"solid by the chloride poured in", 11.66, 1.17, 0.33},
	}
	if len(ag.Estimates) != len(want) {
		t.Fatalf("estimates: %+v", ag.Estimates)
	}
	for i, w := range want {
		e := ag.Estimates[i]
		if e.Label != w.label {
			t.Errorf("estimate %d is %q, want %q", i, e.Label, w.label)
		}
		near(t, w.label+", g", grams(e.Mass), w.mass, 0.002)
		near(t, w.label+", doubt in g", grams(e.SD), w.sd, 0.02)
		near(t, w.label+", weight", e.Weight, w.share, 0.03)
	}
	near(t, "silver, g", grams(ag.Contained), 23.53, 0.001)
	near(t, "copper, g", grams(b.metal(t, "Cu").Contained), 158.6, 0.0005)
	near(t, "zinc, g", grams(b.metal(t, "Zn").Contained), 78.0, 0.0005)
	near(t, "dissolved + solid, g", grams(ag.Dissolved+ag.Solid), grams(ag.Contained), 1e-9)
	near(t, "AgCl, mol", b.mol("AgCl(s)")*107.87, grams(ag.Solid), 1e-4)
	near(t, "free chloride, mol", b.mol("Cl^-"), 0, 1e-12)
	if b.mol("NH4^+") <= 0 {
		t.Error("zinc in nitric acid left no ammonium")
	}
}

// By hand:
//
//	copper in     310 g ± 15 g
//	copper found  78 g/L × 4.0 L           = 312 g, √(3² + 5²) % → 18.2 g
//	  mean        weights 0.595 : 0.405    = 310.8 g = 4.891 mol
//	acid in       32 % is 1.1594 kg/L      → 10.18 mol/L × 1.6 L = 16.28 mol
//	acid used     2 × 4.891                = 9.78 mol → 6.50 mol left
//	acid titrated 0.500 × 6.4 / 2.00       = 1.60 mol/L × 4.0 L = 6.40 mol
//	chloride      2 × 4.891 + 6.40         = 16.2 mol by charge
func TestCopperEtchant(t *testing.T) {
	b := sample(t, "copper-etchant")
	cu := b.metal(t, "Cu")
	near(t, "copper, g", grams(cu.Contained), 310.8, 0.001)
	near(t, "its doubt, g", grams(cu.SD), 11.57, 0.02)
	near(t, "acid left, mol", b.report.Acid.Estimates[0].Mol, 6.50, 0.005)
	near(t, "acid titrated, mol", b.report.Acid.Estimates[1].Mol, 6.40, 0.001)
	near(t, "free acid, mol", b.report.Acid.FreeMol, 6.40, 0.005)
	near(t, "chloride, mol", b.mol("Cl^-"), 16.2, 0.005)
	near(t, "nitrate, mol", b.mol("NO3^-"), 0, 1e-12)
	if len(b.report.Metals) != 1 {
		t.Errorf("metals of an etchant of copper: %+v", b.report.Metals)
	}
}

// By hand:
//
//	weighed  180 × 55 % × 82 % = 81.18 g AgCl = 0.56643 mol = 61.10 g Ag; purity 4/82 → 2.98 g
//	assay    180 × 55 % × 61 %                              = 60.39 g Ag; 2/61 → 1.98 g
//	  mean   weights 0.306 : 0.694 (mass and moisture are shared) = 60.61 g
//	  doubt  √(0.306² 2.98² + 0.694² 1.98²) = 1.65 g; moisture 5/55 and mass 1/180 → 5.52 g; together 5.76 g
func TestChlorideSludge(t *testing.T) {
	b := sample(t, "chloride-sludge")
	ag := b.metal(t, "Ag")
	near(t, "silver, g", grams(ag.Contained), 60.61, 0.0005)
	near(t, "its doubt, g", grams(ag.SD), 5.76, 0.01)
	near(t, "silver dissolved, g", grams(ag.Dissolved), 0, 1e-6)
	near(t, "AgCl, mol", b.mol("AgCl(s)"), 60.61/107.87, 0.0005)
	near(t, "lots a year", b.report.LotsPerYear, 2, 1e-12)
	if b.note(Missing) == "" {
		t.Error("nothing says that the liquid was not measured")
	}
}
