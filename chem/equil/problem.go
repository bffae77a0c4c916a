package equil

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// Problem is an equilibrium to be found: what is put into 1 kg of water, the
// temperature, and how the pH comes about.
//
// Totals are mol of ions (ammonia as the neutral molecule); H+ or OH- makes up
// the charge, so {"Cl": 1} is 1 mol of hydrochloric acid and {"Na": 1} 1 mol of
// sodium hydroxide.
type Problem struct {
	TemperatureC float64
	Total        map[string]float64 // component -> mol
	SolidAdded   map[string]float64 // solid -> mol, besides the totals
	Allowed      []string           // the only solids that may stand
	FixedPH      bool               // PH is reached by adding NaOH, or HNO3 where that takes acid
	PH           float64
}

// Result is the answer to a Problem. Amounts are mol in the whole system;
// divided by WaterKg they are molalities.
type Result struct {
	Set           string             `json:"set"`
	Converged     bool               `json:"converged"`
	PH            float64            `json:"ph"`             // -log10 of the hydrogen-ion activity
	IonicStrength float64            `json:"ionic_strength"` // mol/kg, ion pairs counted with their own charge
	WaterKg       float64            `json:"water_kg"`       // free water, made or used up
	WaterActivity float64            `json:"water_activity"`
	NaOHAddedMol  float64            `json:"naoh_added_mol"` // below 0: so much nitric acid instead
	DissolvedMol  map[string]float64 `json:"dissolved_mol"`  // by component
	SolidsMol     map[string]float64 `json:"solids_mol"`     // by solid allowed
	SpeciesMol    map[string]float64 `json:"species_mol"`    // by dissolved species
	Saturation    map[string]float64 `json:"saturation_index"`
	Warnings      []string           `json:"warnings"`
	Residual      float64            `json:"residual"`   // largest balance error, relative to its terms
	Iterations    int                `json:"iterations"` // Newton steps
}

// coldest and hottest bound the temperatures that are taken at all, in degC.
const (
	coldest = -20.0
	hottest = 150.0
)

// Solve finds the equilibrium.
//
// Errors wrap ErrUnsupported where the set lacks a component, a solid or the
// species of a combination, and ErrNotConverged where no equilibrium was
// found; with the latter the result says how far the search came, and its
// figures are not an answer.
func (s *Set) Solve(p Problem) (Result, error) {
	solver, question, err := s.prepare(p)
	if err != nil {
		return Result{}, err
	}
	st, err := solver.Solve(question)
	if err != nil {
		return Result{}, err
	}
	result := solver.result(st)
	result.Warnings = append(result.Warnings, s.warnings(p, result)...)
	if !st.Converged {
		return result, fmt.Errorf("equil: %s: %w after %d steps, residual %.1e",
			s.Name(), ErrNotConverged, st.Iterations, st.Residual)
	}
	return result, nil
}

// prepare turns a problem into a solver and its question.
func (s *Set) prepare(p Problem) (*Solver, Question, error) {
	if !(p.TemperatureC >= coldest && p.TemperatureC <= hottest) {
		return nil, Question{}, fmt.Errorf("equil: %g degC is outside %g to %g", p.TemperatureC, coldest, hottest)
	}
	totals, err := s.gather(p)
	if err != nil {
		return nil, Question{}, err
	}
	if err := s.checkGaps(totals); err != nil {
		return nil, Question{}, err
	}
	solver, err := NewSolver(s, sortedKeys(totals), p.Allowed)
	if err != nil {
		return nil, Question{}, err
	}
	solver.SetTemperature(p.TemperatureC + zeroCelsius)
	q := Question{FixedPH: p.FixedPH, PH: p.PH, Totals: make([]float64, solver.sys.components())}
	for i, name := range solver.Components() {
		q.Totals[i] = totals[name]
	}
	q.Totals[0] = 0
	q.Solids = make([]float64, solver.sys.solids())
	for i, name := range solver.Solids() {
		q.Solids[i] = p.SolidAdded[name]
	}
	return solver, q, nil
}

