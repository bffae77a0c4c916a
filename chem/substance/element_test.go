package substance

import (
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

func TestElementBySymbol(t *testing.T) {
	for _, name := range []string{"Ag", "silver", "Silver", "SILVER"} {
		if e, err := ElementBySymbol(name); err != nil || e.Symbol != "Ag" || e.Z != 47 {
			t.Errorf("ElementBySymbol(%q) = %v, %v", name, e, err)
		}
	}
	for name, want := range map[string]string{"aluminum": "Al", "aluminium": "Al", "sulphur": "S", "cesium": "Cs", "uranium": "U"} {
		if e, err := ElementBySymbol(name); err != nil || e.Symbol != want {
			t.Errorf("ElementBySymbol(%q) = %v, %v; want %s", name, e, err, want)
		}
	}
	for name, says := range map[string]string{"Tc": "outside the table", "Xx": "no element symbol", "": "no element symbol", "ag": "no element symbol"} {
		if _, err := ElementBySymbol(name); !errors.Is(err, ErrUnknownElement) || !strings.Contains(err.Error(), says) {
			t.Errorf("ElementBySymbol(%q) = %v, want %q", name, err, says)
		}
	}
}

// weightsApart lists elements whose library weight differs from the table by more than the table's uncertainty, with
// the reason.
var weightsApart = map[string]string{
	"Se": "the library averages older isotope abundances; the standard weight was revised to 78.971(8) in 2013",
}

// TestAtomicWeights holds the table against the weights of an independent library.
func TestAtomicWeights(t *testing.T) {
	var reference struct {
		Library, Version string
		Weight           map[string]float64
	}
	text, err := os.ReadFile("../../testdata/atomic-weights-reference.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := toml.Unmarshal(text, &reference); err != nil {
		t.Fatal(err)
	}
	if len(reference.Weight) != len(Elements()) {
		t.Errorf("%d weights in the reference, %d elements in the table", len(reference.Weight), len(Elements()))
	}
	z := 0
	for _, e := range Elements() {
		if e.Z <= z {
			t.Errorf("%s is out of order", e.Symbol)
		}
		z = e.Z
		other, ok := reference.Weight[e.Symbol]
		if !ok {
			t.Errorf("%s is not in the reference", e.Symbol)
			continue
		}
		apart := math.Abs(other - float64(e.Weight))
		_, excused := weightsApart[e.Symbol]
		if (apart > float64(e.WeightDoubt)*(1+1e-9)) != excused {
			t.Errorf("%s: %g here, %g in %s %s, stated uncertainty %g, excused %v",
				e.Symbol, e.Weight, other, reference.Library, reference.Version, e.WeightDoubt, excused)
		}
	}
}
