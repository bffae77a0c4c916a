package input

// Position is a place in a file, counted from 1; 0 means unknown.
type Position struct{ Line, Column int }

// Problem is one thing that is wrong with a file.
type Problem struct {
	File     string
	Position Position
	Key      string
	Message  string
	Hint     string
	Excerpt  string // the line of the file, cleaned
}

// Problems is everything that is wrong with a file, in the order of the file.
type Problems []Problem

// Error prints every problem with its excerpt and hint.
func (p Problems) Error() string { return "" }
