package econ

import (
	"context"
	"fmt"
	"slices"
)

// Named is a request under a name: a price book of today, of last year, of a
// pessimist.
type Named struct {
	Name    string
	Request Request
}

// Compared is one lot judged with one of several price books.
type Compared struct {
	Name      string
	Appraisal *Appraisal
}

// CompareBooks judges one lot with several price books. The requests differ in
// their books and figures alone: what one of them has simulated serves all whose
// bench and reagents are the same. With odds, the first is refined with effort
// and the others are reckoned on its draws, so that nothing but prices tells them
// apart. Errors: books in different currencies, those of Appraise and Refine.
func CompareBooks(ctx context.Context, books []Named, odds *Effort) ([]Compared, error) {
	var list []Compared
	for i, b := range books {
		if c := books[0].Request.Book.Currency; b.Request.Book.Currency != c {
			return nil, fmt.Errorf("econ: the book “%s” is in %s and “%s” in %s: their money cannot be compared", b.Name, b.Request.Book.Currency, books[0].Name, c)
		}
		var a *Appraisal
		var err error
		if i == 0 {
			a, err = Appraise(ctx, b.Request)
		} else {
			a, err = Reprice(ctx, list[0].Appraisal, b.Request)
		}
		if err == nil && odds != nil {
			a, err = Refine(ctx, a, *odds, nil)
		}
		if err != nil {
			return nil, err
		}
		list = append(list, Compared{Name: b.Name, Appraisal: a})
	}
	return list, nil
}

// Steady lists the plans that are ranked first by any of the books, with the
// least that each nets over the best ending in any of them: the most steady
// first.
func Steady(list []Compared) []SteadyPlan {
	var plans []SteadyPlan
	for _, c := range list {
		id := first(c.Appraisal)
		if id == "" || slices.ContainsFunc(plans, func(p SteadyPlan) bool { return p.ID == id }) {
			continue
		}
		p := SteadyPlan{ID: id}
		for i, other := range list {
			gain, ok := gainOf(other.Appraisal, id)
			if !ok {
				p.Blocked = append(p.Blocked, other.Name)
				continue
			}
			if p.In == "" || gain < p.Least {
				p.Least, p.In = gain, list[i].Name
			}
		}
		plans = append(plans, p)
	}
	slices.SortStableFunc(plans, func(a, b SteadyPlan) int {
		if (len(a.Blocked) == 0) != (len(b.Blocked) == 0) {
			return len(a.Blocked) - len(b.Blocked)
		}
		switch {
		case a.Least > b.Least+moneyTolerance:
			return -1
		case b.Least > a.Least+moneyTolerance:
			return 1
		}
		return 0
	})
	return plans
}

// SteadyPlan is a plan over several price books.
type SteadyPlan struct {
	ID      string
	Least   Money    // gain in the book that is worst for it
	In      string   // the name of that book
	Blocked []string // books in which it cannot be priced
}

func first(a *Appraisal) string {
	if len(a.Plans) == 0 || !a.Plans[0].Priced() {
		return ""
	}
	return a.Plans[0].ID
}

func gainOf(a *Appraisal, id string) (Money, bool) {
	if p := a.plan(id); p != nil {
		return p.Gain, true
	}
	return 0, false
}
