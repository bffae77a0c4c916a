package route

import (
	"slices"
	"strings"
	"testing"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// parting is a litre of silver and copper nitrate with nitric acid.
func parting(acid float64) poured {
	return litre.and(poured{"Ag^+": 0.15, "Cu^2+": 0.2, "H^+": acid, "NO3^-": 0.55 + acid})
}

// TestSaltingOut: chloride into a nitrate liquor is silent in weak acid, a
// caution in cold dilute acid, a stop in strong acid.
func TestSaltingOut(t *testing.T) {
	lib := library(t)
	for _, c := range []struct {
		vessel substance.Stream
		want   string
	}{
		{parting(0.2).stream(20), ""},
		{parting(0.5).stream(20), SeverityCaution},
		{parting(2.8).stream(20), SeverityCaution},
		{parting(3.6).stream(20), SeverityStop},
	} {
		o := carriedOut(t, lib, jobOn(t, lib, c.vessel, roomy), "chloride-oxide-sugar+dispose")
		if got := said(&o, "chloride-oxidant"); got != c.want {
			t.Errorf("salt into %.2f mol/L of acid: %q, want %q; blocked %v", c.vessel.HydrogenIon(), got, c.want, o.Blocked)
		}
	}
}

// TestHotNitricWithChloride: a nitrate liquor with chloride and acid is not
// boiled dry, one without chloride is.
func TestHotNitricWithChloride(t *testing.T) {
	lib := library(t)
	copper := litre.and(poured{"Cu^2+": 0.6, "H^+": 0.5, "NO3^-": 1.7})
	for chloride, want := range map[float64]string{0: "", 0.05: "", 0.2: SeverityStop} {
		vessel := copper.and(poured{"Cl^-": chloride, "NO3^-": -chloride}).stream(20)
		o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), "calcine-sulfate-salt+dispose")
		if got := said(&o, "chloride-oxidant"); got != want {
			t.Errorf("%g mol/L of chloride boiled down: %q, want %q", chloride, got, want)
		}
	}
}

// TestFilterPaper: filtering dilute acid is a caution, strong acid a stop, and a
// bench that decants hears nothing of it.
func TestFilterPaper(t *testing.T) {
	lib := library(t)
	filter := roomy
	filter.Separation = "filter"
	strong := litre.and(poured{"Ag^+": 0.05, "H^+": 8.5, "NO3^-": 8.55, "SnO2(s)": 0.2}).stream(20)
	dilute := litre.and(poured{"Ag^+": 0.05, "H^+": 0.8, "NO3^-": 0.85, "Cu^2+": 0.2, "SO4^2-": 0.2, "SnO2(s)": 0.2}).stream(20)
	for _, c := range []struct {
		vessel substance.Stream
		bench  Bench
		want   string
	}{
		{strong, filter, SeverityStop}, {dilute, filter, SeverityCaution}, {dilute, roomy, ""},
	} {
		job := jobOn(t, lib, c.vessel, c.bench)
		job.Acknowledged = []string{"chloride-oxidant"}
		o := carriedOut(t, lib, job, "chloride-oxide-sugar+dispose")
		if got := said(&o, "nitric-paper"); got != c.want {
			t.Errorf("%s at %.1f mol/L: %q, want %q; %v", c.bench.Separation, c.vessel.HydrogenIon(), got, c.want, o.Blocked)
		}
	}
}

// sugared is a route that puts sugar on a sludge without washing it.
const sugared = `id = "sugared"
title = "Sugar at once"
takes = ["Ag"]
yields = "silver-bar"
reaches = ["Ag2O(s)"]
out_of_reach = "nothing else"
[[step]]
id = "sugar"
kind = "add"
in = "vessel"
reagent = "glucose"
reaction = "Ag2O(s) + C6H12O6(aq) + OH^- -> 2 Ag(s) + C6H11O7^- + H2O(l)"
excess = { value = "50 %", source = "assumption" }
[[step]]
id = "dry"
kind = "dry"
in = "vessel"
product = "cement"
loss = { value = "1 %", source = "assumption" }
`

