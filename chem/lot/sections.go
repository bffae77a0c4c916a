package lot

import (
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/data"
	"afterpour/chem/input"
	"afterpour/chem/units"
)

// top reads the keys that stand above every table.
func (d *decoder) top(root *input.Table) {
	need(root, "title", `"Contact strip, jars 3 and 4"`)
	d.lot.Title, _ = text(root, "title")
	if root.Has("date") {
		d.lot.Date, _ = root.Date("date")
	}
	d.lot.Declared = words(root, "declared")
	d.lot.Acknowledged = hazards(root, words(root, "acknowledged"))
	d.lot.LotsPerYear = d.figure(root, "lots_per_year", "count", units.CountKind)
}

// words reads an optional list of strings, none of them blank.
func words(t *input.Table, key string) []string {
	if !t.Has(key) {
		return nil
	}
	list, _ := t.Strings(key)
	for i, w := range list {
		if list[i] = strings.TrimSpace(w); list[i] == "" {
			t.Problem(key, "an entry of "+key+" is empty", `for example `+key+` = ["cyanide"]`)
		}
	}
	return list
}

// hazards finds the hazards that were acknowledged; a misspelt id would
// acknowledge nothing.
func hazards(root *input.Table, ids []string) []string {
	rows, err := data.Hazards()
	if err != nil {
		root.Problem("acknowledged", err.Error(), "")
	}
	names := make([]string, len(rows))
	for i, row := range rows {
		names[i] = row.ID
	}
	for i, id := range ids {
		at := slices.IndexFunc(names, func(name string) bool { return fold(name) == fold(id) })
		if id != "" && at < 0 {
			root.Problem("acknowledged", fmt.Sprintf("no hazard is called %q", id), suggest(id, names, `acknowledged = ["nitric-metal"]`))
			continue
		}
		if at >= 0 {
			ids[i] = names[at]
		}
	}
	return ids
}

func (d *decoder) vessel(root *input.Table) {
	d.lot.Vessel = Vessel{Liquid: input.NoRef, Temperature: input.NoRef, PH: input.NoRef}
	t := root
	if root.Has("vessel") {
		vessel, ok := root.Table("vessel")
		if !ok {
			return
		}
		defer vessel.Close()
		t = vessel
		d.lot.Vessel.Liquid = d.figure(t, "liquid", "vessel-volume", units.VolumeKind)
		d.lot.Vessel.PH = d.ph(t)
	}
	if t == root {
		row := d.doubts["room-temperature"]
		d.lot.Vessel.Temperature = d.assume(root, "vessel.temperature", units.TemperatureKind, *row.Value, row)
		return
	}
	d.lot.Vessel.Temperature = d.figureOr(t, "temperature", "temperature", "room-temperature", units.TemperatureKind)
	d.liquidAt(t, "temperature", d.lot.Vessel.Temperature)
}

// The temperatures at which an aqueous liquor can stand on a bench, in kelvin.
const (
	coldest = 253.15
	hottest = 393.15
)

func (d *decoder) liquidAt(t *input.Table, key string, ref input.Ref) {
	if ref == input.NoRef {
		return
	}
	if k := d.figs.Get(ref).Dist.Mean; k < coldest || k > hottest {
		t.Problem(key, fmt.Sprintf("a liquor does not stand at %s", units.Format(units.TemperatureKind, k)), `for example "20 degC"`)
	}
}

// The range of a pH, and the doubt that one below 1 has at least: it is an
// activity in strong acid, where neither paper nor electrode is calibrated.
const (
	lowestPH    = -2
	highestPH   = 16
	strongPH    = 1
	strongPHDev = 0.3
)

// ph reads the pH; below 1 its doubt is no less than 0.3.
func (d *decoder) ph(t *input.Table) input.Ref {
	fig, ok := t.Figure("ph", units.Number)
	if !ok {
		return input.NoRef
	}
	fig.ID = "lot/" + fig.ID
	if mean := fig.Dist.Mean; !(mean >= lowestPH && mean <= highestPH) {
		t.Problem("ph", fmt.Sprintf("no liquor has a pH of %s", fig.Text), `for example "0.3 ± 0.3"`)
		return input.NoRef
	}
	if !statesDoubt(fig.Text) {
		d.assumeDoubt(&fig, "ph")
	}
	if fig.Dist.Mean < strongPH && fig.Dist.SD < strongPHDev {
		fig.Dist = units.NormalDist(fig.Dist.Mean, strongPHDev)
		fig.Origin = input.Assumed
		fig.Source = "doubt raised to 0.3: a pH below 1 is an activity in strong acid, beyond calibration (assumption)"
	}
	fig.Dist = fig.Dist.Bounded(lowestPH, highestPH)
	return d.add(fig)
}

func (d *decoder) dissolved(t *input.Table) {
	p := Dissolved{}
	p.What, _ = text(t, "what")
	need(t, "mass", `"410 g ± 2 g"`)
	p.Mass = d.figure(t, "mass", "balance", units.MassKind)
	p.Grade, p.Shares = d.composition(t)
	p.Extent = d.extent(t)
	if by, ok := text(t, "by"); ok {
		p.By = d.agent(t, "by", by)
	}
	if rest, ok := text(t, "remainder"); ok {
		p.InVessel = rest == remainderInVessel
		if !p.InVessel {
			t.Problem("remainder", fmt.Sprintf("the remainder is not %q", rest), `remainder = "in vessel", or leave it out if the rest was taken away`)
		}
	}
	d.lot.Dissolved = append(d.lot.Dissolved, p)
}

