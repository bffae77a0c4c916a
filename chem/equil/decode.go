package equil

import (
	"fmt"

	"afterpour/chem/input"
)

// DecodeProblem reads a problem from a file, strictly:
//
//	temperature_c = 25.0
//	control       = "charge"        # or "fixed_pH", with fixed_pH = 8.0
//	total         = { Ag = 0.01, NO3 = 0.01, Na = 0.011, Cl = 0.011 }   # mol
//	solid_added   = { AgCl = 0.001 }  # mol, besides the totals
//	allowed       = ["AgCl"]          # the only solids that may stand
//
// id, group, title and note are read over. titrant may only be "NaOH". The
// error is an input.Problems that names every fault with its place; whether a
// set of constants holds the components and solids shows on solving.
func DecodeProblem(doc *input.Document) (Problem, error) {
	root := doc.Root()
	for _, label := range []string{"id", "group", "title", "note"} {
		root.String(label)
	}
	p := Problem{TemperatureC: roomKelvin - zeroCelsius}
	if celsius, ok := root.Float("temperature_c"); ok {
		p.TemperatureC = celsius
		if !(celsius >= coldest && celsius <= hottest) {
			root.Problem("temperature_c", "outside the range of any set of constants", "between -20 and 150, such as 25.0")
		}
	}
	p.Total = decodeAmounts(root, "total", mostTotal)
	p.SolidAdded = decodeAmounts(root, "solid_added", mostMol)
	p.Allowed, _ = root.Strings("allowed")
	decodeControl(root, &p)
	root.Close()
	return p, doc.Err()
}

func decodeAmounts(root *input.Table, key string, most float64) map[string]float64 {
	amounts := map[string]float64{}
	table, ok := root.Table(key)
	if !ok {
		return amounts
	}
	for _, name := range table.Keys() {
		mol, ok := table.Float(name)
		if ok && !(mol >= 0 && mol <= most) {
			table.Problem(name, fmt.Sprintf("not an amount in 1 kg of water: 0 to %g mol", most), "such as 0.01")
			continue
		}
		amounts[name] = mol
	}
	table.Close()
	return amounts
}

func decodeControl(root *input.Table, p *Problem) {
	const modes = `"charge", or "fixed_pH" with fixed_pH = 8.0`
	mode, given := root.String("control")
	p.FixedPH = mode == "fixed_pH"
	if given && mode != "charge" && !p.FixedPH {
		root.Problem("control", "no such way of setting the pH", modes)
	}
	ph, ok := root.Float("fixed_pH")
	p.PH = ph
	switch {
	case p.FixedPH && !root.Has("fixed_pH"):
		root.Problem("control", "the pH to reach is missing", modes)
	case ok && !(ph >= -2 && ph <= 16):
		root.Problem("fixed_pH", "no liquor has such a pH", "between -2 and 16, such as 8.0")
	}
	if titrant, ok := root.String("titrant"); ok && titrant != "NaOH" {
		root.Problem("titrant", "the pH is set with sodium hydroxide (or nitric acid where that takes acid)", `"NaOH"`)
	}
}
