package tui

import (
	"math"
	"strings"

	"afterpour/chem/units"
)

// vesselWidth is the width of the drawing with its scale.
const vesselWidth = 14

// inside is the width of the vessel between its walls.
const inside = 7

// drawVessel draws the vessel like a graduated jar, liquor and settled solids
// to one scale: what is in it and how much, before any figure is read. The
// solids are drawn by their own volume, at the bottom; a layer thinner than
// half a row is drawn as a thin one, since none at all would be wrong.
func (l look) drawVessel(liquid, solids units.Volume, height int) []line {
	j := jar{rows: min(max(4, height-7), 16) &^ 1} // even, for the mark at half
	j.size = jarSize((liquid + solids).Litres())
	j.settled = j.level(solids.Litres())
	j.liquor = j.level((liquid + solids).Litres())
	if liquid > 0 {
		j.liquor = max(1, j.liquor)
	}
	j.thin = solids > 0 && j.settled == 0
	var lines []line
	for row := j.rows; row >= 1; row-- {
		lines = append(lines, l.jarRow(j, row))
	}
	s := l.signs
	lines = append(lines, text(muted, "   0 ").with(muted, s.corners[0]+strings.Repeat(s.floor, inside)+s.corners[1]), text(muted, "   L"))
	lines = append(lines, text(liquor, s.liquor).with(plain, " liquor"), text(plain, "  "+significant(liquid.Litres(), 3)+" L"))
	if solids > 0 {
		sign := s.settled
		if j.thin {
			sign = s.thin
		}
		lines = append(lines, text(settled, sign).with(plain, " solids"), text(plain, "  "+volume(solids)))
	}
	return lines
}

// volume writes a small volume in millilitres.
func volume(v units.Volume) string {
	if v < units.Litre {
		return significant(v.Millilitres(), 2) + " mL"
	}
	return significant(v.Litres(), 3) + " L"
}

// jar is a vessel as it is drawn: its size in litres and rows, and up to which
// row it is filled.
type jar struct {
	size            float64
	rows            int
	liquor, settled int
	thin            bool
}

// level is the number of rows that so many litres fill.
func (j jar) level(litres float64) int {
	return min(j.rows, int(math.Round(litres/j.size*float64(j.rows))))
}

// jarRow is one row of the vessel, counted from its floor.
func (l look) jarRow(j jar, row int) line {
	s := l.signs
	label := strings.Repeat(" ", 4)
	if row == j.rows || row*2 == j.rows {
		label = pad(significant(j.size*float64(row)/float64(j.rows), 2), 4, true)
	}
	out := text(muted, label+" ").with(muted, s.wall)
	switch {
	case row <= j.settled:
		out = out.with(settled, strings.Repeat(s.settled, inside))
	case row == 1 && j.thin:
		out = out.with(settled, strings.Repeat(s.thin, inside))
	case row == j.liquor:
		out = out.with(liquor, strings.Repeat(s.surface, inside))
	case row < j.liquor:
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
