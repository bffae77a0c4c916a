package econ

import (
	"context"
	"errors"
	"math"
	"testing"
)

// gainOrNothing is the decision between work that gains slope·x + offset and
// leaving it, x being of a normal distribution of mean 0.
func gainOrNothing(n int, sd, slope, offset float64) (d *decision, x []float64) {
	key := streamOf(1, "x")
	d = &decision{n: n, nets: [][]float64{make([]float64, n), make([]float64, n)}}
	for i := range n {
		x = append(x, sd*normal.Quantile(uniform(key, i)))
		d.nets[0][i] = slope*x[i] + offset
	}
	d.choose()
	return d, x
}

// loss is the unit normal loss integral φ(z) − z·(1 − Φ(z)).
func loss(z float64) float64 {
	return math.Exp(-z*z/2)/math.Sqrt(2*math.Pi) - z*0.5*math.Erfc(z/math.Sqrt2)
}

// The value of information in the two-action problem with linear gain and a
// normal prior has a closed form (Raiffa and Schlaifer, Applied Statistical
// Decision Theory, 1961, section 5.11): EVPI = σ·L(|m|/σ) with L the unit normal
// loss, and a measurement of error τ is worth the same with σ²/√(σ² + τ²) in the
// place of σ.
func TestKnowingAgainstClosedForm(t *testing.T) {
	const n = 20000
	s := &study{}
	for name, c := range map[string]struct{ sd, slope, offset, tau float64 }{
		"undecided":      {10, 1, 0, 5},
		"rather yes":     {10, 1, 8, 5},
		"rather no":      {10, 2, -15, 20},
		"nearly certain": {10, 1, 30, 10},
		"coarse test":    {10, 1, 5, 30},
	} {
		t.Run(name, func(t *testing.T) {
			d, x := gainOrNothing(n, c.sd, c.slope, c.offset)
			sd, m := c.sd*c.slope, math.Abs(c.offset)
			want := sd * loss(m/sd)
			tolerance := 4 * sd / math.Sqrt(n)
			worth, _, _ := d.knowing(x)
			if math.Abs(worth-want) > tolerance || math.Abs(d.perfect()-want) > tolerance {
				t.Errorf("knowing x is worth %.4f, everything %.4f, want %.4f ± %.4f", worth, d.perfect(), want, tolerance)
			}
			narrowed := sd * c.sd / math.Hypot(c.sd, c.tau)
			want = narrowed * loss(m/narrowed)
			worth, _, _ = d.knowing(s.results(Test{ID: "assay", Absolute: c.tau}, x))
			if math.Abs(worth-want) > tolerance {
				t.Errorf("the test is worth %.4f, want %.4f ± %.4f", worth, want, tolerance)
			}
		})
	}
}

// What has nothing to do with the nets is worth nothing, and no part of what
// there is to know is worth more than all of it.
func TestKnowingNoise(t *testing.T) {
	d, x := gainOrNothing(10000, 10, 1, 1)
	key := streamOf(1, "noise")
	noise := make([]float64, d.n)
	both := make([]float64, d.n)
	for i := range noise {
		noise[i] = uniform(key, i)
		d.nets[0][i] += 5 * (noise[i] - 0.5)
		both[i] = uniform(key, i+d.n)
	}
	if worth, _, changes := d.knowing(both); worth != 0 || changes != 0 {
		t.Errorf("noise is worth %v and changes %v", worth, changes)
	}
	all := d.perfect()
	for name, known := range map[string][]float64{"x": x, "noise": noise} {
		if worth, se, _ := d.knowing(known); worth > all+1e-9 || worth < 0 || !(se >= 0) {
			t.Errorf("knowing %s is worth %v ± %v, everything %v", name, worth, se, all)
		}
	}
}

// A third plan that is best for middling x: the expected value of perfect
// information by summing over the draws and by regression agree.
func TestKnowingThreePlans(t *testing.T) {
	d, x := gainOrNothing(20000, 10, 1, 0)
	third := make([]float64, d.n)
	for i := range third {
		third[i] = 0.5*x[i] + 1.5
	}
	d.nets = append(d.nets, third)
	d.choose()
	worth, se, changes := d.knowing(x)
	if math.Abs(worth-d.perfect()) > 0.05 || !(se > 0) || !(changes > 0.3) {
		t.Errorf("worth %v ± %v, changes %v; everything %v", worth, se, changes, d.perfect())
	}
}

func TestKnowingOfALot(t *testing.T) {
	const lot = "copper-etchant.toml"
	a := appraised(t, request(t, lot, sampleLots(t)[lot], DefaultBook()))
	if _, err := Knowing(context.Background(), a, nil); !errors.Is(err, ErrNoOdds) {
		t.Errorf("without odds: %v", err)
	}
	b, err := Refine(context.Background(), a, Effort{Most: 1000, Fixed: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	k, err := Knowing(context.Background(), b, UsualTests(b))
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%s: perfect %.2f", k.Plan, k.Perfect)
	for _, w := range k.Inputs {
		t.Logf("%-40s %.2f ± %.2f, changes %.3f", w.ID, w.Worth, w.SE, w.Changes)
		if w.Worth > k.Perfect+moneyTolerance {
			t.Errorf("%s is worth %v, everything %v", w.ID, w.Worth, k.Perfect)
		}
	}
	for _, w := range k.Tests {
		t.Logf("%-40s worth %.2f, exact %.2f, cost %.2f, pays %t", w.Name, w.Worth, w.Exact, w.Cost, w.Pays)
		if w.Worth > w.Exact+moneyTolerance || w.Exact > k.Perfect+moneyTolerance || w.Pays != (w.Worth > w.Cost) {
			t.Errorf("%+v", w)
		}
	}
	if len(k.Tests) < 2 || len(k.Inputs) == 0 {
		t.Errorf("%d tests, %d inputs", len(k.Tests), len(k.Inputs))
	}
	if p := b.plan(k.Plan); p == nil || math.Abs((p.Odds.Regret-k.Perfect).Float()) > 1e-6 {
		t.Errorf("perfect knowledge is worth %v, the regret of %s is %+v", k.Perfect, k.Plan, p)
	}
}
