package thermal

import (
	"errors"
	"fmt"
	"math"
)

// ErrDomain is the kind of every error of this package that blames an
// argument: test with errors.Is.
var ErrDomain = errors.New("thermal: argument outside its range")

// ErrUnknown is the kind of an error for an identifier that no table has.
var ErrUnknown = errors.New("thermal: no such row")

// DomainError says which argument of which function is outside its range. It
// is also returned with Argument "result" where arguments in range give a
// result too large to be a number.
type DomainError struct {
	Function, Argument string
	Value              float64
	Want               string // what was expected: "above 0 mol/L"
}

// Error names the function, the argument, its value and what was expected.
func (e *DomainError) Error() string {
	return fmt.Sprintf("thermal: %s: %s is %g, want %s", e.Function, e.Argument, e.Value, e.Want)
}

// Is reports that the error is an ErrDomain.
func (e *DomainError) Is(target error) bool { return target == ErrDomain }

// argument is one argument to be checked.
type argument struct {
	name  string
	value float64
	valid bool
	want  string // what was expected, or nothing for low to high
	low   float64
	high  float64
}

// wanted says what was expected.
func (a argument) wanted() string {
	if a.want != "" {
		return a.want
	}
	return fmt.Sprintf("%g to %g", a.low, a.high)
}

// positive requires a finite value above zero.
func positive(name string, v float64) argument {
	return argument{name: name, value: v, valid: v > 0 && !math.IsInf(v, 1), want: "a finite number above 0"}
}

// notNegative requires a finite value of zero or more.
func notNegative(name string, v float64) argument {
	return argument{name: name, value: v, valid: v >= 0 && !math.IsInf(v, 1), want: "a finite number of 0 or more"}
}

// share requires a value of zero to one.
func share(name string, v float64) argument {
	return argument{name: name, value: v, valid: v >= 0 && v <= 1, want: "a share from 0 to 1"}
}

// finite requires a number that is neither infinite nor undefined.
func finite(name string, v float64) argument {
	return argument{name: name, value: v, valid: !math.IsNaN(v) && !math.IsInf(v, 0), want: "a finite number"}
}

// demand returns a DomainError for the first argument that is not valid.
func demand(function string, args ...argument) error {
	for _, a := range args {
		if !a.valid {
			return &DomainError{Function: function, Argument: a.name, Value: a.value, Want: a.wanted()}
		}
	}
	return nil
}

// result passes a computed number on, or an error if it is too large to be one.
func result(function string, v float64) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, &DomainError{Function: function, Argument: "result", Value: v, Want: "a finite number"}
	}
	return v, nil
}

// within requires a value from low to high.
func within(name string, v, low, high float64) argument {
	return argument{name: name, value: v, valid: v >= low && v <= high, low: low, high: high}
}
