package econ

import (
	"math"
	"os"
	"slices"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// The worked examples of JCGM 101:2008 (Supplement 1 to the GUM), drawn with the
// sampler, the streams of random numbers, the moments and the quantiles that the
// odds are worked out with. Inputs are those of the clauses and tables named at
// each; the results of tables 2 to 11 are quoted from memory of the document (to
// be checked against it) and agree with closed forms where there are any.
//
// Draws are 200,000, or the million of the document with AFTERPOUR_LONG=1.

// long reports that the long forms of the tests were asked for.
func long() bool { return os.Getenv("AFTERPOUR_LONG") != "" }

func documentDraws() int {
	if long() {
		return 1_000_000
	}
	return 200_000
}

// supplement is an example in progress: figures for the inputs that the program
// knows distributions of, and further streams for the others.
type supplement struct {
	figs    input.Figures
	streams map[string]uint64
}

func (s *supplement) add(id string, d units.Dist) input.Ref {
	return s.figs.Add(input.Figure{ID: id, Dist: d})
}

// uniform is the number of a draw in a stream of that name.
func (s *supplement) uniform(name string, draw int) float64 {
	if s.streams == nil {
		s.streams = map[string]uint64{}
	}
	if _, ok := s.streams[name]; !ok {
		s.streams[name] = streamOf(1, name)
	}
	return uniform(s.streams[name], draw)
}

// student draws a scaled and shifted t distribution by the method of 6.4.9.4:
// a normal over the root of a mean of squares of normals.
func (s *supplement) student(name string, draw int, mean, scale float64, freedom int) float64 {
	squares := 0.0
	for i := range freedom {
		squares += square(normal.Quantile(s.uniform(name+string(rune('A'+i)), draw)))
	}
	return mean + scale*normal.Quantile(s.uniform(name, draw))*math.Sqrt(float64(freedom)/squares)
}

// arcsine draws a U-shaped distribution between a and b (6.4.6.4).
func (s *supplement) arcsine(name string, draw int, a, b float64) float64 {
	return (a+b)/2 + (b-a)/2*math.Sin(2*math.Pi*s.uniform(name, draw))
}

// curved draws a rectangular distribution with inexactly prescribed limits a ± d
// and b ∓ d (6.4.3.4).
func (s *supplement) curved(name string, draw int, a, b, d float64) float64 {
	low := a - d + 2*d*s.uniform(name+"1", draw)
	high := a + b - low
	return low + (high-low)*s.uniform(name+"2", draw)
}

// run draws the model and returns the values sorted.
func (s *supplement) run(model func(v input.Values, draw int) float64) []float64 {
	sampler := newSampler(&s.figs, 1, func(string) bool { return true })
	v := s.figs.Central()
	list := make([]float64, documentDraws())
	for draw := range list {
		sampler.fill(v, draw)
		list[draw] = model(v, draw)
	}
	return list
}

// published is what a table gives: estimate, standard uncertainty and the ends of
// the shortest interval of a coverage, with the unit of the last digit printed.
type published struct {
	y, u      float64
	low, high float64
	coverage  float64
	digit     float64 // of y and u
	endDigit  float64 // of the ends
}

// check compares to the digits printed, with room for the scatter of so many
// draws: four standard errors of mean and standard deviation. How wide the
// shortest interval is scatters with the root of the draws; where it lies with
// their cube root only, since to shift it changes its width little, and the
// published one was found from a million draws too.
func (p published) check(t *testing.T, list []float64) {
	t.Helper()
	m := momentsOf(list)
	n := float64(len(list))
	scatter := m.sd() / math.Sqrt(n)
	if math.Abs(m.mean-p.y) > p.digit/2+4*scatter {
		t.Errorf("estimate %.6g, published %.6g", m.mean, p.y)
	}
	if math.Abs(m.sd()-p.u) > p.digit/2+4*scatter {
		t.Errorf("standard uncertainty %.6g, published %.6g", m.sd(), p.u)
	}
	low, high := shortest(list, p.coverage)
	room := p.endDigit/2 + 0.03*m.sd()*math.Cbrt(1e6/n)
	wide := p.endDigit + 0.015*m.sd()*math.Sqrt(1e6/n)
	if math.Abs(low-p.low) > room || math.Abs(high-p.high) > room || math.Abs((high-low)-(p.high-p.low)) > wide {
		t.Errorf("shortest %g %% interval [%.6g, %.6g], published [%.6g, %.6g]", 100*p.coverage, low, high, p.low, p.high)
	}
}

// shortest is the shortest interval that holds a share of the draws (7.7.4).
func shortest(list []float64, share float64) (low, high float64) {
	sorted := slices.Clone(list)
	slices.Sort(sorted)
	q := int(share*float64(len(sorted)) + 0.5)
	best := 0
	for r := range len(sorted) - q {
		if sorted[r+q]-sorted[r] < sorted[best+q]-sorted[best] {
			best = r
		}
	}
	return sorted[best], sorted[best+q]
}

// 9.2: the additive model Y = X₁ + X₂ + X₃ + X₄.
func TestSupplementAdditiveModel(t *testing.T) {
	rect := units.UniformDist(-math.Sqrt(3), math.Sqrt(3))
	wide := units.UniformDist(-10*math.Sqrt(3), 10*math.Sqrt(3))
	gauss := units.NormalDist(0, 1)
	for name, c := range map[string]struct {
		inputs [4]units.Dist
		want   published
	}{
		// Table 2; exactly ±1.96 × 2 = ±3.92.
		"9.2.2 normal": {[4]units.Dist{gauss, gauss, gauss, gauss}, published{0, 2, -3.92, 3.92, 0.95, 0.01, 0.01}},
		// Table 3; exactly ±2√3·(2 − (3/5)^¼) = ±3.88.
		"9.2.3 rectangular, same width": {[4]units.Dist{rect, rect, rect, rect}, published{0, 2, -3.88, 3.88, 0.95, 0.01, 0.01}},
		// Table 4.
		"9.2.4 rectangular, one wide": {[4]units.Dist{rect, rect, rect, wide}, published{0, 10.1, -17.0, 17.0, 0.95, 0.1, 0.1}},
	} {
		t.Run(name, func(t *testing.T) {
			var s supplement
			for i, d := range c.inputs {
				s.add("X"+string(rune('1'+i)), d)
			}
			list := s.run(func(v input.Values, _ int) float64 { return v[0] + v[1] + v[2] + v[3] })
			c.want.check(t, list)
			if name == "9.2.3 rectangular, same width" {
				q := quantiles(list, 0.025, 0.975)
				exact := 2 * math.Sqrt(3) * (2 - math.Pow(0.6, 0.25))
				near(t, "2.5 %", q[0], -exact, 0.01)
				near(t, "97.5 %", q[1], exact, 0.01)
			}
		})
	}
}

// 9.3: calibration of a weight in air of uncertain density, in mg over the
// nominal 100 g. Inputs of table 5 (9.3.1.4), results of table 6 (9.3.2.3); the
// first-order law of propagation gives 0.0539, far too little.
func TestSupplementMassCalibration(t *testing.T) {
	var s supplement
	reference := s.add("m(R,c)", units.NormalDist(100_000, 0.050))
	added := s.add("δm(R,c)", units.NormalDist(1.234, 0.020))
	air := s.add("ρ(a)", units.UniformDist(1.10, 1.30))
	weight := s.add("ρ(W)", units.UniformDist(7000, 9000))
	standard := s.add("ρ(R)", units.UniformDist(7950, 8050))
	list := s.run(func(v input.Values, _ int) float64 {
		return (v.At(reference)+v.At(added))*(1+(v.At(air)-1.2)*(1/v.At(weight)-1/v.At(standard))) - 100_000
	})
	published{1.2341, 0.0754, 1.0834, 1.3825, 0.95, 0.0001, 0.0001}.check(t, list)
}

// 9.4: comparison loss in the calibration of a microwave power meter,
// Y = X₁² + X₂² with X₁, X₂ normal of standard uncertainty 0.005, in 10⁻⁶. Inputs
// of 9.4.1.7; tables 8 (9.4.2.2.7, uncorrelated) and 9 (9.4.3.2.1, correlation
// 0.9). Mean and variance have the closed forms x₁² + 2σ² and
// 4x₁²σ² + 4σ⁴(1 + r²).
func TestSupplementComparisonLoss(t *testing.T) {
	for name, c := range map[string]struct {
		x, r float64
		want published
	}{
		"9.4.2, x₁ = 0":     {0, 0, published{50, 50, 0, 150, 0.95, 1, 1}},
		"9.4.2, x₁ = 0.010": {0.010, 0, published{150, 112, 0, 367, 0.95, 1, 1}},
		"9.4.2, x₁ = 0.050": {0.050, 0, published{2550, 502, 1590, 3543, 0.95, 1, 1}},
		"9.4.3, x₁ = 0":     {0, 0.9, published{50, 67, 0, 185, 0.95, 1, 1}},
		"9.4.3, x₁ = 0.010": {0.010, 0.9, published{150, 121, 13, 398, 0.95, 1, 1}},
		"9.4.3, x₁ = 0.050": {0.050, 0.9, published{2550, 505, 1628, 3555, 0.95, 1, 1}},
	} {
		t.Run(name, func(t *testing.T) {
			var s supplement
			first, second := s.add("X1", units.NormalDist(0, 1)), s.add("X2", units.NormalDist(0, 1))
			const sigma = 0.005
			list := s.run(func(v input.Values, _ int) float64 {
				x1 := c.x + sigma*v.At(first)
				x2 := sigma * (c.r*v.At(first) + math.Sqrt(1-c.r*c.r)*v.At(second))
				return 1e6 * (x1*x1 + x2*x2)
			})
			c.want.check(t, list)
			near(t, "exact mean", c.want.y, 1e6*(c.x*c.x+2*sigma*sigma), 1)
			near(t, "exact standard uncertainty", c.want.u, 1e6*math.Sqrt(4*square(c.x*sigma)+4*math.Pow(sigma, 4)*(1+c.r*c.r)), 1)
		})
	}
}

// 9.5: calibration of a gauge block of 50 mm, in nm over the nominal. Inputs of
// table 10 (9.5.2.1), results of table 11 (9.5.4.2): 838 nm, 36 nm where the law
// of propagation gives 32 nm.
func TestSupplementGaugeBlock(t *testing.T) {
	var s supplement
	expansion := s.add("α(S)", units.UniformDist(9.5e-6, 13.5e-6))
	deviation := s.add("θ0", units.NormalDist(-0.1, 0.2))
	list := s.run(func(v input.Values, n int) float64 {
		length := s.student("L(S)", n, 50_000_623, 25, 18)
		difference := s.student("D", n, 215, 6, 24) + s.student("d1", n, 0, 4, 5) + s.student("d2", n, 0, 7, 8)
		cycle := s.arcsine("Δ", n, -0.5, 0.5)
		between := s.curved("δα", n, -1e-6, 1e-6, 0.1e-6)
		apart := s.curved("δθ", n, -0.050, 0.050, 0.025)
		return length + difference - length*(between*(v.At(deviation)+cycle)+v.At(expansion)*apart) - 50_000_000
	})
	published{838, 36, 745, 932, 0.99, 1, 1}.check(t, list)
}
