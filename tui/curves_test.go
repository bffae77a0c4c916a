package tui

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"afterpour/econ"
)

// Curve stands in for the curves: a valley on logarithmic axes, straight lines
// that cross, and one that there is not.
func (e fakeExperiment) Curve(ctx context.Context, id string) (econ.Curve, error) {
	switch id {
	case silverCurve:
		c := econ.Curve{
			Title: "Silver that stays dissolved against common salt put in",
			X:     econ.Axis{Name: "sodium chloride put in", Unit: "g/L", Log: true}, Y: econ.Axis{Name: "silver dissolved", Unit: "mg/L", Log: true},
			Series: []econ.Series{{Name: "Ag"}}, Sources: []string{"stability constants (invented for the test)"},
			Marks: []econ.Mark{{X: 1, Y: 2, Kind: econ.Lowest, Text: "the least that stays dissolved, 2.0 mg/L"}},
		}
		for i := range 21 {
			x := math.Pow(10, float64(i)/5-2)
			c.Series[0].Points = append(c.Series[0].Points, econ.Point{X: x, Y: 1/x + x})
		}
		return c, ctx.Err()
	case metalsCurve:
		return econ.Curve{}, errors.New("the lot holds no dissolved metal that the constants know")
	}
	c := econ.Curve{
		Title: "Net against " + id, X: econ.Axis{Name: id, Unit: "USD / ozt"}, Y: econ.Axis{Name: "net", Unit: "USD"}, Here: 30,
		Series: []econ.Series{{Name: "chloride-oxide-sugar+dispose"}, {Name: "copper-cementation+dispose"}, {Name: "as it stands"}},
		Marks:  []econ.Mark{{X: 42.3, Y: 14.3, Kind: econ.TakesOver, Text: "copper-cementation+dispose takes over"}},
		Notes:  []string{"plans that cannot be carried out leave a gap"},
	}
	for i := range 10 {
		x := float64(i * 10)
		second := econ.Point{X: x, Y: -96.4 + 9*(x-30)}
		if i == 0 {
			second = econ.Point{X: x, Blocked: "no buyer"}
		}
		for j, p := range []econ.Point{{X: x, Y: 14.3 + (x-30)*0.9}, second, {X: x, Y: -60}} {
			c.Series[j].Points = append(c.Series[j].Points, p)
		}
	}
	return c, ctx.Err()
}

// TestCurves: each curve is worked out when it is first shown, drawn with axes
// and units; what there is not says why.
func TestCurves(t *testing.T) {
	b := newBench(t, 100, 40, nil)
	b.keys("7")
	b.shows("Silver that stays dissolved", "curve 1 of 5", "silver dissolved, mg/L", "sodium chloride put in, g/L (logarithmic)",
		"the least that stays dissolved, 2.0 mg/L", "Sources: stability constants", "a Ag", "100")
	b.keys("right")
	b.shows("! No curve of metals against pH: the lot holds no dissolved metal")
	b.keys("right", "right")
	b.shows("Net against price/spot.Ag", "as it stands", "takes over", "c as it stands")
	b.keys("left", "left", "left", "left")
	b.shows("Net against price/labour", "curve 5 of 5")
	b.keys("5")
	b.reprice("31.00 / ozt")
	if len(b.m.curves.found) != 0 {
		t.Error("curves of old prices are kept")
	}
}

// TestCurveOrder: what is asked for most comes first.
func TestCurveOrder(t *testing.T) {
	b := realBench(t, "../testdata/lots/nitrate-liquor.toml", 100, 40)
	ids := curveIDs(b.m.studies[asEdited].experiment)
	want := []string{silverCurve, metalsCurve, econ.SliderSize, "price/spot.Ag", "price/spot.Cu", "price/labour"}
	if len(ids) <= len(want) || strings.Join(ids[:len(want)], " ") != strings.Join(want, " ") {
		t.Errorf("curves %q, want %q first", ids, want)
	}
	seen := map[string]bool{}
	for _, id := range ids {
		if seen[id] {
			t.Errorf("%s comes twice", id)
		}
		seen[id] = true
	}
}

