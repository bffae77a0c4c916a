package equil

import (
	"errors"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/BurntSushi/toml"
)

// Allowed deviations from the published cases. The cases carry five digits.
const (
	caseShare = 0.0005
	casePH    = 0.001
)

type publishedCase struct {
	ID           string             `toml:"id"`
	Group        string             `toml:"group"`
	Title        string             `toml:"title"`
	Note         string             `toml:"note"`
	TemperatureC float64            `toml:"temperature_c"`
	Control      string             `toml:"control"`
	FixedPH      float64            `toml:"fixed_pH"`
	Titrant      string             `toml:"titrant"`
	Total        map[string]float64 `toml:"total"`
	SolidAdded   map[string]float64 `toml:"solid_added"`
	Allowed      []string           `toml:"allowed"`

	Result map[string]publishedResult `toml:"result"`
}

type publishedResult struct {
	Unsupported   string             `toml:"unsupported"`
	PH            float64            `toml:"pH"`
	PHMolal       float64            `toml:"pH_m"`
	IonicStrength float64            `toml:"ionic_strength"`
	WaterKg       float64            `toml:"water_kg"`
	WaterActivity float64            `toml:"water_activity"`
	NaOHAdded     float64            `toml:"naoh_added"`
	Dissolved     map[string]float64 `toml:"dissolved"`
	Precipitated  map[string]float64 `toml:"precipitated"`
	Saturation    map[string]float64 `toml:"si"`
	Species       map[string]float64 `toml:"species"`
}

func publishedSets() []string { return []string{MinteqDavies, LLNLBdot, ThermoddemDot} }

func mustSet(t testing.TB, name string) *Set {
	t.Helper()
	set, err := LoadSet(name)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

func publishedCases(t testing.TB) []publishedCase {
	t.Helper()
	text, err := os.ReadFile("../../testdata/speciation-cases.toml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Case []publishedCase `toml:"case"`
	}
	meta, err := toml.Decode(string(text), &file)
	if err != nil {
		t.Fatal(err)
	}
	if unknown := meta.Undecoded(); len(unknown) > 0 {
		t.Fatalf("unknown key %s", unknown[0])
	}
	if len(file.Case) < 25 {
		t.Fatalf("%d cases, want 25", len(file.Case))
	}
	return file.Case
}

func (c publishedCase) problem() Problem {
	return Problem{
		TemperatureC: c.TemperatureC, Total: c.Total, SolidAdded: c.SolidAdded, Allowed: c.Allowed,
		FixedPH: c.Control == "fixed_pH", PH: c.FixedPH,
	}
}

// deviation keeps the largest relative deviation and what it was of.
type deviation struct {
	worst float64
	of    string
}

func (d *deviation) add(of string, got, want float64) {
	v := math.Abs(got-want) / math.Max(math.Abs(want), 1e-30)
	if want == 0 {
		v = math.Abs(got)
	}
	if v > d.worst {
		d.worst, d.of = v, of
	}
}

// addSpecies compares a species listed in mol of one of its components: the
// list does not say of which.
func (d *deviation) addSpecies(set *Set, name string, got, want float64) {
	i := slices.IndexFunc(set.species, func(m made) bool { return m.name == name })
	if i < 0 {
		d.worst, d.of = math.Inf(1), name+" missing"
		return
	}
	best := math.Inf(1)
	for _, p := range set.species[i].parts {
		if p.component != 0 || len(set.species[i].parts) == 1 {
			best = math.Min(best, math.Abs(got*p.count-want)/want)
		}
	}
	if best > d.worst {
		d.worst, d.of = best, name
	}
}

func TestPublishedCases(t *testing.T) {
	for _, c := range publishedCases(t) {
		for _, name := range publishedSets() {
			want, ok := c.Result[name]
			if !ok {
				t.Errorf("%s has no result for %s", c.ID, name)
				continue
			}
			set := mustSet(t, name)
			got, err := set.Solve(c.problem())
			if want.Unsupported != "" {
				t.Logf("%s %-16s unsupported: %s", c.ID, name, want.Unsupported)
				if !errors.Is(err, ErrUnsupported) {
					t.Errorf("%s with %s: error %v, want ErrUnsupported", c.ID, name, err)
				}
				continue
			}
			if err != nil {
				t.Errorf("%s with %s: %v", c.ID, name, err)
				continue
			}
			compareCase(t, c, set, got, want)
		}
	}
}

func compareCase(t *testing.T, c publishedCase, set *Set, got Result, want publishedResult) {
	t.Helper()
	var main, rest deviation
	for k, v := range want.Dissolved {
		main.add("dissolved "+k, got.DissolvedMol[k], v)
	}
	for k, v := range want.Precipitated {
		main.add("solid "+k, got.SolidsMol[k], v)
	}
	for k, v := range want.Species {
		rest.addSpecies(set, k, got.SpeciesMol[k], v)
	}
	rest.add("ionic strength", got.IonicStrength, want.IonicStrength)
	rest.add("water activity", got.WaterActivity, want.WaterActivity)
	rest.add("water", got.WaterKg, want.WaterKg)
	rest.add("NaOH", got.NaOHAddedMol, want.NaOHAdded)
	for k, v := range want.Saturation {
		if d := math.Abs(got.Saturation[k] - v); d > 0.001 {
			t.Errorf("%s with %s: saturation index of %s %.4f, want %.4f", c.ID, set.Name(), k, got.Saturation[k], v)
		}
	}
	dpH := got.PH - want.PH
	t.Logf("%s %-16s %-30.30s amounts %.1e (%-16s) pH %+.4f  rest %.1e (%-14s) %2d steps, residual %.0e",
		c.ID, set.Name(), c.Title, main.worst, main.of, dpH, rest.worst, rest.of, got.Iterations, got.Residual)
	if !(main.worst < caseShare) || !(math.Abs(dpH) < casePH) || !(rest.worst < 2*caseShare) {
		t.Errorf("%s with %s: off by %.2e (%s), %.4f in pH, %.2e (%s)",
			c.ID, set.Name(), main.worst, main.of, dpH, rest.worst, rest.of)
	}
	if !got.Converged || !(got.Residual < convergedAt) || got.Iterations < 1 {
		t.Errorf("%s with %s: converged %v, residual %g, %d steps", c.ID, set.Name(), got.Converged, got.Residual, got.Iterations)
	}
}

// TestCasesFromFile sends every case through the file reader.
func TestCasesFromFile(t *testing.T) {
	for _, c := range publishedCases(t) {
		p := decodeProblem(t, caseFile(c))
		for _, name := range publishedSets() {
			if c.Result[name].Unsupported != "" {
				continue
			}
			got, err := mustSet(t, name).Solve(p)
			if err != nil {
				t.Errorf("%s with %s: %v", c.ID, name, err)
			}
			if d := math.Abs(got.PH - c.Result[name].PH); !(d < casePH) {
				t.Errorf("%s with %s: pH %g, want %g", c.ID, name, got.PH, c.Result[name].PH)
			}
		}
	}
}
