package electro

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

func TestDepositAndChargeForAreInverse(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		q := units.Charge(rapid.Float64Range(1e-6, 1e9).Draw(r, "charge"))
		n := rapid.IntRange(1, 8).Draw(r, "n")
		mm := units.MolarMass(rapid.Float64Range(1, 400).Draw(r, "molar mass"))
		eta := rapid.Float64Range(0.01, 1).Draw(r, "efficiency")
		m, err := Deposit(q, n, mm, eta)
		if err != nil {
			r.Fatal(err)
		}
		back, err := ChargeFor(m, n, mm, eta)
		if err != nil {
			r.Fatal(err)
		}
		if math.Abs(float64(back/q)-1) > 1e-12 {
			r.Fatalf("%g C came back as %g C", q, back)
		}
		twice, _ := Deposit(2*q, n, mm, eta)
		if math.Abs(float64(twice/m)-2) > 1e-12 {
			r.Fatal("twice the charge is not twice the mass")
		}
	})
}
