package units

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

var inf = math.Inf(1)

// parseTests lists texts with the kinds expected, and what they mean.
var parseTests = map[string]struct {
	kinds []Kind
	kind  Kind
	want  Dist
}{
	"3.2 L ± 5 %":      {nil, VolumeKind, Dist{Normal, 3.2, 0.16, 3.2, 0, inf}},
	"410 g ± 2 g":      {nil, MassKind, Dist{Normal, 0.41, 0.002, 0.41, 0, inf}},
	"410 ± 2 g":        {nil, MassKind, Dist{Normal, 0.41, 0.002, 0.41, 0, inf}},
	"410 g ± 2":        {nil, MassKind, Dist{Normal, 0.41, 0.002, 0.41, 0, inf}},
	"(410 ± 2) g":      {nil, MassKind, Dist{Normal, 0.41, 0.002, 0.41, 0, inf}},
	"410 g +/- 2 g":    {nil, MassKind, Dist{Normal, 0.41, 0.002, 0.41, 0, inf}},
	"410 g +- 2000 mg": {nil, MassKind, Dist{Normal, 0.41, 0.002, 0.41, 0, inf}},
	"410g±0.5%":        {nil, MassKind, Dist{Normal, 0.41, 0.00205, 0.41, 0, inf}},
	"410 g ± 0 g":      {nil, MassKind, Dist{Exact, 0.41, 0, 0.41, 0, inf}},
	"0 g":              {nil, MassKind, Dist{Exact, 0, 0, 0, 0, inf}},
	"-0 g":             {nil, MassKind, Dist{Exact, 0, 0, 0, 0, inf}},

	// Percentage points where the value is in percent, relative elsewhere.
	"8.0 % ± 1 %":             {[]Kind{Fraction}, Fraction, Dist{Normal, 0.08, 0.01, 0.08, 0, inf}},
	"(8.0 ± 1) %":             {[]Kind{Fraction}, Fraction, Dist{Normal, 0.08, 0.01, 0.08, 0, inf}},
	"8.0 % ± 1":               {[]Kind{Fraction}, Fraction, Dist{Normal, 0.08, 0.01, 0.08, 0, inf}},
	"0.08 ± 10 %":             {[]Kind{Fraction}, Fraction, Dist{Normal, 0.08, 0.008, 0.08, 0, inf}},
	"0.08 ± 0.01":             {[]Kind{Fraction}, Fraction, Dist{Normal, 0.08, 0.01, 0.08, 0, inf}},
	"925 permille ± 2 ‰":      {[]Kind{Fraction}, Fraction, Dist{Normal, 0.925, 0.002, 0.925, 0, inf}},
	"50 ppm ± 10 %":           {[]Kind{Fraction}, Fraction, Dist{Normal, 5e-5, 5e-6, 5e-5, 0, inf}},
	"5 g/kg":                  {[]Kind{Fraction}, Fraction, Dist{Exact, 0.005, 0, 0.005, 0, inf}},
	"150 %":                   {[]Kind{Fraction}, Fraction, Dist{Exact, 1.5, 0, 1.5, 0, inf}},
	"68 %":                    {[]Kind{Fraction, ConcentrationKind}, Fraction, Dist{Exact, 0.68, 0, 0.68, 0, inf}},
	"6 mol/L":                 {[]Kind{Fraction, ConcentrationKind}, ConcentrationKind, Dist{Exact, 6, 0, 6, 0, inf}},
	"0.3 ± 0.3":               {[]Kind{Number}, Number, Dist{Normal, 0.3, 0.3, 0.3, -inf, inf}},
	"-0.2 ± 10 %":             {[]Kind{Number}, Number, Dist{Normal, -0.2, 0.02, -0.2, -inf, inf}},
	"20..30 g/L":              {nil, MassConcentrationKind, Dist{Uniform, 25, 10 / math.Sqrt(12), 25, 20, 30}},
	"20 g/L..30 g/L":          {nil, MassConcentrationKind, Dist{Uniform, 25, 10 / math.Sqrt(12), 25, 20, 30}},
	"20 g/L .. 30":            {nil, MassConcentrationKind, Dist{Uniform, 25, 10 / math.Sqrt(12), 25, 20, 30}},
	"20…30 g/L":               {nil, MassConcentrationKind, Dist{Uniform, 25, 10 / math.Sqrt(12), 25, 20, 30}},
	"20 mg/L..0.03 g/L":       {nil, MassConcentrationKind, Dist{Uniform, 0.025, 0.01 / math.Sqrt(12), 0.025, 0.02, 0.03}},
	"10..30 %":                {[]Kind{Fraction}, Fraction, Dist{Uniform, 0.2, 0.2 / math.Sqrt(12), 0.2, 0.1, 0.3}},
	"900..1000":               {[]Kind{Number}, Number, Dist{Uniform, 950, 100 / math.Sqrt(12), 950, 900, 1000}},
	"5..5 g":                  {nil, MassKind, Dist{Exact, 0.005, 0, 0.005, 0, inf}},
	"-5..5 degC":              {nil, TemperatureKind, Dist{Uniform, 273.15, 10 / math.Sqrt(12), 273.15, 268.15, 278.15}},
	"20 degC ± 2 degC":        {nil, TemperatureKind, Dist{Normal, 293.15, 2, 293.15, 0, inf}},
	"20 °C ± 2":               {nil, TemperatureKind, Dist{Normal, 293.15, 2, 293.15, 0, inf}},
	"20 °C ± 2 K":             {nil, TemperatureKind, Dist{Normal, 293.15, 2, 293.15, 0, inf}},
	"68 degF ± 1.8 degF":      {nil, TemperatureKind, Dist{Normal, 293.15, 1, 293.15, 0, inf}},
	"300 K ± 1 %":             {nil, TemperatureKind, Dist{Normal, 300, 3, 300, 0, inf}},
	"2.5 ozt":                 {nil, MassKind, Dist{Exact, 0.077758692, 0, 0.077758692, 0, inf}},
	"2.5 oz t":                {nil, MassKind, Dist{Exact, 0.077758692, 0, 0.077758692, 0, inf}},
	"30.00 / ozt":             {nil, PerMassKind, Dist{Exact, 30 / 0.0311034768, 0, 30 / 0.0311034768, 0, inf}},
	"30 per ozt":              {nil, PerMassKind, Dist{Exact, 30 / 0.0311034768, 0, 30 / 0.0311034768, 0, inf}},
	"20.00 / h":               {[]Kind{Number, PerHourKind}, PerHourKind, Dist{Exact, 20, 0, 20, 0, inf}},
	"2 1/h":                   {nil, PerHourKind, Dist{Exact, 2, 0, 2, 0, inf}},
	"1/h":                     {nil, PerHourKind, Dist{Exact, 1, 0, 1, 0, inf}},
	"-12 V":                   {nil, PotentialKind, Dist{Exact, -12, 0, -12, -inf, inf}},
	"1.41 kg/L":               {[]Kind{DensityKind}, DensityKind, Dist{Exact, 1.41, 0, 1.41, 0, inf}},
	"5 m³/h":                  {nil, FlowKind, Dist{Exact, 5, 0, 5, 0, inf}},
	"5 g·L⁻¹":                 {nil, MassConcentrationKind, Dist{Exact, 5, 0, 5, 0, inf}},
	"5 g L-1":                 {nil, MassConcentrationKind, Dist{Exact, 5, 0, 5, 0, inf}},
	"37 µm":                   {nil, LengthKind, Dist{Exact, 37e-6, 0, 37e-6, 0, inf}}, // micro sign
	"37 μm":                   {nil, LengthKind, Dist{Exact, 37e-6, 0, 37e-6, 0, inf}}, // Greek mu
	"2..4 pieces":             {nil, CountKind, Dist{Uniform, 3, 2 / math.Sqrt(12), 3, 2, 4}},
	"3":                       {[]Kind{CountKind}, CountKind, Dist{Exact, 3, 0, 3, 0, inf}},
	"0.50 / piece":            {nil, PerCountKind, Dist{Exact, 0.5, 0, 0.5, 0, inf}},
	"1\u00a0234,5\u202fg ± 1": {nil, MassKind, Dist{Normal, 1.2345, 0.001, 1.2345, 0, inf}},
}

