package lot

import (
	"fmt"
	"math"
	"testing"

	"afterpour/chem/units"
)

// A stated solid: 38 g wet at 30 % moisture and 100 % AgCl is 26.6 g of it,
// 26.6/5.56 = 4.784 mL, with 11.4 g of liquor that weighs a kilogram a litre.
func TestSettledVolumeOfAStatedSolid(t *testing.T) {
	b := read(t, `title = "x"
[vessel]
liquid = "1 L"
temperature = "20 degC"
[[solid]]
compound = "AgCl"
wet_mass = "38 g ± 0.1 g"
moisture = "30 % ± 2 %"
purity   = "100 % ± 0 %"
`)
	own := 26.6 / 5.56
	near(t, "solids alone, mL", b.report.SolidVolume.Millilitres(), own, 2e-3)
	near(t, "layer, mL", b.report.SettledVolume.Millilitres(), own+11.4/0.9982, 2e-3)
	near(t, "temperature", b.report.Temperature.Celsius(), 20, 1e-9)
	// 2 points of moisture move 0.76 g from the solid to the liquor.
	want := math.Hypot(0.76/0.9982-0.76/5.56, 0.1*(0.3/0.9982+0.7/5.56))
	near(t, "doubt, mL", b.report.SettledVolumeSD.Millilitres(), want, 0.02)
}

// A precipitate of which only its making is known keeps 3 ± 0.58 L of liquor a
// kilogram, and a vessel without solids has no layer.
func TestSettledVolumeOfAPrecipitate(t *testing.T) {
	text := `title = "x"
[vessel]
liquid = "%s"
[[dissolved]]
what  = "silver"
mass  = "10 g"
share = { Ag = "100 %%" }
by    = "nitric acid"
[[added]]
what   = "nitric acid"
amount = "20 mL"
[[added]]
what   = "hydrochloric acid"
amount = "%s"
`
	b := read(t, fmt.Sprintf(text, "1 L", "20 mL"))
	kg := 10.0 / 107.8682 * 143.321 / 1000
	near(t, "layer, L", b.report.SettledVolume.Litres(), kg*(3+1/5.56), 5e-3)
	if sd := b.report.SettledVolumeSD.Litres(); sd < kg*bedLiquorSD || sd > 1.2*kg*bedLiquorSD {
		t.Errorf("doubt of %v L, want about %v", sd, kg*bedLiquorSD)
	}
	none := read(t, fmt.Sprintf(text, "1 L", "0 mL")).report
	if none.SettledVolume != 0 || none.SettledVolumeSD > 1e-9 || none.SolidVolume != 0 {
		t.Errorf("no chloride and yet a layer of %v ± %v", none.SettledVolume, none.SettledVolumeSD)
	}
}

// The layer never holds more liquor than there is, in any of the sample lots,
// and lies between the solids alone and all that stands in the vessel.
func TestSettledVolumeOfSamples(t *testing.T) {
	for _, name := range SampleNames() {
		r := sample(t, name).report
		if !(r.SettledVolume >= r.SolidVolume && r.SettledVolume <= r.Volume+r.SolidVolume+1e-12) || !(r.SettledVolumeSD >= 0) {
			t.Errorf("%s: layer %v of solids %v and liquid %v", name, r.SettledVolume, r.SolidVolume, r.Volume)
		}
		if k := float64(r.Temperature); !(k > coldest && k < hottest) {
			t.Errorf("%s: %v", name, r.Temperature)
		}
		t.Logf("%s: %s of solids settle to %s ± %s in %s", name, units.Format(units.VolumeKind, float64(r.SolidVolume)),
			units.Format(units.VolumeKind, float64(r.SettledVolume)), units.Format(units.VolumeKind, float64(r.SettledVolumeSD)), units.Format(units.VolumeKind, float64(r.Volume)))
	}
}