// TestSugarOnNitrate: a sludge with less than 1 % of nitrate is a caution, with
// more a stop, with a trace neither.
func TestSugarOnNitrate(t *testing.T) {
	lib := library(t, sugared)
	for nitrate, want := range map[float64]string{0.0005: "", 0.006: SeverityCaution, 0.03: SeverityStop} { // mol on 116 g of oxide and 11 g of caustic
		vessel := poured{"H2O(l)": 7, "Ag2O(s)": 0.5, "Na^+": 0.3 + nitrate, "OH^-": 0.3, "NO3^-": nitrate}.stream(20)
		o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), "sugared+dispose")
		if got := said(&o, "sugar-nitrate"); got != want {
			t.Errorf("sugar on %g mol of nitrate: %q, want %q", nitrate, got, want)
		}
	}
}

// TestAmmoniumBoiledDry: the shares are of all but water. 0.2 % of ammonium on a
// dry 188 g of copper nitrate is 0.021 mol.
func TestAmmoniumBoiledDry(t *testing.T) {
	lib := library(t)
	for ammonium, want := range map[float64]string{0.001: "", 0.019: SeverityCaution, 0.023: SeverityStop} {
		vessel := litre.and(poured{"Cu^2+": 1, "NO3^-": 2 + ammonium, "NH4^+": ammonium}).stream(20)
		o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), "calcine-sulfate-salt+dispose")
		if got := said(&o, "nitrate-ammonium"); got != want {
			t.Errorf("%g mol of ammonium: %q, want %q", ammonium, got, want)
		}
	}
}

// TestSugarBoiledDry: 0.2 % of organic matter in a dry 188 g of copper nitrate is
// 0.38 g, 0.0021 mol of glucose.
func TestSugarBoiledDry(t *testing.T) {
	lib := library(t)
	for sugar, want := range map[float64]string{0.0001: "", 0.0019: SeverityCaution, 0.0023: SeverityStop} {
		vessel := litre.and(poured{"Cu^2+": 1, "NO3^-": 2, "C6H12O6(aq)": sugar}).stream(20)
		o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), "calcine-sulfate-salt+dispose")
		if got := said(&o, "sugar-dry"); got != want {
			t.Errorf("%g mol of glucose: %q, want %q", sugar, got, want)
		}
	}
}

// bleached is a route that pours hypochlorite or acid into what it is given.
func bleached(reagent, reaction string) string {
	return `id = "poured"
title = "One into the other"
takes = ["Ag"]
yields = "silver-cement"
reaches = ["Ag(s)"]
out_of_reach = "nothing else"
[[step]]
id = "pour"
kind = "add"
in = "vessel"
reagent = "` + reagent + `"
reaction = "` + reaction + `"
excess = { value = "5 %", source = "assumption" }
[[step]]
id = "dry"
kind = "dry"
in = "vessel"
by = "air"
product = "cement"
loss = { value = "1 %", source = "assumption" }
`
}

// TestHypochlorite: into acid, into ammonium, and acid into hypochlorite are
// stops; into a neutral sulfite liquor it is nothing.
func TestHypochlorite(t *testing.T) {
	const oxidise = "SO3^2- + ClO^- -> SO4^2- + Cl^-"
	const neutral = "OH^- + H^+ -> H2O(l)"
	base := litre.and(poured{"Ag(s)": 0.1, "Na^+": 0.2, "SO3^2-": 0.1})
	for _, c := range []struct {
		name, route, rule, want string
		vessel                  poured
	}{
		{"into neutral sulfite", bleached("sodium-hypochlorite", oxidise), "bleach-acid", "", base},
		{"into acid", bleached("sodium-hypochlorite", oxidise), "bleach-acid", SeverityStop, base.and(poured{"H^+": 0.3, "Cl^-": 0.3})},
		{"into ammonium", bleached("sodium-hypochlorite", oxidise), "bleach-ammonia", SeverityStop, base.and(poured{"NH4^+": 0.02, "Cl^-": 0.02})},
		{"acid into it", bleached("hydrochloric-acid", neutral), "bleach-acid", SeverityStop, litre.and(poured{"Ag(s)": 0.1, "Na^+": 0.25, "OH^-": 0.2, "ClO^-": 0.05})},
		{"acid into sulfite", bleached("hydrochloric-acid", neutral), "sulfite-acid", SeverityStop, base.and(poured{"OH^-": 0.1, "Na^+": 0.1})},
	} {
		lib := library(t, c.route)
		o := carriedOut(t, lib, jobOn(t, lib, c.vessel.stream(20), roomy), "poured+dispose")
		if got := said(&o, c.rule); got != c.want {
			t.Errorf("%s: %q, want %q; blocked %v", c.name, got, c.want, o.Blocked)
		}
	}
}

