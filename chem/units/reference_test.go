package units

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// referencePath holds conversions by GNU Units, an independent program with a
// units database of its own. TestWriteReference makes the file.
var referencePath = filepath.Join("..", "..", "testdata", "units-reference.toml")

const writeReference = "AFTERPOUR_WRITE_UNITS_REFERENCE"

type reference struct {
	Version string
	Rows    []referenceRow `toml:"row"`
}

// referenceRow says that GNU Units converts its expression to value in the unit
// that we write as base; quantity is how we write the same.
type referenceRow struct {
	Quantity   string
	Expression string
	To         string
	Value      float64
}

// referenceRows lists what is asked of GNU Units: our quantity, then theirs, and
// their name of our base unit. Every unit of our table must occur.
const referenceRows = `
3.7 g          | 3.7 g                  | kg
3.7 kg         | 3.7 kg                 | kg
3.7 mg         | 3.7 mg                 | kg
3.7 ug         | 3.7 microgram          | kg
3.7 ng         | 3.7 nanogram           | kg
3.7 kilogram   | 3.7 kilogram           | kg
3.7 milligram  | 3.7 milligram          | kg
2.5 t          | 2.5 tonne              | kg
3.7 lb         | 3.7 pound              | kg
3.7 oz         | 3.7 ounce              | kg
2.5 ozt        | 2.5 troyounce          | kg
7 dwt          | 7 pennyweight          | kg
7 gr           | 7 grain                | kg
3.2 L          | 3.2 liter              | liter
3.2 mL         | 3.2 milliliter         | liter
3.2 millilitre | 3.2 milliliter         | liter
3.2 cL         | 3.2 centiliter         | liter
3.2 dL         | 3.2 deciliter          | liter
3.2 uL         | 3.2 microliter         | liter
3.2 cc         | 3.2 cc                 | liter
3.2 m3         | 3.2 m^3                | liter
3.2 cm3        | 3.2 cm^3               | liter
3.2 gal        | 3.2 gallon             | liter
3.2 qt         | 3.2 quart              | liter
3.2 pt         | 3.2 pint               | liter
3.2 floz       | 3.2 fluidounce         | liter
3.2 impgal     | 3.2 brgallon           | liter
0.25 mol       | 0.25 mol               | mol
0.25 mmol      | 0.25 millimol          | mol
0.25 umol      | 0.25 micromol          | mol
6 mol/L        | 6 mol/liter            | mol/liter
6 mmol/L       | 6 millimol/liter       | mol/liter
6 M            | 6 mol/liter            | mol/liter
6 mM           | 6 millimol/liter       | mol/liter
6 mol/m3       | 6 mol/m^3              | mol/liter
4.9 g/L        | 4.9 g/liter            | g/liter
4.9 mg/L       | 4.9 mg/liter           | g/liter
4.9 ug/mL      | 4.9 microgram/ml       | g/liter
4.9 g/mL       | 4.9 g/ml               | g/liter
4.9 kg/m3      | 4.9 kg/m^3             | g/liter
4.9 oz/gal     | 4.9 ounce/gallon       | g/liter
4.9 lb/ft3     | 4.9 pound/foot^3       | g/liter
25 degC        | tempC(25)              | K
-40 degF       | tempF(-40)             | K
77 degF        | tempF(77)              | K
300 K          | 300 K                  | K
2.2 m          | 2.2 m                  | m
2.2 km         | 2.2 km                 | m
2.2 dm         | 2.2 dm                 | m
2.2 cm         | 2.2 cm                 | m
2.2 mm         | 2.2 mm                 | m
2.2 um         | 2.2 micrometer         | m
2.2 micron     | 2.2 micron             | m
2.2 nm         | 2.2 nm                 | m
2.2 in         | 2.2 inch               | m
2.2 ft         | 2.2 foot               | m
2.2 mil        | 2.2 mil                | m
850 cm2        | 850 cm^2               | m^2
850 mm2        | 850 mm^2               | m^2
850 dm2        | 850 dm^2               | m^2
850 m2         | 850 m^2                | m^2
850 in2        | 850 inch^2             | m^2
850 ft2        | 850 foot^2             | m^2
90 s           | 90 s                   | hour
90 ms          | 90 ms                  | hour
90 min         | 90 min                 | hour
90 h           | 90 hour                | hour
90 d           | 90 day                 | hour
9 week         | 9 week                 | hour
9 month        | 9 julianyear/12        | hour
9 year         | 9 julianyear           | hour
5 A            | 5 A                    | A
5 mA           | 5 mA                   | A
5 V            | 5 V                    | V
5 mV           | 5 mV                   | V
5 W            | 5 W                    | W
5 kW           | 5 kW                   | W
5 J            | 5 J                    | J
5 kJ           | 5 kJ                   | J
5 MJ           | 5 MJ                   | J
5 Wh           | 5 W hour               | J
5 kWh          | 5 kW hour              | J
5 Ah           | 5 A hour               | C
5 mAh          | 5 mA hour              | C
5 C            | 5 C                    | C
60 m3/h        | 60 m^3/hour            | m^3/hour
60 L/min       | 60 liter/min           | m^3/hour
60 cfm         | 60 foot^3/min          | m^3/hour
2 / h          | 2 /hour                | /hour
2 / month      | 2 /(julianyear/12)     | /hour
2 min/L        | 2 min/liter            | hour/liter
5 min/kg       | 5 min/kg               | hour/kg
169.87 g/mol   | 169.87 g/mol           | g/mol
30 / ozt       | 30 /troyounce          | /kg
30 / lb        | 30 /pound              | /kg
30 / g         | 30 /g                  | /kg
4 / L          | 4 /liter               | /liter
4 / gal        | 4 /gallon              | /liter
0.2 / kWh      | 0.2 /(kW hour)         | /(kW hour)
8 %            | 8 percent              | 1
8 permille     | 8|1000                 | 1
8 ppm          | 8 ppm                  | 1
8 ppb          | 8 ppb                  | 1
`

