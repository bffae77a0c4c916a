package route

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// meltKind melts a dry metal powder under borax: metals go to the bar, all
// else to the slag. `flux` is borax by mass of the charge, `loss` the share of
// the metal left in slag and crucible, `efficiency` the share of the flame's or
// furnace's heat that reaches the metal.
//
// On a bench that cannot melt, the powder is sold as it is under the sale
// `unmelted`, or the plan is blocked if the route names none.
var meltKind = stepKind{
	figures: []figureKey{{"flux", units.Fraction}, {"loss", units.Fraction}, {"efficiency", units.Fraction}},
	words:   []string{"unmelted"},
	needs:   []string{"flux", "loss", "efficiency"},
	run:     runMelt,
}

func runMelt(r *run) *Block {
	s := &r.in().stream
	if !metallic(*s) {
		return &Block{Reason: "no metal has been won to melt"}
	}
	melting := r.job.Bench.Melting
	if melting != "torch" && melting != "furnace" {
		return r.sellUnmelted()
	}
	charge := float64(s.Mass())
	bar := s.Split(1, isMetal)
	r.companyNote(bar)
	slag := bar.Split(r.figure("loss", 0), isMetal)
	r.losses(slag, "in slag and crucible", "m = loss · m")
	if borax, err := r.reagent("borax"); err == nil {
		flux := r.draw(borax, charge*r.figure("flux", 0)*1000/borax.molarMass, "m = flux · m(charge)")
		slag.Mix(flux)
	}
	slag.Mix(*s)
	r.in().stream = r.mem.Stream(units.Celsius(20))
	r.meltingHeat(bar, melting)
	r.pour("slag", slag)
	r.touch(&bar)
	r.pour(r.step.Out[0], bar)
	return r.sell(r.step.Out[0])
}

func isMetal(sp substance.Species) bool {
	return sp.Phase != substance.Aqueous && sp.Phase != substance.Gas && sp.Formula.IsElement() && sp.Metal != ""
}

func metallic(s substance.Stream) bool { return s.MassOf(isMetal) > 0 }

// meltingHeat books the heat that takes the metal from 20 degC to just molten.
func (r *run) meltingHeat(bar substance.Stream, melting string) {
	kilograms := float64(bar.MassOf(isMetal))
	wall := kilograms * data.SilverMelting / math.Max(r.figure("efficiency", 1), 0.01)
	kind := Electricity
	if melting == "torch" {
		kind = Fuel
	}
	r.enter(kind, melting, wall/3.6e6, "E = m·(∫c dT + ΔH(fusion))/η", data.SilverMeltingSource, r.source("efficiency"))
}

func (r *run) sellUnmelted() *Block {
	if r.step.Words["unmelted"] == "" {
		return &Block{Reason: "this bench cannot melt, and the route knows no buyer for the powder"}
	}
	r.note("this bench cannot melt: the powder is sold as it is")
	r.move(r.step.Out[0])
	return r.sellAs(r.step.Out[0], "cement", r.step.Words["unmelted"])
}

// sell turns a stream into the step's product.
func (r *run) sell(name string) *Block {
	sale := r.step.Sale
	if sale == "" {
		sale = r.file.Yields
	}
	return r.sellAs(name, r.step.Product, sale)
}

func (r *run) sellAs(name, form, sale string) *Block {
	s := r.slot(name)
	stream := s.stream
	s.stream = r.mem.Stream(stream.Temperature)
	metal := r.file.Takes[0]
	p := Product{Form: form, Sale: sale, Route: r.file.ID, Metal: metal, Mass: stream.Mass(), MetalMass: stream.ElementMass(metal)}
	if !(p.Mass > 0) || !(p.MetalMass > 0) {
		return &Block{Reason: "nothing is left to sell at the end of the route"}
	}
	p.MetalMass = min(p.MetalMass, p.Mass) // element by element and in all differ in the last digit
	p.Fineness = 1000 * float64(p.MetalMass) / float64(p.Mass)
	if form == "salt" {
		p.Compound, p.Fineness = saltOf(stream)
	}
	p.Composition = composition(stream)
	if r.job.Trace {
		p.Why = Why{Formula: "m = Σ n·M of the stream", Inputs: stream.Inputs.Union(r.basis), Reason: "what the steps before left in “" + name + "”"}
	}
	r.out.Products = append(r.out.Products, p)
	r.sold = append(r.sold, stream)
	return nil
}

// saltOf returns the main compound of a stream of crystals and its purity in
// parts in a thousand.
func saltOf(s substance.Stream) (formula string, fineness float64) {
	most := 0.0
	for i, n := range s.Mol {
		sp := substance.AllSpecies()[i]
		if m := n * float64(sp.MolarMass); sp.Phase == substance.Solid && m > most {
			most, formula = m, bareName(sp)
		}
	}
	return formula, 1000 * most / s.Mass().Grams()
}

// composition returns the element shares of a stream, largest first.
func composition(s substance.Stream) []Share {
	total := s.Mass().Grams()
	list := make([]Share, 0, 8)
	for i, mol := range s.ElementAmounts(nil) {
		if mol > 0 {
			e := elements()[i]
			list = append(list, Share{Element: e.Symbol, Share: units.MassFraction(math.Min(1, mol*float64(e.Weight)/total))})
		}
	}
	slices.SortStableFunc(list, func(a, b Share) int { return cmp.Compare(b.Share, a.Share) })
	return list
}

// elements are the elements of the registry in the order of Symbols.
var elements = sync.OnceValue(func() []substance.Element {
	list := make([]substance.Element, 0, len(substance.Symbols()))
	for _, symbol := range substance.Symbols() {
		e, err := substance.ElementBySymbol(symbol)
		if err != nil {
			panic(err) // Symbols lists elements of the table
		}
		list = append(list, e)
	}
	return list
})
