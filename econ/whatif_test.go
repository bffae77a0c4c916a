package econ

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// asked are the sample lots made ready to be asked, each appraised once for all
// tests: none of them may change what it is given.
var asked sync.Map

// whatIf is a sample lot made ready to be asked.
func whatIf(t testing.TB, name string) *WhatIf {
	t.Helper()
	if w, ok := asked.Load(name); ok {
		return w.(*WhatIf)
	}
	text, ok := sampleLots(t)[name]
	if !ok {
		t.Fatalf("no sample lot %s", name)
	}
	w, err := NewWhatIf(context.Background(), request(t, name, text, DefaultBook()))
	if err != nil {
		t.Fatal(err)
	}
	asked.Store(name, w)
	return w
}

// whatIfs are all sample lots.
func whatIfs(t testing.TB) map[string]*WhatIf {
	t.Helper()
	all := map[string]*WhatIf{}
	for name := range sampleLots(t) {
		all[name] = whatIf(t, name)
	}
	return all
}

func (w *WhatIf) must(t testing.TB, moves ...Move) *Appraisal {
	t.Helper()
	a, err := w.At(context.Background(), moves...)
	if err != nil {
		t.Fatalf("At(%v): %v", moves, err)
	}
	return a
}

// report is what the lot would hold after some moves, without any plan.
func (w *WhatIf) report(t testing.TB, moves ...Move) lot.Report {
	t.Helper()
	req, err := w.Request(moves...)
	if err != nil {
		t.Fatal(err)
	}
	model, err := ModelOf(req.Lot, req.Figures)
	if err != nil {
		t.Fatalf("%v: %v", moves, err)
	}
	return model.Report(req.Figures.Central())
}

// sameStandings compares order, money and verdict of two appraisals.
func sameStandings(t testing.TB, what string, got, want *Appraisal) {
	t.Helper()
	if !slices.Equal(ids(got.Plans), ids(want.Plans)) {
		t.Fatalf("%s: plans in another order", what)
	}
	for i := range got.Plans {
		near(t, what+": "+got.Plans[i].ID, got.Plans[i].Net.Float(), want.Plans[i].Net.Float(), 1e-7)
	}
	if got.Verdict.Plan != want.Verdict.Plan || got.Baseline != want.Baseline {
		t.Errorf("%s: verdict %+v, want %+v", what, got.Verdict, want.Verdict)
	}
}

// What is moved and put back is the request as it was, and moving a figure to
// where it stands changes nothing.
func TestWhatIfPutBack(t *testing.T) {
	for name, w := range whatIfs(t) {
		if w.must(t) != w.Base() {
			t.Errorf("%s: no move is not the base", name)
		}
		before := w.req.Figures.Central()
		w.must(t, Move{"price/spot.Ag", 60}, Move{SliderSize, 3})
		if !slices.Equal(before, w.req.Figures.Central()) {
			t.Errorf("%s: a move changed the request", name)
		}
		spot, err := w.Slider("price/spot.Ag")
		if err != nil {
			t.Fatal(err)
		}
		sameStandings(t, name+", price left alone", w.must(t, Move{spot.ID, spot.Value}), w.Base())
		sameStandings(t, name+", size left alone", w.must(t, Move{SliderSize, 1}), w.Base())
	}
}

// Moving a price gives what the book with that price gives.
func TestWhatIfPriceIsThatOfTheBook(t *testing.T) {
	book := silverAt(t, "45.00 / ozt")
	for name, text := range sampleLots(t) {
		w := whatIf(t, name)
		want := appraised(t, request(t, name, text, book))
		sameStandings(t, name, w.must(t, Move{"price/spot.Ag", 45}), want)
	}
}

// Moving a figure of the lot gives what the file with that figure gives.
func TestWhatIfFigureIsThatOfTheFile(t *testing.T) {
	name := "nitrate-liquor.toml"
	text := string(sampleLots(t)[name])
	if !strings.Contains(text, `"62 g ± 1 g"`) {
		t.Fatal("the sample lot has changed")
	}
	changed := strings.Replace(text, `"62 g ± 1 g"`, `"31 g ± 0.5 g"`, 1)
	want := appraised(t, request(t, name, []byte(changed), DefaultBook()))
	sameStandings(t, name, whatIf(t, name).must(t, Move{"lot/dissolved[1].mass", 31}), want)
}

