package econ

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
)

// A synthetic lot has a truth that the program does not see, and statements
// about it, each off by an error of the doubt that it states. The truth and the
// statements are made here, without the program's distributions and generator.
type synthetic struct {
	text  string
	truth map[string]float64 // true value of stated figures, by id, in base units
	ag    float64            // kg of silver that the lot truly holds
}

// stated is a typed figure: what was found, with its standard uncertainty.
type stated struct {
	rng *rand.Rand
	s   *synthetic
}

// normal states a quantity that is truly value, found with an error.
func (f stated) normal(id string, value, sd, base float64, unit string) string {
	f.s.truth[id] = value * base
	return fmt.Sprintf("%.9g %s ± %.9g %s", value+sd*f.rng.NormFloat64(), unit, sd, unit)
}

// percent is normal for a share of one, stated in per cent.
func (f stated) percent(id string, share, sd float64) string {
	f.s.truth[id] = share
	return fmt.Sprintf("%.9g %% ± %.9g %%", 100*(share+sd*f.rng.NormFloat64()), 100*sd)
}

// between states a range with equal odds for any value in it.
func (f stated) between(id string, value, width, base float64, unit string) string {
	f.s.truth[id] = value * base
	low := value - width*f.rng.Float64()
	return fmt.Sprintf("%.9g..%.9g %s", low, low+width, unit)
}

// newSynthetic makes one lot: silver-plated brass in nitric acid, known by its
// pieces, by an assay of the liquor, by a titration, or by several of these.
func newSynthetic(rng *rand.Rand) synthetic {
	s := synthetic{truth: map[string]float64{}}
	f := stated{rng, &s}
	uniform := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	litres, grams, share := uniform(1, 4), uniform(100, 400), uniform(0.04, 0.15)
	s.ag = grams * share / 1000
	perLitre := grams * share / litres
	var b strings.Builder
	fmt.Fprintf(&b, "title = \"synthetic\"\n[vessel]\n")
	if rng.IntN(4) == 0 {
		fmt.Fprintf(&b, "liquid = %q\n", f.between("lot/vessel.liquid", litres, 0.2*litres, 1, "L"))
	} else {
		fmt.Fprintf(&b, "liquid = %q\n", f.normal("lot/vessel.liquid", litres, 0.04*litres, 1, "L"))
	}
	fmt.Fprintf(&b, "ph = %q\n", f.normal("lot/vessel.ph", 0.8, 0.3, 1, ""))
	known := 1 + rng.IntN(7) // bits: pieces, assay, titration
	if known&1 != 0 {
		fmt.Fprintf(&b, "[[dissolved]]\nwhat = \"contacts\"\nmass = %q\nshare = { Ag = %q, Cu = \"60 %% ± 1 %%\", Zn = \"rest\" }\nextent = \"100 %%\"\nby = \"nitric acid\"\n",
			f.normal("lot/dissolved[0].mass", grams, 2, 1e-3, "g"), f.percent("lot/dissolved[0].share.Ag", share, 0.1*share))
	}
	if known&2 != 0 {
		fmt.Fprintf(&b, "[[measured]]\nmetal = \"Ag\"\nin = \"liquid\"\nvalue = %q\nby = \"AAS\"\n", f.normal("lot/measured[0].value", perLitre, 0.05*perLitre, 1, "g/L"))
	}
	if known&4 != 0 {
		const sample, titrant = 10.0, 0.1 // mL, mol/L
		used := perLitre / 107.8682 * sample / titrant
		fmt.Fprintf(&b, "[[titrated]]\nof = \"Ag\"\nsample = %q\ntitrant = \"0.1000 mol/L ± 0 mol/L\"\nused = %q\n",
			f.normal("lot/titrated[0].sample", sample, 0.1, 1e-3, "mL"), f.normal("lot/titrated[0].used", used, 0.02*used, 1e-3, "mL"))
		s.truth["lot/titrated[0].titrant"] = titrant
	}
	s.text = b.String()
	return s
}

// decode reads the lot into a register of its own, or into one that has more.
func (s synthetic) decode(t testing.TB, figs *input.Figures) *lot.Lot {
	t.Helper()
	l, err := lot.Decode(parse(t, s.text), figs)
	if err != nil {
		t.Fatalf("%v\n%s", err, s.text)
	}
	return l
}

// calibrationSeed is fixed, so that the share of hits is a property of the
// program and not of the day.
const calibrationSeed = 20261120

