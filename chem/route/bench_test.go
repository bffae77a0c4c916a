package route

import (
	"math"
	"strings"
	"testing"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// TestWashingByHand: the curd settles to 3 L/kg (middle of 2..4), each wash
// adds 6 heels (4..8), and 0.1 % of the liquor may stay: ln 0.001/ln(1/7) = 3.55,
// so 4 washes and 4·6·heel of water. Each warms heel and fill from 20 to 80 degC
// at 4.184 kJ/(kg K) with half the hotplate's heat (40..60 %).
func TestWashingByHand(t *testing.T) {
	o, job := simulate(t, "nitrate-liquor", "chloride-oxide-sugar+dispose", roomy)
	wash := step(t, o, "chloride-oxide-sugar", "wash hot")
	const curd = 143.32 / 1000 // kg/mol of AgCl
	heel := 3 * job.Inventory.Vessel.Mol[idAg] * curd
	near(t, "water, g", amount(wash, Reagent, "water"), 4*6*heel*1000, 0.01)
	near(t, "heat, kWh", amount(wash, Electricity, "heater"), 4*7*heel*4184*60/0.5/3.6e6, 0.05)
}

// TestDecantingByHand: copper hydroxide settles badly, 22.5 % of the liquor
// stays (15..30 %); with 2.25 heels of water a wash (1.5..3) and 0.5 % allowed to
// stay it takes ln 0.005/ln(1/3.25) = 4.5, so 5 washes.
func TestDecantingByHand(t *testing.T) {
	o, _ := simulate(t, "nitrate-liquor", "hydroxide-sulfate-salt+dispose", roomy)
	vessel := step(t, o, "hydroxide-sulfate-salt", "precipitate").Sum(Vessel)
	water := amount(step(t, o, "hydroxide-sulfate-salt", "wash"), Reagent, "water") / 1000
	near(t, "water, L", water, 5*2.25*0.225*vessel, 0.03) // the vessel's volume counts the solid too, some 1 %
}

// TestCrystalsByHand: 104.9 g of pentahydrate dissolve in 100 g of all water at
// 94 degC and 30.2 g at 16 degC (straight lines between the rows at 80 and 100,
// 10 and 20 degC), so k = s·18.015/(100·249.68) is 0.0757 and 0.0218, and the crop
// (1 − k(16)/k(94))/(1 − 5·k(16)) = 80 % of the salt.
func TestCrystalsByHand(t *testing.T) {
	o, _ := simulate(t, "nitrate-liquor", "hydroxide-sulfate-salt+dispose", roomy)
	notes := strings.Join(step(t, o, "hydroxide-sulfate-salt", "crystallise").Notes, "\n")
	if !strings.Contains(notes, "the crop takes 80 % of the copper sulfate") {
		t.Errorf("the crop by hand is 80 %%; the notes say:\n%s", notes)
	}
}

// TestMeltByHand: 0.55 % of the silver stays in slag and crucible (0.1..1 %),
// borax is 15 % of the charge (10..20 %).
func TestMeltByHand(t *testing.T) {
	o, _ := simulate(t, "nitrate-liquor", "chloride-oxide-sugar+dispose", roomy)
	melt, bar := step(t, o, "chloride-oxide-sugar", "melt"), o.Products[0].MetalMass.Grams()
	charge := bar / (1 - 0.0055)
	near(t, "silver lost, g", amount(melt, Loss, "Ag"), charge*0.0055, 1e-6)
	unreduced := charge * 0.0155 * 143.32 / 107.87 // AgCl inside lumps: 1.55 % (97..99.9 % is reduced)
	near(t, "borax, g", amount(melt, Reagent, "borax")*catalogueStrength(t, "borax"), (charge+unreduced)*0.15, 0.01)
}

// TestWasteClasses puts a mole of what makes each class into water.
func TestWasteClasses(t *testing.T) {
	for class, add := range map[string]map[string]float64{
		AcidMetalLiquor: {"H^+": 0.1, "NO3^-": 0.1},
		AlkalineLiquor:  {"Na^+": 0.1, "OH^-": 0.1},
		MetalLiquor:     {"Cu^2+": 0.05, "SO4^2-": 0.05},
		RinseWater:      {"Na^+": 0.05, "Cl^-": 0.05},
		MetalSludge:     {"Cu(OH)2(s)": 30},
	} {
		s := substance.NewStream(units.Celsius(20))
		s.Mol[idWater] = 55
		for name, mol := range add {
			s.Mol[substance.MustFind(name)] = mol
		}
		if got := classOf(s, "vessel"); got != class {
			t.Errorf("%v is classed %s, want %s", add, got, class)
		}
	}
	if got := classOf(substance.NewStream(units.Celsius(20)), "slag"); got != Slag {
		t.Errorf("slag is classed %s", got)
	}
}

// TestStrongPH: a tenth of a mole of acid or base in a litre stands at pH 1 and
// 13, and salt water at 7.
func TestStrongPH(t *testing.T) {
	for name, want := range map[string]float64{"H^+": 1, "OH^-": 13, "Na^+": 7} {
		s := substance.NewStream(units.Celsius(20))
		s.Mol[idWater] = 55.4
		s.Mol[substance.MustFind(name)] = 0.1
		if got := strongPH(s); math.Abs(got-want) > 0.02 {
			t.Errorf("pH of 0.1 mol/L %s is %.2f, want %g", name, got, want)
		}
	}
}
