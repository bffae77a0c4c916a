package electro

import (
	"errors"
	"math"
	"testing"

	"afterpour/chem/units"
)

func TestBadArguments(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, call := range map[string]func() error{
		"Deposit negative":  func() error { _, err := Deposit(-1, 1, 100, 1); return err },
		"Deposit NaN":       func() error { _, err := Deposit(units.Charge(nan), 1, 100, 1); return err },
		"Deposit Inf":       func() error { _, err := Deposit(units.Charge(inf), 1, 100, 1); return err },
		"Deposit overflow":  func() error { _, err := Deposit(1e308, 1, 1e308, 1); return err },
		"Deposit n":         func() error { _, err := Deposit(1, 0, 100, 1); return err },
		"Deposit eta":       func() error { _, err := Deposit(1, 1, 100, 1.1); return err },
		"Deposit eta NaN":   func() error { _, err := Deposit(1, 1, 100, nan); return err },
		"ChargeFor eta":     func() error { _, err := ChargeFor(1, 1, 100, 0); return err },
		"ChargeFor mm":      func() error { _, err := ChargeFor(1, 1, 0, 1); return err },
		"Nernst Q":          func() error { _, err := Nernst(0, 1, 0, 298); return err },
		"Nernst Q negative": func() error { _, err := Nernst(0, 1, -1, 298); return err },
		"Nernst T":          func() error { _, err := Nernst(0, 1, 1, 0); return err },
		"CellVoltage":       func() error { _, err := CellVoltage(units.Potential(nan), 0); return err },
		"LogK overflow":     func() error { _, err := LogK(1e300, 8, 1e-10); return err },
		"Tafel":             func() error { _, err := Tafel{}.Overpotential(nan); return err },
		"Conductivity T":    func() error { _, err := Conductivity(500); return err },
		"Conductivity c":    func() error { _, err := Conductivity(298, IonConcentration{"K", -1}); return err },
		"OhmicDrop":         func() error { _, err := OhmicDrop(1, 1, 0, 1); return err },
		"LimitingCurrent":   func() error { _, err := LimitingCurrent(2, nan, 1, 1); return err },
		"NaturalConvection": func() error { _, err := NaturalConvection(0, 1, 1, 1); return err },
		"Deplete rising":    func() error { _, err := Deplete(1, 2, 1, 1, 1, 1, 1); return err },
		"Deplete zero":      func() error { _, err := Deplete(1, 0, 1, 1, 1, 1, 1); return err },
		"Deplete overflow":  func() error { _, err := Deplete(1e300, 1, 1e300, 1e-300, 1, 1, 1); return err },
		"Nitrate":           func() error { _, err := NitrateReduction(1, 1, -300, 1, 298); return err },
		"CementTime":        func() error { _, err := CementTime(1, 2, 1, 1, 1); return err },
		"CopperAttack":      func() error { _, err := CopperAttack(Liquor{}, 1, 1, 1); return err },
	} {
		err := call()
		var domain *DomainError
		if !errors.Is(err, ErrDomain) || !errors.As(err, &domain) || domain.Error() == "" {
			t.Errorf("%s: %v, want a DomainError", name, err)
		}
	}
}