// TestClosedVessel: a step that gives off gas is stopped if its vessel is closed.
func TestClosedVessel(t *testing.T) {
	open, err := builtinRoute(t, "iron-cementation")
	if err != nil {
		t.Fatal(err)
	}
	closed := strings.Replace(open, "kind     = \"cement\"\n", "kind     = \"cement\"\nclosed   = true\n", 1)
	if closed == open {
		t.Fatal("the route has no step to close")
	}
	vessel := litre.and(poured{"Cu^2+": 0.3, "H^+": 0.4, "SO4^2-": 0.5}).stream(20)
	for text, want := range map[string]string{open: "", closed: SeverityStop} {
		lib := library(t, text)
		o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), "iron-cementation+dispose")
		if got := said(&o, "closed-vessel"); got != want {
			t.Errorf("closed-vessel: %q, want %q", got, want)
		}
	}
}

func builtinRoute(t testing.TB, id string) (string, error) {
	t.Helper()
	f, err := library(t).Route(id)
	if err != nil {
		return "", err
	}
	return string(f.Text()), nil
}

// TestAcknowledgedUnblocks: the plan goes on, with the stop still shown and
// marked; acknowledging another rule does nothing.
func TestAcknowledgedUnblocks(t *testing.T) {
	lib := library(t)
	job := jobOn(t, lib, parting(3.6).stream(20), roomy)
	const id = "chloride-oxide-sugar+dispose"
	for _, c := range []struct {
		acknowledged []string
		open         bool
	}{{nil, false}, {[]string{"light"}, false}, {[]string{"Chloride-Oxidant"}, true}} {
		job.Acknowledged = c.acknowledged
		o := carriedOut(t, lib, job, id)
		if (o.Blocked == nil) != c.open {
			t.Fatalf("acknowledged %v: blocked %v", c.acknowledged, o.Blocked)
		}
		if !c.open {
			if b := o.Blocked; b.Rule != "chloride-oxidant" || b.Severity != SeverityStop || !strings.Contains(b.Reason, `write "chloride-oxidant" into the lot's list`) {
				t.Errorf("the block does not say how to go on: %+v", *b)
			}
			continue
		}
		i := slices.IndexFunc(o.Cautions(), func(c Caution) bool { return c.ID == "chloride-oxidant" })
		if i < 0 || !o.Cautions()[i].Acknowledged || o.Cautions()[i].Severity != SeverityStop {
			t.Errorf("the acknowledged stop is not shown: %+v", o.Cautions())
		}
	}
}

// TestDeclaredRefuses: what is declared is refused in every route and for sale,
// whatever is acknowledged; the carrier stays open.
func TestDeclaredRefuses(t *testing.T) {
	lib := library(t)
	for word, rule := range map[string]string{
		"cyanide": "cyanide", "silver cyanide bath": "cyanide", "Amalgam": "mercury", "mercury": "mercury", "chromate": "chromate",
		"beryllium copper": "beryllium", "azide": "silver-azide", "radium dials": "radioactive", "anode slime": "selenium-tellurium",
	} {
		job := jobOn(t, lib, parting(0.2).stream(20), roomy)
		job.Declared, job.Acknowledged = []string{word}, []string{rule}
		for _, id := range []string{"copper-cementation+dispose", "copper-cementation+hold", "hydroxide+dispose", "sell-as-is", "neutralise+dispose"} {
			o := carriedOut(t, lib, job, id)
			if said(&o, rule) != SeverityRefuse {
				t.Errorf("%q declared, %s: blocked %+v", word, id, o.Blocked)
			} else if !strings.Contains(o.Blocked.Reason, "Who may take it: ") {
				t.Errorf("%q declared: nobody is named who may take it: %s", word, o.Blocked.Reason)
			}
		}
		if o := carriedOut(t, lib, job, "dispose"); o.Blocked != nil {
			t.Errorf("%q declared: the carrier is blocked: %s", word, o.Blocked.Reason)
		}
	}
}