func TestParse(t *testing.T) {
	for text, test := range parseTests {
		t.Run(text, func(t *testing.T) {
			k, got, err := Parse(text, test.kinds...)
			if err != nil {
				t.Fatalf("Parse(%q): %v", text, err)
			}
			w := test.want
			if k != test.kind || got.Shape != w.Shape || !near(got.Mean, w.Mean, 1e-14) || !near(got.SD, w.SD, 1e-13) ||
				!nearOrInf(got.Low, w.Low) || !nearOrInf(got.High, w.High) {
				t.Errorf("Parse(%q) = %v %+v, want %v %+v", text, k, got, test.kind, w)
			}
			if err := got.Check(); err != nil {
				t.Errorf("Parse(%q) gave a distribution that does not pass its check: %v", text, err)
			}
		})
	}
}

func nearOrInf(got, want float64) bool {
	if math.IsInf(want, 0) {
		return math.IsInf(got, int(math.Copysign(1, want)))
	}
	return near(got, want, 1e-14)
}

var mass = []Kind{MassKind}

// errorTests lists texts that are no quantity of the kinds expected.
var errorTests = map[string]struct {
	kinds []Kind
	err   error
	says  []string // what message and hint must contain
}{
	"1,234 g":                      {mass, ErrAmbiguous, []string{"1.234", "1234"}},
	"0,500 g":                      {mass, ErrAmbiguous, []string{"0.500", "0500"}},
	"5 g ± 1,000 g":                {mass, ErrAmbiguous, []string{"1.000", "1000"}},
	"2,400..3,100 g":               {mass, ErrAmbiguous, []string{"2.400", "2400"}},
	"3.2 L":                        {mass, ErrDimension, []string{"volume", "mass", "410 g"}},
	"410":                          {mass, ErrMissingUnit, []string{"no unit", "410 g"}},
	"8 %":                          {mass, ErrDimension, []string{"share"}},
	"5 g":                          {[]Kind{Number}, ErrDimension, []string{"plain number"}},
	"5 %":                          {[]Kind{Number}, ErrDimension, []string{"plain number"}},
	"5 kg s-1":                     {mass, ErrDimension, []string{"kg s-1"}},
	"5 g/L/h":                      {nil, ErrDimension, []string{"g/L/h"}},
	"20 C":                         {[]Kind{TemperatureKind}, ErrDimension, []string{"coulomb", "degC"}},
	"5 ppm":                        {[]Kind{MassConcentrationKind}, ErrDimension, []string{"mass fraction"}},
	"nan g":                        {mass, ErrNotFinite, []string{"nan", "410 g"}},
	"NaN":                          {[]Kind{Number}, ErrNotFinite, nil},
	"-inf g":                       {mass, ErrNotFinite, nil},
	"∞ g":                          {mass, ErrNotFinite, nil},
	"1e999 g":                      {mass, ErrNotFinite, []string{"too large"}},
	"1e308 t":                      {mass, ErrNotFinite, []string{"too large"}},
	"1e299 kg ± 1e5 %":             {mass, ErrNotFinite, nil},
	"1..1e308 t":                   {mass, ErrNotFinite, nil},
	"-5 g":                         {mass, ErrNegative, []string{"negative", "410 g"}},
	"−5 g":                         {mass, ErrNegative, nil}, // U+2212
	"-5..5 g":                      {mass, ErrNegative, nil},
	"-8 %":                         {[]Kind{Fraction}, ErrNegative, nil},
	"-300 degC":                    {[]Kind{TemperatureKind}, ErrNegative, []string{"absolute zero"}},
	"5 g ± -2 g":                   {mass, ErrDoubt, []string{"negative"}},
	"5 g ± 2 L":                    {mass, ErrDoubt, nil},
	"8 % ± 1 g":                    {[]Kind{Fraction}, ErrDoubt, nil},
	"8 ± 1 %":                      {[]Kind{Fraction}, ErrAmbiguous, []string{"8.0 % ± 1 %"}},
	"30..20 g":                     {mass, ErrDoubt, []string{"smaller first"}},
	"20..30 g ± 1 g":               {mass, ErrDoubt, nil},
	"20 g..30 L":                   {mass, ErrDoubt, nil},
	"20 degC ± 5 %":                {[]Kind{TemperatureKind}, ErrDoubt, []string{"20 degC ± 2 degC"}},
	"5 furlong":                    {mass, ErrUnknownUnit, []string{"furlong", "410 g"}},
	"5 KG":                         {mass, ErrUnknownUnit, []string{`"kg"`}},
	"70 F":                         {[]Kind{TemperatureKind}, ErrUnknownUnit, []string{"degF"}},
	"$30 / ozt":                    {[]Kind{PerMassKind}, ErrSyntax, []string{"currency"}},
	"12 V, 5 A":                    {[]Kind{PotentialKind}, ErrSyntax, nil},
	"":                             {mass, ErrSyntax, []string{"empty"}},
	"   ":                          {mass, ErrSyntax, []string{"empty"}},
	"g":                            {mass, ErrSyntax, []string{"number"}},
	"about 5 g":                    {mass, ErrSyntax, []string{"number"}},
	"5..":                          {mass, ErrSyntax, nil},
	"..5 g":                        {mass, ErrSyntax, nil},
	"5 g ±":                        {mass, ErrSyntax, nil},
	"± 5 g":                        {mass, ErrSyntax, nil},
	"5 g ± 1 g ± 1 g":              {mass, ErrSyntax, nil},
	"1..2..3 g":                    {mass, ErrSyntax, nil},
	"1,23,4 g":                     {mass, ErrSyntax, []string{"grouped"}},
	"1.23.4 g":                     {mass, ErrSyntax, []string{"grouped"}},
	"1,234.5,6 g":                  {mass, ErrSyntax, nil},
	"12345 678 g":                  {mass, ErrSyntax, nil},
	"1 234,5.6 g":                  {mass, ErrSyntax, nil},
	"5 m^9":                        {mass, ErrSyntax, []string{"exponent"}},
	"5 m22":                        {mass, ErrSyntax, []string{"exponent"}},
	"--5 g":                        {mass, ErrSyntax, nil},
	"5 g/":                         {mass, ErrSyntax, nil},
	"5 \x1b[31mg":                  {mass, ErrSyntax, []string{`\x1b`}},
	"5 " + strings.Repeat("g ", 7): {mass, ErrSyntax, nil},
	strings.Repeat("9", 300) + "g": {mass, ErrSyntax, []string{"too long"}},
}

