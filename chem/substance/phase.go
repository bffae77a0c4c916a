package substance

// Phase says in what state a species stands.
type Phase uint8

// The phases; Unstated is a formula written without one.
const (
	Unstated Phase = iota
	Aqueous
	Solid
	Liquid
	Gas
)

// String returns the phase as written after a formula: "(aq)", "(s)", "(l)", "(g)", or nothing if unstated.
func (p Phase) String() string {
	switch p {
	case Aqueous:
		return "(aq)"
	case Solid:
		return "(s)"
	case Liquid:
		return "(l)"
	case Gas:
		return "(g)"
	}
	return ""
}