// A lot k times as large holds k times as much of everything, with the same
// doubt in per cent.
func TestWhatIfSize(t *testing.T) {
	for name, w := range whatIfs(t) {
		for _, k := range []float64{0.25, 2} {
			r := w.report(t, Move{SliderSize, k})
			for i, m := range r.Metals {
				was := w.base.Report.Metals[i]
				near(t, name+": "+m.Metal, m.Contained.Grams(), k*was.Contained.Grams(), 1e-6)
				near(t, name+": "+m.Metal+", doubt", m.SD.Grams(), k*was.SD.Grams(), 1e-3)
				near(t, name+": "+m.Metal+", dissolved", m.Dissolved.Grams(), k*was.Dissolved.Grams(), 1e-5)
			}
			near(t, name+": volume", r.Volume.Litres(), k*w.base.Report.Volume.Litres(), 1e-9)
			near(t, name+": acid", r.Acid.FreeMol, k*w.base.Report.Acid.FreeMol, 1e-6)
		}
	}
}

// The content of a metal goes with its factor, as far as no other metal's
// statement says otherwise.
func TestWhatIfContent(t *testing.T) {
	for name, w := range whatIfs(t) {
		for i, m := range w.base.Report.Metals {
			s, err := w.Slider(SliderContent(m.Metal))
			if err != nil {
				continue // none is contained
			}
			for _, k := range []float64{0.8, math.Min(1.25, s.Most)} {
				got := w.report(t, Move{s.ID, k}).Metals[i].Contained.Grams() / m.Contained.Grams()
				if math.Abs(got-k) > 0.06*k {
					t.Errorf("%s: %s × %g holds %g times as much", name, m.Metal, k, got)
				}
			}
		}
	}
}

// Every slider of every sample lot has a sensible range that holds its value,
// and is taken by At at both ends without a figure running out of numbers.
func TestSliders(t *testing.T) {
	for name, w := range whatIfs(t) {
		groups := map[string]int{}
		small := len(w.base.Plans) < 30 // carried out in a moment
		for _, s := range w.Sliders() {
			groups[s.Group]++
			if !(s.From < s.To && s.Step > 0 && s.From >= s.Least-1e-9 && s.To <= s.Most+1e-9 && s.Value >= s.From-1e-9 && s.Value <= s.To+1e-9) || s.Label == "" {
				t.Errorf("%s: %+v", name, s)
			}
			if n := (s.To - s.From) / s.Step; n < 20 || n > 130 || math.Abs(n-math.Round(n)) > 1e-6 {
				t.Errorf("%s: %s takes %g steps from %g to %g", name, s.ID, n, s.From, s.To)
			}
			if _, err := w.Slider(s.ID); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if s.Group == GroupStated || !small {
				continue
			}
			for _, value := range []float64{s.From, s.To} {
				checkFinite(t, name+": "+s.ID, w.must(t, Move{s.ID, value}))
			}
		}
		for _, g := range []string{GroupLot, GroupContent, GroupPrice, GroupWage, GroupStated} {
			if groups[g] == 0 {
				t.Errorf("%s: no slider of %s", name, g)
			}
		}
	}
}

func checkFinite(t testing.TB, what string, a *Appraisal) {
	t.Helper()
	for i := range a.Plans {
		if p := &a.Plans[i]; !p.Net.IsFinite() || !p.Gain.IsFinite() || math.IsNaN(p.HandsOnH) {
			t.Errorf("%s: %s nets %v", what, p.ID, p.Net)
		}
	}
	for _, m := range a.Report.Metals {
		if x := float64(m.Contained + m.SD); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf("%s: %s contained %v", what, m.Metal, m.Contained)
		}
	}
}

