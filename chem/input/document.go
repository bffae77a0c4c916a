package input

// Limits on what Parse reads.
const (
	MaxBytes  = 1 << 20 // size of a file in bytes
	MaxDepth  = 16      // levels of nested values
	MaxDotted = 8       // parts of a dotted key
)

// Span is a range of bytes in a document and the place where it starts.
type Span struct {
	Start, End int
	Position   Position
}

// Document is a parsed file.
type Document struct{}

// Parse reads a document. An error is of type Problems.
func Parse(name string, data []byte) (*Document, error) { return nil, nil }

// Root returns the top table.
func (d *Document) Root() *Table { return nil }

// Name returns the name given to Parse.
func (d *Document) Name() string { return "" }

// Data returns the bytes.
func (d *Document) Data() []byte { return nil }

// Span returns where the value at a path stands, such as "spot.Ag.price" or "dissolved[0].mass".
func (d *Document) Span(path string) (Span, bool) { return Span{}, false }

// Err returns all problems noted so far, nil if none.
func (d *Document) Err() error { return nil }

// Edit replaces the value at Path by Raw, which is written as TOML.
type Edit struct{ Path, Raw string }

// Splice replaces exactly the bytes of one value.
func (d *Document) Splice(path, raw string) ([]byte, error) { return nil, nil }

// SpliceAll replaces several values in one go.
func (d *Document) SpliceAll(edits []Edit) ([]byte, error) { return nil, nil }
