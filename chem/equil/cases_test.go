package equil

import (
	"math"
	"os"
	"testing"

	"github.com/BurntSushi/toml"
)

type publishedCase struct {
	ID, Group, Title string
	TemperatureC     float64            `toml:"temperature_c"`
	Control          string             `toml:"control"`
	FixedPH          float64            `toml:"fixed_pH"`
	Total            map[string]float64 `toml:"total"`
	SolidAdded       map[string]float64 `toml:"solid_added"`
	Allowed          []string           `toml:"allowed"`
	Result           map[string]struct {
		Unsupported   string             `toml:"unsupported"`
		PH            float64            `toml:"pH"`
		IonicStrength float64            `toml:"ionic_strength"`
		WaterKg       float64            `toml:"water_kg"`
		WaterActivity float64            `toml:"water_activity"`
		NaOHAdded     float64            `toml:"naoh_added"`
		Dissolved     map[string]float64 `toml:"dissolved"`
		Precipitated  map[string]float64 `toml:"precipitated"`
		SI            map[string]float64 `toml:"si"`
		Species       map[string]float64 `toml:"species"`
	} `toml:"result"`
}

func TestQuick(t *testing.T) {
	b, _ := os.ReadFile("../../testdata/speciation-cases.toml")
	var f struct{ Case []publishedCase }
	if err := toml.Unmarshal(b, &f); err != nil {
		t.Fatal(err)
	}
	for _, c := range f.Case {
		for _, name := range []string{MinteqDavies, LLNLBdot, ThermoddemDot} {
			set, err := LoadSet(name)
			if err != nil {
				t.Fatal(err)
			}
			r := c.Result[name]
			got, err := set.Solve(Problem{TemperatureC: c.TemperatureC, Total: c.Total, SolidAdded: c.SolidAdded, Allowed: c.Allowed, FixedPH: c.Control == "fixed_pH", PH: c.FixedPH})
			if r.Unsupported != "" {
				t.Logf("%s %-16s unsupported: %v (%s)", c.ID, name, err, r.Unsupported)
				continue
			}
			if err != nil {
				t.Errorf("%s %s: %v", c.ID, name, err)
				continue
			}
			worst, what := 0.0, ""
			rel := func(k string, g, w float64) {
				d := math.Abs(g-w) / math.Max(math.Abs(w), 1e-30)
				if w == 0 {
					d = math.Abs(g)
				}
				if d > worst {
					worst, what = d, k
				}
			}
			for k, w := range r.Dissolved {
				rel("d:"+k, got.DissolvedMol[k], w)
			}
			for k, w := range r.Precipitated {
				rel("s:"+k, got.SolidsMol[k], w)
			}
			spw, spn := 0.0, ""
			for k, w := range r.Species {
				// element-based
				_ = w
				if got.SpeciesMol[k] == 0 {
					spn = k + " missing"
				}
			}
			_ = spw
			rel("I", got.IonicStrength, r.IonicStrength)
			rel("aw", got.WaterActivity, r.WaterActivity)
			rel("w", got.WaterKg, r.WaterKg)
			rel("naoh", got.NaOHAddedMol, r.NaOHAdded)
			t.Logf("%s %-16s worst %.1e %-8s dpH %+.4f it %d res %.0e %s", c.ID, name, worst, what, got.PH-r.PH, got.Iterations, got.Residual, spn)
		}
	}
}
