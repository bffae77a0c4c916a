package econ

// PricesUsed lists the ids of the prices that the spot values and the money of
// the plans rest on, in order: the few of the book that matter for this lot.
func (a *Appraisal) PricesUsed() []string {
	used := map[string]bool{}
	for _, m := range a.Metals {
		if m.PriceID != "" {
			used[m.PriceID] = true
		}
	}
	for i := range a.Plans {
		if !a.Plans[i].Priced() {
			continue
		}
		for _, p := range a.Plans[i].used {
			used[p.ID] = true
		}
	}
	return sortedKeys(used)
}
