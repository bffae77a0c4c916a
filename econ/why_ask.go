package econ

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"afterpour/chem/input"
)

// ErrNoFigure means a question about a figure that the appraisal has not.
var ErrNoFigure = errors.New("econ: no such figure to ask about")

// WhyQuestions lists the forms of question that Why takes.
var WhyQuestions = []string{
	"metal/Ag", "spot/Ag", "acid", "volume", "input/ID", "plan/ID", "plan/ID/gain", "plan/ID/CATEGORY",
	"plan/ID/line/N", "plan/ID/product/N", "plan/ID/waste/N", "plan/ID/step/N/entry/M",
}

// Why answers a question about a figure, asked by a path: "metal/Ag" (contained),
// "spot/Ag", "acid", "volume", "input/lot/vessel.liquid", and of a plan by its id
// "plan/ID" (net), "plan/ID/gain", "plan/ID/fees" or another category,
// "plan/ID/line/1", "plan/ID/product/1", "plan/ID/waste/1",
// "plan/ID/step/3/entry/2"; places count from 1. Error: ErrNoFigure.
func Why(a *Appraisal, question string) (Chain, error) {
	kind, rest, _ := strings.Cut(question, "/")
	var c Chain
	switch kind {
	case "metal":
		c = a.WhyMetal(rest)
	case "spot":
		c = a.WhySpotValue(rest)
	case "acid":
		c = a.WhyAcid()
	case "volume":
		c = a.WhyVolume()
	case "input":
		if ref, ok := a.Figures.ByID(rest); ok {
			c = a.WhyInput(ref)
		}
	case "plan":
		c = a.whyOfPlan(rest)
	}
	if len(c.Links) == 0 {
		return Chain{}, fmt.Errorf("%w: %q; ask for one of %s", ErrNoFigure, input.Clean(question, 120), strings.Join(WhyQuestions, ", "))
	}
	return c, nil
}

// whyOfPlan answers the part of a question that follows "plan/"; an empty chain
// where there is no such figure.
func (a *Appraisal) whyOfPlan(path string) Chain {
	parts := strings.Split(path, "/")
	p := a.Plan(parts[0])
	if p == nil {
		return Chain{}
	}
	switch {
	case len(parts) == 1:
		return a.WhyNet(p)
	case len(parts) == 2 && parts[1] == "gain":
		return a.WhyGain(p)
	case len(parts) == 2 && contains(categoryNames(), parts[1]):
		return a.WhyCategory(p, Category(parts[1]))
	case len(parts) == 3 && parts[1] == "line":
		return a.WhyLine(p, place(parts[2]))
	case len(parts) == 3 && parts[1] == "product":
		return a.WhyProduct(p, place(parts[2]))
	case len(parts) == 3 && parts[1] == "waste":
		return a.WhyWaste(p, place(parts[2]))
	case len(parts) == 5 && parts[1] == "step" && parts[3] == "entry":
		return a.WhyEntry(p, place(parts[2]), place(parts[4]))
	}
	return Chain{}
}

func categoryNames() []string {
	names := make([]string, len(Categories))
	for i, c := range Categories {
		names[i] = string(c)
	}
	return names
}

// place turns a place counted from 1 into an index; -1 for what is none.
func place(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return -1
	}
	return n - 1
}
