package tui

import (
	"math"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

// moneyAxis is the one scale on which all plans are drawn. A plan's bar runs
// from the baseline to its net: its length is what the plan gains or loses
// against leaving the lot as it is, its end is what is left in money.
type moneyAxis struct {
	low, high float64
	baseline  float64
	based     bool // there is a baseline
	width     int
}

// newMoneyAxis spans zero, the baseline and the plans shown.
func newMoneyAxis(a *econ.Appraisal, shown []*econ.PricedPlan) moneyAxis {
	x := moneyAxis{baseline: float64(a.BaselineNet), based: a.Baseline != ""}
	for _, p := range shown {
		x.low, x.high = math.Min(x.low, float64(p.Net)), math.Max(x.high, float64(p.Net))
		if o := p.Odds; o != nil {
			x.low, x.high = math.Min(x.low, float64(o.P10)), math.Max(x.high, float64(o.P90))
		}
	}
	if x.based {
		x.low, x.high = math.Min(x.low, x.baseline), math.Max(x.high, x.baseline)
	}
	return x
}

// at is the column of an amount.
func (x moneyAxis) at(v float64) int {
	if !(x.high > x.low) || x.width < 2 {
		return 0
	}
	return min(max(0, int(math.Round((v-x.low)/(x.high-x.low)*float64(x.width-1)))), x.width-1)
}

// row draws a plan: its bar, and over it the whisker of its odds where they are
// known. The net lies on top, since the figures beside it are of it.
func (x moneyAxis) row(s signs, net econ.Money, o *econ.Odds) line {
	cells := make([]span, x.width)
	for i := range cells {
		cells[i] = span{plain, " "}
	}
	end, from := x.at(float64(net)), x.at(0)
	if x.based {
		from = x.at(x.baseline)
	}
	sign, t := s.above, plain
	switch base := econ.Money(x.baseline); {
	case net > base:
		t = gain
	case net < base:
		sign, t = s.below, loss
	}
	for i := min(end, from); i <= max(end, from); i++ {
		cells[i] = span{t, sign}
	}
	if x.based {
		cells[from] = span{muted, s.baseline}
	}
	cells[x.at(0)] = span{muted, s.zero}
	if o != nil {
		x.whisker(s, cells, o)
	}
	cells[end] = span{t, s.net}
	return line{spans: merged(cells)}
}

// whisker draws what eight draws in ten lie between, and the middle one.
func (x moneyAxis) whisker(s signs, cells []span, o *econ.Odds) {
	low, high := x.at(float64(o.P10)), x.at(float64(o.P90))
	for i := low; i <= high; i++ {
		if cells[i].text == " " {
			cells[i] = span{muted, s.between}
		}
	}
	cells[low], cells[high] = span{strong, s.ends[0]}, span{strong, s.ends[1]}
	cells[x.at(float64(o.P50))] = span{strong, s.median}
}

// merged joins neighbours of one tone, so that less is drawn.
func merged(cells []span) []span {
	var out []span
	for _, c := range cells {
		if n := len(out); n > 0 && out[n-1].tone == c.tone {
			out[n-1].text += c.text
			continue
		}
		out = append(out, c)
	}
	return out
}

// labels writes the ends of the axis and zero above it, where there is room.
func (x moneyAxis) labels() string {
	row := []rune(strings.Repeat(" ", x.width))
	put := func(v float64, middle bool) {
		label := []rune(money(econ.Money(v)))
		if v == 0 {
			label = []rune("0")
		}
		start := min(max(0, x.at(v)-len(label)/2), x.width-len(label))
		if start < 0 || middle && strings.TrimSpace(string(row[max(0, start-1):min(x.width, start+len(label)+1)])) != "" {
			return
		}
		copy(row[start:], label)
	}
	put(x.low, false)
	if ansi.StringWidth(strings.TrimSpace(string(row)))*2+2 < x.width {
		put(x.high, true)
	}
	put(0, true)
	return string(row)
}
