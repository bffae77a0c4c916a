package tui

import (
	"fmt"
	"math"
	"strings"

	"afterpour/econ"
)

// lay sets the page out: the curve drawn, or the same as a table.
func (c curves) lay(l look, e experiment, width, height int) curves {
	ids := curveIDs(e)
	id := ids[c.place(ids)]
	place := fmt.Sprintf("curve %d of %d", c.place(ids)+1, len(ids))
	found, there := c.found[id]
	if !there || found.err != nil {
		c.top = []line{text(muted, place)}
		c.roll = c.roll.size(width, height-1)
		what := []line{text(muted, "Working out "+curveName(e, id)+l.signs.more).at("none", nil)}
		if there {
			what = l.paragraph(warn, "! ", "No curve of "+curveName(e, id)+": "+messageOf(found.err), c.roll.room())
			what[0] = what[0].at("none", nil)
		}
		c.roll = c.roll.fill(what)
		return c
	}
	curve := &found.curve
	c.top = append(l.paragraph(strong, "", curve.Title, width-len(place)-2), text(plain, ""))
	c.top[0] = c.top[0].with(muted, "  "+place)
	c.top = c.top[:len(c.top)-1]
	var lines []line
	if c.table {
		head, rows := l.curveTable(curve)
		c.top = append(append(c.top, l.seriesLines(curve, width, false)...), head)
		lines = append(rows, text(plain, ""))
	} else {
		c.top = append(c.top, l.plot(curve, width, max(9, min(height-7, height*4/5)))...)
		lines = l.seriesLines(curve, width-cursorWidth, true)
	}
	c.roll = c.roll.size(width, height-len(c.top)).fill(append(lines, l.remarks(curve, width-cursorWidth)...))
	return c
}

// curveName is what a curve is of, before it is there.
func curveName(e experiment, id string) string {
	if e != nil {
		for _, s := range e.Sliders() {
			if s.ID == id {
				return "net against " + s.Label
			}
		}
	}
	return id
}

// marksOf are the letters by which the series are drawn.
const marksOf = "abcdefghijklmnopqrstuvwxyz"

// seriesMark is the letter of a series.
func seriesMark(i int) string { return marksOf[i%len(marksOf) : i%len(marksOf)+1] }

// seriesLines name the series by their letters.
func (l look) seriesLines(c *econ.Curve, width int, stops bool) []line {
	var lines []line
	for i := range c.Series {
		s := &c.Series[i]
		row := text(accent, seriesMark(i)).with(plain, " "+cutMiddle(s.Name, max(20, width-30)))
		if low, high, some := spanOf(s.Points); some {
			row = row.with(muted, fmt.Sprintf("  between %s and %s %s", significant(low, 3), significant(high, 3), c.Y.Unit))
		}
		if stops {
			row = row.at("series "+s.Name, nil)
		}
		lines = append(lines, row)
	}
	return lines
}

// spanOf is the lowest and the highest figure of a series.
func spanOf(points []econ.Point) (low, high float64, some bool) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		if p.There() {
			low, high, some = math.Min(low, p.Y), math.Max(high, p.Y), true
		}
	}
	return low, high, some
}

// remarks are the marks, the notes and the sources of a curve.
func (l look) remarks(c *econ.Curve, width int) []line {
	var lines []line
	for i, m := range c.Marks {
		rows := l.paragraph(plain, l.signs.turn+" ", fmt.Sprintf("at %s %s: %s", significant(m.X, 3), c.X.Unit, m.Text), width)
		rows[0] = rows[0].at(fmt.Sprint("mark", i), nil)
		lines = append(lines, rows...)
	}
	for i, n := range c.Notes {
		rows := l.paragraph(muted, "", n, width)
		rows[0] = rows[0].at(fmt.Sprint("note", i), nil)
		lines = append(lines, rows...)
	}
	if len(c.Sources) > 0 {
		rows := l.paragraph(muted, "", "Sources: "+strings.Join(c.Sources, "; "), width)
		rows[0] = rows[0].at("sources", nil)
		lines = append(lines, rows...)
	}
	return lines
}

// curveTable is the curve in figures: a row for each place, a column for each
// series by its letter.
func (l look) curveTable(c *econ.Curve) (head line, rows []line) {
	t := table{sides: []side{decimal}, titles: []string{axisTitle(c.X)}}
	for i := range c.Series {
		t.sides = append(t.sides, decimal)
		title := seriesMark(i)
		if i == 0 {
			title = strings.TrimSpace(c.Y.Unit + " " + title)
		}
		t.titles = append(t.titles, title)
	}
	if len(c.Series) == 0 {
		return line{}, nil
	}
	for j := range c.Series[0].Points {
		x := c.Series[0].Points[j].X
		here := ""
		if x == c.Here && c.Here != 0 {
			here = l.signs.baseline + " "
		}
		cells := []cell{{muted, here + significant(x, 3)}}
		for i := range c.Series {
			value := "blocked"
			if p := c.Series[i].Points[j]; p.There() {
				value = significant(p.Y, 3)
			}
			cells = append(cells, cell{plain, value})
		}
		t.add(cells...)
	}
	head, rows = t.lay()
	for j := range rows {
		rows[j] = rows[j].at(fmt.Sprint("point", j), nil)
	}
	return text(plain, strings.Repeat(" ", cursorWidth)).join(head), rows
}

// axisTitle names an axis with its unit.
func axisTitle(a econ.Axis) string {
	if a.Unit == "" {
		return a.Name
	}
	return a.Name + ", " + a.Unit
}
