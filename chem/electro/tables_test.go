package electro

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

func TestTablesLoad(t *testing.T) {
	tab, err := load()
	if err != nil {
		t.Fatal(err)
	}
	if len(tab.couples) < 50 || len(tab.practices) < 20 || len(tab.ions) < 20 {
		t.Errorf("%d couples, %d practice rows, %d ions: some are missing", len(tab.couples), len(tab.practices), len(tab.ions))
	}
	if len(tab.couple) != len(tab.couples) || len(tab.practice) != len(tab.practices) {
		t.Error("two rows share an id")
	}
	for _, s := range Sources() {
		if s == "" {
			t.Error("an empty source")
		}
	}
}

func TestSourceKeysAreChecked(t *testing.T) {
	tab := &tables{sources: map[string]string{"known": "A work", "idle": "Another"}, used: map[string]bool{}}
	for name, r := range map[string]row{
		"unknown key":           {ID: "x", Source: "nowhere", Basis: Published},
		"no key":                {ID: "x", Basis: Published},
		"no id":                 {Source: "known", Basis: Published},
		"unknown basis":         {ID: "x", Source: "known", Basis: "hearsay"},
		"assumption, no reason": {ID: "x", Source: "known", Basis: Assumption},
		"no basis":              {ID: "x", Source: "known"},
	} {
		if _, err := tab.provenance(r); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := tab.provenance(row{ID: "x", Source: "known", Basis: Published}); err != nil {
		t.Error(err)
	}
	if tab.unusedSources() == nil {
		t.Error("a source that no row names went through")
	}
}

// The second figures come from databases of equilibrium constants or other
// prints. Where they stand further off, both figures are known to be in doubt.
func TestPotentialsAgainstTheSecondFigure(t *testing.T) {
	checked := 0
	for _, c := range Couples() {
		if c.CheckFrom == "" {
			continue
		}
		checked++
		limit := 0.012 // V
		if c.ID == "ag_s2o3" {
			limit = 0.026 // the stability constants differ by 0.4 log units
		}
		if d := math.Abs(float64(c.Standard - c.Check)); d > limit {
			t.Errorf("%s: %.4f V, but %s gives %.4f V", c.Name, c.Standard, c.CheckFrom, c.Check)
		}
	}
	if checked < 10 {
		t.Errorf("only %d couples have a second figure", checked)
	}
}

var term = regexp.MustCompile(`^(?:(\d+) )?(\S+)$`)

// side adds up elements and charge of one side of a reduction.
func side(t *testing.T, text string, sign float64, sum map[string]float64) {
	t.Helper()
	for _, part := range strings.Split(text, " + ") {
		m := term.FindStringSubmatch(strings.TrimSpace(part))
		if m == nil {
			t.Fatalf("cannot read %q", part)
		}
		n := 1.0
		if m[1] != "" {
			n, _ = strconv.ParseFloat(m[1], 64)
		}
		f, err := substance.ParseFormula(m[2])
		if err != nil {
			t.Fatalf("%q: %v", m[2], err)
		}
		for _, e := range f.Elements() {
			sum[e] += sign * n * f.Atoms(e)
		}
		sum["charge"] += sign * n * float64(f.Charge())
		if m[2] == "e^-" {
			sum["electrons"] += n
		}
	}
}

func TestCouplesBalance(t *testing.T) {
	for _, c := range Couples() {
		sum := map[string]float64{}
		left, right, ok := strings.Cut(c.Reaction, " -> ")
		if !ok {
			t.Fatalf("%s: no arrow in %q", c.ID, c.Reaction)
		}
		side(t, left, -1, sum)
		side(t, right, 1, sum)
		if int(math.Round(sum["electrons"])) != c.Electrons {
			t.Errorf("%s: %g electrons in %q, the row says %d", c.ID, sum["electrons"], c.Reaction, c.Electrons)
		}
		delete(sum, "electrons")
		for what, n := range sum {
			if math.Abs(n) > 1e-9 {
				t.Errorf("%s: %q is off by %g in %s", c.ID, c.Reaction, n, what)
			}
		}
	}
}

// Published equivalents: the encyclopaedic list and the legal silver coulometer
// (1.118 mg/C); derived ones from CIAAW weights and the Faraday constant.
func TestEquivalents(t *testing.T) {
	for name, c := range map[string]struct {
		n                  int
		mass, want, within float64
	}{
		"Ag published":  {1, 107.8682, 4.0248, 0.0003},
		"Ag derived":    {1, 107.8682, 4.0247, 0.00006},
		"Ag coulometer": {1, 107.8682, 1.118e-3 * 3600, 0.0005},
		"Cu2 published": {2, 63.546, 1.1862, 0.001},
		"Cu2 derived":   {2, 63.546, 1.1855, 0.00006},
		"Cu1 derived":   {1, 63.546, 2.3710, 0.00006},
		"Au3 published": {3, 196.96657, 2.4523, 0.003},
		"Au3 derived":   {3, 196.96657, 2.4497, 0.00006},
		"Zn derived":    {2, 65.38, 1.2197, 0.00006},
		"Ni derived":    {2, 58.6934, 1.0950, 0.00006},
		"Pb derived":    {2, 207.2, 3.8655, 0.0006},
		"Fe2 published": {2, 55.845, 1.0418, 0.00006},
		"Fe3 derived":   {3, 55.845, 0.6946, 0.00006},
		"Pd derived":    {2, 106.42, 1.9853, 0.00006},
		"H2 derived":    {2, 2.016, 0.0376, 0.00005},
		"O2 derived":    {4, 31.998, 0.2985, 0.00006},
		"Sn4 derived":   {4, 118.71, 1.1073, 0.00006},
	} {
		got := must[float64](t)(Equivalent(c.n, units.MolarMass(c.mass)))
		near(t, name, got, c.want, c.within)
	}
}

// CODATA as the Debian package units 2.22 carries it.
func TestFaraday(t *testing.T) {
	near(t, "Faraday", Faraday, 96485.33212, 1e-5)
	near(t, "Faraday in A h", Faraday/3600, 26.8014811, 1e-7)
	near(t, "R", gasConstant, 8.314462618, 1e-9)
}

// The energy to win a kilogram at one volt: silver 0.2485, copper(II) 0.8435 kWh,
// derived from the weights and the Faraday constant.
func TestEnergyPerVolt(t *testing.T) {
	for name, c := range map[string]struct {
		n          int
		mass, want float64
	}{"Ag": {1, 107.8682, 0.2485}, "Cu": {2, 63.546, 0.8435}} {
		q := must[units.Charge](t)(ChargeFor(units.Kilogram, c.n, units.MolarMass(c.mass), 1))
		near(t, name, q.Energy(units.Volt).KilowattHours(), c.want, 0.00006)
	}
}

// Nernst and Einstein link the two columns of the table of ions. The columns
// are from memory: this is the check on them.
func TestIonsObeyNernstEinstein(t *testing.T) {
	for name, i := range loaded().ions {
		if i.provenance.Basis == Assumption {
			continue
		}
		d := gasConstant * standardKelvins * i.conductivity / (i.charge * i.charge * Faraday * Faraday)
		if math.Abs(d/i.diffusion-1) > 0.005 {
			t.Errorf("%s: conductivity gives D = %.4g m2/s, the table has %.4g", name, d, i.diffusion)
		}
	}
}

// log10 K of Cu + 2Ag+ → Cu2+ + 2Ag: 15.64 from the potentials of OpenStax
// Appendix L; 15.63 from ThermoChimie 12a (2·13.51 − 11.39).
func TestCementationConstant(t *testing.T) {
	silver, copper := must[Couple](t)(CoupleByID("ag")), must[Couple](t)(CoupleByID("cu2"))
	u := must[units.Potential](t)(CellVoltage(silver.Standard, copper.Standard))
	got := must[float64](t)(LogK(u, 2, units.Celsius(25)))
	near(t, "LogK", got, 15.64, 0.005)
	near(t, "LogK against ThermoChimie", got, 15.63, 0.02)
}

func TestUnknownRows(t *testing.T) {
	_, errs := 0, []error{}
	_, err := CoupleByID("unobtainium")
	errs = append(errs, err)
	_, err = PracticeByID("unobtainium")
	errs = append(errs, err)
	_, err = Gas("neon-graphite")
	errs = append(errs, err)
	_, _, _, err = MassTransfer("whirling")
	errs = append(errs, err)
	_, err = Conductivity(units.Celsius(25), IonConcentration{"Xx", 1})
	errs = append(errs, err)
	for i, err := range errs {
		if !errors.Is(err, ErrUnknown) {
			t.Errorf("%d: %v, want ErrUnknown", i, err)
		}
	}
}
