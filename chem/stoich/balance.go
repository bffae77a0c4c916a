package stoich

import "errors"

// Why a reaction cannot be balanced.
var (
	ErrNoSolution    = errors.New("no solution")
	ErrManySolutions = errors.New("more than one independent solution")
)

// Balanced is a reaction with the smallest positive whole coefficients, in the order as written.
type Balanced struct {
	Coefficients []int64
	Text         string
}

// Balance is not there yet.
func Balance(text string) (Balanced, error) { return Balanced{}, ErrNoSolution }