func TestParseErrors(t *testing.T) {
	for text, test := range errorTests {
		t.Run(text, func(t *testing.T) {
			k, d, err := Parse(text, test.kinds...)
			var perr *ParseError
			if !errors.Is(err, test.err) || !errors.As(err, &perr) {
				t.Fatalf("Parse(%q) = %v %+v, %v; want the error %v", text, k, d, err, test.err)
			}
			for _, s := range test.says {
				if !strings.Contains(err.Error(), s) {
					t.Errorf("Parse(%q): %q does not say %q", text, err, s)
				}
			}
			if perr.Message == "" || perr.Hint == "" {
				t.Errorf("Parse(%q): message %q, hint %q; want both", text, perr.Message, perr.Hint)
			}
		})
	}
}

func TestNumbers(t *testing.T) {
	tests := map[string]float64{
		"1234.5": 1234.5, "1234,5": 1234.5, "1 234,5": 1234.5, "1 234.5": 1234.5, "1,234.5": 1234.5,
		"1.234,5": 1234.5, "1_234.5": 1234.5, "1_234,5": 1234.5, "1 234": 1234, "1 234 567": 1234567,
		"1,234,567": 1234567, "1.234.567": 1234567, "1,234,567.25": 1234567.25, "1.234.567,25": 1234567.25,
		"1 234,567": 1234.567, "1,234.567": 1234.567, "1.234,567": 1234.567,
		"1.234": 1.234, "0,5": 0.5, ".5": 0.5, ",5": 0.5, "1,2345": 1.2345, "1,23": 1.23,
		"1e3": 1000, "1.5E-3": 0.0015, "1,5e+2": 150, "+5": 5, "-5": -5, "1_0_0": 100, "007": 7,
	}
	for text, want := range tests {
		for _, tail := range []string{"", " ± 0", "..2e9"} {
			_, d, err := Parse(text+tail, Number)
			got := d.Mean
			if tail == "..2e9" {
				got = d.Low
			}
			if err != nil || !near(got, want, 1e-15) {
				t.Errorf("Parse(%q) = %g, %v; want %g", text+tail, got, err, want)
			}
		}
	}
}

