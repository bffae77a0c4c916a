package lot

import (
	"math"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

func TestAllSaid(t *testing.T) {
	doc, err := input.Parse("lot.toml", []byte(editable))
	if err != nil {
		t.Fatal(err)
	}
	figs := new(input.Figures)
	if _, err := Decode(doc, figs); err != nil {
		t.Fatal(err)
	}
	want := []Said{
		{"title", "", "title", "Jar 3", ""},
		{"declared", "", "declared", "cyanide", ""},
		{"vessel.liquid", "vessel", "liquid", "3.2 L ± 5 %", "3.2 L ± 0.16 L, about 5 %"},
		{"vessel.ph", "vessel", "ph", "1.5", "1.5 ± 0.5"},
		{"dissolved[0].mass", "dissolved 1", "mass", "410 g ± 2 g", "410 g ± 2 g, about 0.49 %"},
		{"dissolved[0].share.Ag", "dissolved 1", "share.Ag", "8.0 % ± 1 %", "8 % ± 1 %"},
		{"dissolved[0].share.Cu", "dissolved 1", "share.Cu", "rest", ""},
		{"dissolved[0].by", "dissolved 1", "by", "nitric acid", ""},
		{"added[0].what", "added 1", "what", "nitric acid", ""},
		{"added[0].amount", "added 1", "amount", "1.6 L", "1.6 L ± 0.016 L, about 1 %"},
		{"vessel.temperature", "vessel", "temperature", "", ""},
		{"acknowledged", "", "acknowledged", "", ""},
		{"lots_per_year", "", "lots_per_year", "", ""},
	}
	got := AllSaid(doc, figs)
	if len(got) != len(want) {
		t.Fatalf("%d values, want %d: %v", len(got), len(want), got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("value %d is %+v, want %+v", i, got[i], want[i])
		}
	}
}

func TestEcho(t *testing.T) {
	for name, tt := range map[string]struct {
		kind units.Kind
		dist units.Dist
		want string
	}{
		"mass":        {units.MassKind, units.NormalDist(0.41, 0.002), "410 g ± 2 g, about 0.49 %"},
		"exact":       {units.MassKind, units.Exactly(0.41), "410 g"},
		"share":       {units.Fraction, units.NormalDist(0.08, 0.01), "8 % ± 1 %"},
		"nothing":     {units.MassKind, units.NormalDist(0, 0.002).Bounded(0, math.Inf(1)), units.FormatDist(units.MassKind, units.NormalDist(0, 0.002))},
		"temperature": {units.TemperatureKind, units.NormalDist(293.15, 1), units.FormatDist(units.TemperatureKind, units.NormalDist(293.15, 1))},
	} {
		if got := Echo(tt.kind, tt.dist); got != tt.want {
			t.Errorf("%s: Echo = %q, want %q", name, got, tt.want)
		}
	}
}

func TestReadEdit(t *testing.T) {
	if got, err := Read("lot.toml", []byte(editable), "vessel.liquid", "3,4 L"); err != nil || got != "3.4 L ± 0.17 L, about 5 %" {
		t.Errorf("Read = %q, %v", got, err)
	}
	if got, err := Read("lot.toml", []byte(editable), "dissolved[0].by", "nitric acid"); err != nil || got != "nitric acid" {
		t.Errorf("Read = %q, %v", got, err)
	}
	if got, err := Read("lot.toml", []byte(editable), "vessel.liquid", "3,4 kg"); err == nil {
		t.Errorf("Read = %q for a volume in kg", got)
	}
}
