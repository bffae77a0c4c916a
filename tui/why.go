package tui

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"afterpour/econ"
)

// asking makes the claim of a figure that econ.Why answers about.
func asking(questions ...string) *claim {
	if len(questions) == 0 {
		return nil
	}
	return &claim{questions: questions}
}

// ofPlan is a question about a figure of a plan.
func ofPlan(p *econ.PricedPlan, parts ...string) string {
	return strings.Join(append([]string{"plan", p.ID}, parts...), "/")
}

// answers write out the chains of some questions, those left out that are about
// nothing: a plan without such a cost.
func (l look) answers(a *econ.Appraisal, questions []string, width int) []line {
	var lines []line
	for i, q := range questions {
		chain, err := econ.Why(a, q)
		if err != nil {
			continue
		}
		if len(lines) > 0 {
			lines = append(lines, text(plain, ""))
		}
		head := l.paragraph(strong, "", chain.What, width)
		head[0].part = true
		head[0] = head[0].at(fmt.Sprint("chain", i), nil)
		lines = append(lines, head...)
		for j := range chain.Links {
			lines = append(lines, l.linkLines(&chain.Links[j], fmt.Sprint(i, " ", j), width)...)
		}
	}
	if len(lines) == 0 {
		return []line{text(plain, "Nothing is noted about where this figure comes from.").at("none", nil)}
	}
	return lines
}

// linkLines are a figure of a chain, set in by what it is behind.
func (l look) linkLines(n *econ.Link, key string, width int) []line {
	lead := strings.Repeat("  ", n.Level+1)
	head := n.What
	if n.Text != "" {
		head += ": " + n.Text
	}
	lines := l.paragraph(plain, lead, head, width)
	lines[0] = lines[0].at(key, nil)
	lead += "    "
	if n.Formula != "" {
		lines = append(lines, l.paragraph(muted, lead, "worked out as "+n.Formula, width)...)
	}
	if n.Reason != "" {
		lines = append(lines, l.paragraph(muted, lead, "because "+n.Reason, width)...)
	}
	for i := range n.Inputs {
		in := &n.Inputs[i]
		rows := l.paragraph(accent, lead, in.ID+"  "+in.Text, width)
		rows[0] = rows[0].at(key+in.ID, nil)
		lines = append(append(lines, rows...), l.paragraph(muted, lead+"  ", inputOrigin(in), width)...)
	}
	for _, s := range n.Sources {
		lines = append(lines, l.paragraph(muted, lead, "source: "+s, width)...)
	}
	return lines
}

// inputOrigin says how an input is taken, where it stands and who says so.
func inputOrigin(in *econ.WhyInput) string {
	where := in.Origin
	if in.File != "" && in.Line > 0 {
		where += fmt.Sprintf(", %s line %d", filepath.Base(in.File), in.Line)
	}
	if in.Source != "" {
		where += ": " + strings.TrimPrefix(in.Source, in.Origin+"; ")
	}
	if in.Taken != "" {
		where = "taken as " + in.Taken + "; " + where
	}
	return where
}

// asksAbreast are the questions of a row of the comparison, for each plan that
// has the figure.
func asksAbreast(title string, r *econ.AbreastRow, plans []*econ.PricedPlan) []string {
	if metal, ok := strings.CutSuffix(r.Label, " contained"); ok && title == "Metal" {
		return []string{"metal/" + metal}
	}
	var questions []string
	for i, p := range plans {
		if r.Present[i] {
			questions = append(questions, askAbreast(title, r.Label, p)...)
		}
	}
	return questions
}

// asCategory are the rows that a heading of the money answers for.
var asCategory = map[string]econ.Category{
	"receipts": econ.Revenue, "cost of all reagents": econ.Reagents, "energy": econ.Energy, "hands-on": econ.Labour,
}

func askAbreast(title, label string, p *econ.PricedPlan) []string {
	category := econ.Category(label)
	if c, ok := asCategory[label]; ok {
		category = c
	}
	switch {
	case title == "Products" && p.Outcome != nil:
		return askEach(p, "product", len(p.Outcome.Products), func(i int) bool {
			x := &p.Outcome.Products[i]
			return label == x.Metal+" "+x.Form || x.Compound != "" && label == x.Compound
		})
	case title == "Waste":
		return askEach(p, "waste", len(p.Waste), func(i int) bool { return label == strings.ReplaceAll(p.Waste[i].Class, "-", " ") })
	case label == "net":
		return []string{ofPlan(p)}
	case label == "gain":
		return []string{ofPlan(p, "gain")}
	case slices.Contains(econ.Categories, category) && p.Under(category) != 0:
		return []string{ofPlan(p, string(category))}
	}
	return nil
}

// askEach asks about each of a plan's products or waste that matches; econ
// counts them from 1.
func askEach(p *econ.PricedPlan, kind string, n int, match func(int) bool) []string {
	var questions []string
	for i := range n {
		if match(i) {
			questions = append(questions, ofPlan(p, kind, strconv.Itoa(i+1)))
		}
	}
	return questions
}
