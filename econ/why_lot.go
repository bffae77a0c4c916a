package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// WhyMetal is the chain of how much of a metal the lot holds: the statements
// about it with their weights, what is in solids, the atomic weight, and the
// inputs behind each. A metal that the lot does not name gives an empty chain.
func (a *Appraisal) WhyMetal(symbol string) Chain {
	r := a.because("contained " + elementName(symbol))
	r.contained(itself, symbol)
	if len(r.chain.Links) == 0 {
		return Chain{What: r.chain.What, Links: []Link{}}
	}
	return r.done()
}

// metal finds a metal in the report; nil if the lot does not name it.
func (a *Appraisal) metal(symbol string) *lot.MetalReport {
	for i := range a.Report.Metals {
		if a.Report.Metals[i].Metal == symbol {
			return &a.Report.Metals[i]
		}
	}
	return nil
}

// contained appends what the lot holds of a metal and how that came about.
func (r *reasons) contained(level int, symbol string) {
	m := r.a.metal(symbol)
	if m == nil {
		return
	}
	why := route.Why{Formula: m.Formula, Inputs: input.Set{}.With(m.Inputs...)}
	if m.Disagree {
		why.Reason = fmt.Sprintf("its statements contradict each other (chi-squared %s, p %s), so the doubt is widened", toDigits(m.ChiSquared, 2), toDigits(m.P, 1))
	}
	r.mass(level, elementName(symbol)+" contained in the lot", m.Contained, m.SD, why).grip = vessel
	for i := range m.Estimates {
		r.estimate(level+1, &m.Estimates[i])
	}
	r.phases(level+1, m)
	r.atomicWeight(level+1, symbol)
}

// estimate appends one statement about a metal.
func (r *reasons) estimate(level int, e *lot.Estimate) {
	why := route.Why{Formula: e.Formula, Inputs: input.Set{}.With(e.Inputs...)}
	if e.Source != "" {
		why.Sources = []string{e.Source}
	}
	if e.Weight < 1-1e-9 {
		why.Reason = fmt.Sprintf("it counts %s %% among the statements of the %s, by its doubt", toDigits(100*e.Weight, 2), e.Of)
	}
	if e.Disagree {
		why.Reason = joinedText("it contradicts another statement", why.Reason)
	}
	r.mass(level, e.Label+" ("+e.Of+")", e.Mass, e.SD, why).grip = statement
}

// phases appends how a metal stands in the vessel.
func (r *reasons) phases(level int, m *lot.MetalReport) {
	r.mass(level, "of it dissolved", m.Dissolved, m.DissolvedSD, route.Why{})
	for _, f := range m.SolidForms {
		link := r.mass(level, "of it in "+f.Species, f.Metal, 0, route.Why{Formula: "mass of the compound × share of the metal in its formula"})
		link.Text += " in " + units.Format(units.MassKind, float64(f.Mass))
	}
}

// weightSource names where atomic weights are from.
const weightSource = "CIAAW abridged standard atomic weights 2021"

func (r *reasons) atomicWeight(level int, symbol string) {
	e, err := substance.ElementBySymbol(symbol)
	if err != nil {
		return
	}
	value := float64(e.Weight)
	r.add(level, "atomic weight of "+elementName(symbol), value, "g/mol", toDigits(value, 7)+" g/mol", route.Why{Sources: []string{weightSource}})
}

// WhySpotValue is the chain of a metal's worth at spot.
func (a *Appraisal) WhySpotValue(symbol string) Chain {
	r := a.because("spot value of " + elementName(symbol))
	for _, m := range a.Metals {
		if m.Metal != symbol {
			continue
		}
		why := route.Why{Formula: "metal contained × spot price", Reason: "contained metal is not recoverable metal, and no buyer pays all of it"}
		if m.SpotValue == nil {
			r.say(itself, "no spot price of "+elementName(symbol), route.Why{Reason: "the price book has none"})
		} else {
			if ref, ok := a.Figures.ByID(m.PriceID); ok {
				why.Inputs = why.Inputs.With(ref)
			}
			r.money(itself, "spot value of "+elementName(symbol), *m.SpotValue, why)
		}
		r.contained(restsOn, symbol)
		return r.done()
	}
	return Chain{What: r.chain.What, Links: []Link{}}
}

// WhyAcid is the chain of the free acid of the liquor.
func (a *Appraisal) WhyAcid() Chain {
	r := a.because("free acid")
	acid := &a.Report.Acid
	why := route.Why{Formula: "acid poured in − bases − acid used by dissolving, and what was measured, by inverse variance", Inputs: input.Set{}.With(acid.Inputs...)}
	if acid.HighMol > acid.LowMol {
		why.Reason = fmt.Sprintf("the sources alone leave from %s (all nitrogen dioxide) to %s (all nitric oxide)", amountText(acid.LowMol, 0), amountText(acid.HighMol, 0))
	}
	if acid.Disagree {
		why.Reason = joinedText("its statements contradict each other, so the doubt is widened", why.Reason)
	}
	link := r.add(itself, "free acid", acid.FreeMol, "mol", amountText(acid.FreeMol, acid.SD), why)
	if acid.FreeMol < 0 {
		link.What = "alkali left over"
	}
	for i := range acid.Estimates {
		e := &acid.Estimates[i]
		why := route.Why{Formula: e.Formula, Inputs: input.Set{}.With(e.Inputs...)}
		if e.Source != "" {
			why.Sources = []string{e.Source}
		}
		if e.Weight < 1-1e-9 {
			why.Reason = fmt.Sprintf("it counts %s %%, by its doubt", toDigits(100*e.Weight, 2))
		}
		if e.Disagree {
			why.Reason = joinedText("it contradicts another statement", why.Reason)
		}
		r.add(restsOn, e.Label, e.Mol, "mol", amountText(e.Mol, e.SD), why).grip = statement
	}
	return r.done()
}

// amountText writes mol of acid with its doubt; of alkali, below 0, with a sign.
func amountText(mol, sd float64) string {
	if !(sd > 0) {
		return units.Format(units.AmountKind, mol)
	}
	return units.FormatDist(units.AmountKind, units.NormalDist(mol, sd))
}

// WhyVolume is the chain of the liquid's volume.
func (a *Appraisal) WhyVolume() Chain {
	r := a.because("volume of the liquid")
	why := route.Why{Formula: "liquid in the wet solids", Inputs: r.within(input.Set{}.With(a.lotRefs()...), "lot/solid[")}
	for _, from := range []struct{ id, formula string }{
		{"lot/vessel/litres-per-kilogram", "metal dissolved × litres a kilogram"},
		{"lot/vessel/liquid-over-poured", "what was poured in × a doubtful factor"},
		{"lot/vessel.liquid", "as stated"},
	} {
		if ref, ok := a.Figures.ByID(from.id); ok {
			why = route.Why{Formula: from.formula, Inputs: input.Set{}.With(ref)}
		}
	}
	text := units.Format(units.VolumeKind, float64(a.Report.Volume))
	if a.Report.VolumeSD > 0 {
		text = units.FormatDist(units.VolumeKind, units.NormalDist(float64(a.Report.Volume), float64(a.Report.VolumeSD)))
	}
	r.add(itself, "volume of the liquid", a.Report.Volume.Litres(), "L", text, why)
	return r.done()
}

// lotRefs are all inputs of the lot.
func (a *Appraisal) lotRefs() []input.Ref {
	var refs []input.Ref
	for i := range a.Figures.Len() {
		if ref := input.Ref(i); strings.HasPrefix(a.Figures.Get(ref).ID, "lot/") {
			refs = append(refs, ref)
		}
	}
	return refs
}
