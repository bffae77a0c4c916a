package route

import (
	"fmt"
	"strings"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// measure is what a condition looks at.
type measure uint8

const (
	ofStream      measure = iota // species or elements of the stream at the step
	ofTemperature                // the highest of the step, K
	ofStanding                   // the hours that the step waits
	ofStrength                   // mass share of the reagent as it stands on the shelf
	ofDose                       // mass of the reagent that the step took, kg
	ofWarming                    // K by which the reagent's solution warms if made up at once
	ofGas                        // mass of gas that the step gave off, kg
)

var measureWords = map[string]measure{
	"temperature": ofTemperature, "standing": ofStanding, "strength": ofStrength, "dose": ofDose, "warming": ofWarming, "gas": ofGas,
}

// measureKinds gives what each measure may be compared with.
var measureKinds = [...][]units.Kind{
	ofStream:      {units.ConcentrationKind, units.MassConcentrationKind, units.AmountKind, units.MassKind, units.Fraction},
	ofTemperature: {units.TemperatureKind}, ofStanding: {units.HoursKind}, ofStrength: {units.Fraction},
	ofDose: {units.MassKind}, ofWarming: {units.TemperatureKind}, ofGas: {units.MassKind},
}

// booked tells whether the measure is known only when the step has been carried
// out.
func (m measure) booked() bool { return m == ofDose || m == ofWarming || m == ofGas }

// Condition is one threshold: "H^+ above 3 mol/L", "solid Zn + solid Fe above
// 1 g", "NO3^- above 1 %", "temperature above 50 degC", "gas NO + NO2 above
// 0.05 g".
//
// The unit says how the stream is measured: mol/L and g/L in its liquor, mol and
// g in all of it, % as a share of all in it that is not water. A species counts
// as itself, an element by its atoms in every form; "dissolved" and "solid"
// before a name narrow it to a phase; "organic matter" is what a sugar and
// ascorbic acid are and become. Without liquor a concentration is 0.
type Condition struct {
	Text    string
	measure measure
	parts   []part
	gases   []string // of ofGas; all if empty
	kind    units.Kind
	below   bool
	bound   float64 // base unit of kind
	what    string  // left of "above"
}

// part is a species with what a mole of it counts.
type part struct {
	id         substance.SpeciesID
	mol, grams float64
}

// parseCondition reads a condition. Errors: no "above" or "below", an unknown
// name, a unit that the measure does not have.
func parseCondition(text string) (Condition, error) {
	c := Condition{Text: text}
	what, bound, ok := strings.Cut(text, " above ")
	if !ok {
		if what, bound, ok = strings.Cut(text, " below "); !ok {
			return c, fmt.Errorf("%s has neither “above” nor “below”", quote(text))
		}
		c.below = true
	}
	c.what = strings.TrimSpace(what)
	if err := c.parseWhat(); err != nil {
		return c, err
	}
	kind, dist, err := units.Parse(bound, measureKinds[c.measure]...)
	if err != nil {
		return c, err
	}
	c.kind, c.bound = kind, dist.Mean
	return c, nil
}

func (c *Condition) parseWhat() error {
	word, rest, _ := strings.Cut(c.what, " ")
	if m, ok := measureWords[word]; ok && (rest == "" || m == ofGas) {
		c.measure = m
		if rest != "" {
			c.gases = strings.Split(rest, " + ")
		}
		for _, gas := range c.gases {
			if _, err := substance.Find(gas + "(g)"); err != nil {
				return err
			}
		}
		return nil
	}
	names := strings.Split(c.what, " + ")
	if group, ok := speciesGroups[c.what]; ok {
		names = group
	}
	for _, name := range names {
		if err := c.addTerm(name); err != nil {
			return err
		}
	}
	return nil
}

// speciesGroups are names for several species at once.
var speciesGroups = map[string][]string{
	"organic matter": {"C6H12O6(aq)", "C12H22O11(aq)", "C6H11O7^-", "C6H12O7(aq)", "C6H8O6(aq)", "C6H6O6(aq)", "C6H12O6(s)", "C12H22O11(s)", "C6H8O6(s)"},
}

// addTerm adds a species or an element to what is measured.
func (c *Condition) addTerm(term string) error {
	in := func(substance.Species) bool { return true }
	name := term
	if rest, ok := strings.CutPrefix(term, "dissolved "); ok {
		name, in = rest, substance.Dissolved
	} else if rest, ok := strings.CutPrefix(term, "solid "); ok {
		name, in = rest, substance.Undissolved
	}
	element, err := substance.ElementBySymbol(name)
	if err != nil {
		id, err := substance.Find(name)
		if err != nil {
			return err
		}
		c.parts = append(c.parts, part{id, 1, float64(id.Species().MolarMass)})
		return nil
	}
	for _, sp := range substance.AllSpecies() {
		if atoms := sp.Formula.Atoms(element.Symbol); atoms > 0 && in(sp) {
			c.parts = append(c.parts, part{sp.ID, atoms, atoms * float64(element.Weight)})
		}
	}
	return nil
}

// probe is what a step's rules look at.
type probe struct {
	run    *run // nil at an ending
	stream substance.Stream
	litres float64 // of liquor; negative until asked for
	dry    float64 // g of all but water; negative until asked for
}

func newProbe(r *run, s substance.Stream) *probe {
	return &probe{run: r, stream: s, litres: -1, dry: -1}
}

// holds tells whether a condition is met.
func (p *probe) holds(c *Condition) bool {
	v := p.value(c)
	if c.below {
		return v < c.bound
	}
	return v > c.bound
}

// value measures what a condition looks at, in the base unit of its kind.
func (p *probe) value(c *Condition) float64 {
	if c.measure == ofStream {
		return p.amount(c)
	}
	r := p.run
	if r == nil {
		return 0
	}
	switch c.measure {
	case ofTemperature:
		return r.hottest()
	case ofStanding:
		return r.standing()
	case ofStrength:
		return r.shelfStrength()
	case ofDose:
		return r.doseGrams() / 1000
	case ofWarming:
		return r.warming()
	default:
		return r.gasGrams(c.gases) / 1000
	}
}

func (p *probe) amount(c *Condition) float64 {
	mol, grams := 0.0, 0.0
	for _, part := range c.parts {
		n := p.stream.Mol[part.id]
		mol += n * part.mol
		grams += n * part.grams
	}
	switch c.kind {
	case units.AmountKind:
		return mol
	case units.MassKind:
		return grams / 1000
	case units.Fraction:
		return over(grams, p.dryGrams())
	case units.MassConcentrationKind:
		return over(grams, p.liquor())
	default:
		return over(mol, p.liquor())
	}
}

func over(a, b float64) float64 {
	if !(b > 0) {
		return 0
	}
	return a / b
}

func (p *probe) liquor() float64 {
	if p.litres < 0 {
		p.litres = max(0, float64(p.stream.LiquidVolume()))
	}
	return p.litres
}

func (p *probe) dryGrams() float64 {
	if p.dry < 0 {
		p.dry = p.stream.Mass().Grams() - p.stream.Mol[idWater]*float64(idWater.Species().MolarMass)
	}
	return p.dry
}

// standing is how long the step waits, in h.
func (r *run) standing() float64 {
	total := 0.0
	in := r.in().stream
	for _, term := range []struct {
		q    Quantity
		size float64
	}{
		{r.step.Wait.Fixed, 1},
		{r.step.Wait.PerLitre, float64(in.LiquidVolume())},
		{r.step.Wait.PerKilogram, float64(in.SolidMass())},
	} {
		if term.q.Ref >= 0 {
			total += r.job.Values.At(term.q.Ref) * term.size
		}
	}
	return total
}

// shelfStrength is the mass share of the step's reagent as it stands on the
// shelf.
func (r *run) shelfStrength() float64 {
	g, err := r.reagent(r.step.Reagent)
	if err != nil {
		return 0
	}
	return g.strength
}

// doseGrams is what the step took of its reagent, in g.
func (r *run) doseGrams() float64 {
	total := 0.0
	for i := range r.rec.Entries {
		if e := &r.rec.Entries[i]; e.Kind == Reagent && e.Item == r.step.Reagent {
			total += e.Amount
		}
	}
	return total
}

// gasGrams is what the step gave off of these gases, in g.
func (r *run) gasGrams(gases []string) float64 {
	total := 0.0
	for i := range r.rec.Entries {
		e := &r.rec.Entries[i]
		if e.Kind != Gas {
			continue
		}
		counts := len(gases) == 0
		for _, gas := range gases {
			counts = counts || gas == e.Item
		}
		if counts {
			total += e.Amount
		}
	}
	return total
}

// heatOfSolution is the heat that reagents give off with much water, in J/g.
// CRC Handbook of Chemistry and Physics, enthalpies of solution: NaOH −44.5
// kJ/mol, H2SO4 −95.3 kJ/mol.
var heatOfSolution = map[string]float64{"sodium-hydroxide": 1112, "sulfuric-acid": 972}

// warming is how much warmer the step's reagent makes the water that it is
// dissolved in, or the vessel where it goes in as it is, in K. Heat lost
// meanwhile is left out, so it is the most.
func (r *run) warming() float64 {
	grams := r.doseGrams()
	water := r.figure("water", 0) * grams // g: the figure is in L/kg
	if water <= 0 {
		water = float64(r.slot(r.step.Out[0]).stream.Water()) * float64(idWater.Species().MolarMass)
	}
	const perGram = 4.184 // J/(g K), water
	return over(grams*heatOfSolution[r.step.Reagent], (water+grams)*perGram)
}