// TestCurveTable: one key shows the same as a table, every figure of it.
func TestCurveTable(t *testing.T) {
	b := newBench(t, 100, 60, nil)
	b.keys("7", "left", "left", "t")
	b.shows("a chloride-oxide-sugar+dispose", "blocked", "t drawn")
	rows := rowsAfter(b.view(), "price/spot.Ag, USD / ozt")[1:]
	for i := range 9 {
		x := float64(10 + 10*i)
		got := numbers(strings.TrimPrefix(rows[i+1], drawnSigns.cursor))
		compare(t, fmt.Sprint(x), got, x, 14.3+(x-30)*0.9, -96.4+9*(x-30), -60)
	}
	b.keys("t")
	b.hides("blocked")
}

// TestCurvesOfALot: the table of a real lot has the figures of econ.
func TestCurvesOfALot(t *testing.T) {
	b := realBench(t, "../testdata/lots/nitrate-liquor.toml", 160, 200)
	e := b.m.studies[asEdited].experiment
	b.keys("7", "t")
	for _, id := range []string{silverCurve, metalsCurve, econ.SliderSize} {
		want, err := e.Curve(context.Background(), id)
		if err != nil {
			t.Fatal(err)
		}
		rows := strings.Split(b.view(), "\n")[frame-3+len(b.m.curves.top):]
		for j := range want.Series[0].Points {
			figures := []float64{want.Series[0].Points[j].X}
			for _, s := range want.Series {
				if p := s.Points[j]; p.There() {
					figures = append(figures, p.Y)
				}
			}
			compareDigits(t, want.Title, numbers(strings.NewReplacer(drawnSigns.cursor, "", drawnSigns.baseline, "").Replace(rows[j])), figures)
		}
		b.keys("t")
		b.shows(want.Title, axisTitle(want.Y))
		b.keys("t", "right")
	}
}

// compareDigits compares figures shown to three digits, however small.
func compareDigits(t *testing.T, what string, got, want []float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: the screen shows %v, want %v", what, got, want)
	}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 0.0051*math.Abs(want[i])+1e-9 {
			t.Errorf("%s: the screen shows %v, want %v", what, got[i], want[i])
		}
	}
}

// TestPlot: every letter stands where the scales say.
func TestPlot(t *testing.T) {
	c := &econ.Curve{Y: econ.Axis{Name: "y"}, X: econ.Axis{Name: "x"}, Series: []econ.Series{{Points: []econ.Point{{X: 0, Y: 0}, {X: 10, Y: 10}}}}}
	l := look{signs: asciiSigns}
	rows := l.plot(c, yLabel+3+11, 15)
	for i := range 11 {
		row := rows[1+i].String()
		if want := strings.Repeat(" ", 10-i) + "a"; !strings.HasPrefix(row[yLabel+2:], want) {
			t.Errorf("row %d is %q, want %q", i, row, want)
		}
	}
	if got := rows[1].String(); !strings.HasPrefix(got, "     10.0 |") {
		t.Errorf("the highest figure is %q", got)
	}
}

func TestScale(t *testing.T) {
	s := scaleOf([]float64{0, 1e-20, 1, 100}, true, 9)
	if s.low != 1e-6 || s.high != 100 {
		t.Errorf("a logarithmic axis from %v to %v", s.low, s.high)
	}
	if _, in := s.at(1e-20); in {
		t.Error("what is below the axis is drawn on it")
	}
	if at, in := s.at(1); !in || at != 6 {
		t.Errorf("1 stands in cell %d", at)
	}
	for _, values := range [][]float64{nil, {5}, {0}, {-3, -3}} {
		for _, log := range []bool{false, true} {
			s := scaleOf(values, log, 9)
			if !(s.high > s.low) || math.IsNaN(s.position(s.low)) || math.IsInf(s.position(s.high), 0) {
				t.Errorf("%v: axis from %v to %v", values, s.low, s.high)
			}
		}
	}
}
