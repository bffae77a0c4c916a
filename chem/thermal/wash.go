package thermal

import (
	"math"

	"afterpour/chem/units"
)

// mostWashes is where counting washes ends.
const mostWashes = 100000

// LeftShare returns the share of a dissolved salt that is left after n washes by
// decantation, each filling up the liquor that stays behind (the heel) with
// water, stirring, settling and pouring off to the heel again.
//
//	share = (heel/(heel + fill))ⁿ
//
// It holds for full mixing and for salts that the solid does not hold on to.
// ErrDomain for a heel or fill below 0, both 0, or n outside 0 to 100 000.
//
// Source: mass balance; Waldbauer and Cortelyou, Optimum Volume for a Wash
// Portion (State University of Iowa), give it for a precipitate that holds back
// the volume u of each portion v: (u/(u + v))ⁿ.
func LeftShare(heel, fill units.Volume, n int) (float64, error) {
	const name = "LeftShare"
	if err := demand(name, notNegative("heel", float64(heel)), notNegative("fill", float64(fill)),
		positive("heel and fill", float64(heel)+float64(fill)), within("washes", float64(n), 0, mostWashes)); err != nil {
		return 0, err
	}
	return math.Pow(float64(heel)/(float64(heel)+float64(fill)), float64(n)), nil
}

// WashesFor returns the least number of washes after which no more than the
// target share of a dissolved salt is left.
//
//	n = ⌈ln target/ln(heel/(heel + fill))⌉
//
// ErrDomain for a target outside 0 (excluded) to 1, a fill not above 0, a heel
// below 0, or a count above 100 000.
func WashesFor(heel, fill units.Volume, target float64) (int, error) {
	const name = "WashesFor"
	if err := demand(name, notNegative("heel", float64(heel)), positive("fill", float64(fill)),
		positive("target", target), share("target", target)); err != nil {
		return 0, err
	}
	ratio := float64(heel) / (float64(heel) + float64(fill))
	switch {
	case target == 1:
		return 0, nil
	case ratio == 0:
		return 1, nil
	}
	n := math.Log(target) / math.Log(ratio)
	if err := demand(name, within("washes", n, 0, mostWashes)); err != nil {
		return 0, err
	}
	// A target that a whole number of washes meets exactly must not cost one more for rounding.
	return int(math.Ceil(n - 1e-9)), nil
}

// WashWater returns the water that n washes take.
// ErrDomain for a fill below 0 or n outside 0 to 100 000.
func WashWater(fill units.Volume, n int) (units.Volume, error) {
	if err := demand("WashWater", notNegative("fill", float64(fill)), within("washes", float64(n), 0, mostWashes)); err != nil {
		return 0, err
	}
	v, err := result("WashWater", float64(fill)*float64(n))
	return units.Volume(v), err
}

// WashLoss returns the mass of the solid itself that n washes carry away
// dissolved, if each is saturated.
//
//	m = min(present, solubility·fill·n)
//
// It is the most that can be lost: hurried washes are not saturated. ErrDomain
// for anything below 0 or n outside 0 to 100 000.
func WashLoss(solubility units.MassConcentration, fill units.Volume, n int, present units.Mass) (units.Mass, error) {
	if err := demand("WashLoss", notNegative("solubility", float64(solubility)), notNegative("mass present", float64(present))); err != nil {
		return 0, err
	}
	v, err := WashWater(fill, n)
	if err != nil {
		return 0, err
	}
	return min(present, solubility.Mass(v)), nil
}

// BestWashes returns the number of washes at which the salt left, weighed with a
// harm for each gram of it, and the metal lost with each wash together are least.
//
//	least over n of  harm·salt·rⁿ + loss·n,  r = heel/(heel + fill)
//
// salt and loss (a wash) are masses; harm is grams of metal's worth that a gram
// of salt left behind costs. ErrDomain for a fill or harm not above 0 or
// anything else below 0. No loss at all gives the count that leaves a millionth.
func BestWashes(heel, fill units.Volume, salt, loss units.Mass, harm float64) (int, error) {
	const name = "BestWashes"
	if err := demand(name, notNegative("heel", float64(heel)), positive("fill", float64(fill)),
		notNegative("salt", float64(salt)), notNegative("loss", float64(loss)), positive("harm", harm)); err != nil {
		return 0, err
	}
	most, err := WashesFor(heel, fill, 1e-6)
	if err != nil {
		return 0, err
	}
	r := float64(heel) / (float64(heel) + float64(fill))
	worth, n := harm*float64(salt), 0
	// One wash more is worth it while it takes out more harm than it loses.
	for n < most && worth*(1-r) > float64(loss) {
		worth *= r
		n++
	}
	return n, nil
}

// CakeLeftShare returns the share of the dissolved salt left in a filter cake
// that is washed through on the filter.
//
//	share = (1 − E)^N,  N = wash volume/liquor held by the cake
//
// with the share E of the held liquor that its own volume of wash displaces, 0.5
// to 0.9 for even cakes, and far less for cracked ones. ErrDomain for a held
// volume not above 0, a wash below 0 or E outside 0 to 1.
//
// Source: Choudhury and Dahlstrom, AIChE J. 3 (1957) 433, from memory; check there.
func CakeLeftShare(held, wash units.Volume, displacement float64) (float64, error) {
	if err := demand("CakeLeftShare", positive("held liquor", float64(held)), notNegative("wash", float64(wash)),
		share("displacement", displacement)); err != nil {
		return 0, err
	}
	return result("CakeLeftShare", math.Pow(1-displacement, float64(wash)/float64(held)))
}
