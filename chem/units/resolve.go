package units

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// largest is the largest value that is taken from a text. What is beyond it
// would overflow in the first sum with others.
const largest = 1e300

// resolve finds the kind of a quantity and works out its distribution.
func (q *quantity) resolve(expected []Kind) (Kind, Dist, error) {
	q.shareUnits()
	k, ok := pick(q.value.unit, expected)
	if !ok {
		return 0, Dist{}, q.wrongKind(expected)
	}
	d, err := q.dist(k)
	if err != nil {
		return 0, Dist{}, err
	}
	if !(math.Abs(d.Mean) <= largest && d.SD <= largest) {
		return 0, Dist{}, fail(ErrNotFinite, quote(q.text)+" is too large to compute with", "")
	}
	if k.info().signed && k != TemperatureKind {
		return k, d, nil
	}
	if d.Mean < 0 || (d.Shape == Uniform && d.Low < 0) {
		return 0, Dist{}, q.negative(k)
	}
	return k, d.Bounded(0, math.Inf(1)), nil
}

// shareUnits lets the two ends of a range share one unit, and a value without
// unit take that of its doubt. A percentage is no unit to take, because behind
// ± it may be a relative doubt.
func (q *quantity) shareUnits() {
	if q.upper != nil {
		if q.upper.unit.plain() {
			q.upper.unit = q.value.unit
		} else if q.value.unit.plain() {
			q.value.unit = q.upper.unit
		}
	}
	if q.doubt != nil {
		if q.doubt.unit.plain() {
			q.doubt.unit = q.value.unit
		} else if q.value.unit.plain() && !q.doubt.unit.isShare() {
			q.value.unit = q.doubt.unit
		}
	}
}

// pick returns the first expected kind that a unit fits.
func pick(u unit, expected []Kind) (Kind, bool) {
	for _, k := range expected {
		if k.accepts(u) {
			return k, true
		}
	}
	if len(expected) > 0 {
		return 0, false
	}
	for k := range kinds {
		if Kind(k).accepts(u) {
			return Kind(k), true
		}
	}
	return 0, false
}

// dist works out the distribution in the base unit of kind k.
func (q *quantity) dist(k Kind) (Dist, error) {
	value := q.value.unit.value(q.value.value, k)
	switch {
	case q.upper != nil && q.doubt != nil:
		return Dist{}, q.badDoubt("has both a range and a doubt", "keep one of them")
	case q.upper != nil:
		return q.rangeDist(k, value)
	case q.doubt == nil:
		return Exactly(value), nil
	case q.doubt.value < 0:
		return Dist{}, q.badDoubt("has a negative doubt", "a standard uncertainty is positive, such as ± 2 g or ± 5 %")
	}
	sd, err := q.deviation(k, value)
	return NormalDist(value, sd), err
}

func (q *quantity) rangeDist(k Kind, low float64) (Dist, error) {
	if q.upper.unit.dim != q.value.unit.dim {
		return Dist{}, q.badDoubt("has ends in different kinds of unit", `write both in one unit, such as "20..30 g/L"`)
	}
	high := q.upper.unit.value(q.upper.value, k)
	if high < low {
		return Dist{}, q.badDoubt("runs from the larger to the smaller value", `write the smaller first, such as "20..30 g/L"`)
	}
	return UniformDist(low, high), nil
}

// deviation returns the standard deviation that follows ±: percentage points
// where the value itself is in percent (as with any two equal units), a share
// of the value where only the doubt is in percent.
func (q *quantity) deviation(k Kind, value float64) (float64, error) {
	v, u := q.value.unit, q.doubt.unit
	switch {
	case u.isShare() && (v.isPercent() || v.isShare() && v.scale == u.scale), u.plain():
		return u.difference(q.doubt.value, k), nil
	case !u.isShare() && u.dim == v.dim:
		return u.difference(q.doubt.value, k), nil
	case !u.isShare():
		return 0, q.badDoubt("has a doubt in another kind of unit than its value", "give the doubt in the unit of the value or in %")
	case v.offset != 0:
		return 0, q.badDoubt("has a relative doubt, which means nothing on a scale with an arbitrary zero", `write "20 degC ± 2 degC"`)
	case k == Fraction && v.plain() && q.value.value > 1:
		return 0, fail(ErrAmbiguous, fmt.Sprintf("in %s it is unclear whether the value is in percent", quote(q.text)),
			`write the sign behind both, such as "8.0 % ± 1 %"`)
	}
	return math.Abs(value) * u.scale.convert(q.doubt.value), nil
}

func (q *quantity) badDoubt(what, hint string) error {
	return fail(ErrDoubt, quote(q.text)+" "+what, hint)
}

func (q *quantity) negative(k Kind) error {
	if k == TemperatureKind {
		return fail(ErrNegative, quote(q.text)+" is below absolute zero", "")
	}
	return fail(ErrNegative, fmt.Sprintf("%s is negative, which %s cannot be", quote(q.text), withArticle(k.String())), "")
}

// wrongKind says what was read where something else was expected.
func (q *quantity) wrongKind(expected []Kind) error {
	u := q.value.unit
	if len(expected) == 0 {
		return fail(ErrDimension, quote(u.text)+" is not a unit that is used here", "")
	}
	if u.plain() {
		return fail(ErrMissingUnit, fmt.Sprintf("%s has no unit", quote(q.text)), "")
	}
	hint := examples(expected)
	switch {
	case u.text == "C" && slices.Contains(expected, TemperatureKind):
		hint = `C is the coulomb; write degrees Celsius as "20 degC"`
	case u.text == "ppm" || u.text == "ppb":
		hint += "; " + u.text + " is read as a mass fraction"
	}
	return fail(ErrDimension, fmt.Sprintf("%s is %s, but %s is expected", quote(q.text), u.describe(), names(expected)), hint)
}

// describe returns what a unit measures, with an article.
func (u unit) describe() string {
	if u.isShare() {
		return "a share"
	}
	if k, ok := pick(u, nil); ok {
		return withArticle(k.String())
	}
	return "in " + quote(u.text)
}

// names lists kinds with their articles: "a mass or a volume".
func names(expected []Kind) string {
	list := make([]string, len(expected))
	for i, k := range expected {
		list[i] = withArticle(k.String())
	}
	return strings.Join(list, " or ")
}

func withArticle(noun string) string {
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}