// TestDeclaredWhereItBites: arsenic and cadmium close only the routes in which
// they hurt.
func TestDeclaredWhereItBites(t *testing.T) {
	lib := library(t)
	cold := roomy
	cold.Melting = "none"
	for _, c := range []struct {
		word, id string
		bench    Bench
		want     string
	}{
		{"arsenic", "chloride-zinc+dispose", roomy, SeverityRefuse},
		{"arsenic", "chloride-iron+dispose", roomy, SeverityRefuse},
		{"antimony", "iron-cementation+dispose", roomy, SeverityRefuse},
		{"arsenic", "chloride-oxide-sugar+dispose", roomy, ""},
		{"cadmium", "copper-cementation+dispose", roomy, SeverityRefuse},
		{"cadmium", "copper-cementation+dispose", cold, ""},
		{"cadmium", "hydroxide+dispose", roomy, ""},
	} {
		job := jobOn(t, lib, parting(0.2).stream(20), c.bench)
		job.Declared = []string{c.word}
		o := carriedOut(t, lib, job, c.id)
		got := ""
		if o.Blocked != nil {
			got = o.Blocked.Severity
		}
		if got != c.want {
			t.Errorf("%s declared, %s, melting %s: %q, want %q (%v)", c.word, c.id, c.bench.Melting, got, c.want, o.Blocked)
		}
	}
}

// TestPoisonsByAmount: the element itself, above and below the stated amount,
// without a word in the lot.
func TestPoisonsByAmount(t *testing.T) {
	lib := library(t)
	const arsenic, cadmium, mercury, beryllium = 74.92, 112.41, 200.59, 9.012
	for _, c := range []struct {
		rule, id, species string
		milligrams, molar float64
		want              string
	}{
		{"arsine", "chloride-zinc+dispose", "As(s)", 4, arsenic, ""},
		{"arsine", "chloride-zinc+dispose", "As(s)", 7, arsenic, SeverityRefuse}, // fines take some before the zinc goes in
		{"mercury", "hydroxide+dispose", "Hg^2+", 9.9, mercury, ""},
		{"mercury", "hydroxide+dispose", "Hg^2+", 10.1, mercury, SeverityRefuse},
		{"beryllium", "hydroxide+dispose", "Be^2+", 9.9, beryllium, ""},
		{"beryllium", "hydroxide+dispose", "Be^2+", 10.1, beryllium, SeverityRefuse},
		{"cadmium-melt", "calcine-sulfate-salt+dispose", "Cd^2+", 1.9, cadmium, ""},
		{"cadmium-melt", "calcine-sulfate-salt+dispose", "Cd^2+", 2.1, cadmium, SeverityRefuse},
	} {
		n := c.milligrams / 1000 / c.molar
		more := poured{c.species: n}
		if charge := substance.MustFind(c.species).Species().Charge; charge > 0 {
			more["NO3^-"] = n * float64(charge)
		}
		o := carriedOut(t, lib, jobOn(t, lib, parting(0.1).and(more).stream(20), roomy), c.id)
		if got := said(&o, c.rule); got != c.want {
			t.Errorf("%g mg of %s in %s: %q, want %q; %v", c.milligrams, c.species, c.id, got, c.want, o.Blocked)
		}
	}
}

