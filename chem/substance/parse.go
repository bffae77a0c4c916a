package substance

import (
	"fmt"
	"math/big"
	"strconv"
	"strings"
	"unicode"
)

const (
	electron    = "e"
	deepest     = 12 // nested brackets
	mostAtoms   = 1_000_000_000
	hydrateDot  = "·"
	wantElement = "an element symbol or an opening bracket"
)

// ParseFormula reads a formula: element symbols, counts (also as subscripts), nested ( ), [ ] and { }, water of
// crystallisation after · * or ., a charge as ^2+ or ²⁺, a phase (s), (l), (g) or (aq), and e^- for the electron.
// A bare sign is taken as a charge where nothing else can be meant: "Ag+", "Cu+2"; "Cu2+" has two readings and is
// refused. Errors: *SyntaxError with the character; an element outside the table.
func ParseFormula(text string) (Formula, error) {
	s, err := newScanner(strings.TrimSpace(text))
	if err != nil {
		return Formula{}, err
	}
	f, err := s.formula()
	if err != nil {
		return Formula{}, err
	}
	if s.peek(0) != end {
		return Formula{}, s.fail("the end of the formula", "")
	}
	return f, nil
}

// formula reads one formula and stops behind it.
func (s *scanner) formula() (Formula, error) {
	if s.peek(0) == 'e' {
		return s.electron()
	}
	if digit(s.peek(0), true, true) >= 0 {
		return Formula{}, s.fail(wantElement, "a number in front belongs to a reaction")
	}
	sum := newTally()
	body, err := s.parts(sum)
	if err != nil {
		return Formula{}, err
	}
	f := Formula{body: body}
	if f.atoms, err = sum.atoms(); err != nil {
		return Formula{}, err
	}
	if f.charge, err = s.charge(); err != nil {
		return Formula{}, err
	}
	f.phase = s.phase()
	return f, nil
}

func (s *scanner) electron() (Formula, error) {
	s.at++
	charge, err := s.charge()
	if err != nil {
		return Formula{}, err
	}
	if charge != -1 {
		return Formula{}, s.fail("the electron written e^-", "an element symbol begins with a capital letter")
	}
	return Formula{body: electron, charge: -1}, nil
}

// parts reads the formula proper and what crystallises with it: CuSO4·5H2O.
func (s *scanner) parts(sum *tally) (string, error) {
	body, err := s.groups(sum, big.NewRat(1, 1), 0)
	for err == nil && strings.ContainsRune("·*.•∙⋅", s.peek(0)) && s.peek(0) != end {
		s.at++
		var times *big.Rat
		var part string
		if times, err = s.multiplier(); err == nil {
			part, err = s.groups(sum, times, 0)
			body += hydrateDot + ratText(times) + part
		}
	}
	return body, err
}

// multiplier reads how many of what follows the dot: nothing (1), "5", "0.5", "1/2".
func (s *scanner) multiplier() (*big.Rat, error) {
	start := s.at
	for digit(s.peek(0), false, false) >= 0 || s.at > start && strings.ContainsRune("./", s.peek(0)) {
		s.at++
	}
	if s.at == start {
		return big.NewRat(1, 1), nil
	}
	text := string(s.runes[start:s.at])
	r, ok := new(big.Rat), false
	if len(text) <= 2*mostDigits {
		r, ok = r.SetString(text)
	}
	if !ok || r.Sign() <= 0 {
		s.at = start
		return nil, s.fail("a number above 0 such as 5, 0.5 or 1/2", "")
	}
	return r, nil
}

// ratText writes a factor: nothing for 1, a decimal if it is one, else a fraction.
func ratText(r *big.Rat) string {
	if r.Cmp(big.NewRat(1, 1)) == 0 {
		return ""
	}
	if n, exact := r.FloatPrec(); exact {
		return r.FloatString(n)
	}
	return r.String()
}

// groups reads elements and bracketed groups, each times its count.
func (s *scanner) groups(sum *tally, times *big.Rat, depth int) (string, error) {
	var body strings.Builder
	for {
		var one string
		var err error
		switch r := s.peek(0); {
		case unicode.IsUpper(r):
			one, err = s.element(sum, times)
		case closing(r) != 0 && !s.atPhase():
			one, err = s.bracket(sum, times, depth)
		case body.Len() == 0:
			return "", s.fail(wantElement, s.elementHint())
		default:
			return body.String(), s.strayLetter()
		}
		if err != nil {
			return "", err
		}
		body.WriteString(one)
	}
}

// strayLetter refuses a small letter behind a symbol, such as the o of AgNo3.
func (s *scanner) strayLetter() error {
	r := s.peek(0)
	if !unicode.IsLetter(r) {
		return nil
	}
	return s.fail("a symbol, a count, a bracket, a charge or a phase", s.elementHint())
}

func (s *scanner) elementHint() string {
	if r := s.peek(0); unicode.IsLower(r) {
		return "an element symbol begins with a capital letter"
	}
	return ""
}

func (s *scanner) element(sum *tally, times *big.Rat) (string, error) {
	symbol := string(s.peek(0))
	if unicode.IsLower(s.peek(1)) {
		symbol += string(s.peek(1))
	}
	e, err := ElementBySymbol(symbol)
	if err != nil {
		return "", s.fail("an element of the table", err.Error()+capitalHint(symbol))
	}
	s.at += len([]rune(symbol))
	n, text, err := s.count()
	if err != nil {
		return "", err
	}
	sum.add(e, new(big.Rat).Mul(times, n))
	return symbol + text, nil
}

// capitalHint words the doubt about the No of AgNo3: two elements, the second written small.
func capitalHint(symbol string) string {
	r := []rune(symbol)
	if len(r) != 2 {
		return ""
	}
	first, second := string(r[0]), string(unicode.ToUpper(r[1]))
	if _, err := ElementBySymbol(first); err != nil {
		return ""
	}
	if _, err := ElementBySymbol(second); err != nil {
		return ""
	}
	return fmt.Sprintf("; if %s and %s are meant, write %s%s", first, second, first, second)
}

// count reads a subscript; none means 1.
func (s *scanner) count() (*big.Rat, string, error) {
	n, ok, err := s.whole(true)
	if err != nil {
		return nil, "", err
	}
	if !ok || n == 1 {
		return big.NewRat(1, 1), "", nil
	}
	return big.NewRat(n, 1), strconv.FormatInt(n, 10), nil
}

func closing(open rune) rune {
	switch open {
	case '(':
		return ')'
	case '[':
		return ']'
	case '{':
		return '}'
	}
	return 0
}

func (s *scanner) bracket(sum *tally, times *big.Rat, depth int) (string, error) {
	if depth == deepest {
		return "", s.fail(fmt.Sprintf("at most %d brackets within each other", deepest), "")
	}
	open := s.peek(0)
	s.at++
	inner := newTally()
	body, err := s.groups(inner, times, depth+1)
	if err != nil {
		return "", err
	}
	if s.peek(0) != closing(open) {
		return "", s.fail(fmt.Sprintf("%q to close %q", closing(open), open), "")
	}
	s.at++
	n, text, err := s.count()
	if err != nil {
		return "", err
	}
	sum.addAll(inner, n)
	return string(open) + body + string(closing(open)) + text, nil
}
