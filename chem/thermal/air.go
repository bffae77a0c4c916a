package thermal

import (
	"math"

	"afterpour/chem/units"
)

// Room is the air around the bench.
type Room struct {
	Volume     units.Volume
	AirChanges float64    // a hour, of the room itself
	Extraction units.Flow // that leaves the building, on top of the air changes
	Captured   float64    // share of the gas that the extraction takes at its source
	Mixing     float64    // how much worse the air at the bench is than the mean: 1 to 10
}

// NewRoom returns a room with the captured share of an enclosure of the usual
// opening (FigureByID "hood-opening") and the usual mixing factor of 3.
// ErrDomain as for RoomConcentration.
func NewRoom(v units.Volume, airChanges float64, extraction units.Flow) (Room, error) {
	opening := units.Area(loaded().figures["hood-opening"].Value)
	captured, err := HoodCapture(extraction, opening)
	if err != nil {
		return Room{}, err
	}
	r := Room{v, airChanges, extraction, captured, loaded().figures["mixing"].Value}
	return r, r.check("NewRoom")
}

func (r Room) check(name string) error {
	return demand(name, positive("room", float64(r.Volume)), notNegative("air changes", r.AirChanges),
		notNegative("extraction", float64(r.Extraction)), share("captured share", r.Captured),
		within("mixing", r.Mixing, 1, 10))
}

// airFlow returns the air that leaves the room in m3/h.
func (r Room) airFlow() float64 {
	return r.AirChanges*r.Volume.CubicMetres() + r.Extraction.CubicMetresPerHour()
}

// RoomConcentration returns the highest share in ppm that a gas reaches at the
// bench if it comes off evenly over a time.
//
//	C = K·(1 − s)·(n·V_m/t)/Q·(1 − exp(−Q·t/V)),  K·(1 − s)·n·V_m/V for Q = 0
//
// with the air flow Q (air changes and extraction), the captured share s and
// the mixing factor K; never more than a million. It is a well-mixed box with K
// for the worse air at the bench. ErrDomain for an amount below 0, a time not
// above 0, a room that cannot be, or a temperature not above 0 K.
//
// Source: dilution ventilation, ACGIH Industrial Ventilation, from memory.
func RoomConcentration(n units.Amount, over units.Hours, r Room, t units.Temperature) (float64, error) {
	const name = "RoomConcentration"
	if err := demand(name, notNegative("amount", float64(n)), positive("time", float64(over))); err != nil {
		return 0, err
	}
	if err := r.check(name); err != nil {
		return 0, err
	}
	gas, err := GasVolume(n, t)
	if err != nil {
		return 0, err
	}
	changes := r.airFlow() / r.Volume.CubicMetres() * float64(over) // over the whole time
	held := 1.0                                                     // share still in the room at the end
	if changes > 1e-9 {
		held = -math.Expm1(-changes) / changes
	}
	c, err := result(name, r.Mixing*(1-r.Captured)*float64(gas/r.Volume)*held*1e6)
	return min(c, 1e6), err
}

// ClearingTime returns how long a room's air takes to fall from one share to
// another after the source has stopped.
//
//	t = V/Q·ln(from/to)
//
// Nothing to do takes no time. ErrDomain for shares not above 0, or a room
// without air flow.
func ClearingTime(fromPPM, toPPM float64, r Room) (units.Hours, error) {
	const name = "ClearingTime"
	if err := r.check(name); err != nil {
		return 0, err
	}
	if err := demand(name, positive("first share", fromPPM), positive("last share", toPPM),
		positive("air flow", r.airFlow())); err != nil {
		return 0, err
	}
	t, err := result(name, max(0, r.Volume.CubicMetres()/r.airFlow()*math.Log(fromPPM/toPPM)))
	return units.Hours(t), err
}

// HoodCapture returns the share of a gas that extraction takes at its source
// through an opening of the area given.
//
//	share = 0.99·min(1, Q/(3600·A·0.5 m/s))
//
// A face velocity of 0.5 m/s or more holds the gas but for a hundredth; below
// it the share falls in proportion, an assumption; no extraction captures
// nothing. ErrDomain for a flow below 0 or an opening not above 0.
//
// Source: face velocity from ACGIH Industrial Ventilation (common practice).
func HoodCapture(q units.Flow, opening units.Area) (float64, error) {
	if err := demand("HoodCapture", notNegative("extraction", float64(q)), positive("opening", float64(opening))); err != nil {
		return 0, err
	}
	f := loaded().figures
	face := q.CubicMetresPerHour() / 3600 / opening.SquareMetres()
	return f["best-capture"].Value * min(1, face/f["face-velocity"].Value), nil
}