// TestAmmoniacalSilver: making it is a stop, finding it or keeping it is
// refused, and only the carrier stays open.
func TestAmmoniacalSilver(t *testing.T) {
	lib := library(t)
	found := litre.and(poured{"NH3(aq)": 1, "Ag(NH3)2^+": 0.05, "NO3^-": 0.05}).stream(20)
	for id, want := range map[string]string{
		"chloride-oxide-sugar+dispose": SeverityRefuse, "copper-cementation+dispose": SeverityRefuse,
		"hold": SeverityRefuse, "sell-as-is": SeverityRefuse, "dispose": "",
	} {
		o := carriedOut(t, lib, jobOn(t, lib, found, roomy), id)
		if got := said(&o, "silver-ammonia-kept"); got != want {
			t.Errorf("silver found in ammonia, %s: %q, want %q; %v", id, got, want, o.Blocked)
		}
	}
	sludge := poured{"H2O(l)": 5, "AgCl(s)": 0.2}.stream(20)
	for acknowledged, want := range map[string]string{"": SeverityStop, "silver-ammonia": ""} {
		job := jobOn(t, lib, sludge, roomy)
		job.Acknowledged = []string{acknowledged}
		o := carriedOut(t, lib, job, "ammonia-ascorbic+hold")
		got := ""
		if o.Blocked != nil {
			got = o.Blocked.Severity
		}
		if got != want {
			t.Errorf("ammonia on chloride, acknowledged %q: %q, want %q; %v", acknowledged, got, want, o.Blocked)
		}
	}
}

// TestAmmoniaLeftStanding: a route that lets silver stand in ammonia overnight is
// refused, even if making it is acknowledged.
func TestAmmoniaLeftStanding(t *testing.T) {
	text, err := builtinRoute(t, "ammonia-ascorbic")
	if err != nil {
		t.Fatal(err)
	}
	const quick = `wait     = { value = "5..15 min", source = "common practice", why = "no longer: it goes on at once" }`
	slow := strings.Replace(text, `wait        = { value = "5..15 min", source = "common practice" }`, `wait        = { value = "12 h", source = "common practice" }`, 1)
	if !strings.Contains(text, quick) || slow == text {
		t.Fatal("the route's text has changed; change the test with it")
	}
	lib := library(t, slow)
	job := jobOn(t, lib, poured{"H2O(l)": 5, "AgCl(s)": 0.2}.stream(20), roomy)
	job.Acknowledged = []string{"silver-ammonia"}
	o := carriedOut(t, lib, job, "ammonia-ascorbic+dispose")
	if got := said(&o, "silver-ammonia-kept"); got != SeverityRefuse || o.Blocked.Step != "clear" {
		t.Errorf("ammoniacal silver left overnight: %q, %v", got, o.Blocked)
	}
}

// TestSkippedStepsSayNothing: a step that has nothing to do has no danger either.
func TestSkippedStepsSayNothing(t *testing.T) {
	lib := library(t)
	vessel := litre.and(poured{"AgCl(s)": 0.3, "H^+": 4, "NO3^-": 4}).stream(20) // no silver in solution: no salt goes in
	o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), "chloride-oxide-sugar+dispose")
	salt := step(t, o, "chloride-oxide-sugar", "salt out")
	if !salt.Skipped || len(salt.Cautions) > 0 || said(&o, "chloride-oxidant") == SeverityStop {
		t.Errorf("skipped %v with cautions %v, blocked %v", salt.Skipped, salt.Cautions, o.Blocked)
	}
}

// TestStopsWithoutTrace: the draws of a simulation are blocked by the same rules
// as the central run.
func TestStopsWithoutTrace(t *testing.T) {
	lib := library(t)
	job := jobOn(t, lib, parting(3.6).stream(20), roomy)
	job.Trace = false
	o := carriedOut(t, lib, job, "chloride-oxide-sugar+dispose")
	if o.Blocked == nil || o.Blocked.Rule != "chloride-oxidant" {
		t.Errorf("blocked %v", o.Blocked)
	}
	if len(o.Cautions()) > 0 {
		t.Error("cautions are for a reader of the central run")
	}
}

