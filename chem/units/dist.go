package units

import (
	"errors"
	"fmt"
	"math"
)

// Shape is the form of a distribution.
type Shape uint8

// The shapes. Exact is a value without doubt.
const (
	Exact Shape = iota
	Normal
	Lognormal
	Triangular
	Uniform
)

// String returns the name of the shape.
func (s Shape) String() string {
	names := [...]string{"exact", "normal", "lognormal", "triangular", "uniform"}
	if int(s) < len(names) {
		return names[s]
	}
	return fmt.Sprintf("Shape(%d)", uint8(s))
}

// Dist is a value with its doubt, in the base unit of its kind.
//
// Mean and SD describe the distribution before it is bounded; Mode is the peak
// of a triangular one. Low and High bound what Quantile may give and are
// infinite where nothing does; they are the ends of a uniform or triangular
// distribution, or what Bounded made of them.
type Dist struct {
	Shape     Shape
	Mean, SD  float64
	Mode      float64
	Low, High float64
}

// Exactly returns the value v without doubt.
func Exactly(v float64) Dist {
	return Dist{Shape: Exact, Mean: v, Mode: v, Low: math.Inf(-1), High: math.Inf(1)}
}

// NormalDist returns a normal distribution; without doubt if sd is 0.
func NormalDist(mean, sd float64) Dist {
	d := Exactly(mean)
	if sd != 0 {
		d.Shape, d.SD = Normal, sd
	}
	return d
}

// UniformDist returns a uniform distribution between a and b. Its mean is
// (a+b)/2 and its standard deviation (b-a)/√12 (JCGM 100:2008, 4.3.7).
func UniformDist(a, b float64) Dist {
	if a > b {
		a, b = b, a
	}
	mean := a/2 + b/2
	if a == b {
		return Exactly(a)
	}
	return Dist{Shape: Uniform, Mean: mean, SD: (b/2 - a/2) / math.Sqrt(3), Mode: mean, Low: a, High: b}
}

// TriangularDist returns a triangular distribution from a over its peak at mode
// to b. Its mean is (a+m+b)/3 and its variance (a²+b²+m²-ab-am-bm)/18.
func TriangularDist(a, mode, b float64) Dist {
	if a > b {
		a, b = b, a
	}
	if a == b {
		return Exactly(a)
	}
	// Written in the differences from the peak, so that a large common offset
	// does not eat the digits of the variance.
	l, r := mode-a, b-mode
	variance := (l*l + r*r + l*r) / 18
	return Dist{Shape: Triangular, Mean: mode + (r-l)/3, SD: math.Sqrt(variance), Mode: mode, Low: a, High: b}
}

// LognormalDist returns the lognormal distribution whose own mean and standard
// deviation (not those of the logarithm) are mean > 0 and sd.
func LognormalDist(mean, sd float64) Dist {
	d := NormalDist(mean, sd)
	d.Low = 0
	if d.Shape == Normal {
		d.Shape = Lognormal
		d.Mode = mean / math.Pow(1+ratio(sd, mean)*ratio(sd, mean), 1.5)
	}
	return d
}

// Quantile returns the value below which the share p of the distribution lies,
// clipped to the bounds. p is taken into the open interval (0, 1), so the
// result is finite; for a uniformly drawn p it is a draw from the distribution.
func (d Dist) Quantile(p float64) float64 {
	const tail = 0x1p-53
	if !(p >= tail) {
		p = tail
	}
	p = math.Min(p, 1-tail)
	low, high := math.Max(d.Low, -math.MaxFloat64), math.Min(d.High, math.MaxFloat64)
	return math.Max(low, math.Min(high, d.unbounded(p)))
}

func (d Dist) unbounded(p float64) float64 {
	switch d.Shape {
	case Normal:
		return d.Mean + d.SD*standardNormal(p)
	case Lognormal:
		// σ² = ln(1+(SD/mean)²), µ = ln(mean)-σ²/2
		s2 := math.Log1p(ratio(d.SD, d.Mean) * ratio(d.SD, d.Mean))
		return d.Mean * math.Exp(math.Sqrt(s2)*standardNormal(p)-s2/2)
	case Triangular:
		return d.triangular(p)
	case Uniform:
		half := math.Sqrt(3) * d.SD
		return d.Mean + half*(2*p-1)
	default:
		return d.Mean
	}
}

// triangular inverts the distribution function from mean, standard deviation
// and mode alone, because Low and High may have been narrowed since.
func (d Dist) triangular(p float64) float64 {
	// With l = mode-a and r = b-mode: r-l = 3(mean-mode) = s and
	// l²+r²+lr = 18·SD², hence 3lr = 18·SD²-s².
	s := 3 * (d.Mean - d.Mode)
	lr := math.Max(0, (18*d.SD*d.SD-s*s)/3)
	sum := math.Sqrt(s*s + 4*lr)
	l, r := (sum-s)/2, (sum+s)/2
	if p*sum < l {
		return d.Mode - l + math.Sqrt(p*sum*l)
	}
	return d.Mode + r - math.Sqrt((1-p)*sum*r)
}

// standardNormal returns the quantile of the standard normal distribution,
// z = √2·erfc⁻¹(2(1-p)), from the side on which erfc keeps its digits.
func standardNormal(p float64) float64 {
	if p < 0.5 {
		return -math.Sqrt2 * math.Erfcinv(2*p)
	}
	return math.Sqrt2 * math.Erfcinv(2*(1-p))
}

// Bounded narrows the bounds to low and high; wider ones change nothing. Mean
// and SD are left as they are.
func (d Dist) Bounded(low, high float64) Dist {
	d.Low, d.High = math.Max(d.Low, low), math.Min(d.High, high)
	return d
}

// ErrDist is the kind of error that Check returns.
var ErrDist = errors.New("units: unusable distribution")

// Check reports a distribution from which no draw could be made: a value that
// is not finite, a negative doubt, bounds that leave nothing, or a lognormal
// one whose mean is not positive.
func (d Dist) Check() error {
	switch {
	case !finite(d.Mean, d.SD, d.Mode):
		return fmt.Errorf("%w: mean %g, standard deviation %g and mode %g must be finite", ErrDist, d.Mean, d.SD, d.Mode)
	case d.SD < 0:
		return fmt.Errorf("%w: standard deviation %g is negative", ErrDist, d.SD)
	case !(d.Low <= d.High) || math.IsInf(d.Low, 1) || math.IsInf(d.High, -1):
		return fmt.Errorf("%w: nothing lies between the bounds %g and %g", ErrDist, d.Low, d.High)
	case !(d.Mean >= d.Low && d.Mean <= d.High):
		return fmt.Errorf("%w: mean %g lies outside the bounds %g to %g", ErrDist, d.Mean, d.Low, d.High)
	case d.Shape == Lognormal && !(d.Mean > 0):
		return fmt.Errorf("%w: the mean %g of a lognormal distribution must be positive", ErrDist, d.Mean)
	case d.Shape > Uniform:
		return fmt.Errorf("%w: %v", ErrDist, d.Shape)
	}
	return nil
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
