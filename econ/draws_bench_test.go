package econ

import (
	"context"
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
