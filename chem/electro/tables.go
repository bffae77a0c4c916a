package electro

import (
	"embed"
	"errors"
	"fmt"
	"sort"
	"sync"

	"github.com/BurntSushi/toml"

	"afterpour/chem/units"
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

// Couple is a row of the table of standard potentials: a reduction with its
// potential at 25 °C and unit activities.
type Couple struct {
	ID, Name, Reaction string
	Electrons          int
	Standard           units.Potential
	Check              units.Potential // a second figure from CheckFrom; zero if there is none
	CheckFrom          string
	Provenance
}

// Practice is a figure met in working cells, in the unit named. Low and High are
// the range met; both are zero where none is known.
type Practice struct {
	ID, Name, Unit, Conditions string
	Value, Low, High           float64
	Provenance
}

// figure is a kinetic or assumed figure with its range.
type figure struct {
	value, low, high float64
	provenance       Provenance
}

// ion is a row of transport.toml in SI: S m2/mol and m2/s.
type ion struct {
	charge                  float64
	conductivity, diffusion float64
	provenance              Provenance
}

// tables holds everything loaded from the embedded folder.
type tables struct {
	couples   []Couple
	couple    map[string]int
	practices []Practice
	practice  map[string]int
	ions      map[string]ion
	gases     map[string]Tafel
	exchange  map[string]figure
	transfer  map[string]figure
	figures   map[string]figure
	nitrate   nitrateKinetics
	sources   map[string]string
	used      map[string]bool
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

// row is the part that rows of all tables share.
type row struct {
	ID     string `toml:"id"`
	Basis  Basis  `toml:"basis"`
	Source string `toml:"source"`
	From   string `toml:"from"`
	Reason string `toml:"reason"`
}

type coupleRow struct {
	row
	Name      string  `toml:"name"`
	Reaction  string  `toml:"reaction"`
	Volts     float64 `toml:"volts"`
	Electrons int     `toml:"electrons"`
	Check     float64 `toml:"check"`
	CheckFrom string  `toml:"check_from"`
}

type valueRow struct {
	row
	Name       string  `toml:"name"`
	Unit       string  `toml:"unit"`
	Conditions string  `toml:"conditions"`
	Value      float64 `toml:"value"`
	Low        float64 `toml:"low"`
	High       float64 `toml:"high"`
}

type ionRow struct {
	row
	Charge       float64 `toml:"charge"`
	Conductivity float64 `toml:"conductivity"`
	Diffusion    float64 `toml:"diffusion"`
}

type gasRow struct {
	row
	Overpotential float64 `toml:"overpotential"`
	Slope         float64 `toml:"slope"`
}

type anchorRow struct {
	valueRow
	Volts   float64 `toml:"volts"`
	Nitrate float64 `toml:"nitrate"`
	Acid    float64 `toml:"acid"`
}

// document has every table that any of the files may hold.
type document struct {
	Format   int               `toml:"format"`
	Work     map[string]string `toml:"work"`
	Couple   []coupleRow       `toml:"couple"`
	Practice []valueRow        `toml:"practice"`
	Ion      []ionRow          `toml:"ion"`
	Gas      []gasRow          `toml:"gas"`
	Exchange []valueRow        `toml:"exchange"`
	Transfer []valueRow        `toml:"transfer"`
	Figure   []valueRow        `toml:"figure"`
	Nitrate  []anchorRow       `toml:"nitrate"`
}

// load decodes the embedded files strictly and checks every source key.
func load() (*tables, error) {
	var doc document
	for _, name := range []string{"sources", "potentials", "practice", "transport", "kinetics"} {
		if err := decode("data/"+name+".toml", &doc); err != nil {
			return nil, err
		}
	}
	return build(&doc)
}

// decode adds one file to doc; a key that doc does not have is an error.
func decode(path string, doc *document) error {
	text, err := files.ReadFile(path)
	if err != nil {
		return fmt.Errorf("electro: %w", err)
	}
	meta, err := toml.Decode(string(text), doc)
	if err != nil {
		return fmt.Errorf("electro: %s: %w", path, err)
	}
	if extra := meta.Undecoded(); len(extra) > 0 {
		return fmt.Errorf("electro: %s: unknown key %s", path, extra[0])
	}
	return nil
}

// build turns the decoded rows into tables.
func build(doc *document) (*tables, error) {
	t := &tables{
		couple: map[string]int{}, practice: map[string]int{}, ions: map[string]ion{}, gases: map[string]Tafel{},
		sources: doc.Work, used: map[string]bool{},
	}
	var err error
	t.exchange, err = t.valueRows(doc.Exchange)
	for _, step := range []func(*document) error{t.addCouples, t.addPractice, t.addIons, t.addGases, t.addNitrate} {
		err = errors.Join(err, step(doc))
	}
	var errs [2]error
	t.transfer, errs[0] = t.valueRows(doc.Transfer)
	t.figures, errs[1] = t.valueRows(doc.Figure)
	return t, errors.Join(err, errs[0], errs[1], t.unusedSources())
}

// provenance resolves the source key of a row.
func (t *tables) provenance(r row) (Provenance, error) {
	work := t.sources[r.Source]
	if work == "" || r.ID == "" {
		return Provenance{}, fmt.Errorf("electro: row %q: unknown source %q", r.ID, r.Source)
	}
	switch r.Basis {
	case Published, Derived, FromMemory, CommonPractice, Assumption:
	default:
		return Provenance{}, fmt.Errorf("electro: row %q: unknown basis %q", r.ID, r.Basis)
	}
	if r.Basis == Assumption && r.Reason == "" {
		return Provenance{}, fmt.Errorf("electro: row %q: an assumption without a reason", r.ID)
	}
	t.used[r.Source] = true
	p := Provenance{Basis: r.Basis, Source: work, Reason: r.Reason}
	if r.From != "" {
		p.Reason = r.From
	}
	return p, nil
}

func (t *tables) addCouples(doc *document) error {
	for _, r := range doc.Couple {
		p, err := t.provenance(r.row)
		if err != nil {
			return err
		}
		t.couple[r.ID] = len(t.couples)
		t.couples = append(t.couples, Couple{
			ID: r.ID, Name: r.Name, Reaction: r.Reaction, Electrons: r.Electrons, Standard: units.Potential(r.Volts),
			Check: units.Potential(r.Check), CheckFrom: r.CheckFrom, Provenance: p,
		})
	}
	return nil
}

func (t *tables) addPractice(doc *document) error {
	for _, r := range doc.Practice {
		p, err := t.provenance(r.row)
		if err != nil {
			return err
		}
		t.practice[r.ID] = len(t.practices)
		t.practices = append(t.practices, Practice{
			ID: r.ID, Name: r.Name, Unit: r.Unit, Conditions: r.Conditions,
			Value: r.Value, Low: r.Low, High: r.High, Provenance: p,
		})
	}
	return nil
}

func (t *tables) addIons(doc *document) error {
	for _, r := range doc.Ion {
		p, err := t.provenance(r.row)
		if err != nil {
			return err
		}
		t.ions[r.ID] = ion{r.Charge, r.Conductivity * 1e-4, r.Diffusion * 1e-9, p}
	}
	return nil
}

func (t *tables) addGases(doc *document) error {
	for _, r := range doc.Gas {
		p, err := t.provenance(r.row)
		if err != nil {
			return err
		}
		t.gases[r.ID] = Tafel{At100: units.Potential(r.Overpotential), Slope: units.Potential(r.Slope), Provenance: p}
	}
	return nil
}

func (t *tables) valueRows(rows []valueRow) (map[string]figure, error) {
	out := map[string]figure{}
	for _, r := range rows {
		p, err := t.provenance(r.row)
		if err != nil {
			return nil, err
		}
		out[r.ID] = figure{r.Value, r.Low, r.High, p}
	}
	return out, nil
}

// unusedSources reports a work that no row names.
func (t *tables) unusedSources() error {
	for key := range t.sources {
		if !t.used[key] {
			return fmt.Errorf("electro: source %q is named by no row", key)
		}
	}
	return nil
}

// Couples returns the standard potentials in the order of the table, 53 rows of
// silver, copper and what meets them.
//
// Sources: OpenStax Chemistry 2e, Appendix L, for most rows; each row names its own.
func Couples() []Couple { return append([]Couple(nil), loaded().couples...) }

// CoupleByID returns one row of Couples, for example "cu2" or "fe3_fe2".
// ErrUnknown for any other identifier.
func CoupleByID(id string) (Couple, error) {
	i, ok := loaded().couple[id]
	if !ok {
		return Couple{}, fmt.Errorf("couple %q: %w", id, ErrUnknown)
	}
	return loaded().couples[i], nil
}

// PracticeByID returns a figure of working cells, for example "cu_ew_ce".
// ErrUnknown for any other identifier.
func PracticeByID(id string) (Practice, error) {
	i, ok := loaded().practice[id]
	if !ok {
		return Practice{}, fmt.Errorf("practice figure %q: %w", id, ErrUnknown)
	}
	return loaded().practices[i], nil
}

// Practices returns all figures of working cells in the order of the table.
func Practices() []Practice { return append([]Practice(nil), loaded().practices...) }

// Sources returns every work that a row of this package names, sorted.
func Sources() []string {
	var out []string
	for _, work := range loaded().sources {
		out = append(out, work)
	}
	sort.Strings(out)
	return out
}
