package substance

import (
	"errors"
	"fmt"

	"afterpour/chem/data"
)

// ErrNoAirLimit says that no limit in workplace air is known for a gas.
var ErrNoAirLimit = errors.New("no air limit is known")

// AirLimit is the limit that a gas in workplace air is held to.
type AirLimit struct {
	Gas       SpeciesID // that was asked for
	CountedAs SpeciesID // the gas whose limit this is: NO turns to NO2 in air and is counted so
	PPM       float64   // parts per million by volume
	Kind      string    // data.Ceiling, data.ShortTerm, data.EightHours, data.Flammable
	Body      string    // who set it
	Year      string    // of the figure, "" if unknown
	Source    data.Row
}

// countedAs lists gases that are held to the limit of what they become in air.
var countedAs = map[string]string{"NO(g)": "NO2(g)"}

// AirLimitOf returns the lowest short-term or ceiling limit of a gas ("NO2", "NO2(g)"), or its lowest other limit where
// there is none. NO counts as NO2. Errors: an unknown species, ErrNoAirLimit.
func AirLimitOf(gas string) (AirLimit, error) {
	id, err := Find(gas)
	if err != nil {
		return AirLimit{}, err
	}
	if id.Species().Phase != Gas {
		if id, err = Find(id.Species().Formula.withPhase(Gas).String()); err != nil {
			return AirLimit{}, err
		}
	}
	as := id
	if other := countedAs[id.Species().Name]; other != "" {
		as = MustFind(other)
	}
	rows, err := data.AirLimits()
	if err != nil {
		return AirLimit{}, err
	}
	best, found := AirLimit{Gas: id, CountedAs: as}, false
	for _, row := range rows {
		if row.Substance != as.Species().Name || row.Kind == data.ImmediateDanger {
			continue
		}
		ppm := partsPerMillion(row, as)
		if !found || rank(row.Kind) < rank(best.Kind) || rank(row.Kind) == rank(best.Kind) && ppm < best.PPM {
			best.PPM, best.Kind, best.Body, best.Year, best.Source = ppm, row.Kind, row.Body, row.Year, row.Row
			found = true
		}
	}
	if !found {
		return AirLimit{}, fmt.Errorf("substance: %w: %s", ErrNoAirLimit, id.Species().Title)
	}
	return best, nil
}

// rank puts limits that protect within minutes before those of a whole shift.
func rank(kind string) int {
	if kind == data.Ceiling || kind == data.ShortTerm {
		return 0
	}
	return 1
}

// litresPerMole is the volume of a mole of an ideal gas at 25 degC and 1 atm: RT/p.
const litresPerMole = 1000 * data.GasConstant * (25 + data.ZeroCelsius) / data.Atmosphere

// partsPerMillion turns a limit of mg/m3 into ppm by volume.
func partsPerMillion(row data.AirLimit, gas SpeciesID) float64 {
	if row.Unit == "ppm" {
		return row.Value
	}
	return row.Value * litresPerMole / float64(gas.Species().MolarMass)
}
