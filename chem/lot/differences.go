package lot

import (
	"math"

	"afterpour/chem/input"
)

// wiggle is one input as the differences see it.
type wiggle struct {
	ref       input.Ref
	sd        float64
	low, high float64
}

// wiggles are the figures that have a doubt.
func wiggles(figs *input.Figures, refs []input.Ref) []wiggle {
	out := make([]wiggle, 0, len(refs))
	for _, r := range refs {
		if d := figs.Get(r).Dist; d.SD > 0 {
			out = append(out, wiggle{ref: r, sd: d.SD, low: d.Low, high: d.High})
		}
	}
	return out
}

// differences holds, for every input and every result, how far one standard
// uncertainty of the input moves the result.
type differences struct {
	central []float64
	inputs  []wiggle
	moved   [][]float64 // [input][result]
}

// differ works the differences out:
//
//	Z_i = ½ [f(x_i + u_i) − f(x_i − u_i)]
//
// An interval that runs past the bounds of an input is cut there and the
// difference stretched accordingly. Source: JCGM 100:2008, 5.1.3, note 2.
func differ(v input.Values, inputs []wiggle, f func(input.Values) []float64) differences {
	d := differences{central: f(v), inputs: inputs, moved: make([][]float64, len(inputs))}
	at := append(input.Values(nil), v...)
	for i, w := range inputs {
		here := v.At(w.ref)
		high := math.Max(here, math.Min(here+w.sd, w.high))
		low := math.Min(here, math.Max(here-w.sd, w.low))
		row := make([]float64, len(d.central))
		if high > low {
			at[w.ref] = high
			up := f(at)
			at[w.ref] = low
			down := f(at)
			for j := range row {
				row[j] = (up[j] - down[j]) * w.sd / (high - low)
			}
		}
		at[w.ref] = here
		d.moved[i] = row
	}
	return d
}

// sd is the combined standard uncertainty of result j; never negative.
func (d differences) sd(j int) float64 {
	return d.sdWithout(j, nil)
}

// sdWithout is sd, leaving out the inputs that skip names.
func (d differences) sdWithout(j int, skip input.Set) float64 {
	sum := 0.0
	for i, w := range d.inputs {
		if skip == nil || !skip.Has(w.ref) {
			sum += d.moved[i][j] * d.moved[i][j]
		}
	}
	return math.Sqrt(sum)
}

// sdOfDifference is the standard uncertainty of result j less result k, which
// may share inputs.
func (d differences) sdOfDifference(j, k int) float64 {
	sum := 0.0
	for i := range d.inputs {
		x := d.moved[i][j] - d.moved[i][k]
		sum += x * x
	}
	return math.Sqrt(sum)
}

// rests are the inputs that move result j at all, in the order of the inputs.
func (d differences) rests(j int) []input.Ref {
	var refs []input.Ref
	for i, w := range d.inputs {
		if d.moved[i][j] != 0 {
			refs = append(refs, w.ref)
		}
	}
	return refs
}

// movers are the inputs that move result j, as a set.
func (d differences) movers(j int) input.Set { return input.Set{}.With(d.rests(j)...) }

// sdOfMean is the standard uncertainty of a weighted mean of results from
// first on, with what they share.
func (d differences) sdOfMean(first int, weights []float64) float64 {
	sum := 0.0
	for i := range d.inputs {
		x := 0.0
		for j, w := range weights {
			x += w * d.moved[i][first+j]
		}
		sum += x * x
	}
	return math.Sqrt(sum)
}
