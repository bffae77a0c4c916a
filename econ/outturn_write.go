package econ

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// outturnHead begins a new file of outturns.
const outturnHead = `# What came out of %s, as it was noted. The program adds entries at the end and
# never changes one; an entry that corrects another names it by its number:
# replaces = 1.
#
# mass and metal_in_it are as weighed; expected is what the route's own figures
# gave on that day, with the doubt of the lot; contained is what the lot held.
# losses: a point more of that figure takes so many per cent of the metal away.
# shares: how the expected hours were shared among the routes.
`

// AppendOutturn returns what has to be added to a file of outturns to note o: the
// head of a new file where old is empty, and the entry. The file with it is read
// again, and o must be its last entry.
//
// Errors: input.Problems where the old file is faulty, and a fault of the entry,
// such as a number that is none.
func AppendOutturn(name, lotName string, old []byte, o Outturn) ([]byte, error) {
	var b strings.Builder
	before := 0
	switch {
	case len(old) == 0:
		fmt.Fprintf(&b, outturnHead, input.Clean(lotName, 60))
	default:
		doc, err := input.Parse(name, old)
		if err != nil {
			return nil, err
		}
		list, err := DecodeOutturns(doc)
		if err != nil {
			return nil, err
		}
		before = len(list)
		if old[len(old)-1] != '\n' {
			b.WriteByte('\n')
		}
	}
	b.WriteByte('\n')
	o.write(&b)
	more := []byte(b.String())
	doc, err := input.Parse(name, append(append([]byte{}, old...), more...))
	if err != nil {
		return nil, fmt.Errorf("econ: the entry cannot be written: %w", err)
	}
	list, err := DecodeOutturns(doc)
	if err != nil {
		return nil, fmt.Errorf("econ: the entry cannot be written: %w", err)
	}
	if len(list) != before+1 || list[before].Plan != o.Plan || len(list[before].Products) != len(o.Products) {
		return nil, errors.New("econ: the entry would not be read back as it is")
	}
	return more, nil
}

// write writes the entry's table.
func (o *Outturn) write(b *strings.Builder) {
	b.WriteString("[[outturn]]\n")
	fmt.Fprintf(b, "date = %s\nplan = %s\n", o.Date.Format(time.DateOnly), input.Quote(o.Plan))
	if o.Note != "" {
		fmt.Fprintf(b, "note = %s\n", input.Quote(o.Note))
	}
	if o.Replaces > 0 {
		fmt.Fprintf(b, "replaces = %d\n", o.Replaces)
	}
	if o.Confirmed {
		b.WriteString("confirmed = true\n")
	}
	o.HandsOn.write(b, "hands_on")
	o.Elapsed.write(b, "elapsed")
	for i := range o.Products {
		o.Products[i].write(b)
	}
	for _, u := range o.Used {
		fmt.Fprintf(b, "\n[[outturn.used]]\nreagent = %s\namount = %s\nexpected = %s\n",
			input.Quote(u.Reagent), exact(u.Kind, units.Exactly(u.Used)), exact(u.Kind, units.Exactly(u.Expected)))
	}
}

func (h *OutturnHours) write(b *strings.Builder, key string) {
	if h == nil {
		return
	}
	fmt.Fprintf(b, "%s = { noted = %s, expected = %s", key,
		exact(units.HoursKind, units.Exactly(h.Noted)), exact(units.HoursKind, units.Exactly(h.Expected)))
	if len(h.Shares) > 0 {
		parts := make([]string, len(h.Shares))
		for i, s := range h.Shares {
			parts[i] = input.Quote(s.Route) + " = " + short(s.Share)
		}
		fmt.Fprintf(b, ", shares = { %s }", strings.Join(parts, ", "))
	}
	b.WriteString(" }\n")
}

func (p *OutturnProduct) write(b *strings.Builder) {
	fmt.Fprintf(b, "\n[[outturn.product]]\nroute = %s\nproduct = %s\nmetal = %s\nmass = %s\n",
		input.Quote(p.Route), input.Quote(p.Product), input.Quote(p.Metal), exact(units.MassKind, p.Mass))
	if p.Fineness > 0 {
		fmt.Fprintf(b, "fineness = %s\n", short(p.Fineness))
	}
	fmt.Fprintf(b, "metal_in_it = %s\nexpected = %s\ncontained = %s\n",
		exact(units.MassKind, p.MetalMass), exact(units.MassKind, p.Expected), exact(units.MassKind, p.Contained))
	if len(p.Losses) > 0 {
		parts := make([]string, len(p.Losses))
		for i, l := range p.Losses {
			parts[i] = input.Quote(l.Figure) + " = " + short(l.PerPoint)
		}
		fmt.Fprintf(b, "losses = { %s }\n", strings.Join(parts, ", "))
	}
}

// exact writes a quantity to six digits, in g, L or h, with its doubt.
func exact(kind units.Kind, d units.Dist) string {
	unit, size := "g", 1000.0
	switch kind {
	case units.VolumeKind:
		unit, size = "L", 1
	case units.HoursKind:
		unit, size = "h", 1
	}
	text := short(d.Mean*size) + " " + unit
	if d.SD > 0 {
		text += " ± " + short(d.SD*size) + " " + unit
	}
	return input.Quote(text)
}

// short writes a number to six significant digits, without an exponent: the
// parser of quantities takes none, and less than a millionth is nothing here.
func short(v float64) string {
	if math.Abs(v) < 1e-9 {
		return "0"
	}
	digits := 5 - int(math.Floor(math.Log10(math.Abs(v))))
	text := strconv.FormatFloat(v, 'f', max(0, digits), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
	}
	return text
}
