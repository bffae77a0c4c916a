package econ

import (
	"math"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// moved returns a figure as if its value had been another, in the base unit of
// its kind. What is counted from a natural zero keeps its doubt in per cent; a
// share, a temperature and a plain number such as a pH keep it as it is. The
// value stays within the bounds of the figure.
func moved(fig input.Figure, value float64) input.Figure {
	d := fig.Dist
	value = math.Min(math.Max(value, lowest(fig)), highest(fig))
	was := asText(fig)
	fig.Dist = stretched(d, value, stretch(fig, value))
	fig.Text = units.FormatDist(fig.Kind, fig.Dist)
	fig.Source = joinedText("what if; in the file "+was, fig.Source)
	return fig
}

// asText is a figure as typed, or with the value that was taken.
func asText(fig input.Figure) string {
	if fig.Text != "" {
		return fig.Text
	}
	return units.FormatDist(fig.Kind, fig.Dist)
}

func joinedText(a, b string) string {
	if b == "" {
		return a
	}
	return a + "; " + b
}

// fromZero tells whether a kind is counted from a natural zero, so that its
// doubt grows with it.
func fromZero(fig input.Figure) bool {
	switch fig.Kind {
	case units.Fraction, units.TemperatureKind, units.PotentialKind:
		return false
	case units.Number:
		return fig.Origin == input.PriceBook // a fee is money, a pH is not
	}
	return true
}

// lowest and highest bound what a figure can be moved to. The ends of a range
// that somebody gave are no bounds: to leave it is the question.
func lowest(fig input.Figure) float64 {
	switch {
	case fig.Kind == units.PotentialKind, fig.Kind == units.Number && fig.Origin != input.PriceBook:
		if fig.Dist.Shape == units.Normal && fig.Dist.Low > math.Inf(-1) {
			return fig.Dist.Low
		}
		return math.Inf(-1)
	}
	return 0
}

func highest(fig input.Figure) float64 {
	switch {
	case fig.Kind == units.Fraction:
		return 1
	case fig.Dist.Shape == units.Normal && fig.Dist.High < math.Inf(1):
		return fig.Dist.High
	}
	return largestPrice
}

// stretch is by how much the doubt grows when the value moves.
func stretch(fig input.Figure, value float64) float64 {
	if !fromZero(fig) || !(fig.Dist.Mean > 0) {
		return 1
	}
	return value / fig.Dist.Mean
}

// stretched returns the distribution around another mean, its spread times by.
// Ends that a uniform or triangular one has are moved along, and drawn in where
// a spread around zero would make them cross it.
func stretched(d units.Dist, value, by float64) units.Dist {
	sd := d.SD * by
	switch {
	case !(sd > 0):
		return units.Exactly(value)
	case d.Shape == units.Lognormal:
		if !(value > 0) {
			return units.Exactly(value)
		}
		return units.LognormalDist(value, sd).Bounded(d.Low, d.High)
	case d.Shape == units.Uniform:
		half := math.Sqrt(3) * sd
		if value >= 0 && d.Mean-math.Sqrt(3)*d.SD >= 0 {
			half = math.Min(half, value)
		}
		return units.UniformDist(value-half, value+half)
	case d.Shape == units.Triangular:
		a, b := triangle(d)
		return units.TriangularDist(value+(a-d.Mean)*by, value+(d.Mode-d.Mean)*by, value+(b-d.Mean)*by)
	}
	return units.NormalDist(value, sd).Bounded(d.Low, d.High)
}

// triangle returns the ends of a triangular distribution, which may have been
// narrowed since, from its mean, mode and standard deviation.
func triangle(d units.Dist) (low, high float64) {
	s := 3 * (d.Mean - d.Mode)
	lr := math.Max(0, (18*d.SD*d.SD-s*s)/3)
	sum := math.Sqrt(s*s + 4*lr)
	return d.Mode - (sum-s)/2, d.Mode + (sum+s)/2
}
