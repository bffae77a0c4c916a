package equil

import (
	"fmt"
	"strings"
)

// warnings says where an answer lies outside what its constants hold for.
func (s *Set) warnings(p Problem, r Result) []string {
	warnings := s.rangeWarnings(place{
		celsius: p.TemperatureC, ionic: r.IonicStrength, water: r.WaterActivity, ph: r.PH, salt: mostlySodiumChloride(r),
	})
	totals, err := s.gather(p)
	if err != nil {
		return warnings
	}
	for _, gap := range s.definition.Gaps {
		if gap.met(totals) {
			warnings = append(warnings, fmt.Sprintf("%s with %s: this set %s",
				gap.Components[0], strings.Join(gap.Components[1:], " and "), gap.Reason))
		}
	}
	return append(warnings, titrantWarnings(p, r)...)
}

// place is what decides whether an answer lies within a set's ranges.
type place struct {
	celsius, ionic, water, ph float64
	salt                      bool // sodium chloride makes up most of it
}

// rangeWarnings compares temperature, ionic strength and water activity with
// the ranges the set is published for.
func (s *Set) rangeWarnings(at place) []string {
	if s.kind == idealActivity {
		return nil
	}
	var warnings []string
	limit := s.definition.Range
	most := limit.IonicStrength
	if limit.ChlorideIonicStrength > most && at.salt {
		most = limit.ChlorideIonicStrength
	}
	if at.ionic > most {
		warnings = append(warnings, fmt.Sprintf(
			"ionic strength %.2g mol/kg is beyond the %.2g that the activity model is good for", at.ionic, most))
	}
	if at.celsius < limit.TemperatureC[0]-1e-9 || at.celsius > limit.TemperatureC[1]+1e-9 {
		warnings = append(warnings, fmt.Sprintf("%.4g degC is outside the %.4g to %.4g degC of the constants",
			at.celsius, limit.TemperatureC[0], limit.TemperatureC[1]))
	}
	if at.water <= lowestWaterActivity*(1+1e-9) || at.ionic > highestIonicStrength {
		warnings = append(warnings, "so concentrated that the activity equations have been held at their limit")
	}
	if at.ph < 0 || at.ph > 14 {
		warnings = append(warnings, fmt.Sprintf("pH %.2f is an activity beyond what can be measured", at.ph))
	}
	return warnings
}

// mostlySodiumChloride reports whether sodium and chloride make up more than
// half of the dissolved ions.
func mostlySodiumChloride(r Result) bool {
	sum := 0.0
	for _, mol := range r.DissolvedMol {
		sum += mol
	}
	return min(r.DissolvedMol["Na"], r.DissolvedMol["Cl"])*2 > sum/2
}

func titrantWarnings(p Problem, r Result) []string {
	if p.FixedPH && r.NaOHAddedMol < 0 {
		return []string{fmt.Sprintf(
			"pH %.4g lies below that of the mixture: %.4g mol of nitric acid is added instead of sodium hydroxide", p.PH, -r.NaOHAddedMol)}
	}
	return nil
}
