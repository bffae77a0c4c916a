package main

import (
	"afterpour/econ"
)

// sheetJSON is a sheet for scripts. Masses are in g, volumes in mL and L, hours
// in h.
type sheetJSON struct {
	SchemaVersion int                `json:"schema_version"`
	Lot           string             `json:"lot"`
	File          string             `json:"file"`
	Plan          string             `json:"plan"`
	PlanWords     string             `json:"plan_words"`
	Own           []string           `json:"own_routes"`
	Learned       []string           `json:"learned"`
	Shopping      []sheetSupplyJSON  `json:"shopping"`
	Tools         []sheetToolJSON    `json:"tools"`
	Tests         []sheetTestJSON    `json:"tests"`
	Wear          []string           `json:"wear"`
	First         []string           `json:"first"`
	Steps         []sheetStepJSON    `json:"steps"`
	Left          []sheetLeftJSON    `json:"left"`
	Closing       []sheetCautionJSON `json:"closing_cautions"`
	Last          []string           `json:"last"`
	Rounding      []string           `json:"rounding"`
}

type sheetSupplyJSON struct {
	Reagent  string `json:"reagent"`
	Name     string `json:"name"`
	Strength string `json:"strength"`
	Need     string `json:"need"`
	OnShelf  string `json:"on_shelf"`
	Buy      string `json:"buy"`
	Note     string `json:"note"`
}

type sheetToolJSON struct {
	Name string `json:"name"`
	For  string `json:"for"`
}

type sheetTestJSON struct {
	Name string `json:"name"`
	Take string `json:"take"`
	How  string `json:"how"`
}

type sheetCautionJSON struct {
	Severity string `json:"severity"`
	Text     string `json:"text"`
	Source   string `json:"source"`
}

type sheetStepJSON struct {
	Number   int                `json:"number"`
	Route    string             `json:"route"`
	Own      bool               `json:"own_route"`
	Step     string             `json:"step"`
	Kind     string             `json:"kind"`
	Title    string             `json:"title"`
	Cautions []sheetCautionJSON `json:"cautions"`
	Notes    []string           `json:"notes"`
	Doses    []sheetDoseJSON    `json:"doses"`
	Do       []string           `json:"do"`
	Signs    []string           `json:"signs"`
	Stop     string             `json:"stop"`
	Checks   []sheetCheckJSON   `json:"checks"`
	Leaves   []string           `json:"leaves"`
	HandsOnH float64            `json:"hands_on_h"`
	ElapsedH float64            `json:"elapsed_h"`
	HeatingH float64            `json:"heating_h"`
}

type sheetDoseJSON struct {
	Reagent  string  `json:"reagent"`
	ExactG   float64 `json:"exact_g"`
	ExactML  float64 `json:"exact_mL"`
	Measured string  `json:"measured"`
	Off      float64 `json:"rounding_share"`
}

type sheetCheckJSON struct {
	What    string   `json:"what"`
	ExpectG float64  `json:"expect_g"`
	LowG    *float64 `json:"p10_g"`
	HighG   *float64 `json:"p90_g"`
}

type sheetLeftJSON struct {
	Name    string  `json:"name"`
	Route   string  `json:"route"`
	Class   string  `json:"class"`
	VolumeL float64 `json:"volume_L"`
	MassKg  float64 `json:"mass_kg"`
	Text    string  `json:"text"`
}

func newSheetJSON(lotName string, s *econ.Sheet) sheetJSON {
	j := sheetJSON{
		SchemaVersion: schemaVersion, Lot: s.Lot, File: lotName, Plan: s.Plan, PlanWords: s.PlanWords,
		Own: orEmpty(s.Own), Learned: orEmpty(s.Learned), Wear: orEmpty(s.Wear), First: orEmpty(s.First), Last: orEmpty(s.Last), Rounding: orEmpty(s.Rounding),
		Shopping: []sheetSupplyJSON{}, Tools: []sheetToolJSON{}, Tests: []sheetTestJSON{}, Steps: []sheetStepJSON{}, Left: []sheetLeftJSON{}, Closing: cautionsJSON(s.Closing),
	}
	for _, x := range s.Shopping {
		j.Shopping = append(j.Shopping, sheetSupplyJSON{x.ID, x.Name, x.Strength, x.Need, x.Have, x.Buy, x.Note})
	}
	for _, x := range s.Tools {
		j.Tools = append(j.Tools, sheetToolJSON{x.Name, x.For})
	}
	for _, x := range s.Tests {
		j.Tests = append(j.Tests, sheetTestJSON{x.Name, x.Take, x.How})
	}
	for i := range s.Steps {
		j.Steps = append(j.Steps, newSheetStepJSON(&s.Steps[i]))
	}
	for _, l := range s.Left {
		j.Left = append(j.Left, sheetLeftJSON{l.Name, l.Route, l.Class, l.Volume.Litres(), l.Mass.Kilograms(), l.Text})
	}
	return j
}

func newSheetStepJSON(s *econ.SheetStep) sheetStepJSON {
	j := sheetStepJSON{
		Number: s.Number, Route: s.Route, Own: s.Own, Step: s.Step, Kind: s.Kind, Title: s.Title,
		Cautions: cautionsJSON(s.Cautions), Notes: orEmpty(s.Notes), Do: orEmpty(s.Do), Signs: orEmpty(s.Signs), Stop: s.Stop, Leaves: orEmpty(s.Leaves),
		Doses: []sheetDoseJSON{}, Checks: []sheetCheckJSON{}, HandsOnH: s.Time.HandsOnH, ElapsedH: s.Time.ElapsedH, HeatingH: s.Time.HeatingH,
	}
	for _, d := range s.Doses {
		j.Doses = append(j.Doses, sheetDoseJSON{d.Reagent, d.Mass.Grams(), d.Volume.Millilitres(), d.Text, d.Off})
	}
	for _, c := range s.Checks {
		check := sheetCheckJSON{What: c.What, ExpectG: c.Expect.Grams()}
		if c.High > c.Low {
			low, high := c.Low.Grams(), c.High.Grams()
			check.LowG, check.HighG = &low, &high
		}
		j.Checks = append(j.Checks, check)
	}
	return j
}

func cautionsJSON(list []econ.SheetCaution) []sheetCautionJSON {
	all := make([]sheetCautionJSON, 0, len(list))
	for _, c := range list {
		all = append(all, sheetCautionJSON{c.Severity, c.Text, c.Source})
	}
	return all
}
