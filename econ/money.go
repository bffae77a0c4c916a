package econ

import (
	"math"
	"strconv"
)

// Money is an amount in the book's one currency. Costs are positive; a net or
// a gain may have either sign. Amounts are compared with a tolerance and are
// rounded only for showing.
type Money float64

// Float returns the amount as a plain number of the book's currency.
func (m Money) Float() float64 { return float64(m) }

// IsFinite reports that the amount is neither NaN nor infinite.
func (m Money) IsFinite() bool {
	return !math.IsNaN(float64(m)) && !math.IsInf(float64(m), 0)
}

// Text writes the amount with two decimals, without currency; an amount that
// rounds to nothing has no sign.
func (m Money) Text() string {
	if math.Abs(float64(m)) < 0.005 {
		return "0.00"
	}
	return strconv.FormatFloat(float64(m), 'f', 2, 64)
}

// moneyTolerance is the difference below which two amounts count as equal: far
// under any smallest coin, far over the rounding of a sum of some hundred terms.
const moneyTolerance Money = 1e-9