// TestFormatRoundTrip: what is shown can be typed back, and means the same.
func TestFormatRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Kind(rapid.IntRange(0, len(kinds)-1).Draw(t, "kind"))
		x := math.Pow(10, rapid.Float64Range(-14, 14).Draw(t, "log"))
		if k.info().signed && k != TemperatureKind && rapid.Bool().Draw(t, "negative") {
			x = -x
		}
		text := Format(k, x)
		_, d, err := Parse(text, k)
		if err != nil {
			t.Fatalf("Parse(Format(%v, %g) = %q): %v", k, x, text, err)
		}
		tolerance := 5.1e-4 * math.Abs(x) // four digits
		if k == HoursKind {
			tolerance = 0.017 * x // two from 3 on
		}
		if k == TemperatureKind {
			tolerance += 5.1e-4 * math.Abs(x-zeroCelsius)
		}
		if math.Abs(d.Mean-x) > tolerance {
			t.Fatalf("Parse(Format(%v, %g) = %q) = %g", k, x, text, d.Mean)
		}
	})
}

// TestFormatDistRoundTrip: the same with the doubt.
func TestFormatDistRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := Kind(rapid.IntRange(0, len(kinds)-1).Draw(t, "kind"))
		x := math.Pow(10, rapid.Float64Range(-6, 9).Draw(t, "log"))
		sd := x * math.Pow(10, rapid.Float64Range(-6, 0).Draw(t, "relative"))
		want := NormalDist(x, sd)
		if rapid.Bool().Draw(t, "range") {
			want = UniformDist(x, 3*x)
		}
		text := FormatDist(k, want)
		_, got, err := Parse(text, k)
		if err != nil {
			t.Fatalf("Parse(FormatDist(%v, %+v) = %q): %v", k, want, text, err)
		}
		// Two digits of the doubt, and the value to within a tenth of it or to
		// twelve digits.
		slack := 0.06*want.SD + 1e-11*(math.Abs(x)+zeroCelsius)
		if got.Shape != want.Shape || math.Abs(got.Mean-want.Mean) > slack || math.Abs(got.SD-want.SD) > slack {
			t.Fatalf("Parse(FormatDist(%v, %+v) = %q) = %+v", k, want, text, got)
		}
	})
}

