package units

// dimension holds the exponents of the base units kg, m, s, A, K, mol and
// piece. The piece is kept like a base unit so that a price for each is not
// mistaken for a plain number.
type dimension [7]int8

var (
	dimMass        = dimension{0: 1}
	dimLength      = dimension{1: 1}
	dimTime        = dimension{2: 1}
	dimCurrent     = dimension{3: 1}
	dimTemperature = dimension{4: 1}
	dimAmount      = dimension{5: 1}
	dimCount       = dimension{6: 1}

	dimArea      = dimLength.power(2)
	dimVolume    = dimLength.power(3)
	dimCharge    = dimCurrent.times(dimTime, 1)
	dimEnergy    = dimMass.times(dimLength, 2).times(dimTime, -2)
	dimPower     = dimEnergy.times(dimTime, -1)
	dimPotential = dimPower.times(dimCurrent, -1)
)

// times returns the dimension of d·o^n.
func (d dimension) times(o dimension, n int8) dimension {
	for i := range d {
		d[i] += o[i] * n
	}
	return d
}

func (d dimension) power(n int8) dimension { return dimension{}.times(d, n) }

// scale is a conversion factor to coherent SI units, kept as a fraction so that
// a factor such as 1/1000 costs one rounding and not two.
type scale struct{ num, den float64 }

var unity = scale{1, 1}

// times returns s·o^n.
func (s scale) times(o scale, n int8) scale {
	for ; n > 0; n-- {
		s.num, s.den = s.num*o.num, s.den*o.den
	}
	for ; n < 0; n++ {
		s.num, s.den = s.num*o.den, s.den*o.num
	}
	return s
}

// convert returns v·s.
func (s scale) convert(v float64) float64 {
	if s.num >= s.den {
		return v * (s.num / s.den)
	}
	return v / (s.den / s.num)
}
