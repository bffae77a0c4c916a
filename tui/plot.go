package tui

import (
	"math"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

// scale is one axis of a plot: from low to high over so many cells.
type scale struct {
	low, high float64
	log       bool
	cells     int
}

// mostDecades is how far down a logarithmic axis goes below its highest figure:
// what is less than a hundred-millionth of the rest is not there at the bench.
const mostDecades = 8

// position is a value on the axis, 0 to 1 if it lies within.
func (s scale) position(v float64) float64 {
	if s.log {
		return (math.Log10(v) - math.Log10(s.low)) / (math.Log10(s.high) - math.Log10(s.low))
	}
	return (v - s.low) / (s.high - s.low)
}

// value is what stands at a position.
func (s scale) value(position float64) float64 {
	if s.log {
		return math.Pow(10, math.Log10(s.low)+position*(math.Log10(s.high)-math.Log10(s.low)))
	}
	return s.low + position*(s.high-s.low)
}

// at is the cell of a value; false where it lies outside the axis.
func (s scale) at(v float64) (int, bool) {
	if s.log && !(v > 0) {
		return 0, false
	}
	p := s.position(v)
	if !(p >= -1e-9 && p <= 1+1e-9) {
		return 0, false
	}
	return min(max(0, int(math.Round(p*float64(s.cells-1)))), s.cells-1), true
}

// scaleOf spans some values. A logarithmic one leaves out what is not positive
// and what is too far below the highest.
func scaleOf(values []float64, logarithmic bool, cells int) scale {
	s := scale{low: math.Inf(1), high: math.Inf(-1), log: logarithmic, cells: cells}
	for _, v := range values {
		if !logarithmic || v > 0 {
			s.low, s.high = math.Min(s.low, v), math.Max(s.high, v)
		}
	}
	switch {
	case !(s.high >= s.low):
		return scale{low: 1, high: 10, log: logarithmic, cells: cells}
	case logarithmic:
		s.low = math.Max(s.low, s.high*math.Pow(10, -mostDecades))
		if !(s.high > s.low) {
			s.low, s.high = s.low/2, s.high*2
		}
	case !(s.high > s.low):
		s.low, s.high = s.low-1, s.high+1
	}
	return s
}

// axes are the two scales of a curve.
func axes(c *econ.Curve, width, height int) (x, y scale) {
	var xs, ys []float64
	for i := range c.Series {
		for _, p := range c.Series[i].Points {
			xs = append(xs, p.X)
			if p.There() {
				ys = append(ys, p.Y)
			}
		}
	}
	return scaleOf(xs, c.X.Log, width), scaleOf(ys, c.Y.Log, height)
}

// yLabel is the room for the figures beside the upright axis.
const yLabel = 9

// plot draws a curve: its title above the upright axis, one letter for each
// series, where the lot stands, the marks below the level axis.
func (l look) plot(c *econ.Curve, width, height int) []line {
	across := min(width-yLabel-3, 100)
	x, y := axes(c, across, height-4)
	cells := make([][]span, y.cells)
	for i := range cells {
		cells[i] = make([]span, across)
		for j := range cells[i] {
			cells[i][j] = span{plain, " "}
		}
	}
	if row, in := y.at(0); in && !y.log && y.low < 0 {
		for j := range cells[row] {
			cells[row][j] = span{muted, l.signs.between}
		}
	}
	if j, in := x.at(c.Here); in && c.Here != 0 {
		for i := range cells {
			cells[i][j] = span{muted, l.signs.baseline}
		}
	}
	for i := len(c.Series) - 1; i >= 0; i-- {
		l.trace(cells, x, y, &c.Series[i], seriesMark(i))
	}
	lines := []line{text(muted, axisTitle(c.Y))}
	for i := y.cells - 1; i >= 0; i-- {
		label := ""
		if i == 0 || i == y.cells-1 || i == y.cells/2 {
			label = significant(y.value(float64(i)/float64(y.cells-1)), 3)
		}
		lines = append(lines, text(muted, pad(label, yLabel, true)+" "+l.signs.wall).join(line{spans: merged(cells[i])}))
	}
	return append(lines, l.levelAxis(c, x)...)
}

// trace draws one series, straight between its points on the scales drawn.
func (l look) trace(cells [][]span, x, y scale, s *econ.Series, mark string) {
	put := func(column int, value float64) {
		if row, in := y.at(value); in {
			cells[row][column] = span{accent, mark}
		}
	}
	for i, p := range s.Points {
		column, in := x.at(p.X)
		if !in || !p.There() {
			continue
		}
		put(column, p.Y)
		if i+1 == len(s.Points) || !s.Points[i+1].There() {
			continue
		}
		next := s.Points[i+1]
		end, _ := x.at(next.X)
		for j := column + 1; j < end; j++ {
			share := float64(j-column) / float64(end-column)
			if y.log && p.Y > 0 && next.Y > 0 {
				put(j, p.Y*math.Pow(next.Y/p.Y, share))
			} else if !y.log {
				put(j, p.Y+(next.Y-p.Y)*share)
			}
		}
	}
}

// levelAxis is the axis below a plot: the marks on it, its figures, its name.
func (l look) levelAxis(c *econ.Curve, x scale) []line {
	row := strings.Split(strings.Repeat(l.signs.rule+"\n", x.cells), "\n")[:x.cells]
	for _, m := range c.Marks {
		if j, in := x.at(m.X); in {
			row[j] = l.signs.turn
		}
	}
	middle := significant(x.value(0.5), 3)
	first, last := significant(x.low, 3), significant(x.high, 3)
	gap := func(n int) string { return strings.Repeat(" ", max(1, n)) }
	left := x.cells/2 - ansi.StringWidth(first) - ansi.StringWidth(middle)/2
	figures := first + gap(left) + middle
	figures += gap(x.cells-ansi.StringWidth(figures)-ansi.StringWidth(last)) + last
	lead := strings.Repeat(" ", yLabel+2)
	name := axisTitle(c.X)
	if c.X.Log {
		name += " (logarithmic)"
	}
	if c.Here != 0 {
		name += "   " + l.signs.baseline + " as it stands"
	}
	if len(c.Marks) > 0 {
		name += "   " + l.signs.turn + " see below"
	}
	return []line{
		text(muted, strings.Repeat(" ", yLabel+1)+l.signs.corners[0]+strings.Join(row, "")),
		text(muted, lead+figures),
		text(muted, lead+name),
	}
}
