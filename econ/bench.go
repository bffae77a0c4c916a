package econ

import (
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// benchKey is one figure of [bench]: what it measures, what a book without it
// is read as, and where it goes.
type benchKey struct {
	key, assumed string
	kind         units.Kind
	set          func(b *route.Bench, v float64)
}

// The assumed figures are the modest bench of the built-in book, with no
// extraction: what is not stated is not counted on.
var benchKeys = []benchKey{
	{"largest_vessel", "5 L", units.VolumeKind, func(b *route.Bench, v float64) { b.LargestVessel = units.Volume(v) }},
	{"heater", "800 W", units.PowerKind, func(b *route.Bench, v float64) { b.Heater = units.Power(v) }},
	{"cathode_area", "100 cm2", units.AreaKind, func(b *route.Bench, v float64) { b.CathodeArea = units.Area(v) }},
	{"extraction", "0 m3/h", units.FlowKind, func(b *route.Bench, v float64) { b.Extraction = units.Flow(v) }},
	{"room", "30 m3", units.VolumeKind, func(b *route.Bench, v float64) { b.RoomM3 = units.Volume(v).CubicMetres() }},
	{"air_changes", "2 / h", units.PerHourKind, func(b *route.Bench, v float64) { b.AirChanges = v }},
	{"balance", "0.01 g", units.MassKind, func(b *route.Bench, v float64) { b.Balance = units.Mass(v) }},
}

const assumedSupply = "12 V, 5 A"

// benchTable reads [bench]. What it leaves out is assumed and noted.
func (d *bookDecoder) benchTable(root *input.Table) {
	d.book.bench.Melting, d.book.bench.Separation = "none", "decant"
	seen := map[string]bool{}
	d.single(root, "bench", func(t *input.Table) {
		for _, k := range benchKeys {
			seen[k.key] = t.Has(k.key)
			if seen[k.key] {
				d.benchFigure(t, k)
			}
		}
		if seen["supply"] = t.Has("supply"); seen["supply"] {
			d.supply(t)
		}
		d.book.bench.Melting = d.choice(t, "melting", "none", "torch", "furnace")
		d.book.bench.Separation = d.choice(t, "separation", "decant", "filter")
	})
	d.assumeBench(seen)
}

func (d *bookDecoder) benchFigure(t *input.Table, k benchKey) {
	fig, ok := t.Figure(k.key, k.kind)
	if !ok {
		return
	}
	if !ofABench(fig.Dist.Mean) {
		t.Problem(k.key, "out of the range of any bench", k.key+` = "`+k.assumed+`"`)
		return
	}
	k.set(&d.book.bench, fig.Dist.Mean)
}

// The bounds of a figure of a bench that is not nothing, in its base unit: far
// beyond any, and such that no plan runs out of the range of numbers.
const (
	leastOfABench = 1e-12
	mostOfABench  = 1e12
)

func ofABench(v float64) bool { return v == 0 || v >= leastOfABench && v <= mostOfABench }

// supply reads volts and amperes: "12 V, 5 A".
func (d *bookDecoder) supply(t *input.Table) {
	text, ok := t.String("supply")
	if !ok {
		return
	}
	volts, amps, err := parseSupply(text)
	if err != "" {
		t.Problem("supply", err, `supply = "`+assumedSupply+`"`)
		return
	}
	d.book.bench.SupplyVolts, d.book.bench.SupplyAmps = volts, amps
}

func parseSupply(text string) (units.Potential, units.Current, string) {
	left, right, found := strings.Cut(text, ", ")
	if !found {
		return 0, 0, "a supply is the most volts and the most amperes that it gives, with a comma and a space between"
	}
	_, volts, err := units.Parse(left, units.PotentialKind)
	if err != nil {
		return 0, 0, err.Error()
	}
	_, amps, err := units.Parse(right, units.CurrentKind)
	if err != nil {
		return 0, 0, err.Error()
	}
	if !ofABench(volts.Mean) || !ofABench(amps.Mean) {
		return 0, 0, "out of the range of any bench"
	}
	return units.Potential(volts.Mean), units.Current(amps.Mean), ""
}

// assumeBench fills in what the book leaves out and notes it.
func (d *bookDecoder) assumeBench(seen map[string]bool) {
	var left []string
	for _, k := range benchKeys {
		if seen[k.key] {
			continue
		}
		if _, dist, err := units.Parse(k.assumed, k.kind); err == nil {
			k.set(&d.book.bench, dist.Mean)
			left = append(left, k.key+" "+k.assumed)
		}
	}
	if !seen["supply"] {
		d.book.bench.SupplyVolts, d.book.bench.SupplyAmps, _ = parseSupply(assumedSupply)
		left = append(left, "supply "+assumedSupply)
	}
	if len(left) > 0 {
		d.book.notes = append(d.book.notes, "the price book does not say all of [bench]; assumed: "+strings.Join(left, ", "))
	}
}
