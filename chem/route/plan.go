package route

import (
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/substance"
)

// joinShare is the least share of a metal that must be left for a route to
// join a plan.
const joinShare = 0.01

// Plans lists what could be done with a lot as far as the lot alone tells: an
// ending, one route and an ending, or a silver route, a copper route and an
// ending. Explore looks further, at what each route really leaves.
func (lib *Library) Plans(inv lot.Inventory) []Plan {
	chains := [][]string{nil}
	for i := range lib.routes {
		first := &lib.routes[i]
		if !first.Wins() || !holds(inv.Vessel, first.Takes) {
			continue
		}
		chains = append(chains, []string{first.ID})
		for j := range lib.routes {
			second := &lib.routes[j]
			if silverThenCopper(first, second) && holds(inv.Vessel, second.Takes) {
				chains = append(chains, []string{first.ID, second.ID})
			}
		}
	}
	var plans []Plan
	for _, chain := range chains {
		for _, ending := range Endings {
			plans = append(plans, NewPlan(chain, ending))
		}
	}
	return plans
}

func silverThenCopper(first, second *File) bool {
	return slices.Contains(first.Takes, "Ag") && slices.Contains(second.Takes, "Cu") && !slices.Contains(second.Takes, "Ag") && len(first.rest) > 0
}

// NewPlan returns the plan of these routes and this ending, with its id.
func NewPlan(routes []string, ending string) Plan {
	return Plan{ID: strings.Join(append(slices.Clone(routes), ending), "+"), Routes: routes, Ending: ending}
}

func holds(s substance.Stream, metals []string) bool {
	for _, m := range metals {
		if s.Element(m) > 0 {
			return true
		}
	}
	return false
}

// reachable notes how much of each metal a route can get at, and blocks one
// that gets at less than joinShare, or that lacks its anion.
func (r *run) reachable(f *File) *Block {
	if f.Treatment {
		return nil
	}
	vessel := r.slot("vessel").stream
	unreachable := map[string]float64{}
	best := 0.0
	for _, metal := range f.Takes {
		inVessel := vessel.Element(metal)
		if inVessel <= 0 || inVessel < joinShare*r.contained(metal) {
			unreachable[metal] = 1
			continue
		}
		within := f.within(vessel, metal)
		share := within / inVessel
		best = max(best, share)
		unreachable[metal] = 1 - within/r.contained(metal)
		reach := Reach{Route: f.ID, Metal: metal, Share: share}
		if share < 1-1e-9 {
			reach.Reason = fmt.Sprintf("%s %% of the %s is out of reach: %s", percent(1-share), elementName(metal), f.OutOfReach)
		}
		r.out.Reach = append(r.out.Reach, reach)
	}
	if best < joinShare {
		return &Block{Route: f.ID, Reason: r.whyOutOfReach(f, vessel), Unreachable: unreachable}
	}
	if missing := lacks(vessel, f.anions); missing != "" {
		return &Block{Route: f.ID, Reason: fmt.Sprintf("the route works on a liquor with %s, and this one holds none", missing), Unreachable: allOf(f.Takes)}
	}
	return nil
}

// within is how much of a metal stands in forms that the route can get at, in
// mol.
func (f *File) within(s substance.Stream, metal string) float64 {
	within := 0.0
	for _, id := range f.reaches {
		within += s.Mol[id] * id.Species().Formula.Atoms(metal)
	}
	return within
}

// contained is what the lot held of a metal at the start, in mol.
func (r *run) contained(metal string) float64 { return r.job.Inventory.Vessel.Element(metal) }

func (r *run) whyOutOfReach(f *File, vessel substance.Stream) string {
	metal := f.Takes[0]
	if vessel.Element(metal) < joinShare*r.contained(metal) {
		return fmt.Sprintf("less than 1 %% of the %s is left for it", elementName(metal))
	}
	chloride := vessel.Mol[idAgCl]
	if metal == "Ag" && chloride > 0 {
		return fmt.Sprintf("the chloride has locked %s %% of the silver as AgCl; %s", percent(chloride/vessel.Element("Ag")), f.OutOfReach)
	}
	return fmt.Sprintf("none of the %s is in a form that this route can take: %s", elementName(metal), f.OutOfReach)
}

func lacks(s substance.Stream, anions []substance.SpeciesID) string {
	if len(anions) == 0 {
		return ""
	}
	names := make([]string, 0, len(anions))
	for _, id := range anions {
		if s.Mol[id] > traceMol(s) {
			return ""
		}
		names = append(names, id.Species().Title)
	}
	return strings.Join(names, " or ")
}

func allOf(metals []string) map[string]float64 {
	m := map[string]float64{}
	for _, metal := range metals {
		m[metal] = 1
	}
	return m
}

func elementName(symbol string) string {
	e, err := substance.ElementBySymbol(symbol)
	if err != nil {
		return symbol
	}
	return strings.ToLower(e.Name)
}

func percent(share float64) string {
	text := fmt.Sprintf("%.3g", 100*share)
	if share < 1 && text == "100" {
		return "over 99.9"
	}
	return text
}

// Basis lists the names of the inputs in a set, in order.
func Basis(figs *input.Figures, set input.Set) []string {
	var names []string
	for _, ref := range set.Refs() {
		names = append(names, figs.Get(ref).ID)
	}
	return names
}