// TestNobleTraces: each plan says once how to test for gold before something is
// poured away; where there is gold it is a caution.
func TestNobleTraces(t *testing.T) {
	lib := library(t)
	o := carriedOut(t, lib, jobOn(t, lib, parting(0.2).stream(20), roomy), "copper-cementation+dispose")
	notes := 0
	for _, s := range o.Steps {
		for _, n := range s.Notes {
			if strings.Contains(n, "tin(II) chloride") {
				notes++
			}
		}
	}
	if notes != 1 || said(&o, "noble-traces") != "" {
		t.Errorf("the test for gold is told %d times, cautioned %q", notes, said(&o, "noble-traces"))
	}
	gold := parting(0.2).and(poured{"Au(s)": 0.001}) // 0.2 g
	for _, id := range []string{"copper-cementation+dispose", "dispose"} {
		o := carriedOut(t, lib, jobOn(t, lib, gold.stream(20), roomy), id)
		if got := said(&o, "noble-traces"); got != SeverityCaution || o.Blocked != nil {
			t.Errorf("%s with gold: %q, %v", id, got, o.Blocked)
		}
	}
}

// TestCausticWarms: a gram of caustic gives 1,112 J; in w L of water a kilogram of
// caustic that is 1112/((1 + w)·4.184) K, which is 15 K at w = 16.7.
func TestCausticWarms(t *testing.T) {
	for water, want := range map[string]string{`"16"`: SeverityCaution, `"17.5"`: ""} {
		text := textOf(t, "hydroxide", `water    = { value = "4..6"`, `water    = { value = `+water)
		lib := library(t, text)
		o := carriedOut(t, lib, jobOn(t, lib, parting(0.2).stream(20), roomy), "hydroxide+dispose")
		if got := said(&o, "caustic-water"); got != want {
			t.Errorf("caustic in %s L of water a kilogram: %q, want %q", water, got, want)
		}
		for _, c := range o.Cautions() { // a difference of temperatures knows no zero
			if c.ID == "caustic-water" && !strings.Contains(c.Text, "warming 16 K (from 15 K)") {
				t.Errorf("the caution does not tell the warming in kelvins: %s", c.Text)
			}
		}
	}
}

// TestPeroxideByShelf: what counts is the strength that stands on the shelf.
func TestPeroxideByShelf(t *testing.T) {
	lib := library(t, bleached("hydrogen-peroxide", "SO3^2- + H2O2(aq) -> SO4^2- + H2O(l)"))
	vessel := litre.and(poured{"Ag(s)": 0.1, "Na^+": 0.2, "SO3^2-": 0.1}).stream(20)
	for percent, want := range map[float64]string{2.9: "", 11.9: SeverityCaution, 12.1: SeverityStop} {
		job := jobOn(t, lib, vessel, roomy)
		job.Shelf = Shelf{"hydrogen-peroxide": {Strength: units.MassFraction(percent / 100)}}
		o := carriedOut(t, lib, job, "poured+dispose")
		if got := said(&o, "peroxide-metal"); got != want {
			t.Errorf("peroxide of %g %% on silver: %q, want %q; %v", percent, got, want, o.Blocked)
		}
	}
}

// TestHydrogenAndFume: gas that the step books sets a rule off only above its
// amount: 0.1 g of hydrogen is 0.05 mol, from 0.1 mol of acid.
func TestHydrogenAndFume(t *testing.T) {
	lib := library(t)
	for acid, want := range map[float64]string{0.06: "", 0.4: SeverityCaution} {
		vessel := litre.and(poured{"Cu^2+": 0.3, "H^+": acid, "SO4^2-": 0.3 + acid/2}).stream(20)
		o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), "iron-cementation+dispose")
		gas := o.Sum(Gas)
		if got := said(&o, "metal-hydrogen"); got != want || (gas > 0.1) != (want != "") {
			t.Errorf("iron in %g mol of acid, %.3f g of gas: %q, want %q", acid, gas, got, want)
		}
	}
}
