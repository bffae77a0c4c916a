package econ

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/route"
)

// checkChain asserts what must hold of any chain: the figure itself first, no
// level skipped, every input once and with its text, all numbers finite, and
// that JSON can carry it.
func checkChain(t testing.TB, what string, c Chain) {
	t.Helper()
	if len(c.Links) == 0 || c.Links[0].Level != itself {
		t.Errorf("%s: chain %+v", what, c)
		return
	}
	seen := map[string]bool{}
	for i, l := range c.Links {
		if l.Level < 0 || i > 0 && (l.Level > c.Links[i-1].Level+1 || l.Level == itself) || l.What == "" {
			t.Errorf("%s: link %d is %q at level %d", what, i, l.What, l.Level)
		}
		if l.Value != nil && (math.IsNaN(*l.Value) || math.IsInf(*l.Value, 0) || l.Text == "") {
			t.Errorf("%s: %s = %v, %q", what, l.What, *l.Value, l.Text)
		}
		for _, in := range l.Inputs {
			if seen[in.ID] || in.ID == "" || in.Text == "" || in.Origin == "" {
				t.Errorf("%s: %s: input %+v, or shown twice", what, l.What, in)
			}
			seen[in.ID] = true
		}
	}
	if _, err := json.Marshal(c); err != nil {
		t.Errorf("%s: %v", what, err)
	}
}

// shows are the ids of all inputs of a chain.
func (c Chain) shows() map[string]bool {
	ids := map[string]bool{}
	for _, l := range c.Links {
		for _, in := range l.Inputs {
			ids[in.ID] = true
		}
	}
	return ids
}

// Of every line of every plan of every sample lot: the chain starts at the line's
// amount and shows every input that the line rests on.
func TestWhyLineOfSampleLots(t *testing.T) {
	for name, w := range whatIfs(t) {
		a := w.Base()
		for i := range a.Plans {
			if i > 12 && i%17 != 0 {
				continue // every kind of plan is among these
			}
			p := &a.Plans[i]
			for j := range p.Lines {
				what := name + ": " + p.ID + ": " + p.Lines[j].Item
				c := a.WhyLine(p, j)
				checkChain(t, what, c)
				near(t, what, *c.Links[0].Value, p.Lines[j].Amount.Float(), 1e-9)
				shown := c.shows()
				for _, ref := range p.Lines[j].Why.Inputs.Refs() {
					if id := a.Figures.Get(ref).ID; !shown[id] {
						t.Errorf("%s: the chain does not show %s", what, id)
					}
				}
			}
		}
	}
}

// The parts that a chain lists add up to what it explains.
func TestWhyAddsUp(t *testing.T) {
	a := whatIf(t, "sterling-parting.toml").Base()
	p := a.Plan("chloride-oxide-sugar+dispose")
	if p == nil || !p.Priced() {
		t.Fatal("the sample lot has lost a plan")
	}
	sum := 0.0
	for _, l := range a.WhyNet(p).Links {
		if l.Level == restsOn && l.What == string(Revenue) {
			sum += *l.Value
		} else if l.Level == restsOn {
			sum -= *l.Value
		}
	}
	near(t, "net", sum, p.Net.Float(), 1e-9)
	parts := a.WhyGain(p).Links
	near(t, "gain", *parts[0].Value, p.Gain.Float(), 1e-9)
	checkChain(t, "gain", Chain{Links: parts})
	for i, l := range p.Lines {
		sum, unit := 0.0, map[string]float64{"kg": 1000, "h": 1, "kWh": 1, "piece": 1}[l.Unit]
		if l.Fixed || unit == 0 || l.Category == Disposal || l.Category == Revenue {
			continue
		}
		for _, link := range a.WhyLine(p, i).Links {
			if link.Level == restsOn {
				sum += *link.Value
			}
		}
		near(t, l.Item, sum, l.Quantity*unit, 1e-9)
	}
}