// extent reads how much of a piece dissolved. All of it is seen, and has no
// doubt; a part is judged.
func (d *decoder) extent(t *input.Table) input.Ref {
	ref := d.figureOr(t, "extent", "extent", "all-dissolved", units.Fraction)
	if ref == input.NoRef {
		return ref
	}
	if fig := d.figs.Get(ref); fig.Dist.Mean == 1 && !statesDoubt(fig.Text) && t.Has("extent") {
		fig.Dist, fig.Origin, fig.Source = units.Exactly(1).Bounded(0, 1), input.Typed, ""
		d.figs.Add(fig)
	}
	return ref
}

const remainderInVessel = "in vessel"

func (d *decoder) added(t *input.Table) {
	a := Added{Strength: input.NoRef, Amount: input.NoRef}
	need(t, "what", `"nitric acid"`, "amount", `"1.6 L"`)
	a.What, _ = text(t, "what")
	reagent, known := d.reagent(t, a.What)
	a.Amount = d.amount(t)
	a.Strength = d.strength(t, reagent, known)
	if known {
		a.Reagent = reagent.id
		d.checkPour(t, reagent, a)
	}
	d.lot.Added = append(d.lot.Added, a)
}

// amount reads what was poured: a mass from the balance or a volume from a cylinder.
func (d *decoder) amount(t *input.Table) input.Ref {
	return d.figureBy(t, "amount", func(kind units.Kind) string {
		if kind == units.MassKind {
			return "balance"
		}
		return "cylinder"
	}, units.VolumeKind, units.MassKind)
}

func (d *decoder) strength(t *input.Table, r reagent, known bool) input.Ref {
	if t.Has("strength") {
		return d.figure(t, "strength", "label-strength", units.Fraction, units.ConcentrationKind, units.MassConcentrationKind)
	}
	if !known || r.id == waterID {
		return input.NoRef
	}
	row := d.doubts["usual-strength"]
	ref := d.assume(t, "strength", units.Fraction, r.usual, row)
	return ref
}

func (d *decoder) plated(t *input.Table) {
	need(t, "metal", `"Ag"`, "area", `"850 cm2"`, "thickness", `"37 um ± 25 %"`)
	d.lot.Plated = append(d.lot.Plated, Plated{
		Metal:     d.metal(t, "metal"),
		Area:      d.figure(t, "area", "area", units.AreaKind),
		Thickness: d.figure(t, "thickness", "thickness", units.LengthKind),
	})
}

func (d *decoder) taken(t *input.Table) {
	need(t, "metal", `"Au"`, "mass", `"3.1 g"`)
	d.lot.Taken = append(d.lot.Taken, Taken{
		Metal: d.metal(t, "metal"),
		Mass:  d.figure(t, "mass", "balance", units.MassKind),
	})
}

func (d *decoder) measured(t *input.Table) {
	need(t, "metal", `"Ag"`, "value", `"4.9 g/L ± 4 %"`)
	m := Measured{Metal: d.metal(t, "metal"), In: InLiquid}
	m.By, _ = text(t, "by")
	if in, ok := text(t, "in"); ok {
		m.In = in
	}
	switch m.In {
	case InLiquid:
		m.Value = d.figure(t, "value", assayDoubt(m.By), units.MassConcentrationKind, units.ConcentrationKind)
	case InSolid:
		m.Value = d.figure(t, "value", assayDoubt(m.By), units.Fraction)
	default:
		t.Problem("in", fmt.Sprintf("an assay is of the liquid or of the solid, not of %q", m.In), `in = "liquid" or in = "solid"`)
		t.Figure("value", units.MassConcentrationKind, units.ConcentrationKind, units.Fraction)
	}
	d.lot.Measured = append(d.lot.Measured, m)
}

func (d *decoder) titrated(t *input.Table) {
	need(t, "of", `"Ag"`, "sample", `"10.00 mL"`, "titrant", `"0.1000 mol/L"`, "used", `"4.55 mL ± 0.05 mL"`)
	v := Titrated{
		Of:      d.analyte(t),
		Sample:  d.figure(t, "sample", "titration-sample", units.VolumeKind),
		Titrant: d.figure(t, "titrant", "titrant", units.ConcentrationKind),
		Used:    d.figure(t, "used", "burette", units.VolumeKind),
		Ratio:   d.figureOr(t, "ratio", "titration-ratio", "titration-ratio", units.Number),
	}
	d.positive(t, "sample", v.Sample)
	d.positive(t, "titrant", v.Titrant)
	d.positive(t, "ratio", v.Ratio)
	d.lot.Titrated = append(d.lot.Titrated, v)
}

// analyte reads what was titrated: "acid", or a metal.
func (d *decoder) analyte(t *input.Table) string {
	if of, ok := text(t, "of"); ok && strings.EqualFold(of, OfAcid) {
		return OfAcid
	}
	return d.metal(t, "of")
}

func (d *decoder) solid(t *input.Table) {
	need(t, "compound", `"AgCl"`, "wet_mass", `"38 g"`)
	d.lot.Solids = append(d.lot.Solids, Solid{
		Compound: d.compound(t),
		WetMass:  d.figure(t, "wet_mass", "balance", units.MassKind),
		Moisture: d.figureOr(t, "moisture", "moisture", "moisture-unknown", units.Fraction),
		Purity:   d.figureOr(t, "purity", "purity", "purity-unknown", units.Fraction),
	})
}
