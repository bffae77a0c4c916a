package lot

import (
	"strings"
	"testing"

	"afterpour/chem/units"
)

func TestDoubts(t *testing.T) {
	table, err := doubts()
	if err != nil {
		t.Fatal(err)
	}
	if table["ph"].sd(3) != 0.5 || table["share"].sd(0.01) != 0.001 {
		t.Errorf("pH %v, a share of 1 %% %v", table["ph"].sd(3), table["share"].sd(0.01))
	}
	near(t, "burette of 0 mL", table["burette"].sd(0), 5e-5, 1e-12)
	near(t, "vessel of 3 L", table["vessel-volume"].sd(3), 0.15, 1e-12)
	if s := table["burette"].sentence(units.VolumeKind, 0.004); !strings.Contains(s, "common practice") || !strings.Contains(s, "50 uL") {
		t.Errorf("sentence: %s", s)
	}
	if s := table["temperature"].sentence(units.TemperatureKind, 293.15); !strings.Contains(s, "doubt of 1 K") {
		t.Errorf("sentence: %s", s)
	}
	if s := table["share"].sentence(units.Fraction, 0.925); !strings.Contains(s, "0.5 percentage points") {
		t.Errorf("sentence: %s", s)
	}
	for _, m := range assayMethods {
		if _, ok := table[m.doubt]; !ok {
			t.Errorf("no row %s", m.doubt)
		}
	}
}

// A row without a source or reason, with a slip in a key, or below zero is an error.
func TestDoubtsRefused(t *testing.T) {
	for name, text := range map[string]string{
		"no source": "[[doubt]]\nid = \"x\"\nname = \"x\"\nwhy = \"x\"\n",
		"no reason": "[[doubt]]\nid = \"x\"\nname = \"x\"\nsource = \"x\"\n",
		"slip":      "[[doubt]]\nid = \"x\"\nname = \"x\"\nsource = \"x\"\nwhy = \"x\"\nrelativ = 1\n",
		"negative":  "[[doubt]]\nid = \"x\"\nname = \"x\"\nsource = \"x\"\nwhy = \"x\"\nrelative = -1.0\n",
		"nan":       "[[doubt]]\nid = \"x\"\nname = \"x\"\nsource = \"x\"\nwhy = \"x\"\nrelative = nan\n",
		"no table":  "[[doubt",
	} {
		if _, err := decodeDoubts(text); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestAssayDoubt(t *testing.T) {
	for by, want := range map[string]string{
		"AAS": "assay-aas", "flame atomic absorption": "assay-aas", "ICP-OES": "assay-icp", "handheld XRF": "assay-xrf",
		"test strip": "assay-strip", "gravimetry": "assay-gravimetric", "": "assay", "a friend": "assay",
	} {
		if got := assayDoubt(by); got != want {
			t.Errorf("assayDoubt(%q) = %s, want %s", by, got, want)
		}
	}
}