// gather lists every component that a problem brings in, with the totals given
// for it. Solids put in that may not stand are taken as dissolved.
func (s *Set) gather(p Problem) (map[string]float64, error) {
	totals := map[string]float64{}
	for _, name := range sortedKeys(p.Total) {
		mol := p.Total[name]
		switch {
		case name == hydrogen:
			return nil, fmt.Errorf("equil: total %s: hydrogen follows from the charge balance and is not given", name)
		case s.componentIndex(name) < 0:
			return nil, fmt.Errorf("equil: component %s: %w (%s)", name, ErrUnsupported, s.Name())
		case !(mol >= 0) || math.IsInf(mol, 0):
			return nil, fmt.Errorf("equil: total %s: %g mol is not an amount", name, mol)
		case mol > 0:
			totals[name] += mol
		}
	}
	for _, name := range sortedKeys(p.SolidAdded) {
		k := s.solidIndex(name)
		if k < 0 {
			return nil, fmt.Errorf("equil: solid %s: %w (%s)", name, ErrUnsupported, s.Name())
		}
		mol := p.SolidAdded[name]
		if !(mol >= 0) || math.IsInf(mol, 0) {
			return nil, fmt.Errorf("equil: solid %s: %g mol is not an amount", name, mol)
		}
		if !slices.Contains(p.Allowed, name) {
			return nil, fmt.Errorf("equil: solid %s is put in but is not among the solids allowed", name)
		}
		for _, part := range s.solids[k].parts {
			if part.component != 0 && mol > 0 {
				totals[s.components[part.component].name] += 0
			}
		}
	}
	if p.FixedPH {
		for _, name := range []string{"Na", "NO3"} {
			totals[name] += 0
		}
	}
	return totals, nil
}

// checkGaps refuses combinations that the set holds nothing for.
func (s *Set) checkGaps(totals map[string]float64) error {
	for _, gap := range s.definition.Gaps {
		if gap.Refuse && gap.met(totals) {
			return fmt.Errorf("equil: %w: %s %s", ErrUnsupported, s.Name(), gap.Reason)
		}
	}
	return nil
}

func (g Gap) met(totals map[string]float64) bool {
	for _, name := range g.Components {
		if _, ok := totals[name]; !ok {
			return false
		}
	}
	return true
}

// result reads the solver's state.
func (s *Solver) result(st Status) Result {
	r := Result{
		Set: s.set.Name(), Converged: st.Converged, Residual: st.Residual, Iterations: st.Iterations,
		PH: s.PH(), IonicStrength: s.ionic, WaterKg: s.water, WaterActivity: math.Exp(s.lnWater),
		NaOHAddedMol: s.NaOHAdded(),
		DissolvedMol: map[string]float64{}, SolidsMol: map[string]float64{}, SpeciesMol: map[string]float64{},
		Saturation: map[string]float64{}, Warnings: []string{},
	}
	for i, name := range s.Species() {
		if mol := s.molal[i] * s.water; mol > 0 {
			r.SpeciesMol[name] = mol
		}
	}
	for i, name := range s.Components() {
		if i > 0 && s.present&(1<<i) != 0 {
			r.DissolvedMol[name] = s.Dissolved(i)
		}
	}
	for k, name := range s.Solids() {
		r.SolidsMol[name] = s.amount[k]
		if s.possible(k) {
			r.Saturation[name] = s.lnSaturation(k) / math.Ln10
		}
	}
	r.keepFinite()
	return r
}

// keepFinite takes out figures that are not: an answer that was not reached
// must not carry NaN any further.
func (r *Result) keepFinite() {
	for _, m := range []map[string]float64{r.SpeciesMol, r.DissolvedMol, r.SolidsMol, r.Saturation} {
		for k, v := range m {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				delete(m, k)
			}
		}
	}
	for _, v := range []*float64{&r.PH, &r.IonicStrength, &r.WaterKg, &r.WaterActivity, &r.NaOHAddedMol, &r.Residual} {
		if math.IsNaN(*v) || math.IsInf(*v, 0) {
			*v = 0
			r.Converged = false
		}
	}
}

func sortedKeys(m map[string]float64) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
