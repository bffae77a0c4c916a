package electro

import (
	"fmt"
	"math"
	"sort"

	"afterpour/chem/units"
)

// Cemented is what equilibrium does to one metal of the liquor.
type Cemented struct {
	Metal     string
	Potential units.Potential     // at its first concentration
	Down      units.Concentration // comes down, in mol per litre of liquor
	Left      units.Concentration
}

// Cementation is a liquor at equilibrium with a metal laid in it.
type Cementation struct {
	Metals     []Cemented          // noblest first
	Potential  units.Potential     // of the metal at the end
	Displaced  units.Concentration // of the metal laid in, dissolved by what came down
	ByIron     units.Concentration // dissolved by iron(III)
	IronIII    units.Concentration // left
	FinalMetal units.Concentration // the metal laid in, in the liquor at the end
}

// Cement returns which metals come down on a metal laid in the liquor ("Cu",
// "Fe", "Zn", …), how much of it dissolves for them and for iron(III), and what
// equilibrium leaves.
//
//	E = E°_R + RT/(n_R·F)·ln a_R = E°_M + RT/(n_M·F)·ln a_M for every metal that came down
//	n_R·(c_R − c_R0) = Σ n_M·(c_M0 − c_M) + (c_Fe3,0 − c_Fe3)
//
// The metals do not form alloys and the solid's activity is 1; activities are
// concentrations unless the liquor gives their ratio. It is a limit that the
// bench does not reach: fines, speed and a coated metal leave some milligrams a
// litre (PracticeByID "cementation_residual"). Free acid that attacks the metal
// is apart: CopperAttack. ErrUnknown for a metal without a row, ErrDomain for a
// liquor that cannot be.
//
// Source: OpenStax Chemistry 2e, sections 17.3 and 17.4.
func Cement(on string, l Liquor) (Cementation, error) {
	const name = "Cement"
	row, err := reductant(on)
	if err != nil {
		return Cementation{}, err
	}
	if err := l.checkMetals(name); err != nil {
		return Cementation{}, err
	}
	vt := thermalVolt(float64(l.Temperature))
	s := cement{volt: vt, iron3: float64(l.IronIII), iron2: float64(l.IronII), e0Iron: ironPotential()}
	before, active := l.of(on)
	s.metal = half{float64(row.Electrons), float64(row.Standard), before, ratioOr1(active, before)}
	if on == "Fe" {
		s.metal.start, s.ironDissolves = s.iron2, true
	}
	names := s.add(l, on)
	e := s.solve()
	return s.report(names, e), nil
}

// half is a couple in the liquor: electrons, standard potential in V, first
// concentration in mol/L, activity over concentration.
type half struct{ n, e0, start, activity float64 }

// at returns the concentration in mol/L at equilibrium with the potential.
func (h half) at(volts, vt float64) float64 {
	return math.Exp(min(700, h.n*(volts-h.e0)/vt)) / h.activity
}

// rest returns the potential in V at the first concentration.
func (h half) rest(vt float64) float64 { return h.e0 + vt/h.n*math.Log(h.start*h.activity) }

// cement is the electron balance of a cementation.
type cement struct {
	volt          float64
	metal         half // laid in
	nobler        []half
	iron3, iron2  float64
	e0Iron        float64
	ironDissolves bool // iron is laid in: iron(III) makes iron(II) with it
}

// add takes up the liquor's metals and returns their names, noblest first.
func (s *cement) add(l Liquor, on string) []string {
	var names []string
	for _, m := range metals {
		c, active := l.of(m.symbol)
		row, err := coupleOf(m.symbol)
		if err != nil || c == 0 || m.symbol == on {
			continue
		}
		s.nobler = append(s.nobler, half{float64(row.Electrons), float64(row.Standard), c, active / c})
		names = append(names, m.symbol)
	}
	order := make([]int, len(names))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return s.nobler[order[a]].rest(s.volt) > s.nobler[order[b]].rest(s.volt) })
	halves, sorted := make([]half, len(order)), make([]string, len(order))
	for to, from := range order {
		halves[to], sorted[to] = s.nobler[from], names[from]
	}
	s.nobler = halves
	return sorted
}

