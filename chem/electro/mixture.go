package electro

import "math"

// mixture is the liquor as the integration changes it, in mol/L. Acid below 0
// is alkali.
type mixture struct {
	metal                                           [maxMetals]float64
	acid, iron3, iron2, nitrate, chloride, ammonium float64
}

// bath is what stays: the cell, the metals, and rates that the temperature and
// the stirring fix. Areas in m2, coefficients in m/s, litres, kelvins.
type bath struct {
	cell                   Cell
	litres, kelvins        float64
	symbols                [maxMetals]string
	metalIons              [maxMetals]carrier
	ions                   [len(fixedIons)]carrier
	root                   float64 // of the conductivity, (L/mol)^½
	attack                 float64 // nitrate current density at the reference potential, 1 mol/L each, A/m2
	electrons, standard    [maxMetals]float64
	transfer               [maxMetals]float64
	count, target          int
	coarse                 float64 // scales the steps, 1 but in tests
	acid, iron3, iron2     float64 // mass-transfer coefficients
	nitrate, chloride      float64
	lead                   int // index of lead, −1 if there is none
	sulfate, salt          float64
	hydrogen               Tafel
	oxygen, chlorine       Tafel
	exchange               float64 // A/m2
	kinetics               nitrateKinetics
	e0Iron, e0Oxygen, e0Cl float64
	e0Lead, e0Water        float64
}

// newBath prepares a liquor in a cell. The arguments have been checked.
func newBath(cell Cell, l Liquor, target string) (*bath, mixture) {
	t := loaded()
	b := &bath{
		cell: cell, litres: float64(l.Volume), kelvins: float64(l.Temperature), lead: -1, coarse: 1,
		sulfate: float64(l.Sulfate), salt: float64(l.Salt), kinetics: t.nitrate,
	}
	m := mixture{
		acid: float64(l.Acid), iron3: float64(l.IronIII), iron2: float64(l.IronII),
		nitrate: float64(l.Nitrate), chloride: float64(l.Chloride),
	}
	k := func(ion string) float64 { return transferOf(cell.MassTransfer, ion, b.kelvins) }
	for _, row := range metals {
		sum, active := l.of(row.symbol)
		if sum > 0 {
			b.addMetal(&m, row.symbol, row.couple, sum, active/sum, target)
			b.transfer[b.count-1] = k(row.symbol)
		}
	}
	for i, name := range fixedIons {
		b.ions[i] = carrierOf(name)
	}
	b.root = t.figures["conductivity-root"].value
	b.attack = t.nitrate.density(1, 1, cell.NitrateFactor, b.kelvins)
	b.acid, b.iron3, b.iron2, b.nitrate, b.chloride = k("H"), k("Fe3"), k("Fe2"), k("NO3"), k("Cl")
	b.hydrogen, b.oxygen, b.chlorine = t.gases["hydrogen-Cu"], t.gases["oxygen-"+cell.Anode], t.gases["chlorine-"+cell.Anode]
	if target == "Ag" {
		b.hydrogen = t.gases["hydrogen-Ag"]
	}
	b.exchange = t.exchange["Cu"].value
	if f, ok := t.exchange[target]; ok {
		b.exchange = f.value
	}
	e0 := func(id string) float64 { return float64(t.couples[t.couple[id]].Standard) }
	b.e0Iron, b.e0Oxygen, b.e0Cl, b.e0Lead, b.e0Water = e0("fe3_fe2"), e0("o2"), e0("cl2"), e0("pbo2"), e0("h2o_red")
	return b, m
}

// of returns the concentration and the activity of a metal in mol/L.
func (l Liquor) of(symbol string) (sum, active float64) {
	for _, d := range l.Metals {
		if d.Metal == symbol {
			sum += float64(d.Concentration)
			active += float64(d.Concentration) * d.activity()
		}
	}
	return sum, active
}

// addMetal enters a metal at the concentration in mol/L, with its activity over
// it, which moves its standard potential.
func (b *bath) addMetal(m *mixture, symbol, couple string, c, activity float64, target string) {
	t := loaded()
	row := t.couples[t.couple[couple]]
	b.metalIons[b.count] = carrierOf(symbol)
	b.symbols[b.count], b.electrons[b.count], b.standard[b.count] = symbol, float64(row.Electrons), float64(row.Standard)
	b.standard[b.count] += thermalVolt(b.kelvins) / b.electrons[b.count] * math.Log(activity)
	m.metal[b.count] = c
	if symbol == target {
		b.target = b.count
	}
	if symbol == "Pb" {
		b.lead = b.count
	}
	b.count++
}