func TestFormat(t *testing.T) {
	tests := map[string]struct {
		kind  Kind
		value float64
	}{
		"410 g": {MassKind, 0.41}, "1.234 kg": {MassKind, 1.2341}, "3.2 L": {VolumeKind, 3.2}, "13.5 mL": {VolumeKind, 0.0135},
		"8 %": {Fraction, 0.08}, "5 ppm": {Fraction, 5e-6}, "20 degC": {TemperatureKind, 293.15}, "0 kg": {MassKind, 0},
		"1 L": {VolumeKind, 0.99999}, "30 min": {HoursKind, 0.5}, "36 h": {HoursKind, 36}, "30 d": {HoursKind, 720},
		"1234.56": {Number, 1234.56}, "4 / L": {PerVolumeKind, 4}, "1 / month": {PerHourKind, 1 / float64(Month)},
		"5.3 h": {HoursKind, 5.293}, "12.3 h": {HoursKind, 12.34}, "2.54 d": {HoursKind, 61}, "46 min": {HoursKind, 0.76}, "0 h": {HoursKind, 0},
		"n/a": {MassKind, math.NaN()}, "1.2 kWh": {EnergyKind, 4.32e6}, "2.5 Ah": {ChargeKind, 9000},
	}
	for want, test := range tests {
		if got := Format(test.kind, test.value); got != want {
			t.Errorf("Format(%v, %g) = %q, want %q", test.kind, test.value, got, want)
		}
	}
	for want, d := range map[string]Dist{
		"410 g ± 2 g": NormalDist(0.41, 0.002), "410 g": Exactly(0.41), "20..30 g": UniformDist(0.02, 0.03),
		"1.23456 kg ± 0.00012 kg": NormalDist(1.234561, 0.000123),
	} {
		if got := FormatDist(MassKind, d); got != want {
			t.Errorf("FormatDist(MassKind, %+v) = %q, want %q", d, got, want)
		}
	}
	for want, test := range map[string]struct {
		kind Kind
		dist Dist
	}{
		"5.3 h ± 1.1 h": {HoursKind, NormalDist(5.293, 1.1)}, "5.29 h ± 0.11 h": {HoursKind, NormalDist(5.293, 0.11)},
		"2..12 h": {HoursKind, UniformDist(2, 12)}, "0.1235 ± 0.1": {Number, NormalDist(0.123456789, 0.1)},
	} {
		if got := FormatDist(test.kind, test.dist); got != want {
			t.Errorf("FormatDist(%v, %+v) = %q, want %q", test.kind, test.dist, got, want)
		}
	}
}

