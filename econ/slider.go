package econ

import (
	"fmt"
	"math"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// The ids of the sliders that are no figure of a file: the size of the lot, and
// the content of a metal, "content/Ag". Both are factors on what the lot file
// says.
const (
	SliderSize    = "size"
	sliderContent = "content/"
)

// SliderContent is the id of the slider of a metal's content.
func SliderContent(metal string) string { return sliderContent + metal }

// The groups of sliders, in the order in which they are listed.
const (
	GroupLot     = "lot"
	GroupContent = "content"
	GroupPrice   = "price"
	GroupWage    = "wage"
	GroupStated  = "stated"
)

// Slider is one figure that can be moved to see what would be if. From, To, Step
// and Value are in Unit. What is typed may leave From and To, but not Least and
// Most.
type Slider struct {
	ID          string // of the figure, "price/spot.Ag"; SliderSize; SliderContent(metal)
	Label       string // "silver, spot price", "size of the lot"
	Group       string
	Unit        string  // "USD / ozt", "g", "%", "times"
	Value       float64 // where it stands now
	SD          float64 // its doubt; 0 without one
	From, To    float64 // a sensible range, both multiples of Step
	Step        float64 // 1, 2 or 5 times a power of ten
	Least, Most float64 // beyond which no value is taken
	Quick       bool    // only prices move: the plans need not be carried out anew

	size, zero float64 // value in the base unit = zero + size × value in Unit
}

// base turns a value in the slider's unit into the base unit of its figure.
func (s *Slider) base(value float64) float64 { return s.zero + s.size*value }

// Clip keeps a value within what the slider takes.
func (s *Slider) Clip(value float64) float64 { return math.Min(math.Max(value, s.Least), s.Most) }

// steps is about how many steps lead from one end of a slider to the other.
const steps = 100

// ranged sets the range from the two ends that it should reach, rounded outward
// to whole steps but not past what is possible.
func (s Slider) ranged(from, to float64) Slider {
	from, to = math.Max(from, s.Least), math.Min(to, s.Most)
	if !(to > from) {
		to = from + 1
	}
	s.Step = niceStep((to - from) / steps)
	s.From = math.Floor(from/s.Step+1e-9) * s.Step
	s.To = math.Ceil(to/s.Step-1e-9) * s.Step
	if s.From < s.Least {
		s.From = math.Ceil(s.Least/s.Step-1e-9) * s.Step
	}
	if s.To > s.Most {
		s.To = math.Floor(s.Most/s.Step+1e-9) * s.Step
	}
	return s
}

// niceStep is the nearest of 1, 2 and 5 times a power of ten from x on.
func niceStep(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, n := range []float64{1, 2, 5} {
		if n*power >= x*(1-1e-9) {
			return n * power
		}
	}
	return 10 * power
}

// factorSlider moves a factor on what the lot says.
func factorSlider(id, label, group string, most float64) Slider {
	s := Slider{ID: id, Label: label, Group: group, Unit: "times", Value: 1, Least: 0.01, Most: math.Min(100, most), size: 1}
	return s.ranged(0.1, math.Max(2, math.Min(10, most)))
}

// priceSlider moves a price of the book.
func priceSlider(p Price, fig input.Figure, currency string) Slider {
	s := Slider{
		ID: p.ID, Label: p.label(), Group: GroupPrice, Unit: p.Unit(currency), Quick: true,
		Value: fig.Dist.Mean * p.Size, SD: fig.Dist.SD * p.Size, Most: largestPrice * p.Size, size: 1 / p.Size,
	}
	if p.Group == "labour" {
		s.Group = GroupWage
	}
	if p.Kind == units.Fraction {
		s.Unit, s.Value, s.SD, s.size, s.Most = "% of contained metal", 100*fig.Dist.Mean, 100*fig.Dist.SD, 0.01, 100
		return s.ranged(math.Min(50, s.Value/2), 100)
	}
	if !(s.Value > 0) {
		return s.ranged(0, usual(p))
	}
	return s.ranged(0, math.Max(3*s.Value, s.Value+4*s.SD))
}

// usual is the size of a price of its kind, for one that stands at nothing.
func usual(p Price) float64 {
	_, dist, err := units.Parse(exampleOf(p.Kind), p.Kind)
	if err != nil || !(dist.Mean > 0) {
		return 1
	}
	return 3 * dist.Mean * p.Size
}

// label names a price for a list of all kinds.
func (p Price) label() string {
	switch p.Group {
	case "spot":
		return elementName(p.Name) + ", spot price"
	case "labour":
		return "own labour"
	case "sale":
		if p.Kind == units.Fraction {
			return p.Name + ", payable"
		}
	case "disposal":
		return "disposal of " + p.Name
	}
	return p.Name
}

// statedSlider moves one figure of the lot as it was typed or assumed.
func statedSlider(fig input.Figure) Slider {
	unit, size, zero := displayed(fig.Kind, fig.Dist.Mean)
	s := Slider{
		ID: fig.ID, Label: statedLabel(fig.ID), Group: GroupStated, Unit: unit, size: size, zero: zero,
		Value: (fig.Dist.Mean - zero) / size, SD: fig.Dist.SD / size,
		Least: (lowest(fig) - zero) / size, Most: (highest(fig) - zero) / size,
	}
	from, to := s.Value-4*s.SD, s.Value+4*s.SD
	switch {
	case fig.Kind == units.TemperatureKind:
		s.Least, s.Most = math.Max(s.Least, -20), math.Min(s.Most, 120) // an aqueous liquor
		from, to = math.Min(from, 5), math.Max(to, 95)
	case fromZero(fig):
		s.Most = math.Min(s.Most, 1000*math.Max(s.Value, 1e-3))
		from, to = 0, math.Max(to, 2*s.Value)
	case fig.Kind == units.Fraction:
		from, to = math.Min(from, s.Value/2), math.Max(to, 1.5*s.Value)
	default: // a pH, a ratio
		from, to = math.Min(from, s.Value-2), math.Max(to, s.Value+2)
		if fig.Dist.Mean >= 0 && fig.Dist.Low == 0 {
			from = math.Max(0, from)
		}
	}
	return s.ranged(from, to)
}

// displayed is the unit in which a value of a kind is shown, with its size and
// its zero in the base unit.
func displayed(kind units.Kind, value float64) (unit string, size, zero float64) {
	if kind == units.TemperatureKind {
		return "degC", 1, float64(units.Celsius(0))
	}
	text := units.Format(kind, value)
	_, unit, _ = strings.Cut(text, " ")
	if unit == "" {
		return "", 1, 0
	}
	if _, dist, err := units.Parse("1 "+unit, kind); err == nil && dist.Mean > 0 {
		return unit, dist.Mean, 0
	}
	return kind.BaseUnit(), 1, 0
}

// sections name the tables of a lot file for a reader.
var sections = map[string]string{
	"dissolved": "dissolved metal", "added": "poured in", "plated": "plate", "taken": "taken out",
	"measured": "measured", "titrated": "titration", "solid": "solid", "vessel": "vessel",
}

// statedLabel turns the id of a lot's figure into words: "lot/dissolved[0].mass"
// is "dissolved metal 1, mass".
func statedLabel(id string) string {
	path := strings.TrimPrefix(id, "lot/")
	table, key, found := strings.Cut(path, ".")
	if !found {
		return strings.NewReplacer("_", " ", "-", " ", "/", ", ").Replace(path)
	}
	name, number, _ := strings.Cut(strings.TrimSuffix(table, "]"), "[")
	words, known := sections[name]
	if !known {
		words = name
	}
	if n := 0; number != "" {
		if _, err := fmt.Sscanf(number, "%d", &n); err == nil {
			words += fmt.Sprintf(" %d", n+1)
		}
	}
	return words + ", " + strings.NewReplacer("_", " ", ".", " ").Replace(key)
}