// The 80 % intervals of silver content, from 500 draws each, hold the truth in 76
// to 84 of a hundred synthetic lots: of 1,000 with AFTERPOUR_LONG=1. The short
// form has 300, and room for three standard errors of so few, 7 per cent.
func TestCalibrationOfContents(t *testing.T) {
	lots, room := 300, 0.07
	if long() {
		lots, room = 1000, 0.04
	}
	hits, below := 0, 0
	for i := range lots {
		s := newSynthetic(rand.New(rand.NewPCG(calibrationSeed, uint64(i))))
		low, high := contentInterval(t, s, uint64(i))
		switch {
		case s.ag < low:
		case s.ag > high:
			below++
		default:
			hits++
		}
	}
	share := float64(hits) / float64(lots)
	t.Logf("%d lots: %.1f %% of the 80 %% intervals hold the truth, %.1f %% lie below it", lots, 100*share, 100*float64(below)/float64(lots))
	if math.Abs(share-0.8) > room {
		t.Errorf("%.1f %% of the 80 %% intervals hold the truth", 100*share)
	}
}

// contentInterval is the 80 % interval of the silver in a lot. Content does not
// hang on the equilibrium, so the quick one will do.
func contentInterval(t testing.TB, s synthetic, seed uint64) (low, high float64) {
	t.Helper()
	figs := &input.Figures{}
	l := s.decode(t, figs)
	model, err := l.Model(figs)
	if err != nil {
		t.Fatal(err)
	}
	sampler := newSampler(figs, seed, func(string) bool { return true })
	v := figs.Central()
	list := make([]float64, block)
	for draw := range list {
		sampler.fill(v, draw)
		inv := model.Inventory(v)
		list[draw] = float64(inv.Vessel.ElementMass("Ag"))
	}
	q := quantiles(list, 0.1, 0.9)
	return q[0], q[1]
}

// The same for the net value of the best plan, with the true yields, times and
// prices drawn around what the route files and the price book say: in the long
// form alone (AFTERPOUR_LONG=1), since each of 400 lots is simulated 500 times.
func TestCalibrationOfNet(t *testing.T) {
	if !long() {
		t.Skip("set AFTERPOUR_LONG=1")
	}
	const lots = 400
	lib, err := route.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	hits, counted := 0, 0
	for i := range lots {
		rng := rand.New(rand.NewPCG(calibrationSeed+1, uint64(i)))
		s := newSynthetic(rng)
		truth, low, high, ok := netInterval(t, lib, s, rng, uint64(i))
		if !ok {
			continue
		}
		counted++
		if truth >= low && truth <= high {
			hits++
		}
	}
	share := float64(hits) / float64(counted)
	t.Logf("%d lots: %.1f %% of the 80 %% intervals of the net hold the truth", counted, 100*share)
	if counted < lots/2 || math.Abs(share-0.8) > 0.06 {
		t.Errorf("%.1f %% of %d intervals hold the truth", 100*share, counted)
	}
}

// netInterval is the true net of the best work on a lot and its 80 % interval.
func netInterval(t *testing.T, lib *route.Library, s synthetic, rng *rand.Rand, seed uint64) (truth, low, high float64, ok bool) {
	t.Helper()
	figs := lib.Figures().Clone()
	l := s.decode(t, figs)
	book, err := DecodeBook(parse(t, string(DefaultBook())), figs)
	if err != nil {
		t.Fatal(err)
	}
	a := appraised(t, Request{Lot: l, Figures: figs, Library: lib, Book: book, Today: day(2026, 11, 21), Seed: seed})
	best := a.bestWork()
	if best == nil {
		return 0, 0, 0, false
	}
	g, err := a.study.gauge(context.Background(), a.baselinePlan(), best)
	if err != nil {
		t.Fatal(err)
	}
	net := func(v input.Values) float64 {
		if err := g.carryOut(context.Background(), v); err != nil {
			t.Fatal(err)
		}
		return g.price(v, nil)[1]
	}
	truth = net(s.trueValues(a, rng))
	v := slices.Clone(a.study.central)
	list := make([]float64, block)
	for draw := range list {
		a.study.sample(v, draw)
		list[draw] = net(v)
	}
	q := quantiles(list, 0.1, 0.9)
	return truth, q[0], q[1], true
}

// trueValues are the truth of every figure: of the lot's what it is, of the
// others a value that the test draws of the distribution stated.
func (s synthetic) trueValues(a *Appraisal, rng *rand.Rand) input.Values {
	v := slices.Clone(a.study.central)
	for i := range v {
		fig := a.study.figures.Get(input.Ref(i))
		if value, ok := s.truth[fig.ID]; ok {
			v[i] = value
		} else {
			v[i] = fig.Dist.Quantile(rng.Float64())
		}
	}
	return v
}
