package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"afterpour/econ"
)

// shownRow is a plan's row of figures in the standings: net, gain, net without
// labour, hands-on and elapsed hours.
var shownRow = regexp.MustCompile(`(?m)^ +(-?[0-9]+\.[0-9]{2}) +([+-]?[0-9]+\.[0-9]{2}) +(-?[0-9]+\.[0-9]{2}) +([0-9.]+) h +([0-9.]+) h`)

// shownAmount is the amount at the end of a row of a plan's money.
var shownAmount = regexp.MustCompile(`(?m) ([+-]?[0-9]+\.[0-9]{2})$`)

// agreement proves that the printed standings and the printed JSON tell the
// same figures, by reading both again.
type agreement struct {
	found   []string
	figures int
}

// agree prints an appraisal both ways, reads both, and compares. It also
// compares every priced plan's page of money with its lines in the JSON.
func agree(lotName, bookName string, a *econ.Appraisal) (econ.Proof, error) {
	proof := econ.Proof{ID: "agreement", Claim: "text and JSON tell the same figures", Result: econ.Proved}
	var printed bytes.Buffer
	if err := (&program{stdout: &printed}).printJSON(newStandingsJSON(lotName, bookName, a)); err != nil {
		return proof, err
	}
	var object standingsJSON
	if err := json.Unmarshal(printed.Bytes(), &object); err != nil {
		return proof, fmt.Errorf("the printed JSON cannot be read: %w", err)
	}
	text, err := standingsText(lotName, bookName, view{all: true}, a)
	if err != nil {
		return proof, err
	}
	var g agreement
	g.standings(text, &object)
	g.verdict(text, &object)
	g.metals(text, &object)
	for i := range a.Plans {
		if a.Plans[i].Priced() {
			var p page
			p.detail(a, &a.Plans[i])
			g.money(p.String(), &object.Plans[i])
		}
	}
	if len(g.found) > 0 {
		proof.Result, proof.Found = econ.Failed, g.found
	}
	proof.Text = fmt.Sprintf("%d figures of %d plans read from both and compared", g.figures, len(object.Plans))
	return proof, nil
}

// mostDifferences bounds the list of findings.
const mostDifferences = 20

func (g *agreement) differ(format string, values ...any) {
	if len(g.found) < mostDifferences {
		g.found = append(g.found, fmt.Sprintf(format, values...))
	}
}

// shown compares a printed number with the figure that it was rounded from.
func (g *agreement) shown(what, printed string, figure, step float64) {
	g.figures++
	value, err := strconv.ParseFloat(printed, 64)
	if err != nil || !(math.Abs(value-figure) <= step/2*(1+1e-9)+1e-9*math.Abs(figure)) {
		g.differ("%s: %s in the text, %g in the JSON", what, printed, figure)
	}
}

func (g *agreement) standings(text string, object *standingsJSON) {
	rows := shownRow.FindAllStringSubmatch(text, -1)
	n := 0
	for i := range object.Plans {
		plan := &object.Plans[i]
		if plan.Blocked != nil {
			continue
		}
		if n++; n > len(rows) {
			continue
		}
		row := rows[n-1]
		g.shown(plan.ID+", net", row[1], plan.Net.Float(), 0.01)
		g.shown(plan.ID+", gain", row[2], plan.Gain.Float(), 0.01)
		g.shown(plan.ID+", net without labour", row[3], plan.NetWithoutLabour.Float(), 0.01)
		g.shown(plan.ID+", hands-on hours", row[4], *plan.HandsOnH, hourStep(*plan.HandsOnH))
		g.shown(plan.ID+", elapsed hours", row[5], *plan.ElapsedH, hourStep(*plan.ElapsedH))
	}
	if n != len(rows) {
		g.differ("the text lists %d priced plans, the JSON %d", len(rows), n)
	}
}

// hourStep is what hours are rounded to.
func hourStep(h float64) float64 {
	if h >= 100 {
		return 1
	}
	return 0.1
}

// verdict looks for the verdict, its reason and the baseline in the text.
func (g *agreement) verdict(text string, object *standingsJSON) {
	flat := strings.ToLower(strings.Join(strings.Fields(text), " "))
	for _, told := range []string{object.Verdict.Action, object.Verdict.Why, object.Lot} {
		g.figures++
		// The text is cleaned and broken into lines; so is what is looked for.
		var p page
		p.text("", "%s", told)
		if want := strings.ToLower(strings.Join(strings.Fields(p.String()), " ")); !strings.Contains(flat, want) {
			g.differ("the text does not say %q, the JSON does", told)
		}
	}
	if object.BaselineNet != nil {
		g.figures++
		if want := "net " + money(*object.BaselineNet); object.Verdict.Plan != "" && !strings.Contains(flat, want) && len(object.Plans) > 0 && anyPriced(object) {
			g.differ("the text does not tell of the baseline's %s, the JSON does", want)
		}
	}
}

func anyPriced(object *standingsJSON) bool {
	for i := range object.Plans {
		if object.Plans[i].Blocked == nil {
			return true
		}
	}
	return false
}

// metals looks for each metal's contained mass in its row.
func (g *agreement) metals(text string, object *standingsJSON) {
	for _, m := range object.Metals {
		g.figures++
		row := regexp.MustCompile(`(?m)^ +` + regexp.QuoteMeta(m.Metal) + ` +([0-9.]+)`).FindStringSubmatch(text)
		if row == nil {
			g.differ("the text has no row of %s", m.Metal)
			continue
		}
		_, decimals, _ := strings.Cut(row[1], ".")
		g.shown(m.Metal+", contained", row[1], m.ContainedG, math.Pow(10, -float64(len(decimals))))
	}
}

// money compares a plan's page of money with its lines, category by category.
func (g *agreement) money(page string, plan *planJSON) {
	_, page, _ = strings.Cut(page, "  Money, in ")
	page, _, _ = strings.Cut(page, "\n\n")
	var want []float64
	for _, category := range econ.Categories {
		for _, l := range plan.Lines {
			switch {
			case l.Category != string(category):
			case category == econ.Revenue:
				want = append(want, l.Amount.Float())
			default:
				want = append(want, -l.Amount.Float())
			}
		}
	}
	want = append(want, plan.Net.Float())
	rows := shownAmount.FindAllStringSubmatch(page, -1)
	if len(rows) != len(want) {
		g.differ("%s: the text has %d rows of money, the JSON %d", plan.ID, len(rows), len(want))
		return
	}
	for i, row := range rows {
		g.shown(plan.ID+", a line of money", row[1], want[i], 0.01)
	}
}