// TestUnitsAgainstReference compares every conversion with that of GNU Units.
func TestUnitsAgainstReference(t *testing.T) {
	var ref reference
	if _, err := toml.DecodeFile(referencePath, &ref); err != nil {
		t.Fatal(err)
	}
	if ref.Version == "" || len(ref.Rows) < 90 {
		t.Fatalf("%s has version %q and %d rows", referencePath, ref.Version, len(ref.Rows))
	}
	for _, row := range ref.Rows {
		_, d, err := Parse(row.Quantity)
		if err != nil {
			t.Errorf("Parse(%q): %v", row.Quantity, err)
			continue
		}
		// GNU Units printed 15 digits.
		if !near(d.Mean, row.Value, 1e-14) {
			t.Errorf("Parse(%q) = %.16g, want %.16g (%s to %s)", row.Quantity, d.Mean, row.Value, row.Expression, row.To)
		}
	}
}

// TestReferenceIsComplete fails on a unit that the reference does not check.
func TestReferenceIsComplete(t *testing.T) {
	var ref reference
	if _, err := toml.DecodeFile(referencePath, &ref); err != nil {
		t.Fatal(err)
	}
	checked := map[string]bool{"piece": true} // no physical unit
	word := regexp.MustCompile(`[\pL%‰]+`)
	for _, row := range ref.Rows {
		for _, w := range word.FindAllString(row.Quantity, -1) {
			checked[w] = true
		}
	}
	checked["‰"] = checked["permille"]
	for _, e := range entries {
		if name := strings.Fields(e.names)[0]; !checked[name] && name != "l" {
			t.Errorf("no row of %s checks the unit %s", referencePath, name)
		}
	}
}

