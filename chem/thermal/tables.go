package thermal

import (
	"embed"
	"errors"
	"fmt"
	"sort"
	"sync"

	"github.com/BurntSushi/toml"
)

//go:embed data/*.toml
var files embed.FS

// Basis says how well a row is founded.
type Basis string

// The five bases of a row.
const (
	Published      Basis = "published"
	Derived        Basis = "derived"
	FromMemory     Basis = "from memory"
	CommonPractice Basis = "common practice"
	Assumption     Basis = "assumption"
)

// Provenance says where a row comes from. Source is the work in full; with the
// basis FromMemory it is the work in which to check the row.
type Provenance struct {
	Basis  Basis
	Source string
	Reason string // why this figure, where it is not simply read off
}

// Figure is a single figure of the bench with its range, in the unit named. Low
// and High are zero where no range is known.
type Figure struct {
	ID, Unit         string
	Value, Low, High float64
	Provenance
}

// row is the part that rows of all tables share.
type row struct {
	ID     string `toml:"id"`
	Basis  Basis  `toml:"basis"`
	Source string `toml:"source"`
	Reason string `toml:"reason"`
}

type figureRow struct {
	row
	Value float64 `toml:"value"`
	Low   float64 `toml:"low"`
	High  float64 `toml:"high"`
	Unit  string  `toml:"unit"`
}

type waterRow struct {
	row
	Celsius        float64 `toml:"celsius"`
	Density        float64 `toml:"density"`
	HeatCapacity   float64 `toml:"heat_capacity"`
	VapourPressure float64 `toml:"vapour_pressure"`
	LiquidEnthalpy float64 `toml:"liquid_enthalpy"`
	VapourEnthalpy float64 `toml:"vapour_enthalpy"`
	Latent         float64 `toml:"latent"`
	Check          float64 `toml:"check"`
	CheckFrom      string  `toml:"check_from"`
}

type pieceRow struct {
	Phase  string  `toml:"phase"`
	From   float64 `toml:"from"`
	To     float64 `toml:"to"`
	A      float64 `toml:"a"`
	B      float64 `toml:"b"`
	C      float64 `toml:"c"`
	Doubt  float64 `toml:"doubt"`
	Source string  `toml:"source"`
}

type substanceRow struct {
	row
	Formula       string     `toml:"formula"`
	Name          string     `toml:"name"`
	Melting       float64    `toml:"melting"`
	MeltingSource string     `toml:"melting_source"`
	Fusion        float64    `toml:"fusion"`
	FusionSource  string     `toml:"fusion_source"`
	Piece         []pieceRow `toml:"piece"`
}

type phaseRow struct {
	row
	Formula string  `toml:"formula"`
	Phase   string  `toml:"phase"`
	Value   float64 `toml:"value"`
	Check   float64 `toml:"check"`
}

type decompositionRow struct {
	figureRow
	Formula    string `toml:"formula"`
	Conditions string `toml:"conditions"`
}

type solubilityRow struct {
	row
	Formula string    `toml:"formula"`
	Name    string    `toml:"name"`
	Celsius []float64 `toml:"celsius"`
	Value   []float64 `toml:"value"`
}

type productRow struct {
	Formula string  `toml:"formula"`
	Phase   string  `toml:"phase"`
	Moles   float64 `toml:"moles"`
}

type calcinationRow struct {
	ID            string       `toml:"id"`
	Formula       string       `toml:"formula"`
	Reaction      string       `toml:"reaction"`
	Decomposition string       `toml:"decomposition"`
	Products      []productRow `toml:"products"`
}

// document has every table that any of the files may hold.
type document struct {
	Format        int                `toml:"format"`
	Work          map[string]string  `toml:"work"`
	Water         []waterRow         `toml:"water"`
	Substance     []substanceRow     `toml:"substance"`
	Formation     []phaseRow         `toml:"formation"`
	Capacity      []phaseRow         `toml:"capacity"`
	Decomposition []decompositionRow `toml:"decomposition"`
	Solubility    []solubilityRow    `toml:"solubility"`
	Figure        []figureRow        `toml:"figure"`
	Calcination   []calcinationRow   `toml:"calcination"`
}

// species is a formula in a phase: "s", "l", "g" or "aq".
type species struct{ formula, phase string }

// tables holds everything loaded from the embedded folder.
type tables struct {
	water          []waterRow
	substances     map[string]melting
	formation      map[species]float64 // J/mol
	capacity       map[species]float64 // J/(mol K)
	decompositions map[string]Figure
	solubility     map[string]Solubility
	soluble        []Solubility
	figures        map[string]Figure
	calcinations   []Calcination
	sources        map[string]string
	used           map[string]bool
}

// loaded reads the embedded tables once. They are part of the program, so a
// fault in them is a programming mistake, which a test finds.
var loaded = sync.OnceValue(func() *tables {
	t, err := load()
	if err != nil {
		panic(err)
	}
	return t
})

