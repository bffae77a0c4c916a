package electro

import (
	"fmt"

	"afterpour/chem/units"
)

// Cell is the bench's electrolytic cell.
type Cell struct {
	CathodeArea, AnodeArea units.Area
	Gap                    units.Length    // between the plates
	Anode                  string          // one of AnodeMaterials
	Current                units.Current   // most that the supply gives or the worker sets
	Voltage                units.Potential // most that the supply gives
	Leads                  float64         // resistance of leads and clips in ohms
	MassTransfer           float64         // m/s for the copper ion at 25 °C; see MassTransfer
	// Taper holds the target metal at this share of its limiting current (0 to
	// below 1) by turning the current down as the metal runs out; 0 keeps the
	// current.
	Taper float64
	// Stray is the share of the current that does no chemistry that lasts: shorts,
	// metal that falls off, leakage. See StrayShare.
	Stray float64
	// NitrateFactor multiplies the rate of nitrate reduction; 1 is the table's.
	NitrateFactor float64
}

// DefaultCell returns a cell for the bench's plate and supply with the figures
// of the tables: graphite anode of the same area, plates 4 cm apart, gas stirring,
// the target metal held at up to 80 % of its limiting current, 0.05 ohms in leads
// and clips (common practice).
func DefaultCell(area units.Area, volts units.Potential, amps units.Current) Cell {
	t := loaded()
	return Cell{
		CathodeArea: area, AnodeArea: area, Gap: 4 * units.Centimetre, Anode: "graphite",
		Current: amps, Voltage: volts, MassTransfer: t.transfer[string(Gassing)].value,
		Leads: t.figures["leads"].value, Taper: 0.8, Stray: t.figures["stray-Cu"].value, NitrateFactor: 1,
	}
}

// StrayShare returns the usual share of the current that is lost to shorts,
// fallen metal and leakage in winning silver ("Ag") or any other metal, with
// its range.
//
// Source: common practice; what is left of the usual efficiencies when iron and
// nitrate are counted apart.
func StrayShare(metal string) (value, low, high float64) {
	id := "stray-Cu"
	if metal == "Ag" {
		id = "stray-Ag"
	}
	f := loaded().figures[id]
	return f.value, f.low, f.high
}

// Dissolved is a metal in the liquor that may plate, by its symbol.
type Dissolved struct {
	Metal         string // Ag, Cu, Pd, Hg, Pb, Sn, Cd, Co, Ni or Zn
	Concentration units.Concentration
	// Activity is the ion's activity over its concentration: activity coefficient
	// times the share that is not bound in complexes. 0 stands for 1.
	Activity float64
}

// activity returns the factor from concentration to activity.
func (d Dissolved) activity() float64 {
	if d.Activity == 0 {
		return 1
	}
	return d.Activity
}

// Liquor is what stands in the cell. Acid is free acid as H⁺, with hydrogen
// sulfate counted as acid; Salt is any further 1:1 cation such as sodium.
type Liquor struct {
	Volume      units.Volume
	Temperature units.Temperature
	Metals      []Dissolved
	Acid        units.Concentration
	IronIII     units.Concentration
	IronII      units.Concentration
	Nitrate     units.Concentration
	Sulfate     units.Concentration
	Chloride    units.Concentration
	Salt        units.Concentration
}

// Stop says when to end. A zero is no condition; one is needed.
type Stop struct {
	Concentration units.Concentration // of the target metal
	Hours         units.Hours
	Efficiency    float64 // of the moment, for the target metal
}

// metals lists the metals that may plate, noblest first, with their rows.
var metals = []struct{ symbol, couple string }{
	{"Pd", "pd2"},
	{"Hg", "hg2"},
	{"Ag", "ag"},
	{"Cu", "cu2"},
	{"Pb", "pb"},
	{"Sn", "sn2"},
	{"Ni", "ni"},
	{"Co", "co"},
	{"Cd", "cd"},
	{"Zn", "zn"},
}

// coupleOf returns the couple of a metal that may plate.
func coupleOf(symbol string) (Couple, error) {
	for _, m := range metals {
		if m.symbol == symbol {
			return CoupleByID(m.couple)
		}
	}
	return Couple{}, fmt.Errorf("metal %q: %w", symbol, ErrUnknown)
}

// check refuses a cell that cannot be.
func (c Cell) check(name string) error {
	if _, err := Gas("oxygen-" + c.Anode); err != nil {
		return fmt.Errorf("anode %q: %w", c.Anode, ErrUnknown)
	}
	return demand(name, positive("cathode area", float64(c.CathodeArea)), positive("anode area", float64(c.AnodeArea)),
		positive("gap", float64(c.Gap)), positive("current", float64(c.Current)), positive("voltage", float64(c.Voltage)),
		notNegative("leads", c.Leads),
		positive("mass-transfer coefficient", c.MassTransfer), notNegative("nitrate factor", c.NitrateFactor),
		share("stray share", c.Stray), argument{name: "stray share", value: c.Stray, valid: c.Stray < 1, want: "below 1"},
		share("taper", c.Taper), argument{name: "taper", value: c.Taper, valid: c.Taper < 1, want: "below 1"})
}

// check refuses a liquor that cannot be, or that does not hold the target.
func (l Liquor) check(name, target string) error {
	args := []argument{
		positive("volume", float64(l.Volume)), liquid("temperature", float64(l.Temperature)),
		notNegative("acid", float64(l.Acid)), notNegative("iron(III)", float64(l.IronIII)),
		notNegative("iron(II)", float64(l.IronII)), notNegative("nitrate", float64(l.Nitrate)),
		notNegative("sulfate", float64(l.Sulfate)), notNegative("chloride", float64(l.Chloride)),
		notNegative("salt", float64(l.Salt)),
	}
	var held units.Concentration
	for _, m := range l.Metals {
		if _, err := coupleOf(m.Metal); err != nil {
			return err
		}
		args = append(args, notNegative("concentration of "+m.Metal, float64(m.Concentration)),
			within("activity of "+m.Metal, m.activity(), 1e-60, 1e6))
		if m.Metal == target {
			held += m.Concentration
		}
	}
	return demand(name, append(args, positive("concentration of "+target, float64(held)))...)
}

// check refuses a stop that never comes.
func (s Stop) check(name string) error {
	given := s.Concentration > 0 || s.Hours > 0 || s.Efficiency > 0
	return demand(name, notNegative("stop concentration", float64(s.Concentration)), notNegative("stop hours", float64(s.Hours)),
		share("stop efficiency", s.Efficiency), argument{name: "stop", value: 0, valid: given, want: "a concentration, hours or an efficiency"})
}
