package substance

import (
	"fmt"
	"unicode"
)

// charge reads what follows the atoms: ^2+, ^+2, ²⁺, or a bare sign where it can be nothing else.
func (s *scanner) charge() (int, error) {
	r := s.peek(0)
	switch {
	case r == '^':
		s.at++
		return s.signedNumber()
	case isRaised(r):
		return s.signedNumber()
	case sign(r) != 0 && s.bareSignIsCharge():
		return s.bareCharge()
	}
	return 0, nil
}

// signedNumber reads 2+, +2 or + in plain or raised digits.
func (s *scanner) signedNumber() (int, error) {
	size, digits, err := s.chargeSize()
	if err != nil {
		return 0, err
	}
	direction := sign(s.peek(0))
	if direction == 0 {
		return 0, s.fail("the sign of the charge, + or -", "a charge is written ^2+")
	}
	s.at++
	if digits == 0 && (s.peek(0) != ' ') {
		if size, digits, err = s.chargeSize(); err != nil {
			return 0, err
		}
	}
	if digits == 0 {
		size = 1
	}
	return direction * size, nil
}

// chargeSize reads up to two digits; none is reported as digits 0.
func (s *scanner) chargeSize() (size, digits int, err error) {
	for d := digit(s.peek(0), false, true); d >= 0; d = digit(s.peek(0), false, true) {
		if digits == 2 {
			return 0, 0, s.fail("a charge of at most two digits", "")
		}
		size = size*10 + d
		digits++
		s.at++
	}
	if digits > 0 && size == 0 {
		s.at -= digits
		return 0, 0, s.fail("a charge above 0", "")
	}
	return size, digits, nil
}

// bareSignIsCharge looks ahead: in "Ag+ + Cl-" the attached signs are charges, in "H2+O2", "Cl2->" and "Na + Cl" not.
func (s *scanner) bareSignIsCharge() bool {
	if s.arrowWidth(0) > 0 {
		return false
	}
	n := 1
	for digit(s.peek(n), false, false) >= 0 {
		n++
	}
	if s.peek(n) == '(' && unicode.IsLower(s.peek(n+1)) {
		return true
	}
	for unicode.IsSpace(s.peek(n)) {
		n++
	}
	return s.peek(n) == end || s.peek(n) == '+' || s.arrowWidth(n) > 0
}

func (s *scanner) bareCharge() (int, error) {
	if s.at > 0 && digit(s.runes[s.at-1], true, false) >= 0 {
		return 0, s.fail("the charge after ^", twoReadings(s.runes[:s.at], s.peek(0)))
	}
	return s.signedNumber()
}

// twoReadings words the doubt about "Cu2+": a charge of 2, or two atoms and a charge of 1.
func twoReadings(before []rune, sign rune) string {
	i := len(before)
	for i > 0 && digit(before[i-1], true, false) >= 0 {
		i--
	}
	start := i
	for start > 0 && before[start-1] != ' ' {
		start--
	}
	head, number := string(before[start:i]), string(before[i:])
	return fmt.Sprintf("write %s^%s%c, or %s%s^%c, whichever is meant", head, number, sign, head, number, sign)
}

// arrowWidth returns how many runes of a reaction arrow stand n places ahead, or 0.
func (s *scanner) arrowWidth(n int) int {
	switch s.peek(n) {
	case '-':
		if s.peek(n+1) == '>' {
			return 2
		}
	case '→', '=', '⇌':
		return 1
	}
	return 0
}

var phases = map[string]Phase{"(s)": Solid, "(l)": Liquid, "(g)": Gas, "(aq)": Aqueous}

// atPhase tells whether a phase in brackets stands here.
func (s *scanner) atPhase() bool { return s.phaseHere() != "" }

func (s *scanner) phaseHere() string {
	for _, width := range []int{3, 4} {
		if s.at+width <= len(s.runes) {
			if text := string(s.runes[s.at : s.at+width]); phases[text] != Unstated {
				return text
			}
		}
	}
	return ""
}

func (s *scanner) phase() Phase {
	text := s.phaseHere()
	s.at += len(text)
	return phases[text]
}
