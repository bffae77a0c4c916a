package units

import (
	"errors"
	"strings"
)

// What can be wrong with the text of a quantity. Every error of Parse is a
// *ParseError that wraps one of them.
var (
	ErrSyntax      = errors.New("units: not a quantity")
	ErrAmbiguous   = errors.New("units: a number that can be read in two ways")
	ErrUnknownUnit = errors.New("units: unknown unit")
	ErrMissingUnit = errors.New("units: no unit")
	ErrDimension   = errors.New("units: wrong kind of quantity")
	ErrNotFinite   = errors.New("units: not a finite number")
	ErrNegative    = errors.New("units: negative value")
	ErrDoubt       = errors.New("units: unusable doubt or range")
)

// ParseError says what is wrong with the text of a quantity and what would be
// right. Text taken from the quantity is quoted so that no control character
// is left in it.
type ParseError struct {
	Err     error  // one of the errors above
	Message string // what is wrong
	Hint    string // what would be right, with an example
}

// Error returns message and hint.
func (e *ParseError) Error() string {
	if e.Hint == "" {
		return "units: " + e.Message
	}
	return "units: " + e.Message + "; " + e.Hint
}

// Unwrap returns the kind of the error.
func (e *ParseError) Unwrap() error { return e.Err }

func fail(err error, message, hint string) error {
	return &ParseError{Err: err, Message: message, Hint: hint}
}

// examples says how the expected kinds are written: `write … such as "410 g"`.
func examples(expected []Kind) string {
	if len(expected) == 0 {
		return `write a number with its unit, such as "410 g ± 2 g"`
	}
	list := make([]string, len(expected))
	for i, k := range expected {
		list[i] = withArticle(k.String()) + ` such as "` + k.Example() + `"`
	}
	return "write " + strings.Join(list, " or ")
}
