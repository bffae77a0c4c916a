package econ

import (
	"errors"
	"regexp"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

func TestPriceUnit(t *testing.T) {
	b, _ := decoded(t, smallBook)
	for path, want := range map[string]string{
		"spot.Ag.price": "USD / ozt", "spot.Cu.price": "USD / kg",
		"sale.silver-bar.payable": "of contained metal", "sale.silver-bar.fee": "USD / lot", "sale.silver-bar.freight": "USD / lot",
		"sale.copper-cement.minimum": "USD / lot", "sale.copper-cement.penalties.Pb": "USD / kg", "sale.copper-sulfate.price": "USD / kg",
		"reagent.sodium-hydroxide.price": "USD / pack of 1 kg", "reagent.sulfuric-acid.price": "USD / pack of 1 L",
		"consumable.filter-paper.price": "USD / pack of 100", "energy.electricity": "USD / kWh", "labour.rate": "USD / h",
		"disposal.acid-metal-liquor.price": "USD / L", "disposal.acid-metal-liquor.minimum": "USD / lot", "storage.price": "USD / month",
	} {
		p, err := b.Find(path)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Unit("USD"); got != want {
			t.Errorf("%s is in %q, want %q", path, got, want)
		}
	}
}

func TestPriceUnitOfOnePiece(t *testing.T) {
	b, _ := decoded(t, swapped(t, smallBook, `pack  = "100"`+"\n", ""))
	p, err := b.Find("consumable.filter-paper")
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Unit("EUR"); got != "EUR / piece" {
		t.Errorf("unit %q", got)
	}
}

func TestPriceRead(t *testing.T) {
	b, _ := decoded(t, smallBook)
	for name, c := range map[string]struct{ path, text, want string }{
		"spot":         {"spot.Ag.price", "31.20 / ozt", "31.20 USD / ozt ± 3.12, doubt assumed"},
		"other unit":   {"spot.Ag.price", "1 003,10 / kg", "1003.10 USD / kg ± 100.31, doubt assumed"},
		"typed doubt":  {"spot.Ag.price", "31.20 ± 2 / ozt", "31.20 USD / ozt ± 2.00"},
		"range":        {"spot.Ag.price", "30..35 / ozt", "30.00 to 35.00 USD / ozt"},
		"cheap":        {"spot.Cu.price", "0.0012 / g", "0.0012 USD / g ± 0.00012, doubt assumed"},
		"share":        {"sale.silver-bar.payable", "94 %", "94 % of contained metal ± 1 percentage points, doubt assumed"},
		"fee":          {"sale.silver-bar.fee", "25", "25.00 USD / lot ± 1.25, doubt assumed"},
		"no fee":       {"sale.silver-bar.fee", "0", "0.00 USD / lot"},
		"pack":         {"reagent.sodium-hydroxide.price", "9", "9.00 USD / pack of 1 kg ± 0.90, doubt assumed"},
		"own decision": {"labour.rate", "22.50 / h", "22.50 USD / h"},
		"carrier":      {"disposal.acid-metal-liquor.price", "2 / kg", "2.00 USD / kg ± 0.40, doubt assumed"},
	} {
		p, err := b.Find(c.path)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := p.Read(c.text, "USD"); err != nil || got != c.want {
			t.Errorf("%s: Read(%q) = %q, %v; want %q", name, c.text, got, err, c.want)
		}
	}
}

// What Check refuses, Read refuses in the same words.
func TestPriceReadRefuses(t *testing.T) {
	b, _ := decoded(t, smallBook)
	for _, c := range [][2]string{{"spot.Ag.price", "31.20 / L"}, {"spot.Ag.price", "-3 / ozt"}, {"sale.silver-bar.payable", "120 %"}, {"labour.rate", "much"}, {"labour.rate", ""}} {
		p, err := b.Find(c[0])
		if err != nil {
			t.Fatal(err)
		}
		text, err := p.Read(c[1], "USD")
		var fault *PriceError
		if text != "" || !errors.As(err, &fault) || err.Error() != p.Check(c[1]).Error() {
			t.Errorf("Read(%q) = %q, %v; Check says %v", c[1], text, err, p.Check(c[1]))
		}
	}
}

// The value that is echoed is the value that is typed, whatever it is.
func TestPriceReadEchoesAnyPrice(t *testing.T) {
	b, _ := decoded(t, smallBook)
	p, err := b.Find("spot.Cu.price")
	if err != nil {
		t.Fatal(err)
	}
	number := regexp.MustCompile(`^[0-9.]+`)
	rapid.Check(t, func(r *rapid.T) {
		value := rapid.Float64Range(0, 1e6).Draw(r, "price")
		text := priceText(value) + " / kg"
		echo, err := p.Read(text, "USD")
		if err != nil {
			r.Fatalf("Read(%q): %v", text, err)
		}
		_, dist, err := units.Parse(number.FindString(echo), units.Number)
		if err != nil {
			r.Fatalf("%q: %v", echo, err)
		}
		near(t, echo, dist.Mean, value, 0.0051)
	})
}
