package tui

import (
	"strings"
	"testing"
	"unicode/utf8"

	"afterpour/econ"

	"pgregory.net/rapid"
)

func TestAxisRow(t *testing.T) {
	x := moneyAxis{low: -10, high: 10, baseline: -5, based: true, width: 21}
	for net, want := range map[econ.Money]string{
		10:  `     :====|=========O`,
		-10: `O----:    |          `,
		0:   `     :====O          `,
		-5:  `     O    |          `,
	} {
		if got := x.row(asciiSigns, net, nil).String(); got != want {
			t.Errorf("net %v:\n%q, want\n%q", net, got, want)
		}
	}
}

// TestAxisOrder: a plan that leaves more never stands further left, and every
// row is as wide as the axis.
func TestAxisOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cents := rapid.IntRange(-1e7, 1e7)
		a := &econ.Appraisal{Baseline: "dispose", BaselineNet: econ.Money(cents.Draw(t, "baseline")) / 100}
		for range rapid.IntRange(0, 8).Draw(t, "plans") {
			a.Plans = append(a.Plans, econ.PricedPlan{Net: econ.Money(cents.Draw(t, "net")) / 100})
		}
		econ.Rank(a.Plans)
		x := newMoneyAxis(a, pointers(a.Plans))
		x.width = rapid.IntRange(2, 60).Draw(t, "width")
		last := x.width
		for i := range a.Plans {
			row := x.row(asciiSigns, a.Plans[i].Net, nil).String()
			if utf8.RuneCountInString(row) != x.width {
				t.Fatalf("%q is not %d wide", row, x.width)
			}
			at := strings.IndexByte(row, 'O')
			if at > last {
				t.Fatalf("plan %d stands right of the one before it", i)
			}
			last = at
		}
		if got := utf8.RuneCountInString(x.labels()); got != x.width {
			t.Fatalf("labels are %d wide, the axis %d", got, x.width)
		}
	})
}
