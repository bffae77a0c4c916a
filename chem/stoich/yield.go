package stoich

// Yield is what a reaction makes and leaves of stated amounts.
type Yield struct {
	Limiting  string
	ExtentMol float64
	MadeG     map[string]float64
	LeftG     map[string]float64
}

// YieldOf is not there yet.
func YieldOf(text string, amounts map[string]float64) (Yield, error) { return Yield{}, ErrNoSolution }
