package electro

import (
	"errors"
	"math"
)

// nitrateKinetics is j = prefactor·cNO3·cH·10^((reference − E)/slope) in A/m2, V
// and mol/L.
type nitrateKinetics struct {
	prefactor, reference, slope float64
	low, high                   float64 // range of the prefactor as a factor of it
}

// addNitrate draws the line through the two anchors of the table.
func (t *tables) addNitrate(doc *document) error {
	if len(doc.Nitrate) != 2 {
		return errors.New("electro: nitrate reduction needs two anchors")
	}
	for _, r := range doc.Nitrate {
		if _, err := t.provenance(r.row); err != nil {
			return err
		}
	}
	a, b := doc.Nitrate[0], doc.Nitrate[1]
	at := func(r anchorRow) float64 { return r.Value / (r.Nitrate * r.Acid) }
	t.nitrate = nitrateKinetics{
		prefactor: at(a), reference: a.Volts, slope: (a.Volts - b.Volts) / math.Log10(at(b)/at(a)),
		low: a.Low / a.Value, high: a.High / a.Value,
	}
	return nil
}

// NitrateReduction returns the current density in A/m2 at which nitrate is
// reduced on a copper or silver plate before mass transfer limits it.
//
//	j = f·5 A/m2·[NO3⁻]·[H⁺]·10^((0.30 V − E)/0.109 V)·exp(−Ea/R·(1/T − 1/298 K))
//
// with concentrations in mol/L, the electrode potential E, Ea = 55 kJ/mol and a
// factor f that carries its doubt: 0.3 to 3 (NitrateFactor). The line passes through
// the attack of nitric acid on copper at rest and through the potential at which
// reduction is seen to start on copper; first order in nitrate and in acid is an
// assumption. It holds to about 3 mol/L acid; above, nitrous acid builds up and
// the attack runs away. ErrDomain for concentrations or f below 0, or a
// temperature outside 0 to 100 °C.
//
// Sources: the two anchors in kinetics.toml.
func NitrateReduction(nitrate, acid, volts, factor, kelvins float64) (float64, error) {
	const name = "NitrateReduction"
	if err := demand(name, notNegative("nitrate", nitrate), notNegative("acid", acid), finite("potential", volts),
		notNegative("factor", factor), liquid("temperature", kelvins)); err != nil {
		return 0, err
	}
	k := loaded().nitrate
	return result(name, k.density(nitrate, acid, factor, kelvins)*math.Exp(math.Ln10*(k.reference-volts)/k.slope))
}

// NitrateFactor returns the range of the factor f of NitrateReduction, about 1.
func NitrateFactor() (low, high float64) { return loaded().nitrate.low, loaded().nitrate.high }

// density returns the current density in A/m2 at the reference potential.
func (k nitrateKinetics) density(nitrate, acid, factor, kelvins float64) float64 {
	return factor * k.prefactor * nitrate * acid * arrhenius(loaded().figures["nitrate-activation"].value, kelvins)
}

// ammoniumShare returns the share of the nitrate current that makes ammonium
// rather than nitric oxide at the cathode potential: 0 above one, 1 below the
// other assumed potential, a straight line between.
func ammoniumShare(volts float64) float64 {
	t := loaded()
	above, below := t.figures["ammonium-above"].value, t.figures["ammonium-below"].value
	return min(1, max(0, (above-volts)/(above-below)))
}
