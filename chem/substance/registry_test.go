package substance

import (
	"errors"
	"strings"
	"testing"
)

// TestSpeciesNeeded lists the species that the rest of the program names.
func TestSpeciesNeeded(t *testing.T) {
	const needed = `H2O(l) e^-
	H^+ OH^- Na^+ K^+ NH4^+ Ag^+ Cu^2+ Cu^+ Zn^2+ Ni^2+ Pb^2+ Fe^2+ Fe^3+ Sn^2+ Sn^4+ Cd^2+ Hg^2+ Co^2+ Mn^2+ Al^3+ Ca^2+
	Mg^2+ Cr^3+ AuCl4^- Pd^2+ Pt^2+ PtCl6^2- Cl^- NO3^- NO2^- SO4^2- CO3^2- HCO3^- SO3^2- H2O2(aq) NH3(aq) C6H12O6(aq)
	C6H12O7(aq) C6H11O7^- C6H8O6(aq) C6H6O6(aq) H3BO3(aq) Na2B4O7(s) Na2B4O7·10H2O(s)
	Ag(s) Cu(s) Zn(s) Ni(s) Pb(s) Fe(s) Sn(s) Cd(s) Hg(l) Au(s) Pd(s) Pt(s) Al(s) Co(s) Mn(s) P(s) Be(s) Cr(s) C(s) W(s) Ge(s)
	AgCl(s) Ag2O(s) AgNO3(s) Ag2SO4(s) Cu(OH)2(s) CuO(s) Cu2O(s) CuCl(s) CuSO4·5H2O(s) Cu(NO3)2(s) Cu2(OH)3NO3(s)
	Zn(OH)2(s) ZnO(s) ZnSO4·7H2O(s) Ni(OH)2(s) NiO(s) NiSO4·6H2O(s) PbCl2(s) PbSO4(s) PbO(s) Pb(OH)2(s) Fe(OH)3(s) Fe2O3(s)
	SnO2(s) NaCl(s) NaNO3(s) Na2SO4(s) NaOH(s) Na2CO3(s) NaHCO3(s) KNO3(s) CaCO3(s) Ca(OH)2(s) CaSO4·2H2O(s) Zn(NO3)2(s)
	Ni(NO3)2(s) Pb(NO3)2(s) Fe(NO3)3(s) CuCl2(s) C6H12O6(s) C6H8O6(s)
	NO(g) NO2(g) N2O(g) N2(g) O2(g) H2(g) Cl2(g) CO2(g) SO2(g) HCl(g) NH3(g) HNO3(g) H2O(g)`
	for _, name := range strings.Fields(needed) {
		id, err := Find(name)
		if err != nil {
			t.Error(err)
			continue
		}
		if sp := id.Species(); sp.Name != name || sp.ID != id {
			t.Errorf("Find(%q) gives %s, number %d of %d", name, sp.Name, sp.ID, id)
		}
	}
}

func TestFind(t *testing.T) {
	cases := map[string]string{
		"Cu²⁺": "Cu^2+", "Ag^+(aq)": "Ag^+", "Ag": "Ag(s)", "H2O": "H2O(l)", "Hg": "Hg(l)", "NO2": "NO2(g)", "NH3": "NH3(aq)",
		"CuSO4*5H2O": "CuSO4·5H2O(s)", "CuSO4.5H2O(s)": "CuSO4·5H2O(s)", "C6H12O6": "C6H12O6(s)", "H2O2": "H2O2(aq)", "e-": "e^-",
	}
	for in, want := range cases {
		id, err := Find(in)
		if err != nil {
			t.Errorf("Find(%q): %v", in, err)
		} else if got := id.Species().Name; got != want {
			t.Errorf("Find(%q) = %s, want %s", in, got, want)
		}
	}
	for _, in := range []string{"AgF(s)", "Ag^+(s)", "Cu(g)"} {
		if _, err := Find(in); !errors.Is(err, ErrUnknownSpecies) {
			t.Errorf("Find(%q) = %v, want %v", in, err, ErrUnknownSpecies)
		}
	}
}

// TestSpecies checks what holds for every species: a volume where it takes room, charge and metal as in the formula.
func TestSpecies(t *testing.T) {
	for _, sp := range AllSpecies() {
		if Undissolved(sp) && !(sp.MolarVolume > 0) {
			t.Errorf("%s takes no room: %g L/mol", sp.Name, sp.MolarVolume)
		}
		if sp.Phase == Gas && sp.MolarVolume != 0 {
			t.Errorf("%s is a gas but takes room in a vessel", sp.Name)
		}
		if sp.Charge != sp.Formula.Charge() || sp.MolarMass != sp.Formula.MolarMass() {
			t.Errorf("%s does not agree with its formula", sp.Name)
		}
		if sp.Metal != "" && sp.Formula.Atoms(sp.Metal) == 0 {
			t.Errorf("%s carries no %s", sp.Name, sp.Metal)
		}
		if again, err := Find(sp.Name); err != nil || again != sp.ID {
			t.Errorf("Find(%q) = %d, %v; want %d", sp.Name, again, err, sp.ID)
		}
	}
}

func TestSymbols(t *testing.T) {
	last := 0
	for _, symbol := range Symbols() {
		e, err := ElementBySymbol(symbol)
		if err != nil || e.Z <= last {
			t.Errorf("%s: %v, or out of order", symbol, err)
		}
		last = e.Z
	}
}

func TestMustFindPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("MustFind took an unknown species")
		}
	}()
	MustFind("XeF2(s)")
}
