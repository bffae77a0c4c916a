package lot

import (
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

// Acid used per mol: 4/3 and 2 for silver, 8/3 and 4 for copper and zinc, 4 and
// 6 for iron (balanced equations).
func TestPathAcid(t *testing.T) {
	for symbol, want := range map[string][2]float64{"Ag": {4.0 / 3, 2}, "Cu": {8.0 / 3, 4}, "Zn": {8.0 / 3, 4}, "Ni": {8.0 / 3, 4}, "Pb": {8.0 / 3, 4}, "Fe": {4, 6}, "Sn": {4.0 / 3, 4}} {
		start, err := elementalForm(symbol)
		if err != nil {
			t.Fatal(err)
		}
		p, err := newPath(0, symbol, "nitric acid", start)
		if err != nil || !p.forked() {
			t.Errorf("%s in nitric acid: %+v %v", symbol, p, err)
			continue
		}
		p.n2o, p.nh4 = input.NoRef, input.NoRef
		near(t, symbol+" to NO", p.acid(0, nil), want[0], 1e-12)
		near(t, symbol+" to NO2", p.acid(1, nil), want[1], 1e-12)
		near(t, symbol+" halfway", p.acid(0.5, nil), (want[0]+want[1])/2, 1e-12)
	}
}

// The shares of the branches add up to one.
func TestPathShares(t *testing.T) {
	p, err := newPath(0, "Zn", "nitric acid", substance.MustFind("Zn(s)"))
	if err != nil {
		t.Fatal(err)
	}
	p.n2o, p.nh4 = 0, 1
	for _, v := range []input.Values{{0, 0}, {0.4, 0.4}, {0.2, 0.1}} {
		sum := 0.0
		for _, b := range p.branches {
			sum += p.share(b.name, 0.3, v)
		}
		near(t, "sum of the shares", sum, 1, 1e-12)
	}
}

// What an agent leaves alone, and what turns to a solid.
func TestPathEnds(t *testing.T) {
	gold, _ := newPath(0, "Au", "nitric acid", substance.MustFind("Au(s)"))
	if !gold.stays {
		t.Error("nitric acid dissolves gold")
	}
	tin, _ := newPath(0, "Sn", "nitric acid", substance.MustFind("Sn(s)"))
	if !tin.dry || tin.product.Species().Name != "SnO2(s)" {
		t.Errorf("tin in nitric acid: %+v", tin)
	}
	oxide, err := newPath(0, "Cd", "nitric acid", substance.MustFind("CdO(s)"))
	if err != nil || oxide.stays {
		t.Fatalf("cadmium oxide: %+v %v", oxide, err)
	}
	near(t, "acid of cadmium oxide", oxide.acid(0.5, nil), 2, 1e-12)
	if _, err := newBranch("", substance.Reaction{Text: "x"}, substance.MustFind("Cu(s)"), 1); err == nil {
		t.Error("a reaction that uses up nothing of the metal gave no error")
	}
}
