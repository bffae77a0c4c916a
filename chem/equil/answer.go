package equil

import "math"

// PH is -log10 of the hydrogen-ion activity of the last answer.
func (s *Solver) PH() float64 { return -s.ln[0] / math.Ln10 }

// IonicStrength is that of the last answer, mol/kg, ion pairs counted with
// their own charge.
func (s *Solver) IonicStrength() float64 { return s.ionic }

// Water is the free water of the last answer, kg.
func (s *Solver) Water() float64 { return s.water }

// NaOHAdded is the mol of sodium hydroxide that the fixed pH took; below 0 it
// is so much nitric acid.
func (s *Solver) NaOHAdded() float64 {
	if s.close >= 0 && s.sys.charge[s.close] < 0 {
		return -s.titrant
	}
	return s.titrant
}

// Dissolved is the mol of a component in all its dissolved species.
func (s *Solver) Dissolved(component int) float64 {
	sum := 0.0
	for _, j := range s.live {
		for k := s.sys.off[j]; k < s.sys.off[j+1]; k++ {
			if int(s.sys.idx[k]) == component {
				sum += s.sys.nu[k] * s.molal[j]
			}
		}
	}
	return sum * s.water
}

// Solid is the mol of a solid in the last answer.
func (s *Solver) Solid(k int) float64 { return s.amount[k] }

// Molality is that of a dissolved species in the last answer, mol/kg.
func (s *Solver) Molality(species int) float64 { return s.molal[species] }

// Activity is that of a component's master species in the last answer.
func (s *Solver) Activity(component int) float64 { return math.Exp(s.ln[component]) }

// place tells where the last answer lies.
func (s *Solver) place() place {
	at := place{
		celsius: s.kelvin - zeroCelsius, ionic: s.ionic, water: math.Exp(s.lnWater), ph: s.PH(),
	}
	sum, sodium, chloride := 0.0, 0.0, 0.0
	for c := 1; c < s.sys.components(); c++ {
		mol := s.Dissolved(c)
		sum += mol
		switch s.set.components[s.sys.component[c]].name {
		case "Na":
			sodium = mol
		case "Cl":
			chloride = mol
		}
	}
	at.salt = min(sodium, chloride)*2 > sum/2
	return at
}
