package econ

import (
	"context"
	"fmt"
	"sort"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
)

// Appraise judges a lot: it simulates every plan at the central values of the
// inputs, prices each, ranks them and gives the verdict. The same request gives
// the same appraisal. Errors: a lot whose statements cannot be combined, a
// cancelled context.
func Appraise(ctx context.Context, req Request) (*Appraisal, error) {
	figs := req.Figures.Clone() // the model registers inputs of its own
	model, err := req.Lot.Model(figs)
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	v := figs.Central()
	a := &Appraisal{
		Lot: req.Lot.Title, Currency: req.Book.Currency, Seed: req.Seed,
		Report: model.Report(v), Figures: figs,
	}
	a.Metals = req.Book.worth(a.Report.Metals, v)
	if err := a.price(ctx, req, model, v); err != nil {
		return nil, err
	}
	a.standings(req.Book, v, req.Library.Treatments())
	a.dates(req.Book, req.Today)
	a.Notes = append(append(a.Notes, req.Book.notes...), route.Remarks(req.Lot)...)
	return a, nil
}

// price simulates and prices every plan of the lot.
func (a *Appraisal) price(ctx context.Context, req Request, model *lot.Model, v input.Values) error {
	job := route.Job{
		Inventory: model.Inventory(v), Values: v, Bench: req.Book.Bench(), Shelf: req.Book.Shelf(), Trace: true,
		Declared: req.Lot.Declared, Acknowledged: req.Lot.Acknowledged,
	}
	found, err := req.Library.Explore(ctx, job)
	if err != nil {
		return fmt.Errorf("econ: %w", err)
	}
	a.Chains = found.Chains
	for i := range found.Outcomes {
		p := req.Book.PricePlan(&found.Outcomes[i], v)
		p.Metals = a.threeMasses(&p)
		a.Plans = append(a.Plans, p)
	}
	return nil
}

// worth sets each metal's contained mass against its spot price.
func (b *Book) worth(metals []lot.MetalReport, v input.Values) []MetalWorth {
	list := make([]MetalWorth, 0, len(metals))
	for _, m := range metals {
		w := MetalWorth{Metal: m.Metal, Contained: m.Contained, SD: m.SD, Dissolved: m.Dissolved, Solid: m.Solid}
		if spot, ok := b.spots[m.Metal]; ok {
			value := Money(m.Contained.Kilograms() * v.At(spot.Ref))
			w.SpotValue, w.PriceID = &value, spot.ID
		}
		list = append(list, w)
	}
	return list
}

// threeMasses keeps contained, recovered and payable metal of a plan apart.
func (a *Appraisal) threeMasses(p *PricedPlan) []PlanMetal {
	list := make([]PlanMetal, 0, len(a.Metals))
	for _, m := range a.Metals {
		pm := PlanMetal{Metal: m.Metal, Contained: m.Contained}
		for _, product := range p.Products {
			if product.Metal == m.Metal {
				pm.Recovered += product.MetalMass
				if product.ByMetal {
					pm.Payable += product.PayableMass
				}
			}
		}
		list = append(list, pm)
	}
	return list
}

// dates notes the oldest date among the prices used, and those that are stale
// on the day of today.
func (a *Appraisal) dates(b *Book, today time.Time) {
	used := map[string]Price{}
	for _, m := range a.Metals {
		if spot, ok := b.spots[m.Metal]; ok {
			used[spot.ID] = spot
		}
	}
	for i := range a.Plans {
		if a.Plans[i].Priced() {
			for _, p := range a.Plans[i].used {
				used[p.ID] = p
			}
		}
	}
	for _, id := range sortedKeys(used) {
		p := used[id]
		if p.Date.IsZero() {
			continue
		}
		if a.PricesAsOf.IsZero() || p.Date.Before(a.PricesAsOf) {
			a.PricesAsOf = p.Date
		}
		days, stale := b.age(p.Date, today)
		if stale {
			a.Stale = append(a.Stale, p.ID)
		}
		if days < -1 { // a day ahead may be another time zone
			a.Notes = append(a.Notes, fmt.Sprintf("%s is dated %s, a day that is still to come", p.Path, p.Date.Format(time.DateOnly)))
		}
	}
	sort.Strings(a.Stale)
}