// A receipt is traced through the product, the reactions and losses of its route
// and the metal contained to what was typed, each at its own link.
func TestWhyReceipt(t *testing.T) {
	a := whatIf(t, "sterling-parting.toml").Base()
	p := a.Plan("chloride-oxide-sugar+dispose")
	i := slices.IndexFunc(p.Lines, func(l Line) bool { return l.Category == Revenue })
	c := a.WhyLine(p, i)
	find := func(what string) Link {
		at := slices.IndexFunc(c.Links, func(l Link) bool { return strings.Contains(l.What, what) })
		if at < 0 {
			t.Fatalf("no link %q in\n%s", what, c)
		}
		return c.Links[at]
	}
	has := func(l Link, id string) bool {
		return slices.ContainsFunc(l.Inputs, func(in WhyInput) bool { return in.ID == id })
	}
	if l := find("salt"); l.Formula != "Ag^+ + Cl^- -> AgCl(s)" {
		t.Errorf("precipitation: %+v", l)
	}
	if l := find("Settle and pour off"); !has(l, "route/chloride-oxide-sugar/settle/loss") || !strings.Contains(l.Text, "g") {
		t.Errorf("settling: %+v", l)
	}
	if l := find("sources"); !has(l, "lot/dissolved[0].mass") || !strings.Contains(l.Reason, "%") {
		t.Errorf("sources: %+v", l)
	}
	if l := find("liquid by AAS"); !has(l, "lot/measured[0].value") || l.Inputs[slices.IndexFunc(l.Inputs, func(in WhyInput) bool { return in.ID == "lot/measured[0].value" })].Line == 0 {
		t.Errorf("assay: %+v", l)
	}
	if l := find("atomic weight"); len(l.Sources) == 0 {
		t.Errorf("atomic weight: %+v", l)
	}
	if first := c.Links[0]; !has(first, "price/spot.Ag") || first.Inputs[0].Taken != "30.00 ± 3.00 / ozt" {
		t.Errorf("receipt: %+v", first)
	}
}

func TestWhyOfTheLot(t *testing.T) {
	for name, w := range whatIfs(t) {
		a := w.Base()
		for _, m := range a.Report.Metals {
			c := a.WhyMetal(m.Metal)
			checkChain(t, name+": "+m.Metal, c)
			near(t, name+": "+m.Metal, *c.Links[0].Value, m.Contained.Grams(), 1e-9)
			shown := c.shows()
			for _, ref := range m.Inputs {
				if !shown[a.Figures.Get(ref).ID] {
					t.Errorf("%s: %s: %s is not shown", name, m.Metal, a.Figures.Get(ref).ID)
				}
			}
			checkChain(t, name+": spot of "+m.Metal, a.WhySpotValue(m.Metal))
		}
		checkChain(t, name+": acid", a.WhyAcid())
		checkChain(t, name+": volume", a.WhyVolume())
		if a.Report.Volume > 0 && len(a.WhyVolume().shows()) == 0 {
			t.Errorf("%s: the volume rests on nothing", name)
		}
	}
}

// Every question of the list has an answer where the lot has such a figure, and
// what is no question is refused.
func TestWhyQuestions(t *testing.T) {
	a := whatIf(t, "sterling-parting.toml").Base()
	plan := a.Plans[0].ID
	step := slices.IndexFunc(a.Plans[0].Outcome.Steps, func(s route.StepRecord) bool { return len(s.Entries) > 0 })
	for _, q := range WhyQuestions {
		q = strings.NewReplacer("input/ID", "input/lot/vessel.liquid", "ID", plan, "CATEGORY", "labour", "step/N", fmt.Sprint("step/", step+1), "/N", "/1", "/M", "/1").Replace(q)
		c, err := Why(a, q)
		if err != nil {
			t.Errorf("Why(%q): %v", q, err)
			continue
		}
		checkChain(t, q, c)
		if text := c.String(); strings.Count(text, "\n") < len(c.Links) {
			t.Errorf("Why(%q) is written as %q", q, text)
		}
	}
	for _, q := range []string{
		"", "metal/Xx", "metal", "spot/", "input/none", "plan/none", "plan/" + plan + "/line/0", "plan/" + plan + "/line/99", "plan/" + plan + "/line/x",
		"plan/" + plan + "/step/1", "plan/" + plan + "/step/1/entry/999", "plan/" + plan + "/product/77", "plan/" + plan + "/waste/-1", "plan/" + plan + "/wages",
	} {
		if c, err := Why(a, q); !errors.Is(err, ErrNoFigure) {
			t.Errorf("Why(%q) = %+v, %v", q, c, err)
		}
	}
}

// A blocked plan says why it has no figures.
func TestWhyBlocked(t *testing.T) {
	a := &Appraisal{Currency: "USD", Figures: &input.Figures{}}
	p := &PricedPlan{ID: "x+dispose", Blocked: &route.Block{Reason: "the chloride has locked the silver"}}
	for _, c := range []Chain{a.WhyNet(p), a.WhyGain(p), a.WhyCategory(p, Fees)} {
		checkChain(t, "blocked", c)
		if c.Links[0].Reason != p.Blocked.Reason || c.Links[0].Value != nil {
			t.Errorf("blocked: %+v", c)
		}
	}
	for _, c := range []Chain{a.WhyLine(p, 0), a.WhyProduct(p, 0), a.WhyWaste(p, 0), a.WhyEntry(p, 0, 0)} {
		if len(c.Links) != 0 {
			t.Errorf("a figure of a plan without an outcome: %+v", c)
		}
	}
}