// ironLeft returns the iron(III) in mol/L at the potential; all iron stays dissolved.
func (s *cement) ironLeft(volts float64) float64 {
	total := s.iron3 + s.iron2
	return min(s.iron3, total/(1+math.Exp(min(700, (s.e0Iron-volts)/s.volt))))
}

// surplus returns the electrons given less those taken at the potential, which rises with it.
func (s *cement) surplus(volts float64) float64 {
	sum := s.metal.n * (s.metal.at(volts, s.volt) - s.metal.start)
	for _, h := range s.nobler {
		sum -= h.n * (h.start - min(h.start, h.at(volts, s.volt)))
	}
	return sum - (s.iron3 - s.ironLeft(volts))
}

// solve returns the potential at which the electrons balance, by bisection: the
// balance rises with the potential.
func (s *cement) solve() float64 {
	low, high := s.metal.e0-6, s.metal.e0+3
	for range 200 {
		mid := (low + high) / 2
		if s.surplus(mid) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return (low + high) / 2
}

// report turns the potential into what came down.
func (s *cement) report(names []string, volts float64) Cementation {
	c := Cementation{Potential: units.Potential(volts), IronIII: units.Concentration(s.ironLeft(volts))}
	var taken float64
	for i, h := range s.nobler {
		left := min(h.start, h.at(volts, s.volt))
		taken += h.n * (h.start - left)
		c.Metals = append(c.Metals, Cemented{
			Metal: names[i], Potential: units.Potential(h.rest(s.volt)),
			Down: units.Concentration(h.start - left), Left: units.Concentration(left),
		})
	}
	c.Displaced = units.Concentration(taken / s.metal.n)
	c.ByIron = units.Concentration((s.iron3 - float64(c.IronIII)) / s.metal.n)
	c.FinalMetal = units.Concentration(s.metal.start) + c.Displaced + c.ByIron
	if s.ironDissolves {
		c.FinalMetal += units.Concentration(s.iron3) - c.IronIII // iron(III) becomes iron(II) too
	}
	return c
}

// reductant returns the couple of a metal that may be laid in a liquor.
func reductant(symbol string) (Couple, error) {
	if symbol == "Fe" {
		return CoupleByID("fe2")
	}
	return coupleOf(symbol)
}

// ironPotential is E° of iron(III) and iron(II) in V.
func ironPotential() float64 {
	t := loaded()
	return float64(t.couples[t.couple["fe3_fe2"]].Standard)
}

// ratioOr1 returns a/b, or 1 where b is 0.
func ratioOr1(a, b float64) float64 {
	if b == 0 {
		return 1
	}
	return a / b
}

// checkMetals refuses a liquor whose metals, iron or temperature cannot be.
func (l Liquor) checkMetals(name string) error {
	args := []argument{
		liquid("temperature", float64(l.Temperature)), notNegative("iron(III)", float64(l.IronIII)),
		notNegative("iron(II)", float64(l.IronII)),
	}
	for _, m := range l.Metals {
		if _, err := coupleOf(m.Metal); err != nil {
			return err
		}
		args = append(args, within("concentration of "+m.Metal, float64(m.Concentration), 0, 100),
			within("activity of "+m.Metal, m.activity(), 1e-60, 1e6))
	}
	return demand(name, args...)
}

// CementTime returns how long stirring takes to bring a metal down from one
// concentration to another on a metal of the area given, if it reacts as fast as
// it arrives.
//
//	t = V/(k·A)·ln(c0/c)
//
// with the mass-transfer coefficient k in m/s (MassTransfer). A coat of cement
// slows it later and roughens it earlier: two times either way. ErrDomain for a
// volume, area, k or concentration not above 0, or a last one above the first.
//
// Source: first-order kinetics of cementation, common in hydrometallurgy texts.
func CementTime(start, stop units.Concentration, v units.Volume, k float64, area units.Area) (units.Hours, error) {
	const name = "CementTime"
	if err := demand(name, positive("start", float64(start)), positive("stop", float64(stop)),
		argument{name: "stop", value: float64(stop), valid: stop <= start, want: "no more than the start"}, positive("volume", float64(v)),
		positive("mass-transfer coefficient", k), positive("area", float64(area))); err != nil {
		return 0, err
	}
	t, err := result(name, float64(v)/1000/(k*float64(area))*math.Log(float64(start/stop))/3600)
	return units.Hours(t), err
}

// Attack is what nitric acid does to copper in a time.
type Attack struct {
	Copper   units.Amount // dissolved
	AcidUsed units.Amount
	Nitrate  units.Amount // used, as nitric oxide given off
}

// CopperAttack returns how much copper free nitric acid dissolves from an area
// in a time, down to none of the acid.
//
//	3Cu + 8H⁺ + 2NO3⁻ → 3Cu²⁺ + 2NO + 4H2O,  j = f·5 A/m2·[H⁺]·[NO3⁻]·exp(−Ea/R·(1/T − 1/298 K))
//
// The rate is that of NitrateReduction at rest, with its doubt f (0.3 to 3); the
// acid and nitrate used up slow it down. Above about 3 mol/L acid the attack runs
// away and makes NO2, four moles of acid for one of copper; that is not in it.
// ErrDomain for anything below 0, a volume not above 0 or a temperature outside
// 0 to 100 °C.
//
// Source: the first anchor in kinetics.toml.
func CopperAttack(l Liquor, area units.Area, hours units.Hours, factor float64) (Attack, error) {
	const name = "CopperAttack"
	if err := demand(name, positive("volume", float64(l.Volume)), liquid("temperature", float64(l.Temperature)),
		within("acid", float64(l.Acid), 0, 100), within("nitrate", float64(l.Nitrate), 0, 100),
		notNegative("area", float64(area)), notNegative("hours", float64(hours)), notNegative("factor", factor)); err != nil {
		return Attack{}, err
	}
	rate := loaded().nitrate.density(1, 1, factor, float64(l.Temperature)) * float64(area) * 4 / 3 / (Faraday * float64(l.Volume))
	left := acidLeft(float64(l.Acid), float64(l.Nitrate), rate*hours.Seconds())
	used, err := result(name, (float64(l.Acid)-left)*float64(l.Volume))
	return Attack{units.Amount(used * 3 / 8), units.Amount(used), units.Amount(used / 4)}, err
}

// acidLeft solves dc/dt = −κ·c·(N − (c0 − c)/4) for the acid in mol/L after κ·t
// = reach (L/mol), where a mole of nitrate goes with four of acid:
//
//	c = c0/(eˣ + c0/4·(eˣ − 1)/a),  a = N − c0/4,  x = a·κ·t
func acidLeft(acid, nitrate, reach float64) float64 {
	a := nitrate - acid/4
	x := a * reach
	if x > 700 || math.IsInf(reach, 1) {
		return max(0, -4*a)
	}
	quotient := reach // (eˣ − 1)/a for small x
	if math.Abs(x) > 1e-12 {
		quotient = math.Expm1(x) / a
	}
	left := acid / (math.Exp(x) + acid/4*quotient)
	if math.IsNaN(left) {
		return acid
	}
	return min(acid, max(left, 0))
}

// Order returns the metals that would come down on a metal, noblest first: those
// whose potential in the liquor stands above its own.
// Errors as for Cement.
func Order(on string, l Liquor) ([]string, error) {
	c, err := Cement(on, l)
	if err != nil {
		return nil, fmt.Errorf("order: %w", err)
	}
	var out []string
	for _, m := range c.Metals {
		if m.Down > 0 {
			out = append(out, m.Metal)
		}
	}
	return out, nil
}
