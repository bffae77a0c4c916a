package tui

import (
	"math"
	"strings"

	"afterpour/chem/lot"
)

// vesselWidth is the width of the drawing with its scale.
const vesselWidth = 14

// inside is the width of the vessel between its walls.
const inside = 7

// drawVessel draws the vessel with its liquor to the scale at its side, like a
// graduated jar: what is in it and how much, before any figure is read.
func (l look) drawVessel(r *lot.Report, height int) []line {
	rows := min(max(4, height-6), 16)
	size := jarSize(r.Volume.Litres())
	level := int(math.Round(r.Volume.Litres() / size * float64(rows)))
	if r.Volume > 0 {
		level = max(1, level)
	}
	var lines []line
	for row := rows; row >= 1; row-- {
		lines = append(lines, l.jarRow(row, rows, level, size))
	}
	s := l.signs
	lines = append(lines, text(muted, "   0 ").with(muted, s.corners[0]+strings.Repeat(s.floor, inside)+s.corners[1]))
	lines = append(lines, text(muted, "   L"), text(plain, ""))
	return append(lines, text(liquor, s.liquor+" ").with(plain, "liquor"), text(plain, "  "+significant(r.Volume.Litres(), 3)+" L"))
}

// jarRow is one row of the vessel, counted from its floor.
func (l look) jarRow(row, rows, level int, size float64) line {
	s := l.signs
	label := strings.Repeat(" ", 4)
	if row == rows || row*2 == rows {
		label = pad(significant(size*float64(row)/float64(rows), 2), 4, true)
	}
	out := text(muted, label+" ").with(muted, s.wall)
	switch {
	case row == level:
		out = out.with(liquor, strings.Repeat(s.surface, inside))
	case row < level:
		out = out.with(liquor, strings.Repeat(s.liquor, inside))
	default:
		out = out.with(plain, strings.Repeat(" ", inside))
	}
	return out.with(muted, s.wall)
}

// jarSize is the size of the smallest jar of a usual size that holds so many
// litres.
func jarSize(litres float64) float64 {
	if !(litres > 0) || litres > 1e9 {
		return 1
	}
	decade := math.Pow(10, math.Floor(math.Log10(litres)))
	for _, step := range []float64{1, 2, 5, 10} {
		if size := step * decade; size >= litres*1.02 {
			return size
		}
	}
	return 20 * decade
}