// load decodes the embedded files strictly and checks every source key.
func load() (*tables, error) {
	var doc document
	for _, name := range []string{
		"sources", "water", "melting", "formation", "capacity", "decomposition", "solubility", "figures", "calcination",
	} {
		if err := decode("data/"+name+".toml", &doc); err != nil {
			return nil, err
		}
	}
	t := &tables{
		water: doc.Water, substances: map[string]melting{}, formation: map[species]float64{}, capacity: map[species]float64{},
		decompositions: map[string]Figure{}, solubility: map[string]Solubility{}, figures: map[string]Figure{},
		sources: doc.Work, used: map[string]bool{},
	}
	var errs []error
	for _, step := range []func(*document) error{
		t.addWater, t.addSubstances, t.addPhases, t.addFigures, t.addSolubility, t.addCalcinations, t.unusedSources,
	} {
		errs = append(errs, step(&doc))
	}
	return t, errors.Join(errs...)
}

// decode adds one file to doc; a key that doc does not have is an error.
func decode(path string, doc *document) error {
	text, err := files.ReadFile(path)
	if err != nil {
		return fmt.Errorf("thermal: %w", err)
	}
	meta, err := toml.Decode(string(text), doc)
	if err != nil {
		return fmt.Errorf("thermal: %s: %w", path, err)
	}
	if extra := meta.Undecoded(); len(extra) > 0 {
		return fmt.Errorf("thermal: %s: unknown key %s", path, extra[0])
	}
	return nil
}

// source resolves a source key and notes its use.
func (t *tables) source(row, key string) (string, error) {
	work := t.sources[key]
	if work == "" {
		return "", fmt.Errorf("thermal: row %q: unknown source %q", row, key)
	}
	t.used[key] = true
	return work, nil
}

// provenance resolves the source key of a row; name stands for it in errors.
func (t *tables) provenance(r row, name string) (Provenance, error) {
	work, err := t.source(name, r.Source)
	if err != nil {
		return Provenance{}, err
	}
	switch r.Basis {
	case Published, Derived, FromMemory, CommonPractice, Assumption:
	default:
		return Provenance{}, fmt.Errorf("thermal: row %q: unknown basis %q", name, r.Basis)
	}
	if r.Basis == Assumption && r.Reason == "" {
		return Provenance{}, fmt.Errorf("thermal: row %q: an assumption without a reason", name)
	}
	return Provenance{Basis: r.Basis, Source: work, Reason: r.Reason}, nil
}

func (t *tables) addWater(doc *document) error {
	for i, r := range doc.Water {
		if i > 0 && r.Celsius <= doc.Water[i-1].Celsius {
			return fmt.Errorf("thermal: water row %g out of order", r.Celsius)
		}
		if _, err := t.provenance(r.row, "water"); err != nil {
			return err
		}
		if _, err := t.source("water", r.CheckFrom); err != nil {
			return err
		}
	}
	return nil
}

func (t *tables) addSubstances(doc *document) error {
	for _, r := range doc.Substance {
		m, err := t.meltingOf(r)
		if err != nil {
			return err
		}
		t.substances[r.Formula] = m
	}
	return nil
}

func (t *tables) addPhases(doc *document) error {
	for _, r := range doc.Formation {
		if _, err := t.provenance(r.row, r.Formula); err != nil {
			return err
		}
		t.formation[species{r.Formula, r.Phase}] = r.Value * 1000
	}
	for _, r := range doc.Capacity {
		if _, err := t.provenance(r.row, r.Formula); err != nil {
			return err
		}
		t.capacity[species{r.Formula, r.Phase}] = r.Value
	}
	return nil
}

func (t *tables) addFigures(doc *document) error {
	add := func(into map[string]Figure, r figureRow, unit string) error {
		p, err := t.provenance(r.row, r.ID)
		if err != nil {
			return err
		}
		into[r.ID] = Figure{ID: r.ID, Unit: unit, Value: r.Value, Low: r.Low, High: r.High, Provenance: p}
		return nil
	}
	var errs []error
	for _, r := range doc.Figure {
		errs = append(errs, add(t.figures, r, r.Unit))
	}
	for _, r := range doc.Decomposition {
		errs = append(errs, add(t.decompositions, r.figureRow, "degC"))
	}
	return errors.Join(errs...)
}

// unusedSources reports a work that no row names.
func (t *tables) unusedSources(*document) error {
	for key := range t.sources {
		if !t.used[key] {
			return fmt.Errorf("thermal: source %q is named by no row", key)
		}
	}
	return nil
}

// FigureByID returns a single figure of the bench, for example "hotplate" or
// "furnace" (efficiencies), "dissolve-NaOH" (kJ/mol), "face-velocity" (m/s).
// ErrUnknown for any other identifier.
func FigureByID(id string) (Figure, error) {
	f, ok := loaded().figures[id]
	if !ok {
		return Figure{}, fmt.Errorf("figure %q: %w", id, ErrUnknown)
	}
	return f, nil
}

// Sources returns every work that a row of this package names, sorted.
func Sources() []string {
	var out []string
	for _, work := range loaded().sources {
		out = append(out, work)
	}
	sort.Strings(out)
	return out
}