// The stated figures of a lot may be moved anywhere on their sliders.
func TestStatedFiguresMoveAnywhere(t *testing.T) {
	all := whatIfs(t)
	names := sortedKeys(all)
	rapid.Check(t, func(r *rapid.T) {
		w := all[rapid.SampledFrom(names).Draw(r, "lot")]
		stated := slices.DeleteFunc(slices.Clone(w.Sliders()), func(s Slider) bool { return s.Group != GroupStated })
		var moves []Move
		for range rapid.IntRange(1, 3).Draw(r, "moves") {
			s := rapid.SampledFrom(stated).Draw(r, "slider")
			moves = append(moves, Move{s.ID, rapid.Float64Range(s.From, s.To).Draw(r, s.ID)})
		}
		figs, _, err := w.moved(moves)
		if err != nil {
			r.Fatalf("%v: %v", moves, err)
		}
		for i := range figs.Figures.Len() {
			if err := figs.Figures.Get(input.Ref(i)).Dist.Check(); err != nil {
				r.Fatalf("%v: %s: %v", moves, figs.Figures.Get(input.Ref(i)).ID, err)
			}
		}
		model, err := ModelOf(w.req.Lot, figs.Figures)
		if err != nil {
			if slices.ContainsFunc(moves, func(m Move) bool { return strings.HasSuffix(m.ID, ".strength") }) {
				return // an acid stronger than any that is sold
			}
			r.Fatalf("%v: %v", moves, err)
		}
		inv := model.Inventory(figs.Figures.Central())
		for id, mol := range inv.Vessel.Mol {
			if math.IsNaN(mol) || math.IsInf(mol, 0) || mol < -1e-9 {
				r.Fatalf("%v: %g mol of %s", moves, mol, substance.SpeciesID(id).Species().Name)
			}
		}
	})
}

func TestWhatIfRefuses(t *testing.T) {
	w := whatIf(t, "copper-etchant.toml")
	for _, m := range []Move{{"price/spot.Ag", -1}, {"price/spot.Ag", math.NaN()}, {SliderSize, 0}, {SliderSize, math.Inf(1)}, {"price/sale.silver-bar", 101}} {
		if _, err := w.At(context.Background(), m); !errors.Is(err, ErrOutOfRange) {
			t.Errorf("At(%v): %v, want ErrOutOfRange", m, err)
		}
	}
	for _, id := range []string{"", "price/spot.Xx", "lot/nothing", SliderContent("Xx")} {
		if _, err := w.At(context.Background(), Move{id, 1}); !errors.Is(err, ErrNoSlider) {
			t.Errorf("At(%q): %v, want ErrNoSlider", id, err)
		}
	}
}

// A run that is no longer wanted ends at once, whatever it was doing. The best
// of some tries counts, since other programs may hold a single one up.
func TestWhatIfCancelled(t *testing.T) {
	w := whatIf(t, "nitrate-liquor.toml")
	for _, m := range []Move{{"price/spot.Ag", 31}, {SliderSize, 1.5}} {
		best := time.Hour
		for range 5 {
			ctx, cancel := context.WithTimeout(context.Background(), time.Millisecond)
			start := time.Now()
			_, err := w.At(ctx, m)
			best = min(best, time.Since(start))
			cancel()
			if err != nil && !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("At(%v): %v", m, err)
			}
		}
		if best > 100*time.Millisecond {
			t.Errorf("At(%v), given up after a millisecond, took %v", m, best)
		}
	}
}

// Several runs at once, as a screen makes them when one overtakes another, give
// what each gives alone.
func TestWhatIfAtOnce(t *testing.T) {
	w := whatIf(t, "chloride-sludge.toml")
	moves := []Move{{"price/spot.Ag", 10}, {SliderSize, 0.5}, {"price/labour", 5}, {SliderContent("Ag"), 1.2}}
	want := make([]*Appraisal, len(moves))
	for i, m := range moves {
		want[i] = w.must(t, m)
	}
	got := make([]*Appraisal, len(moves))
	var running sync.WaitGroup
	for i, m := range moves {
		running.Go(func() { got[i], _ = w.At(context.Background(), m) })
	}
	running.Wait()
	for i := range moves {
		if got[i] == nil {
			t.Fatalf("%v failed", moves[i])
		}
		sameStandings(t, moves[i].ID, got[i], want[i])
	}
}

