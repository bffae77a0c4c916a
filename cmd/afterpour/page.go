package main

import (
	"fmt"
	"strings"

	"afterpour/chem/input"

	"github.com/charmbracelet/x/ansi"
)

// pageWidth is the width, in terminal columns, that every text keeps to.
const pageWidth = 80

// page collects text of at most pageWidth columns. Whatever is put on it has
// passed the cleaner when it leaves.
type page struct{ lines []string }

// String returns the page with a line end after every line.
func (p *page) String() string {
	var b strings.Builder
	for _, line := range p.lines {
		b.WriteString(strings.TrimRight(input.Clean(line, 0), " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// blank adds an empty line, but never two in a row and none at the top.
func (p *page) blank() {
	if n := len(p.lines); n > 0 && p.lines[n-1] != "" {
		p.lines = append(p.lines, "")
	}
}

// heading begins a section.
func (p *page) heading(text string) {
	p.blank()
	p.lines = append(p.lines, text)
}

// text adds a paragraph, wrapped; first stands before its first line and the
// other lines are indented as far.
func (p *page) text(first, format string, values ...any) {
	body := fmt.Sprintf(format, values...)
	indent := strings.Repeat(" ", ansi.StringWidth(first))
	for i, line := range wrap(body, pageWidth-len(indent)) {
		if i == 0 {
			p.lines = append(p.lines, first+line)
			continue
		}
		p.lines = append(p.lines, indent+line)
	}
}

// wrap breaks a text at spaces into lines of at most width columns. A word
// longer than a line is cut.
func wrap(text string, width int) []string {
	var lines []string
	line, used := "", 0
	for _, word := range strings.Fields(input.Clean(text, 0)) {
		for ansi.StringWidth(word) > width {
			head := ansi.Truncate(word, width, "")
			if head == "" {
				break
			}
			if line != "" {
				lines = append(lines, line)
			}
			lines, line, used = append(lines, head), "", 0
			word = strings.TrimPrefix(word, head)
		}
		size := ansi.StringWidth(word)
		if line != "" && used+1+size > width {
			lines, line, used = append(lines, line), "", 0
		}
		if line != "" {
			line, used = line+" ", used+1
		}
		line, used = line+word, used+size
	}
	return append(lines, line)
}

// align says on which side a column is padded.
type align bool

// The alignments of a column.
const (
	left  align = false
	right align = true
)

// table adds rows of cells in columns two spaces apart, each as wide as its
// widest cell. Where a row would be too wide, its left-aligned cells are
// wrapped.
func (p *page) table(indent string, columns []align, rows [][]string) {
	widths := make([]int, len(columns))
	for _, row := range rows {
		for i, cell := range row {
			widths[i] = max(widths[i], ansi.StringWidth(input.Clean(cell, 0)))
		}
	}
	narrow(widths, columns, pageWidth-len(indent)-2*(len(columns)-1))
	for _, row := range rows {
		p.row(indent, columns, widths, row)
	}
}

// row adds one row, on as many lines as its longest cell needs.
func (p *page) row(indent string, columns []align, widths []int, row []string) {
	cells, height := make([][]string, len(row)), 1
	for i, cell := range row {
		cells[i] = []string{input.Clean(cell, widths[i])}
		if columns[i] == left {
			cells[i] = wrap(cell, widths[i])
		}
		height = max(height, len(cells[i]))
	}
	for line := range height {
		parts := make([]string, len(row))
		for i := range row {
			if line < len(cells[i]) {
				parts[i] = cells[i][line]
			}
			parts[i] = pad(parts[i], widths[i], columns[i])
		}
		p.lines = append(p.lines, indent+strings.Join(parts, "  "))
	}
}

// narrow shortens the widest left-aligned columns until the sum fits.
func narrow(widths []int, columns []align, room int) {
	for {
		sum, widest := 0, -1
		for i, w := range widths {
			sum += w
			if columns[i] == left && (widest < 0 || w > widths[widest]) {
				widest = i
			}
		}
		if sum <= room || widest < 0 || widths[widest] <= 1 {
			return
		}
		widths[widest] = max(1, widths[widest]-(sum-room))
	}
}

func pad(cell string, width int, side align) string {
	gap := strings.Repeat(" ", max(0, width-ansi.StringWidth(cell)))
	if side == right {
		return gap + cell
	}
	return cell + gap
}
