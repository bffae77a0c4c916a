package substance

import "fmt"

// Term is a species with its stoichiometric number: positive for a product, negative for a reactant.
type Term struct {
	Species SpeciesID
	Nu      float64
}

// Reaction is a balanced reaction between registry species. Text is its canonical form.
type Reaction struct {
	Terms []Term
	Text  string
}

// ParseReaction reads a reaction between species of the registry, "Cu(s) + 2 Ag^+ -> Cu^2+ + 2 Ag(s)".
// Errors: *SyntaxError, ErrUnknownSpecies, ErrUnbalanced with what is off.
func ParseReaction(text string) (Reaction, error) {
	eq, err := ParseEquation(text)
	if err != nil {
		return Reaction{}, err
	}
	nu := map[SpeciesID]float64{}
	var order []SpeciesID
	collect := func(terms []EquationTerm, direction float64) error {
		for i, t := range terms {
			id, err := Find(t.Formula.String())
			if err != nil {
				return fmt.Errorf("%w in %q", err, text)
			}
			terms[i].Formula = id.Species().Formula
			if _, met := nu[id]; !met {
				order = append(order, id)
			}
			n, _ := t.Coefficient.Float64()
			nu[id] += direction * n
		}
		return nil
	}
	if err := collect(eq.Left, -1); err != nil {
		return Reaction{}, err
	}
	if err := collect(eq.Right, 1); err != nil {
		return Reaction{}, err
	}
	r := Reaction{Text: eq.String()}
	for _, id := range order {
		if nu[id] != 0 {
			r.Terms = append(r.Terms, Term{id, nu[id]})
		}
	}
	return r, eq.Check()
}

// MustReaction is ParseReaction for reactions that stand in the program's own code; it panics on one that is wrong.
func MustReaction(text string) Reaction {
	r, err := ParseReaction(text)
	if err != nil {
		panic(err)
	}
	return r
}

// Nu returns the stoichiometric number of a species, 0 if it takes no part.
func (r Reaction) Nu(id SpeciesID) float64 {
	for _, t := range r.Terms {
		if t.Species == id {
			return t.Nu
		}
	}
	return 0
}
