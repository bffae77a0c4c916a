package lot

import (
	"math"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// built is a lot taken through every stage.
type built struct {
	lot    *Lot
	figs   *input.Figures
	model  *Model
	values input.Values
	report Report
	inv    Inventory
}

// read takes the text of a lot file through every stage.
func read(t testing.TB, text string) built {
	t.Helper()
	doc, err := input.Parse("lot.toml", []byte(text))
	if err != nil {
		t.Fatalf("Parse: %v\n%s", err, text)
	}
	b := built{figs: &input.Figures{}}
	if b.lot, err = Decode(doc, b.figs); err != nil {
		t.Fatalf("Decode: %v\n%s", err, text)
	}
	if b.model, err = b.lot.Model(b.figs); err != nil {
		t.Fatalf("Model: %v\n%s", err, text)
	}
	b.values = b.figs.Central()
	b.report = b.model.Report(b.values)
	b.inv = b.model.Inventory(b.values)
	return b
}

// sample reads a built-in lot.
func sample(t testing.TB, name string) built {
	t.Helper()
	text, err := Sample(name)
	if err != nil {
		t.Fatal(err)
	}
	return read(t, string(text))
}

// metal finds a metal in the report.
func (b built) metal(t testing.TB, symbol string) MetalReport {
	t.Helper()
	for _, r := range b.report.Metals {
		if r.Metal == symbol {
			return r
		}
	}
	t.Fatalf("the report has no %s", symbol)
	return MetalReport{}
}

// mol is the amount of a species in the vessel.
func (b built) mol(name string) float64 { return b.inv.Vessel.Mol[substance.MustFind(name)] }

// note finds the first note of a kind.
func (b built) note(kind NoteKind) string {
	for _, n := range b.report.Notes {
		if n.Kind == kind {
			return n.Text
		}
	}
	return ""
}

// near fails unless got is within tolerance of want: a share of want, or an
// absolute amount where want is zero.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	allowed := tolerance * math.Abs(want)
	if want == 0 {
		allowed = tolerance
	}
	if !(math.Abs(got-want) <= allowed) {
		t.Errorf("%s = %.6g, want %.6g ± %.2g", what, got, want, allowed)
	}
}

func grams(m units.Mass) float64 { return m.Grams() }