// A figure moved keeps the shape of its doubt, says what it was, and lies where
// it was put.
func TestMovedFigures(t *testing.T) {
	for name, c := range map[string]struct {
		fig    input.Figure
		value  float64
		sd     float64
		shape  units.Shape
		inText string
	}{
		"a mass":           {input.Figure{Kind: units.MassKind, Dist: units.NormalDist(0.41, 0.002).Bounded(0, math.Inf(1)), Text: "410 g ± 2 g"}, 0.82, 0.004, units.Normal, "820 g ± 4 g"},
		"a share":          {input.Figure{Kind: units.Fraction, Dist: units.NormalDist(0.08, 0.01).Bounded(0, 1), Text: "8 % ± 1 %"}, 0.1, 0.01, units.Normal, "10 % ± 1 %"},
		"a pH":             {input.Figure{Kind: units.Number, Dist: units.NormalDist(0.3, 0.3).Bounded(-2, 16)}, 2, 0.3, units.Normal, "2 ± 0.3"},
		"a price":          {input.Figure{Kind: units.PerMassKind, Dist: units.LognormalDist(1000, 100)}, 2000, 200, units.Lognormal, "2 / g"},
		"a price of none":  {input.Figure{Kind: units.PerMassKind, Dist: units.LognormalDist(1000, 100)}, 0, 0, units.Exact, "0 / kg"},
		"a range":          {input.Figure{Kind: units.MassConcentrationKind, Dist: units.UniformDist(20, 30)}, 50, 10 / math.Sqrt(12) * 2, units.Uniform, "40..60 g/L"},
		"a range at zero":  {input.Figure{Kind: units.Fraction, Dist: units.UniformDist(0, 0.2)}, 0.05, 0.1 / math.Sqrt(12), units.Uniform, "0..10 %"},
		"over the top":     {input.Figure{Kind: units.Fraction, Dist: units.NormalDist(0.9, 0.01).Bounded(0, 1)}, 1.4, 0.01, units.Normal, "100 % ± 1 %"},
		"a triangle":       {input.Figure{Kind: units.MassKind, Dist: units.TriangularDist(0.1, 0.2, 0.6)}, 0.6, 2 * units.TriangularDist(0.1, 0.2, 0.6).SD, units.Triangular, "600 g"},
		"without a doubt":  {input.Figure{Kind: units.MassKind, Dist: units.Exactly(1)}, 2, 0, units.Exact, "2 kg"},
		"a fee, by factor": {input.Figure{Kind: units.Number, Origin: input.PriceBook, Dist: units.NormalDist(25, 1.25)}, 50, 2.5, units.Normal, "50 ± 2.5"},
	} {
		got := moved(c.fig, c.value)
		want := math.Min(c.value, highest(c.fig))
		near(t, name+": mean", got.Dist.Mean, want, 1e-9)
		near(t, name+": doubt", got.Dist.SD, c.sd, 1e-9)
		if got.Dist.Shape != c.shape || !strings.Contains(got.Text, c.inText) || !strings.HasPrefix(got.Source, "what if; in the file "+asText(c.fig)) {
			t.Errorf("%s: %v, text %q, source %q", name, got.Dist.Shape, got.Text, got.Source)
		}
		if err := got.Dist.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkWhatIfPrice(b *testing.B)  { benchmarkWhatIf(b, Move{"price/spot.Ag", 31}) }
func BenchmarkWhatIfSize(b *testing.B)   { benchmarkWhatIf(b, Move{SliderSize, 1.1}) }
func BenchmarkWhatIfStated(b *testing.B) { benchmarkWhatIf(b, Move{"lot/vessel.liquid", 3.1}) }

func benchmarkWhatIf(b *testing.B, m Move) {
	w := whatIf(b, "nitrate-liquor.toml")
	for b.Loop() {
		w.must(b, m)
	}
}
