//go:build unix

package equil

import (
	"syscall"
	"testing"
)

// mixedLiquor is the silver-copper-chloride-nitrate liquor of case c06.
func mixedLiquor(b *testing.B, name string) (*Solver, Question) {
	b.Helper()
	solver, q, err := mustSet(b, name).prepare(Problem{
		TemperatureC: 25, Allowed: []string{"AgCl"},
		Total: map[string]float64{"Cu": 0.3, "Ag": 0.01, "NO3": 2.61, "Na": 1, "Cl": 1},
	})
	if err != nil {
		b.Fatal(err)
	}
	return solver, q
}

// processorSeconds is the time that this process has had of the processor: on
// a machine that is busy with other things it tells more than a clock.
func processorSeconds(b *testing.B) float64 {
	b.Helper()
	var usage syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &usage); err != nil {
		b.Fatal(err)
	}
	return float64(usage.Utime.Sec+usage.Stime.Sec) + 1e-6*float64(usage.Utime.Usec+usage.Stime.Usec)
}

func benchmarkSolve(b *testing.B, before func(*Solver, Question, int)) {
	for _, name := range SetNames() {
		b.Run(name, func(b *testing.B) {
			solver, q := mixedLiquor(b, name)
			b.ReportAllocs()
			start, n := processorSeconds(b), 0
			for b.Loop() {
				n++
				before(solver, q, n)
				if st, err := solver.Solve(q); err != nil || !st.Converged {
					b.Fatal(st, err)
				}
			}
			b.ReportMetric(float64(n)/(processorSeconds(b)-start), "solves/cpu-s")
		})
	}
}

func BenchmarkSolveCold(b *testing.B) {
	benchmarkSolve(b, func(s *Solver, _ Question, _ int) { s.Reset() })
}

// BenchmarkSolveWarm changes the silver by up to a fifth from solve to solve,
// as a curve or a draw does.
func BenchmarkSolveWarm(b *testing.B) {
	benchmarkSolve(b, func(s *Solver, q Question, n int) { q.Totals[s.indexOf("Ag")] = 0.01 * (1 + 0.01*float64(n%20)) })
}

func BenchmarkSpeciation(b *testing.B) {
	sp := mustSpeciation(b, DefaultSet)
	start := streamOf(b, 25, map[string]float64{
		"H2O(l)": 55.5, "Ag^+": 0.01, "NO3^-": 2.61, "Cu^2+": 0.3, "Na^+": 1, "Cl^-": 1, "H^+": 2,
	})
	s := start.Clone()
	b.ReportAllocs()
	for b.Loop() {
		copy(s.Mol, start.Mol)
		if _, err := sp.Equilibrate(&s); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLimiting(b *testing.B) {
	start := streamOf(b, 25, map[string]float64{
		"H2O(l)": 55.5, "Ag^+": 0.01, "NO3^-": 2.61, "Cu^2+": 0.3, "Na^+": 1, "Cl^-": 1, "H^+": 2,
	})
	s := start.Clone()
	b.ReportAllocs()
	for b.Loop() {
		copy(s.Mol, start.Mol)
		if _, err := (Limiting{}).Equilibrate(&s); err != nil {
			b.Fatal(err)
		}
	}
}
