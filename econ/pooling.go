package econ

import (
	"context"

	"afterpour/chem/units"
)

// Pool is what working several like lots in one go would bring.
type Pool struct {
	// Lots holds what n lots together bring, n = 1, 2, …, up to where no plan can
	// be carried out any more in batches of this bench's largest vessel, or to
	// mostPooled.
	Lots []Pooled
	Best int // number of lots that brings most a lot; 1: to wait brings nothing
	Pays int // least number with a gain; 0: none
	// Ended is the most that a lot nets without working it up, alone or carried
	// away with others after a wait.
	Ended Money
	// PerYear is how many such lots come; 0 where the lot file does not say. Then
	// no time can be given, and the shelf costs nothing.
	PerYear float64
	// Kept says that the best number comes while a jar is kept.
	Kept bool
}

// Pooled is n like lots worked together, a lot.
type Pooled struct {
	N      int
	Plan   string  // best plan that works them up; "" where none can be carried out
	Net    Money   // a lot
	Shelf  Money   // what a jar costs while it waits, on average
	Ended  Money   // what a lot nets that is ended alone, or with the others if that is better
	Gain   Money   // Net − Shelf − Ended
	Months float64 // until the last of them has come; 0 where that is not known
}

// Pooling works out what n like lots bring together, for n from 1 on: fees,
// minimums and whole packs are shared, hours that go with the step and not with
// the lot too, and what does not go into the largest vessel is done in batches.
// Each number is simulated. The first of n jars waits (n − 1)/rate, on average
// half of that. Errors: a cancelled context.
func Pooling(ctx context.Context, a *Appraisal) (*Pool, error) {
	if a.study == nil {
		return nil, ErrNoPlan
	}
	w := WhatIfOf(a, a.study.req)
	slider, err := w.Slider(SliderSize)
	if err != nil {
		return nil, err
	}
	s, err := a.narrowed(ctx, w, slider, []float64{1, 2, 4, 8, 16, 32}, 0)
	if err != nil {
		return nil, err
	}
	xs := make([]float64, mostPooled)
	for i := range xs {
		xs[i] = float64(i + 1)
	}
	if err := s.trace(a, w, slider, xs, 0); err != nil {
		return nil, err
	}
	return a.pooled(s), nil
}

// pooled turns the nets of sizes into a pool.
func (a *Appraisal) pooled(s *scan) *Pool {
	p := &Pool{PerYear: a.Report.LotsPerYear, Best: 1, Ended: a.endedBest(s)}
	for i := range s.points {
		l := Pooled{N: i + 1, Months: a.wait(i + 1), Shelf: a.study.shelf(a.wait(i+1) / 2)}
		k := bestOf(s.points[i].nets, s.ended, len(s.plans))
		if k < 0 && i > 0 {
			break
		}
		if k >= 0 {
			l.Plan, l.Net = s.plans[k].ID, Money(s.points[i].nets[k]/float64(l.N))
			l.Gain = l.Net - l.Shelf - p.Ended
		}
		p.Lots = append(p.Lots, l)
		best := &p.Lots[p.Best-1]
		if l.Plan != "" && (best.Plan == "" || l.Gain > best.Gain+moneyTolerance) {
			p.Best = l.N
		}
		if p.Pays == 0 && l.Plan != "" && l.Gain > moneyTolerance {
			p.Pays = l.N
		}
	}
	p.Kept = p.Best <= a.study.req.Book.lotsWhileKept(p.PerYear)
	return p
}

// wait is the time in months until n lots have come; 0 where that is not known.
func (a *Appraisal) wait(n int) float64 {
	if !(a.Report.LotsPerYear > 0) {
		return 0
	}
	return float64(n-1) / a.Report.LotsPerYear * 12
}

// endedBest is the most that a lot nets without working it up, for any number of
// them.
func (a *Appraisal) endedBest(s *scan) Money {
	most, found := Money(0), false
	for i := range s.points {
		k := bestOf(s.points[i].nets, 0, s.ended)
		if k < 0 {
			continue
		}
		if net := Money(s.points[i].nets[k]/float64(i+1)) - a.study.shelf(a.wait(i+1)/2); !found || net > most {
			most, found = net, true
		}
	}
	return most
}

// shelf is what a jar costs over some months.
func (s *study) shelf(months float64) Money {
	k := s.req.Book.storage
	if k == nil {
		return 0
	}
	return Money(k.Price.Quantity(months*float64(units.Month)) * k.Price.At(s.central))
}