// TestUnitConstants compares the constants of the quantity types with what the
// parser makes of the same unit.
func TestUnitConstants(t *testing.T) {
	for text, want := range map[string]float64{
		"1 kg": float64(Kilogram), "1 g": float64(Gram), "1 mg": float64(Milligram), "1 ug": float64(Microgram),
		"1 t": float64(Tonne), "1 lb": float64(Pound), "1 oz": float64(Ounce), "1 ozt": float64(TroyOunce),
		"1 dwt": float64(Pennyweight), "1 gr": float64(Grain),
		"1 %": float64(Percent), "1 permille": float64(Permille), "1 ppm": float64(PPM),
		"1 mol": float64(Mole), "1 mmol": float64(Millimole), "1 g/mol": float64(GramPerMole),
		"1 mol/L": float64(MolePerLitre), "1 mmol/L": float64(MillimolePerLitre),
		"1 g/L": float64(GramPerLitre), "1 mg/L": float64(MilligramPerLitre),
		"1 L": float64(Litre), "1 mL": float64(Millilitre), "1 uL": float64(Microlitre), "1 m3": float64(CubicMetre),
		"1 gal": float64(Gallon), "1 qt": float64(Quart), "1 pt": float64(Pint), "1 floz": float64(FluidOunce),
		"1 impgal": float64(ImperialGallon), "1 m3/h": float64(CubicMetrePerHour),
		"1 m": float64(Metre), "1 cm": float64(Centimetre), "1 mm": float64(Millimetre), "1 um": float64(Micrometre),
		"1 nm": float64(Nanometre), "1 in": float64(Inch), "1 ft": float64(Foot),
		"1 m2": float64(SquareMetre), "1 dm2": float64(SquareDecimetre), "1 cm2": float64(SquareCentimetre),
		"1 V": float64(Volt), "1 mV": float64(Millivolt), "1 A": float64(Ampere), "1 mA": float64(Milliampere),
		"1 C": float64(Coulomb), "1 Ah": float64(AmpereHour), "1 J": float64(Joule), "1 kJ": float64(Kilojoule),
		"1 Wh": float64(WattHour), "1 kWh": float64(KilowattHour), "1 W": float64(Watt), "1 kW": float64(Kilowatt),
		"1 s": float64(Second), "1 min": float64(Minute), "1 h": float64(Hour), "1 d": float64(Day),
		"1 week": float64(Week), "1 month": float64(Month), "1 year": float64(Year), "1 K": float64(Kelvin),
		"25 degC": float64(Celsius(25)), "77 degF": float64(Fahrenheit(77)),
	} {
		if _, d, err := Parse(text); err != nil || !near(d.Mean, want, 1e-14) {
			t.Errorf("Parse(%q) = %.16g, %v; the constant is %.16g", text, d.Mean, err, want)
		}
	}
	for text, want := range map[string]Density{"1 kg/L": KilogramPerLitre, "1 g/mL": GramPerMillilitre, "1 kg/m3": KilogramPerCubicMetre} {
		if _, d, err := Parse(text, DensityKind); err != nil || !near(d.Mean, float64(want), 1e-14) {
			t.Errorf("Parse(%q) = %.16g, %v; the constant is %.16g", text, d.Mean, err, want)
		}
	}
}

// TestWriteReference writes the reference file anew when its variable is set:
//
//	AFTERPOUR_WRITE_UNITS_REFERENCE=1 go test ./chem/units -run TestWriteReference
//
// It needs the program units of the Debian package of that name.
func TestWriteReference(t *testing.T) {
	if os.Getenv(writeReference) == "" {
		t.Skipf("set %s to write %s", writeReference, referencePath)
	}
	version, err := exec.Command("units", "--version").Output()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	first, _, _ := strings.Cut(string(version), "\n")
	fmt.Fprintf(&b, "# Unit conversions by an independent program, %s (Debian package units).\n", first)
	b.WriteString("# quantity is written as in the input files; expression and to are what the program was given.\n")
	fmt.Fprintf(&b, "# To write this file again: %s=1 go test ./chem/units -run TestWriteReference\n\nversion = %q\n", writeReference, first)
	for _, line := range strings.Split(strings.TrimSpace(referenceRows), "\n") {
		part := strings.Split(line, " | ")
		if len(part) != 3 {
			t.Fatalf("bad row %q", line)
		}
		for i := range part {
			part[i] = strings.TrimSpace(part[i])
		}
		out, err := exec.Command("units", "--terse", "--output-format", "%.15g", part[1], part[2]).Output()
		if err != nil {
			t.Fatalf("units %q %q: %v", part[1], part[2], err)
		}
		fmt.Fprintf(&b, "\n[[row]]\nquantity = %q\nexpression = %q\nto = %q\nvalue = %s\n", part[0], part[1], part[2], asFloat(strings.TrimSpace(string(out))))
	}
	if err := os.WriteFile(referencePath, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// asFloat makes a whole number one that TOML takes for a float.
func asFloat(s string) string {
	if strings.ContainsAny(s, ".e") {
		return s
	}
	return s + ".0"
}

// near compares with a relative tolerance, and an absolute one around zero.
func near(got, want, tolerance float64) bool {
	return math.Abs(got-want) <= tolerance*math.Max(1e-12, math.Abs(want))
}
