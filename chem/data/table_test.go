package data

import (
	"errors"
	"testing"
)

// TestTables loads every table: unknown keys, unresolved sources and impossible figures are errors of loading.
func TestTables(t *testing.T) {
	load := map[string]func() (int, error){
		"elements":   count(Elements),
		"species":    count(SpeciesRows),
		"water":      count(WaterRows),
		"densities":  count(Densities),
		"solutes":    count(Solutes),
		"solubility": count(SolubilityCurves),
		"alloys":     count(Alloys),
		"reagents":   count(Reagents),
		"dissolving": count(DissolvingRows),
		"agents":     count(Agents),
		"air limits": count(AirLimits),
		"waste":      count(WasteLimits),
		"hazards":    count(Hazards),
	}
	for name, f := range load {
		t.Run(name, func(t *testing.T) {
			n, err := f()
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d rows", n)
		})
	}
	entries, err := files.ReadDir("tables")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := len(entries), len(load)+1; got != want {
		t.Errorf("%d embedded tables, but %d are loaded here (with sources.toml)", got, want)
	}
}

func count[T any](f func() ([]T, error)) func() (int, error) {
	return func() (int, error) {
		all, err := f()
		return len(all), err
	}
}

func TestDecodeRefuses(t *testing.T) {
	const good = "[[row]]\nformula = \"X\"\nname = \"x\"\nsource = \"definition\"\nbasis = \"published\"\n"
	if _, err := decode[Solute]("good", good); err != nil {
		t.Fatalf("a good row: %v", err)
	}
	cases := map[string]struct {
		text string
		want error
	}{
		"unknown source":            {"[[row]]\nformula=\"X\"\nname=\"x\"\nsource=\"nowhere\"\nbasis=\"published\"", ErrSource},
		"empty source":              {"[[row]]\nformula=\"X\"\nname=\"x\"\nsource=\"\"\nbasis=\"published\"", ErrSource},
		"no source":                 {"[[row]]\nformula=\"X\"\nname=\"x\"\nbasis=\"published\"", ErrSource},
		"unknown basis":             {"[[row]]\nformula=\"X\"\nname=\"x\"\nsource=\"definition\"\nbasis=\"hearsay\"", ErrTable},
		"assumption without reason": {"[[row]]\nformula=\"X\"\nname=\"x\"\nsource=\"assumption\"\nbasis=\"assumption\"", ErrTable},
		"unknown key":               {good + "colour = \"red\"", ErrTable},
		"no rows":                   {"", ErrTable},
		"a figure that cannot be":   {"[[row]]\nformula=\"\"\nname=\"x\"\nsource=\"definition\"\nbasis=\"published\"", ErrTable},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			if _, err := decode[Solute](name, c.text); !errors.Is(err, c.want) {
				t.Errorf("decode: got %v, want %v", err, c.want)
			}
		})
	}
	if _, err := decode[Water]("nan", "[[row]]\ncelsius = nan\ndensity = 1.0\nheat_capacity = inf\nvapour_pressure = 1.0\nlatent_heat = 1.0\nliquid_enthalpy = 1.0\nvapour_enthalpy = 1.0\nsource = \"definition\"\nbasis = \"published\""); !errors.Is(err, ErrTable) {
		t.Errorf("nan and inf: got %v, want %v", err, ErrTable)
	}
}
