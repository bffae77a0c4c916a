package econ

import "math"

// Curve is figures against a quantity, for a screen to draw and a table to
// list. Every series has a point at each place of the X axis.
type Curve struct {
	Title   string
	X, Y    Axis
	Series  []Series
	Marks   []Mark   // in order of X
	Here    float64  // where the lot stands now on the X axis
	Notes   []string // what the curve leaves out, and where it is not to be trusted
	Sources []string // of the constants behind it
}

// Axis is what a curve is drawn against.
type Axis struct {
	Name, Unit string
	Log        bool // better read on a logarithmic scale
}

// Series is one line of a curve.
type Series struct {
	Name   string
	Points []Point
}

// Point is one place on a line. Y means nothing where Blocked says why there is
// none.
type Point struct {
	X, Y    float64
	Blocked string
}

// There reports that the point has a figure.
func (p Point) There() bool { return p.Blocked == "" }

// MarkKind is what a mark on a curve is about.
type MarkKind string

// The marks: where a plan begins or ceases to gain, where another series
// becomes the best, where a line is at its lowest, and a place that chemistry
// names.
const (
	BreakEven MarkKind = "break-even"
	TakesOver MarkKind = "takes over"
	Lowest    MarkKind = "lowest"
	Equal     MarkKind = "equal amounts"
)

// Mark is a place on a curve worth naming.
type Mark struct {
	X, Y float64
	Kind MarkKind
	Text string
}

// places are n places from one end of an axis to the other, even on its scale,
// with here among them if it lies between.
func places(from, to float64, n int, logarithmic bool, here float64) []float64 {
	list := make([]float64, 0, n+1)
	placed := false
	for i := range n {
		share := float64(i) / float64(n-1)
		x := from + (to-from)*share
		if logarithmic {
			x = from * math.Pow(to/from, share)
		}
		switch i {
		case 0:
			x = from
		case n - 1:
			x = to
		}
		if !placed && here >= from && here <= x {
			placed = true
			if x-here > 1e-9*(to-from) {
				list = append(list, here)
			}
		}
		list = append(list, x)
	}
	return list
}
