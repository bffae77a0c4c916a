package econ

import (
	"context"
	"errors"
	"testing"
)

// richest is the sample lot with the most plans.
const richest = "chloride-settled.toml"

// benchmarkDraws makes draws of some chains, without keeping them.
func benchmarkDraws(b *testing.B, which func(*refinement) []int) {
	a := appraised(b, request(b, richest, sampleLots(b)[richest], DefaultBook()))
	r := newRefinement(context.Background(), a, Effort{}, nil)
	h := a.study.draws.prepare(0, batch{n: b.N}, which(r))
	forest, err := a.study.forest(context.Background(), h.chains)
	if err != nil {
		b.Fatal(err)
	}
	w := a.study.drawer(h, forest)
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		if err := w.draw(i); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(h.chains)), "chains")
}

// BenchmarkDrawListed is one draw of the plans that a list shows by itself,
// BenchmarkDrawAll one of all plans.
func BenchmarkDrawListed(b *testing.B) { benchmarkDraws(b, (*refinement).front) }

func BenchmarkDrawAll(b *testing.B) { benchmarkDraws(b, (*refinement).openChains) }

// BenchmarkRefine is all odds of the richest sample lot, from nothing.
func BenchmarkRefine(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		a := appraised(b, request(b, richest, sampleLots(b)[richest], DefaultBook()))
		b.StartTimer()
		last, err := Refine(context.Background(), a, Effort{}, nil)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(last.Draws), "draws")
	}
}

// BenchmarkFirstOdds is the first odds of the plans that a list shows.
func BenchmarkFirstOdds(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		a := appraised(b, request(b, richest, sampleLots(b)[richest], DefaultBook()))
		ctx, cancel := context.WithCancel(context.Background())
		b.StartTimer()
		_, err := Refine(ctx, a, Effort{}, func(Progress) { cancel() })
		if !errors.Is(err, context.Canceled) {
			b.Fatal(err)
		}
	}
}

// BenchmarkReprice is a changed price: central result and odds of the first
// block.
func BenchmarkReprice(b *testing.B) {
	req := request(b, richest, sampleLots(b)[richest], DefaultBook())
	a, err := Refine(context.Background(), appraised(b, req), Effort{Most: 3 * block, Fixed: true}, nil)
	if err != nil {
		b.Fatal(err)
	}
	other := req
	other.Figures = req.Figures.Clone()
	silver, _ := other.Figures.ByID("price/spot.Ag")
	fig := other.Figures.Get(silver)
	fig.Dist.Mean *= 1.1
	other.Figures.Add(fig)
	for b.Loop() {
		if _, err := Reprice(context.Background(), a, other); err != nil {
			b.Fatal(err)
		}
	}
}
