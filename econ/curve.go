package econ

import "math"

// Curve is figures against a quantity, for a screen to draw and a table to
// list. Every series has a point at each place of the X axis.
type Curve struct {
	Title   string   `json:"title"`
	X       Axis     `json:"x"`
	Y       Axis     `json:"y"`
	Series  []Series `json:"series"`
	Marks   []Mark   `json:"marks"`   // in order of X
	Here    float64  `json:"here"`    // where the lot stands now on the X axis; 0 of a reagent not yet put in
	Notes   []string `json:"notes"`   // what the curve leaves out, and where it is not to be trusted
	Sources []string `json:"sources"` // of the constants behind it
}

// Axis is what a curve is drawn against.
type Axis struct {
	Name string `json:"name"`
	Unit string `json:"unit"` // "" for a pH
	Log  bool   `json:"log"`  // better read on a logarithmic scale
}

// Series is one line of a curve.
type Series struct {
	Name   string  `json:"name"`
	Points []Point `json:"points"`
}

// Point is one place on a line. Y means nothing where Blocked says why there is
// none.
type Point struct {
	X       float64 `json:"x"`
	Y       float64 `json:"y"`
	Blocked string  `json:"blocked"`
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
	X    float64  `json:"x"`
	Y    float64  `json:"y"`
	Kind MarkKind `json:"kind"`
	Text string   `json:"text"`
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