func TestExamplesParse(t *testing.T) {
	for i := range kinds {
		k := Kind(i)
		got, d, err := Parse(k.Example(), k)
		if err != nil || got != k || d.Mean <= 0 {
			t.Errorf("the example %q of %v gives %v %+v, %v", k.Example(), k, got, d, err)
		}
		if unit := k.BaseUnit(); unit != "" {
			if _, d, err := Parse("1 "+unit, k); err != nil || !near(d.Mean, 1, 1e-15) {
				t.Errorf("1 %s of %v is %g, %v; want 1", unit, k, d.Mean, err)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"3.2 L ± 5 %", "(8 ± 1) %", "20..30 g/L", "1 234,5 g", "1,234", "30.00 / ozt", "20 degC ± 2", "5 m³/h", "nan", "1e999 t",
		"5 fl oz", "2 1/h", "5 g·L⁻¹", "-5..5 °C", "5 \x1b[31m", "\xff", "± ± ±", "1/", "5 ^^", "1e-320 kg", "5 kg ± 1e-320 g",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, expected := range [][]Kind{nil, {MassKind}, {Fraction, ConcentrationKind}, {TemperatureKind}, {Number}} {
			k, d, err := Parse(text, expected...)
			if err != nil {
				checkPrintable(t, err.Error())
				continue
			}
			if err := d.Check(); err != nil {
				t.Fatalf("Parse(%q) = %v %+v: %v", text, k, d, err)
			}
			for _, p := range []float64{0, 0.5, 1} {
				if !finite(d.Quantile(p)) {
					t.Fatalf("Parse(%q) = %+v: quantile %g is not finite", text, d, p)
				}
			}
			checkPrintable(t, FormatDist(k, d))
			if _, _, err := Parse(Format(k, d.Mean), k); err != nil && d.Mean < 1e300 {
				t.Fatalf("Parse(%q) is shown as %q: %v", text, Format(k, d.Mean), err)
			}
		}
	})
}

func checkPrintable(t *testing.T, s string) {
	t.Helper()
	if i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }); i >= 0 {
		t.Fatalf("%q is not printable at %d", s, i)
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, _, err := Parse("410 g ± 2 g", MassKind); err != nil {
			b.Fatal(err)
		}
	}
}
