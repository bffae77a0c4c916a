package main

import (
	"fmt"

	"afterpour/chem/units"
	"afterpour/econ"
)

// outturnsJSON is what was noted of a lot and what was learned, for scripts.
type outturnsJSON struct {
	SchemaVersion int           `json:"schema_version"`
	File          string        `json:"file"`
	OutturnFile   string        `json:"outturn_file"`
	Entries       []outturnJSON `json:"entries"`
	Learned       []learnedJSON `json:"learned"`
	Notes         []string      `json:"notes"`
}

type outturnJSON struct {
	Number    int                  `json:"number"`
	Date      string               `json:"date"`
	Plan      string               `json:"plan"`
	Note      string               `json:"note"`
	Confirmed bool                 `json:"confirmed"`
	Replaces  int                  `json:"replaces"` // 0: none
	Products  []outturnProductJSON `json:"products"`
	HandsOnH  *float64             `json:"hands_on_h"` // null where it was not noted
	ExpectedH *float64             `json:"expected_hands_on_h"`
	ElapsedH  *float64             `json:"elapsed_h"`
	Used      []outturnUseJSON     `json:"used"`
	Questions []string             `json:"questions"`
}

type outturnProductJSON struct {
	Route      string   `json:"route"`
	Product    string   `json:"product"`
	Metal      string   `json:"metal"`
	MassG      float64  `json:"mass_g"`
	Fineness   *float64 `json:"fineness"` // null where the expected one was taken
	MetalG     float64  `json:"metal_g"`
	ExpectedG  float64  `json:"expected_metal_g"`
	ContainedG float64  `json:"contained_g"`
}

type outturnUseJSON struct {
	Reagent  string  `json:"reagent"`
	Unit     string  `json:"unit"` // g or mL
	Used     float64 `json:"used"`
	Expected float64 `json:"expected"`
}

type learnedJSON struct {
	Route       string  `json:"route"`
	About       string  `json:"about"`
	Lots        int     `json:"lots"`
	PriorSD     float64 `json:"prior_sd_ln"`
	PosteriorM  float64 `json:"posterior_mean_ln"`
	PosteriorSD float64 `json:"posterior_sd_ln"`
}

func newOutturnsJSON(lotName, path string, list []econ.Outturn, learning *econ.Learning) outturnsJSON {
	j := outturnsJSON{SchemaVersion: schemaVersion, File: lotName, OutturnFile: path, Entries: []outturnJSON{}, Learned: []learnedJSON{}, Notes: orEmpty(learning.Sentences())}
	for i := range list {
		j.Entries = append(j.Entries, newOutturnJSON(&list[i]))
	}
	if learning != nil {
		for _, r := range learning.Routes {
			j.Learned = append(j.Learned, learnedJSON{r.Route, r.About, r.Lots, r.PriorSD, r.Mean, r.SD})
		}
	}
	return j
}

func newOutturnJSON(o *econ.Outturn) outturnJSON {
	j := outturnJSON{
		Number: o.Number, Date: o.Date.Format("2006-01-02"), Plan: o.Plan, Note: o.Note, Confirmed: o.Confirmed, Replaces: o.Replaces,
		Products: []outturnProductJSON{}, Used: []outturnUseJSON{}, Questions: orEmpty(o.Questions()),
	}
	for i := range o.Products {
		p := &o.Products[i]
		product := outturnProductJSON{
			Route: p.Route, Product: p.Product, Metal: p.Metal, MassG: p.Mass.Mean * 1000, MetalG: p.MetalMass.Mean * 1000,
			ExpectedG: p.Expected.Mean * 1000, ContainedG: p.Contained.Mean * 1000,
		}
		if p.Fineness > 0 {
			product.Fineness = &p.Fineness
		}
		j.Products = append(j.Products, product)
	}
	if h := o.HandsOn; h != nil {
		j.HandsOnH, j.ExpectedH = &h.Noted, &h.Expected
	}
	if h := o.Elapsed; h != nil {
		j.ElapsedH = &h.Noted
	}
	for _, u := range o.Used {
		unit := "g"
		if u.Kind == units.VolumeKind {
			unit = "mL"
		}
		j.Used = append(j.Used, outturnUseJSON{u.Reagent, unit, u.Used * 1000, u.Expected * 1000})
	}
	return j
}

// outturnMass writes a mass given in kg.
func outturnMass(kilograms float64) string { return massText(units.Mass(kilograms)) }

// outturnAmount writes an amount of a reagent, in kg or L.
func outturnAmount(kind units.Kind, amount float64) string {
	if kind == units.VolumeKind {
		return significant(amount*1000, 3) + " mL"
	}
	return outturnMass(amount)
}

// difference writes how far a figure lies from what was expected.
func difference(noted, expected float64) string {
	if !(expected > 0) {
		return ""
	}
	return fmt.Sprintf("%+.1f %%", 100*(noted/expected-1))
}
