package econ

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// Salt in a silver liquor: the dissolved silver falls, has one lowest point, and
// rises again; never more is dissolved than there is; at the lowest point it is
// a fraction of a per cent of all silver.
func TestSilverAgainstChlorideOfALot(t *testing.T) {
	req := request(t, "nitrate-liquor.toml", sampleLots(t)["nitrate-liquor.toml"], DefaultBook())
	c, err := SilverAgainstChloride(req, 41)
	if err != nil {
		t.Fatal(err)
	}
	checkCurve(t, "silver", c)
	points := c.Series[0].Points
	lowest := slices.IndexFunc(c.Marks, func(m Mark) bool { return m.Kind == Lowest })
	equal := slices.IndexFunc(c.Marks, func(m Mark) bool { return m.Kind == Equal })
	if lowest < 0 || equal < 0 || c.Marks[equal].X >= c.Marks[lowest].X {
		t.Fatalf("marks %+v", c.Marks)
	}
	for i := 1; i < len(points); i++ {
		rises := points[i].Y > points[i-1].Y*(1+1e-9)
		if after := points[i-1].X >= c.Marks[lowest].X-1e-9; rises != after && math.Abs(points[i].Y-points[i-1].Y) > 1e-6*points[0].Y {
			t.Errorf("at %g g/L of salt the dissolved silver goes from %g to %g mg/L", points[i].X, points[i-1].Y, points[i].Y)
		}
	}
	// 44.39 g of silver in 3 L is 14.8 g/L; as much chloride is 8.02 g/L of salt.
	near(t, "silver before any salt, mg/L", points[0].Y, 14800, 0.03)
	near(t, "salt for as much chloride, g/L", c.Marks[equal].X, 14.8/107.87*58.44, 0.01)
	if y := c.Marks[lowest].Y; y > 5 || y < 0.01 {
		t.Errorf("the lowest is %g mg/L; in dilute salt about half a milligram stays", y)
	}
	if len(c.Sources) == 0 || len(c.Notes) == 0 {
		t.Errorf("no sources or notes: %+v", c)
	}
}

// Caustic brings copper down between pH 5 and 8, and every metal's line starts
// with what the lot holds dissolved.
func TestMetalsAgainstPHOfALot(t *testing.T) {
	req := request(t, "nitrate-liquor.toml", sampleLots(t)["nitrate-liquor.toml"], DefaultBook())
	c, err := MetalsAgainstPH(req, 53)
	if err != nil {
		t.Fatal(err)
	}
	checkCurve(t, "metals", c)
	copper := slices.IndexFunc(c.Series, func(s Series) bool { return s.Name == "Cu" })
	if copper < 0 || !(c.Here > 0.5 && c.Here < 3) {
		t.Fatalf("series %d, pH %g", copper, c.Here)
	}
	points := c.Series[copper].Points
	near(t, "copper in acid, g/L", points[0].Y, 65.54/3, 0.03)
	if y := yAt(points, 8.5); y > 0.01 {
		t.Errorf("at pH 8.5 %g g/L of copper stay dissolved", y)
	}
	if y := yAt(points, 3); y < 20 {
		t.Errorf("at pH 3 only %g g/L of copper stay dissolved", y)
	}
}

// Every sample lot either has its curves or says why it has none.
func TestChemistryCurvesOfSampleLots(t *testing.T) {
	drawn := 0
	for name, text := range sampleLots(t) {
		req := request(t, name, text, DefaultBook())
		for kind, make := range map[string]func(Request, int) (Curve, error){"silver": SilverAgainstChloride, "metals": MetalsAgainstPH} {
			c, err := make(req, 15)
			switch {
			case err == nil:
				drawn++
				checkCurve(t, name+": "+kind, c)
				for _, s := range c.Series {
					for _, p := range s.Points {
						if p.Y < 0 {
							t.Errorf("%s: %s: %+v", name, s.Name, p)
						}
					}
				}
			case !errors.Is(err, ErrCurve):
				t.Errorf("%s: %s: %v", name, kind, err)
			default:
				t.Logf("%s: %s: %v", name, kind, err)
			}
		}
	}
	if drawn < 8 {
		t.Errorf("%d curves of all sample lots", drawn)
	}
}

func TestChemistryCurvesRefuse(t *testing.T) {
	dry := []byte("title = \"dry\"\n[[solid]]\ncompound = \"AgCl\"\nwet_mass = \"10 g\"\nmoisture = \"0 %\"\n")
	req := request(t, "dry.toml", dry, DefaultBook())
	if _, err := SilverAgainstChloride(req, 9); !errors.Is(err, ErrCurve) || !strings.Contains(err.Error(), "poured into") {
		t.Errorf("a dry lot: %v", err)
	}
	copper := []byte("title = \"copper\"\n[vessel]\nliquid = \"1 L\"\n[[measured]]\nmetal = \"Cu\"\nin = \"liquid\"\nvalue = \"10 g/L\"\n")
	req = request(t, "copper.toml", copper, DefaultBook())
	if _, err := SilverAgainstChloride(req, 9); !errors.Is(err, ErrCurve) {
		t.Errorf("a lot without silver: %v", err)
	}
	if _, err := MetalsAgainstPH(req, 1); err == nil {
		t.Error("a curve of one point")
	}
}

func TestToDigits(t *testing.T) {
	for want, v := range map[string]float64{"0.52": 0.5234, "0.000052": 5.234e-5, "12345": 12345, "7.0": 6.96, "0": 0} {
		if got := toDigits(v, 2); got != want && strings.TrimSuffix(want, ".0") != got {
			t.Errorf("toDigits(%g) = %q, want %q", v, got, want)
		}
	}
}