// cathode returns the plate's reactions in the mixture.
func (b *bath) cathode(m *mixture) cathode {
	area, vt := float64(b.cell.CathodeArea), thermalVolt(b.kelvins)
	c := cathode{count: b.count, perVolt: 1 / vt, ironHalfWave: b.e0Iron}
	for i := range b.count {
		conc := max(m.metal[i], 0)
		if conc == 0 {
			continue
		}
		c.metals[i] = wave{
			rest:  b.standard[i] + vt/b.electrons[i]*math.Log(conc),
			steep: b.electrons[i] / vt, limit: limiting(b.electrons[i], b.transfer[i], area, conc),
		}
	}
	c.ironLimit = limiting(1, b.iron3, area, max(m.iron3, 0))
	acid, nitrate := max(m.acid, 0), max(m.nitrate, 0)
	c.nitrate = slow{
		at: area * b.attack * nitrate * acid, reference: b.kinetics.reference,
		steep: math.Ln10 / b.kinetics.slope,
		limit: min(limiting(3, b.nitrate, area, nitrate), limiting(0.75, b.acid, area, acid)),
	}
	tafel := func(reference, limit float64) slow {
		return slow{at: area * 100, reference: reference - float64(b.hydrogen.At100), steep: math.Ln10 / float64(b.hydrogen.Slope), limit: limit}
	}
	if acid > 0 {
		c.proton = tafel(vt*math.Log(acid), limiting(1, b.acid, area, acid))
	}
	c.water = tafel(b.e0Water, math.Inf(1))
	return c
}

// anode returns the inert plate's reactions in the mixture. Its potentials are
// negated, so that its currents fall as theirs at the cathode do.
func (b *bath) anode(m *mixture) anode {
	area, vt := float64(b.cell.AnodeArea), thermalVolt(b.kelvins)
	a := anode{ironLimit: limiting(1, b.iron2, area, max(m.iron2, 0)), floor: b.e0Iron}
	if b.lead >= 0 {
		a.leadLimit = limiting(2, b.transfer[b.lead], area, max(m.metal[b.lead], 0))
		if a.ironLimit == 0 {
			a.floor = b.e0Lead
		}
	}
	gas := func(t Tafel, rest, limit float64) slow {
		return slow{at: area * 100, reference: -rest - float64(t.At100), steep: math.Ln10 / float64(t.Slope), limit: limit}
	}
	a.oxygen = gas(b.oxygen, b.e0Oxygen+vt*math.Log(max(m.acid, 1e-7)), math.Inf(1))
	if m.chloride > 0 {
		a.chlorine = gas(b.chlorine, b.e0Cl-vt*math.Log(m.chloride), limiting(1, b.chloride, area, m.chloride))
	}
	return a
}

// carrier is an ion that carries current: S m2/mol and z².
type carrier struct{ conductivity, square float64 }

// The fixed ions of a liquor, in the order of bath.ions.
var fixedIons = [...]string{"H", "OH", "Fe3", "Fe2", "NO3", "Cl", "NH4", "SO4", "Na"}

// carrierOf looks an ion up.
func carrierOf(ion string) carrier {
	row := loaded().ions[ion]
	return carrier{row.conductivity, row.charge * row.charge}
}

// resistance returns the resistance of the liquor between the plates in ohms.
func (b *bath) resistance(m *mixture) float64 {
	var sum, strength float64
	add := func(i carrier, c float64) {
		if c > 0 {
			sum += i.conductivity * c * 1000
			strength += i.square * c / 2
		}
	}
	for i := range b.count {
		add(b.metalIons[i], m.metal[i])
	}
	for i, c := range [...]float64{m.acid, -m.acid, m.iron3, m.iron2, m.nitrate, m.chloride, m.ammonium, b.sulfate, b.salt} {
		add(b.ions[i], c)
	}
	kappa := max(conductivity(sum, strength, b.kelvins, b.root), 1e-4) // pure water at the least
	area := math.Sqrt(float64(b.cell.CathodeArea) * float64(b.cell.AnodeArea))
	return float64(b.cell.Gap) / (kappa * area)
}
