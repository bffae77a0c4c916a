package data

import "sync"

// AirLimit is a row of air-limits.toml: a published limit of a substance in workplace air.
type AirLimit struct {
	Substance string  `toml:"substance"` // species of a gas, or an element symbol for dust and fume
	Kind      string  `toml:"kind"`      // see the Kind constants below
	Value     float64 `toml:"value"`
	Unit      string  `toml:"unit"` // "ppm" or "mg/m3"
	Body      string  `toml:"body"`
	Year      string  `toml:"year"`
	Row
}

// The kinds of air limits.
const (
	Ceiling         = "ceiling"
	ShortTerm       = "short term"
	EightHours      = "8 h"
	Flammable       = "flammable"
	ImmediateDanger = "immediate danger"
)

// AirLimits returns the limits of substances in workplace air.
func AirLimits() ([]AirLimit, error) { return airLimits() }

var airLimits = sync.OnceValues(func() ([]AirLimit, error) {
	return rows[AirLimit]("air-limits.toml")
})

func (l AirLimit) check() error {
	ok := named(l.Substance, l.Body) && positive(l.Value) && (l.Unit == "ppm" || l.Unit == "mg/m3")
	switch l.Kind {
	case Ceiling, ShortTerm, EightHours, Flammable, ImmediateDanger:
	default:
		ok = false
	}
	return wrong(ok, "air limit of %q, kind %q", l.Substance, l.Kind)
}

// WasteLimit is a row of waste-limits.toml: when a liquor is hazardous waste, and what may go to a sewer.
type WasteLimit struct {
	ID      string  `toml:"id"`
	Kind    string  `toml:"kind"`
	Element string  `toml:"element"` // symbol, or "" for a limit of pH
	Value   float64 `toml:"value"`
	Unit    string  `toml:"unit"` // "mg/L" or "pH"
	Code    string  `toml:"code"`
	Row
}

// WasteLimits returns the limits of liquors as waste.
func WasteLimits() ([]WasteLimit, error) { return wasteLimits() }

var wasteLimits = sync.OnceValues(func() ([]WasteLimit, error) {
	return rows[WasteLimit]("waste-limits.toml")
})

func (l WasteLimit) check() error {
	ok := named(l.ID, l.Kind) && positive(l.Value) && (l.Unit == "mg/L" && l.Element != "" || l.Unit == "pH" && l.Element == "")
	return wrong(ok, "waste limit %q", l.ID)
}
