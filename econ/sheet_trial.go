package econ

import (
	"strings"

	"afterpour/chem/route"
)

// trial is a test that stopping tests and cautions name, by the words that they
// name it with.
type trial struct {
	words []string // all of them must be said
	SheetTest
}

// trials are the spot tests of the trade. Common practice, but for the tin
// chloride test: Feigl's spot tests (from memory; check).
var trials = []trial{
	{[]string{"salt water", "cloud"}, SheetTest{
		"salt drop, for silver", "a pinch of table salt in 10 mL of water; dropper; a watch glass on black paper",
		"Put a drop of the clear liquor on the glass and a drop of salt water beside it, and let them meet. A white cloud is silver that is still dissolved.",
	}},
	{[]string{"ammonia", "blue"}, SheetTest{
		"ammonia drop, for copper", "a few mL of household ammonia; dropper; a white plate, away from the vessel",
		"A drop of the clear liquid and two drops of ammonia on the plate: blue is copper. Rinse the plate into salt water at once: silver must not stand in ammonia. Never put ammonia into the vessel.",
	}},
	{[]string{"ammonia", "residue"}, SheetTest{
		"ammonia pinch, for chloride left in the silver", "a few mL of household ammonia; a test tube; dilute hydrochloric acid",
		"Shake a washed pinch of the grey solid with 2 mL of ammonia, let it settle, pour the clear liquid off and make it acid: a white cloud was silver chloride. Make the rest in the tube acid too, within the hour.",
	}},
	{[]string{"acidified", "cloud"}, SheetTest{
		"acid drop, for silver in ammonia", "a few mL of dilute hydrochloric acid; a test tube; under the hood",
		"Make a few drops of the clear liquor acid with it. A white cloud is silver that is still dissolved. Leave none of it alkaline.",
	}},
	{[]string{"silver nitrate"}, SheetTest{
		"silver drop, for chloride", "0.1 g of silver nitrate in 5 mL of distilled water, in a dark bottle; dropper (it stains skin)",
		"A drop of it in a mL of the wash water: a white cloud is chloride that is not washed out yet.",
	}},
	{[]string{"nitric acid", "pinch"}, SheetTest{
		"acid pinch, for whole metal", "2 mL of nitric acid with as much water in a test tube, under the hood",
		"Wash a pinch of the metal with water until no sugar or lye is left in it, put it in and warm it. It must dissolve whole and clear. A white residue is silver chloride. Keep what is in the tube: it holds silver.",
	}},
	{[]string{"ph paper"}, SheetTest{
		"pH paper", "strips from 0 to 14",
		"Bring a drop to the paper with a rod and compare at once; do not dip the paper in. Strong oxidants bleach it: then dilute the drop.",
	}},
	{[]string{"bright copper"}, SheetTest{
		"bright copper, for silver", "a strip of copper rubbed bright",
		"Hold it in the clear liquor for ten minutes. A grey coat is silver that is still dissolved.",
	}},
	{[]string{"clean nail"}, SheetTest{
		"clean nail, for copper", "an iron nail rubbed bright",
		"Hold it in the clear liquor. A red coat is copper that is still dissolved.",
	}},
	{[]string{"cold glass"}, SheetTest{
		"drop on cold glass", "a watch glass from the refrigerator",
		"Put a drop of the hot liquor on it. It is boiled down far enough when crystals stand in it within a minute.",
	}},
	{[]string{"dried on glass"}, SheetTest{
		"drop dried on glass", "a watch glass on the hotplate",
		"Dry a drop of the wash water on it. A white crust is salt that is not washed out yet.",
	}},
	{[]string{"two weighings"}, SheetTest{
		"constant mass", "the balance",
		"Cool and weigh, heat an hour more, cool and weigh. It is dry when the two differ by no more than the last digit or two.",
	}},
	{[]string{"tin(ii) chloride"}, SheetTest{
		"tin chloride drop, for gold and its kin", "1 g of tin(II) chloride in 5 mL of hydrochloric acid (37 %) and 15 mL of water, with a grain of tin in it; keeps for some weeks",
		"Silver clouds it: first bring the silver down with salt in a test tube and take the clear liquid. A drop of that on filter paper and a drop of tin chloride: purple to black is gold, yellow-brown to green palladium, orange to red-brown platinum. If it shows, stop: keep the liquor, write the metal into the lot file and rank it again.",
	}},
	{[]string{"dimethylglyoxime"}, SheetTest{
		"dimethylglyoxime, for palladium", "a 1 % solution in alcohol; on a drop only: alcohol never comes near the vessel",
		"A drop on a drop of the acid liquid on paper: a yellow flock is palladium, a red one in ammonia nickel.",
	}},
}

// tests lists the tests that the sheet names, with what they take.
func (k *sheetMaker) tests() {
	for _, t := range trials {
		if k.names(t.words) {
			k.sheet.Tests = append(k.sheet.Tests, t.SheetTest)
		}
	}
}

// names reports whether one of the sheet's texts holds all of the words.
func (k *sheetMaker) names(words []string) bool {
	for _, text := range k.texts {
		lower, all := strings.ToLower(text), true
		for _, w := range words {
			all = all && strings.Contains(lower, w)
		}
		if all {
			return true
		}
	}
	return false
}

// biting are the gases that a hood is for.
var biting = []string{"NO", "NO2", "Cl2", "SO2", "NH3", "HCl", "HNO3"}

// protection says what to wear, by what the steps handle. Common practice; the
// safety data sheet of each reagent goes before it.
func (k *sheetMaker) protection() {
	k.wear("Splash goggles that close all round, nitrile gloves, a long apron or laboratory coat, closed shoes: always.")
	var strong, melts, dust, hydrogen, gas, hot bool
	for i, s := range k.out.Steps {
		if k.number[i] == 0 {
			continue
		}
		strong = strong || isAcid(s.Reagent) || caustic(s.Reagent) || s.Reagent == "ammonia-water"
		melts = melts || s.Kind == "melt" || s.Kind == "fuse"
		dust = dust || s.Kind == "calcine" || s.Kind == "dry" || s.Kind == "fuse"
		hot = hot || s.Kind == "boil-down" || s.Kind == "calcine" || s.Kind == "crystallise"
		for _, e := range s.Entries {
			if e.Kind == route.Gas && e.Amount >= leastGas {
				hydrogen = hydrogen || e.Item == "H2"
				gas = gas || contains(biting, e.Item)
			}
		}
	}
	k.wearIf(strong, "A face shield over the goggles and thick gloves (butyl or PVC, with cuffs) wherever strong acid, lye or ammonia is poured. Water and a litre of diluted baking soda at hand.")
	k.wearIf(gas, "Fume leaves the vessel: work under the hood. A paper mask holds no gas back.")
	k.wearIf(hydrogen, "Hydrogen leaves the vessel: no flame, no spark, no closed vessel.")
	k.wearIf(hot, "Heat-proof gloves and a face shield at boiling and hot dishes.")
	k.wearIf(melts, "For the melt: face shield, dry leather gloves, cotton or wool with long sleeves, nothing that melts on skin; nothing damp near the crucible.")
	k.wearIf(dust, "A P3 (P100) dust mask for dry powders, oxides and scrapings.")
}

func (k *sheetMaker) wear(text string) { k.sheet.Wear = append(k.sheet.Wear, text) }

func (k *sheetMaker) wearIf(applies bool, text string) {
	if applies {
		k.wear(text)
	}
}
