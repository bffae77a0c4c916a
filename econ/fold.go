package econ

import (
	"slices"
	"strings"
)

// fold marks every plan that a reader would not tell from a better one: the
// same routes in the same order, another way with the rest. The plans must be
// ranked. Endings of the untouched lot are never folded, nor are plans whose
// every sibling is blocked too, but for the first of them.
func fold(plans []PricedPlan, treatments []string) {
	first := map[string]string{}
	for i := range plans {
		p := &plans[i]
		worked := slices.DeleteFunc(slices.Clone(p.Routes), func(id string) bool { return slices.Contains(treatments, id) })
		if len(worked) == 0 {
			continue
		}
		key := strings.Join(worked, "+")
		if best, ok := first[key]; ok {
			p.FoldedInto = best
			continue
		}
		first[key] = p.ID
	}
}
