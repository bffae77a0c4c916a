package tui

import (
	"github.com/charmbracelet/x/ansi"
)

// comparison is one line of the page: one figure of each plan.
type comparison struct {
	label  string
	unit   string
	values []float64
	texts  []string // "" where a plan has no such thing
	better int8     // +1: more is better, -1: less is better, 0: neither
}

// differs reports that the plans do not all show the same.
func (c *comparison) differs() bool {
	for _, t := range c.texts[1:] {
		if t != c.texts[0] {
			return true
		}
	}
	return false
}

// empty reports that no plan has anything to show.
func (c *comparison) empty() bool {
	for i, t := range c.texts {
		if t != "" && c.values[i] != 0 {
			return false
		}
	}
	return true
}

// best reports that a plan's figure is better than another's and none better
// than it.
func (c *comparison) best(i int) bool {
	if c.better == 0 || c.texts[i] == "" {
		return false
	}
	beaten := false
	for j, t := range c.texts {
		if t == "" || t == c.texts[i] {
			continue
		}
		if float64(c.better)*c.values[j] > float64(c.better)*c.values[i] {
			return false
		}
		beaten = true
	}
	return beaten
}

// section is the comparisons under one heading.
type section struct {
	title string
	rows  []comparison
}

// line sets a comparison out, each value in its column with its signs.
func (c *comparison) line(column int) line {
	room := labelWidth - ansi.StringWidth(c.unit) - 1
	label := ansi.Truncate(c.label, room, "")
	row := text(plain, pad(label, room, false)).with(muted, " "+c.unit)
	for i, t := range c.texts {
		tone, sign, best := plain, " ", " "
		if t == "" {
			t = "none"
		}
		if i > 0 {
			tone, sign = c.against(i)
		}
		if c.best(i) {
			best = "*"
		}
		row = row.with(tone, pad(t, column-4, true)+" "+sign).with(strong, best).with(plain, " ")
	}
	return row
}

// against says how a plan's figure stands to that of the first.
func (c *comparison) against(i int) (tone, string) {
	switch {
	case c.texts[i] == c.texts[0]:
		return plain, "="
	case c.texts[i] == "" || c.texts[0] == "":
		return plain, " "
	case c.values[i] > c.values[0]:
		return c.tone(1), "+"
	}
	return c.tone(-1), "-"
}

func (c *comparison) tone(direction int8) tone {
	switch c.better * direction {
	case 1:
		return gain
	case -1:
		return loss
	}
	return plain
}
