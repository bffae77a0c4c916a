package econ

import (
	"fmt"
	"math"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// NoteError is what is wrong with one thing that was noted.
type NoteError struct{ What, Message, Hint string }

// Error is one sentence.
func (e *NoteError) Error() string {
	text := fmt.Sprintf("%s: %s", input.Clean(e.What, 80), e.Message)
	if e.Hint != "" {
		text += "; " + e.Hint
	}
	return text
}

// Outturn makes an entry of what was noted, each as name=amount:
//
//	silver-bar=41.2 g           a product, by its sale or its form
//	silver-bar.fineness=985     its fineness, if found; plain fineness where there is one product
//	hours=2.5 h                 hands-on time of the whole plan
//	elapsed=30 h                from beginning to end
//	copper-scrap=40 g           a reagent, as used
//	date=2026-11-30, note=…
//
// The error is of type *NoteError.
func (e *Expectation) Outturn(today time.Time, noted []string) (Outturn, error) {
	n := noting{Expectation: e, entry: Outturn{Date: today, Plan: e.Plan}, mass: map[int]units.Dist{}, fineness: map[int]float64{}}
	for _, text := range noted {
		name, amount, ok := strings.Cut(text, "=")
		if !ok || strings.TrimSpace(amount) == "" {
			return Outturn{}, &NoteError{text, "write it as name=amount", `such as silver-bar="41.2 g"`}
		}
		if n.seen[name] {
			return Outturn{}, &NoteError{name, "is noted twice", ""}
		}
		if err := n.take(strings.TrimSpace(name), strings.TrimSpace(amount)); err != nil {
			return Outturn{}, err
		}
	}
	return n.finish()
}

// noting is an entry in progress.
type noting struct {
	*Expectation
	entry    Outturn
	mass     map[int]units.Dist // by place in Products
	fineness map[int]float64
	seen     map[string]bool
}

// take takes one thing down.
func (n *noting) take(name, amount string) error {
	if n.seen == nil {
		n.seen = map[string]bool{}
	}
	n.seen[name] = true
	switch name {
	case "note":
		n.entry.Note = input.Clean(amount, 400)
		return nil
	case "date":
		day, err := time.Parse(time.DateOnly, amount)
		if err != nil {
			return &NoteError{name, "a day is written as 2026-11-30", ""}
		}
		n.entry.Date = day
		return nil
	case "hours":
		h, err := n.hours(name, amount, n.HandsOnH)
		if h != nil {
			h.Shares = n.Shares
		}
		n.entry.HandsOn = h
		return err
	case "elapsed":
		h, err := n.hours(name, amount, n.ElapsedH)
		n.entry.Elapsed = h
		return err
	}
	return n.product(name, amount)
}

func (n *noting) hours(name, amount string, expected float64) (*OutturnHours, error) {
	_, d, err := units.Parse(amount, units.HoursKind)
	switch {
	case err != nil:
		return nil, &NoteError{name, err.Error(), ""}
	case !(d.Mean > 0 && d.Mean <= mostHours):
		return nil, &NoteError{name, "a time is more than nothing", `hours="2.5 h"`}
	case !(expected > 0):
		return nil, &NoteError{name, "the plan expects no hours to set it against", ""}
	}
	return &OutturnHours{Noted: d.Mean, Expected: expected}, nil
}

// product takes a mass or a fineness down, or else a reagent.
func (n *noting) product(name, amount string) error {
	base, what, dotted := strings.Cut(name, ".")
	if name == "fineness" {
		if len(n.Products) != 1 {
			return &NoteError{name, "the plan has several products", "say which: " + n.example() + ".fineness=985"}
		}
		return n.found(0, name, amount)
	}
	i, matches := n.find(base)
	switch {
	case matches > 1:
		return &NoteError{name, "the plan has several such products", "say which: " + strings.Join(n.names(), ", ")}
	case matches == 1 && dotted && what == "fineness":
		return n.found(i, name, amount)
	case matches == 1 && !dotted:
		_, d, err := units.Parse(amount, units.MassKind)
		if err != nil {
			return &NoteError{name, err.Error(), ""}
		}
		if !(d.Mean >= 0 && d.Mean <= mostMass && d.SD <= mostMass) {
			return &NoteError{name, "out of the range of any bench", ""}
		}
		n.mass[i] = d
		return nil
	case matches == 0 && !dotted:
		return n.reagent(name, amount)
	}
	return n.unknown(name)
}

// find looks a product up by route and sale, by its sale, or by its form.
func (n *noting) find(name string) (at, matches int) {
	for i, p := range n.Products {
		if name == p.Sale || name == p.Form || name == p.Route+":"+p.Sale {
			at, matches = i, matches+1
		}
	}
	return at, matches
}

func (n *noting) found(i int, name, amount string) error {
	kind, d, err := units.Parse(amount, units.Number, units.Fraction)
	if err != nil {
		return &NoteError{name, err.Error(), ""}
	}
	parts, fault := finenessOf(kind, d)
	if fault != "" {
		return &NoteError{name, fault, "fineness=985"}
	}
	n.fineness[i] = parts
	return nil
}

func (n *noting) reagent(name, amount string) error {
	for _, r := range n.Reagents {
		if r.Reagent != name {
			continue
		}
		kinds, expected := []units.Kind{units.MassKind}, float64(r.Mass)
		if r.Volume > 0 {
			kinds = append(kinds, units.VolumeKind)
		}
		kind, d, err := units.Parse(amount, kinds...)
		if err != nil {
			return &NoteError{name, err.Error(), ""}
		}
		if kind == units.VolumeKind {
			expected = float64(r.Volume)
		}
		if !(d.Mean >= 0 && d.Mean <= mostMass) {
			return &NoteError{name, "out of the range of any bench", ""}
		}
		n.entry.Used = append(n.entry.Used, OutturnUse{name, kind, d.Mean, expected})
		return nil
	}
	return n.unknown(name)
}

func (n *noting) unknown(name string) error {
	hint := "this plan knows " + strings.Join(n.names(), ", ")
	if near := input.Nearest(name, n.names()); near != "" {
		hint = fmt.Sprintf("did you mean %q? ", near) + hint
	}
	return &NoteError{name, "nothing of this plan is called that", hint}
}

// names lists what can be noted of the plan.
func (n *noting) names() []string {
	var list []string
	for i, p := range n.Products {
		name := p.Sale
		if _, matches := n.find(p.Sale); matches > 1 {
			name = p.Route + ":" + p.Sale
		}
		_ = i
		list = append(list, name, name+".fineness")
	}
	list = append(list, "hours", "elapsed", "date", "note")
	for _, r := range n.Reagents {
		list = append(list, r.Reagent)
	}
	return list
}

func (n *noting) example() string {
	if len(n.Products) == 0 {
		return "silver-bar"
	}
	return n.Products[0].Sale
}

// finish turns what was weighed into metal and checks that there is something to
// note.
func (n *noting) finish() (Outturn, error) {
	for i := range n.Products {
		p := &n.Products[i]
		mass, weighed := n.mass[i]
		if !weighed {
			if _, ok := n.fineness[i]; ok {
				return Outturn{}, &NoteError{p.Sale, "has a fineness and no mass", p.Sale + `="41.2 g"`}
			}
			continue
		}
		n.entry.Products = append(n.entry.Products, n.weighed(p, mass, n.fineness[i]))
	}
	o := &n.entry
	if len(o.Products)+len(o.Used) == 0 && o.HandsOn == nil && o.Elapsed == nil {
		return Outturn{}, &NoteError{"nothing", "is noted", "this plan knows " + strings.Join(n.names(), ", ")}
	}
	return *o, nil
}

// weighed reckons the metal of a product: its share of the mass as expected, and
// that times the fineness found over the one expected, if one was found.
func (n *noting) weighed(p *ExpectedProduct, mass units.Dist, fineness float64) OutturnProduct {
	share := ratio(p.MetalMass.Mean, float64(p.Mass))
	if fineness > 0 && p.Fineness > 0 {
		share *= fineness / p.Fineness
	}
	share = math.Min(1, share)
	return OutturnProduct{
		Route: p.Route, Product: p.Sale, Metal: p.Metal, Mass: plain(mass), Fineness: fineness,
		MetalMass: units.NormalDist(mass.Mean*share, mass.SD*share), Expected: p.MetalMass, Contained: p.Contained, Losses: p.Losses,
	}
}

// plain keeps mean and standard deviation of a quantity.
func plain(d units.Dist) units.Dist { return units.NormalDist(d.Mean, d.SD) }
